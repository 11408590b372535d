"""The misprint finder: when witnesses disagree, which single change makes them all agree?

Witnesses of a round are its instruction, its stated total, what the round before left and what the next one uses.
A change is offered only if the checker, given the piece with it, has no new complaint and the old one is gone.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from tracker.diagnostics import Severity
from tracker.identity_cache import ByIdentity
from tracker.lazy_dataclass import dataclass
from tracker.pattern.mending import line_of, rounds_of_line
from tracker.pattern.misprints.edits import Edit, Slip, goes_to_end
from tracker.pattern.misprints.recheck import COUNTING, Checked, sheet_of
from tracker.pattern.misprints.search import Budget, Repair, repairs
from tracker.pattern.model import Pattern, Piece, Round

MAX_FINDINGS = 8
"""Disagreements of one piece that are looked into; a piece with more was badly read, and needs mending first."""

# More than three answers are no answer.
MAX_OFFERS = 3

NEARLY = 0.15
"""Changes whose costs differ by less can as well be meant."""


@dataclass(frozen=True, slots=True)
class MisprintOffer:
    """One change that makes everything agree: where, the line as it then reads, and why, in a sentence."""

    round_index: int
    edit: Edit
    corrected_line: str
    sentence: str
    cost: float
    partner_index: int | None = None
    partner_line: str = ""

    @property
    def corrected_lines(self) -> tuple[str, ...]:
        """The lines as they then read: two where rounds are swapped."""
        return (self.corrected_line, self.partner_line) if self.partner_line else (self.corrected_line,)


@dataclass(frozen=True, slots=True)
class Finding:
    """A disagreement and what could have been meant, likeliest first; `offers` is empty if no single change does.

    `round_index` is where the misprint most likely is, `seen_at` the first round that complained.
    """

    piece_index: int
    round_index: int
    seen_at: int
    sentence: str
    offers: tuple[MisprintOffer, ...] = ()

    @property
    def corrected_line(self) -> str:
        return self.offers[0].corrected_line if self.offers else ""

    @property
    def rivals(self) -> tuple[MisprintOffer, ...]:
        """Other changes that are about as likely as the first; the same one in another place is not told again."""
        near = (offer for offer in self.offers[1:] if offer.cost < self.offers[0].cost + NEARLY)
        return tuple(offer for offer in near if offer.sentence != self.sentence)


def find(pattern: Pattern) -> list[Finding]:
    """Every disagreement of numbers in a pattern, located, with the changes that would settle it."""
    budget = Budget()
    return [finding for index in range(len(pattern.pieces)) for finding in _find_in(pattern, index, budget)]


def find_in(pattern: Pattern, piece: int) -> list[Finding]:
    """The disagreements of one piece."""
    return list(_find_in(pattern, piece, Budget()))


def _find_in(pattern: Pattern, piece: int, budget: Budget) -> Iterator[Finding]:
    """One finding after the other, each with those before it mended.

    Where nothing mends a line, those that complain right behind it are passed over: they follow from its count.
    """
    if not any(problem.code in COUNTING for round_ in pattern.pieces[piece].rounds for problem in round_.problems):
        return
    sheet = sheet_of(pattern, piece)
    checked = sheet.checked()
    unexplained: set[int] = set()
    for place in range(MAX_FINDINGS + 1):
        fault_lines = [line for line in checked.counting if line not in unexplained]
        if not fault_lines:
            return
        fault = fault_lines[0]
        if place == MAX_FINDINGS or (place and budget.is_spent):
            yield _and_more(piece, checked, fault_lines)
            return
        likely_repairs = repairs(sheet, checked, fault, MAX_OFFERS, budget)
        if not likely_repairs:
            yield _nothing(piece, checked, fault, budget)
            unexplained |= set(range(fault, fault + checked.run_of_complaints(fault)))
            continue
        yield _finding(piece, checked, fault, likely_repairs)
        sheet = sheet.with_lines(likely_repairs[0].lines)
        checked = sheet.checked()


def _nothing(piece: int, checked: Checked, fault: int, budget: Budget) -> Finding:
    message = "no single change makes the instruction, the totals and the rounds around it agree"
    if budget.is_spent:
        message = "the likeliest changes do not make it agree with the rounds around it; more were not tried"
    first = checked.of_line[fault][0]
    return Finding(piece, first, first, f"{checked.label(fault)}: {message}")


def _and_more(piece: int, checked: Checked, fault_lines: list[int]) -> Finding:
    first, count = checked.of_line[fault_lines[0]][0], len(fault_lines)
    more = f"{count} more lines do" if count > 1 else "one more line does"
    message = f"{more} not agree; mend the others, and check again"
    return Finding(piece, first, first, f"{checked.label(fault_lines[0])}: {message}")


def _finding(piece: int, checked: Checked, fault: int, repairs: list[Repair]) -> Finding:
    offers = tuple(_offer(checked, repair) for repair in repairs)
    return Finding(piece, offers[0].round_index, checked.of_line[fault][0], offers[0].sentence, offers)


def _offer(checked: Checked, repair: Repair) -> MisprintOffer:
    first, *others = sorted(repair.lines)
    partner = others[0] if others else None
    return MisprintOffer(
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
    jarring = next((n for n in repair.after.counting if line < n <= max(repair.lines) + 1), None)
    but = "" if jarring is None else f"; but {_still_disagrees(checked, jarring)}"
    if edit.slip is Slip.SWAP:
        every = "the counts agree" if but else "every count agrees"
        return f"{label} and {checked.label(line + 1)} look swapped: in the other order {every}{but}"
    likely = "perhaps" if but else "probably"
    return f"{label}: {_change(edit, likely)}: {_witnesses(repair, line)}{but}"


def _change(edit: Edit, likely: str) -> str:
    if edit.slip is Slip.TOTAL:
        return f"the total is {likely} {edit.now}, not {edit.was}"
    if edit.slip is Slip.LOST:
        return f"'{edit.now}' is {likely} missing"
    if edit.slip is Slip.EXTRA:
        return f"'{edit.was}' is {likely} too much"
    also = ", and the total follows from it" if edit.slip is Slip.BOTH else ""
    return f"'{edit.was}' is {likely} '{edit.now}'{also}"


def _witnesses(repair: Repair, line: int) -> str:
    """What speaks for a change: "it then uses the 24 that Rnd 4 leaves, makes 30 as stated, and Rnd 6 needs 30"."""
    after, is_total = repair.after, repair.edit.slip is Slip.TOTAL
    round_ = after.first(line)
    assert round_.plan is not None
    clauses: list[str] = []
    if round_.plan.uses and line > 0 and round_.before == round_.plan.uses == after.last(line - 1).leaves:
        clauses.append(f"uses the {round_.plan.uses} that {after.last(line - 1).label} leaves")
    stated = round_.stated is not None and round_.stated.stitches == round_.plan.leaves
    makes = repair.edit.now if is_total else f"{round_.plan.leaves}{' as stated' if stated else ''}"
    clauses.append(f"makes {makes}")
    clauses += _next_says(after, line)
    words = clauses[0] if len(clauses) == 1 else f"{', '.join(clauses[:-1])}, and {clauses[-1]}"
    return f"the instruction {words}" if is_total else f"it then {words}"


def _next_says(after: Checked, line: int) -> list[str]:
    """What the next line asks for, or states: one that goes around takes any number."""
    if line + 1 >= len(after.of_line) or not after.of_line[line + 1]:
        return []
    following, stitches = after.first(line + 1), after.last(line).leaves
    if following.plan is None or following.before != stitches:
        return []
    if not goes_to_end(after.read(line + 1).body):
        return [f"{following.label} needs {stitches}"] if following.plan.uses == stitches else []
    stated = following.stated.stitches if following.stated else None
    return [f"{following.label} states {stitches}"] if stated == stitches == following.plan.leaves else []


def _still_disagrees(checked: Checked, line: int) -> str:
    return f"{checked.label(line)} still {'disagrees' if len(checked.of_line[line]) == 1 else 'disagree'}"


# The written lines of a pattern that the maker should look at before working them.


def doubtful_lines(pattern: Pattern) -> tuple[tuple[int, int], ...]:
    """The piece and the first round of each written line that is in doubt, in the order of working.

    Those are in doubt that do not come out, and those in which the search for misprints sees what is probably meant,
    although they could be worked as they stand. What the maker settled is not.
    """
    return tuple((number, first) for number in range(len(pattern.pieces)) for first in _in_piece(pattern, number))


def _in_piece(pattern: Pattern, number: int) -> list[int]:
    piece = pattern.pieces[number]
    doubtful = {index for index, item in enumerate(piece.rounds) if item.is_in_doubt}
    if any(_is_odd(item) and index not in doubtful for index, item in enumerate(piece.rounds)):
        doubtful |= {finding.seen_at for finding in findings_in(pattern, number) if finding.offers}
    firsts = {rounds_of_line(piece, index)[0] for index in doubtful}
    return sorted(first for first in firsts if not _is_settled(piece, first))


def _is_odd(item: Round) -> bool:
    """Whether something is told of its numbers."""
    return any(problem.code in COUNTING and problem.severity is not Severity.NOTE for problem in item.problems)


def findings_in(pattern: Pattern, number: int) -> tuple[Finding, ...]:
    """What the search for misprints finds in one piece; remembered, because whoever is called to a line is shown next
    what could be meant there."""
    return _findings(ByIdentity(pattern), number)


@lru_cache(maxsize=8)
def _findings(key: ByIdentity[Pattern], number: int) -> tuple[Finding, ...]:
    return tuple(find_in(key.part, number))


def _is_settled(piece: Piece, index: int) -> bool:
    line = line_of(piece, index)
    return piece.rounds[index].is_by_eye or (line is not None and piece.entries[line].is_settled)
