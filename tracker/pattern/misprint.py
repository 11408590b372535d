"""The misprint finder: when witnesses disagree, which single change makes them all agree?

Witnesses of a round are its instruction, its stated total, what the round before left and what the next one uses.
A change is offered only if the checker, given the piece with it, has no new complaint and the old one is gone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.pattern.edits import Edit, Slip
from tracker.pattern.model import Pattern
from tracker.pattern.search import Repair, repairs
from tracker.pattern.sheet import COUNTING, Checked, sheet_of

MAX_FINDINGS = 25
"""Disagreements of one piece that are looked into; a text with more of them is no pattern, or badly read."""

MAX_OFFERS = 3


@dataclass(frozen=True, slots=True)
class Offer:
    """One change that makes everything agree: where, the line as it then reads, and why, in a sentence."""

    round_index: int
    edit: Edit
    corrected_line: str
    sentence: str
    cost: float
    partner_index: int | None = None
    partner_line: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A disagreement and what could have been meant, likeliest first; `offers` is empty if no single change does.

    `round_index` is where the misprint most likely is, `seen_at` the first round that complained.
    """

    piece_index: int
    round_index: int
    seen_at: int
    sentence: str
    offers: tuple[Offer, ...] = ()

    @property
    def corrected_line(self) -> str:
        return self.offers[0].corrected_line if self.offers else ""

    @property
    def corrected_lines(self) -> tuple[str, ...]:
        """The lines as they should read: two where rounds are swapped, none where no change is known."""
        if not self.offers:
            return ()
        best = self.offers[0]
        return (best.corrected_line, best.partner_line) if best.partner_line else (best.corrected_line,)


def find(pattern: Pattern) -> list[Finding]:
    """Every disagreement of numbers in a pattern, located, with the changes that would settle it."""
    return [finding for index in range(len(pattern.pieces)) for finding in _find_in(pattern, index)]


def _find_in(pattern: Pattern, piece: int) -> Iterator[Finding]:
    """One finding after the other, each with those before it mended."""
    if not any(problem.code in COUNTING for round_ in pattern.pieces[piece].rounds for problem in round_.problems):
        return
    sheet = sheet_of(pattern, piece)
    checked = sheet.checked()
    unexplained: set[int] = set()
    for _ in range(MAX_FINDINGS):
        seen = next((line for line in checked.counting if line not in unexplained), None)
        if seen is None:
            return
        found = repairs(sheet, checked, seen, MAX_OFFERS)
        if not found:
            yield _nothing(piece, checked, seen)
            unexplained |= _run_of_complaints(checked, seen)
            continue
        yield _finding(piece, checked, seen, found)
        sheet = sheet.with_lines(found[0].lines)
        checked = sheet.checked()


def _run_of_complaints(checked: Checked, seen: int) -> set[int]:
    """The lines from this one on that complain without a break: what follows from a wrong count."""
    end = seen
    while end in checked.counting:
        end += 1
    return set(range(seen, end))


def _nothing(piece: int, checked: Checked, seen: int) -> Finding:
    told = "no single change makes the instruction, the totals and the rounds around it agree"
    first = checked.of_line[seen][0]
    return Finding(piece, first, first, f"{checked.label(seen)}: {told}")


def _finding(piece: int, checked: Checked, seen: int, found: list[Repair]) -> Finding:
    offers = tuple(_offer(checked, repair) for repair in found)
    return Finding(piece, offers[0].round_index, checked.of_line[seen][0], offers[0].sentence, offers)


def _offer(checked: Checked, repair: Repair) -> Offer:
    first, *others = sorted(repair.lines)
    partner = others[0] if others else None
    return Offer(
        round_index=checked.of_line[first][0],
        edit=repair.edit,
        corrected_line=repair.lines[first],
        sentence=_sentence(checked, repair, first),
        cost=repair.cost,
        partner_index=None if partner is None else checked.of_line[partner][0],
        partner_line="" if partner is None else repair.lines[partner],
    )


def _sentence(checked: Checked, repair: Repair, line: int) -> str:
    """What was probably meant, and which witnesses say so."""
    label, edit = checked.label(line), repair.edit
    if edit.slip is Slip.SWAP:
        return f"{label} and {checked.label(line + 1)} look swapped: in the other order every count agrees"
    witnesses = _witnesses(repair, line)
    if edit.slip is Slip.TOTAL:
        return f"{label}: the total is probably {edit.now}, not {edit.was}: {witnesses}"
    if edit.slip is Slip.LOST:
        return f"{label}: '{edit.now}' is probably missing: {witnesses}"
    if edit.slip is Slip.EXTRA:
        return f"{label}: '{edit.was}' is probably too much: {witnesses}"
    also = ", and the total follows from it" if edit.slip is Slip.BOTH else ""
    return f"{label}: '{edit.was}' is probably '{edit.now}'{also}: {witnesses}"


def _witnesses(repair: Repair, line: int) -> str:
    """What speaks for a change: "it then uses the 24 that Rnd 4 leaves, makes 30 as stated, and Rnd 6 needs 30"."""
    after, edit = repair.after, repair.edit
    round_ = after.first(line)
    assert round_.plan is not None
    said: list[str] = []
    if round_.plan.uses and line > 0 and round_.before == round_.plan.uses:
        said.append(f"uses the {round_.plan.uses} that {after.last(line - 1).label} leaves")
    stated = round_.stated is not None and round_.stated.stitches == round_.plan.leaves
    said.append(f"makes {round_.plan.leaves}{' as stated' if stated and edit.slip is not Slip.TOTAL else ''}")
    if line + 1 < len(after.of_line) and after.of_line[line + 1]:
        following, left = after.first(line + 1), after.last(line).leaves
        if following.plan is not None and left and following.plan.uses == following.before == left:
            said.append(f"{following.label} needs {left}")
    words = said[0] if len(said) == 1 else f"{', '.join(said[:-1])}, and {said[-1]}"
    return f"the instruction {words}" if edit.slip is Slip.TOTAL else f"it then {words}"
