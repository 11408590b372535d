"""The misprint finder: when witnesses disagree, which single change makes them all agree?

Witnesses of a round are its instruction, its stated total, what the round before left and what the next one uses.
An edit is offered only if with it the round and the rounds after it have nothing left to complain of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from tracker.notation.cursor import Context
from tracker.notation.fold import fold
from tracker.notation.line import Line, read_line
from tracker.notation.problems import Problem, Severity
from tracker.notation.rows import acts
from tracker.notation.tree import Stated
from tracker.pattern.check import base_left_by
from tracker.pattern.edits import Edit, Slip, instruction_edits, swapped, total_edit
from tracker.pattern.model import Pattern, Piece
from tracker.pattern.resolve import Base
from tracker.pattern.weigh import Weighed, weigh

COUNTING = frozenset(
    {
        "total-differs",
        "unworked",
        "runs-out",
        "cut-short",
        "total-does-not-divide",
        "read-otherwise",
    }
)
"""Problems that come from numbers that do not agree, and so may come from a misprint."""

WINDOW = 12
"""How many rounds after an edit must be content; a misprint's trace is lost in fewer."""

BACK = 6
"""How many rounds before the first complaint are looked at, for patterns that state few totals."""

MAX_OFFERS = 5


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


@dataclass
class _Search:
    """One piece under search: its rounds, the lines they were read from, and the terms."""

    piece: Piece
    lines: list[Line]
    context: Context

    def stated(self, index: int) -> Stated | None:
        return self.piece.rounds[index].stated

    def base(self, index: int) -> Base | None:
        """What round `index` is worked into as the pattern stands."""
        line = self.lines[index]
        if line.worked_into is not None:
            earlier = [r for r in self.piece.rounds[:index] if r.number == line.worked_into]
            return base_left_by(earlier[-1]) if earlier else None
        if index == 0 or line.foundation is not None:
            return None
        return base_left_by(self.piece.rounds[index - 1])


def find(pattern: Pattern) -> list[Finding]:
    """Every disagreement of numbers in a pattern, located, with the changes that would settle it."""
    found: list[Finding] = []
    for index, piece in enumerate(pattern.pieces):
        found.extend(_find_in(piece, index, pattern))
    return found


def _find_in(piece: Piece, piece_index: int, pattern: Pattern) -> Iterator[Finding]:
    lines = list(piece.lines)
    context = piece.context
    search = _Search(piece, lines, context)
    index = 0
    while index < len(piece.rounds):
        if not _complains(piece.rounds[index].problems):
            index += 1
            continue
        offers = _offers(search, index)
        settled = _settled_until(search, index, offers)
        yield _finding(search, piece_index, index, offers)
        index = settled


def _complains(problems: tuple[Problem, ...]) -> bool:
    return any(p.code in COUNTING and p.severity is not Severity.NOTE for p in problems)


def _settled_until(search: _Search, index: int, offers: list[Offer]) -> int:
    """The first round whose complaints, if any, are a matter of their own."""
    rounds = search.piece.rounds
    if not offers:
        end = index + 1
        while end < len(rounds) and _complains(rounds[end].problems):
            end += 1
        return end
    end = index + 1
    while end < len(rounds) and end < index + WINDOW and _complains(rounds[end].problems):
        end += 1
    return end


def _offers(search: _Search, seen_at: int) -> list[Offer]:
    found: list[Offer] = []
    first = _first_suspect(search, seen_at)
    for index in [seen_at, *range(seen_at - 1, first - 1, -1)]:
        found.extend(_edits_of(search, index, seen_at))
    found.extend(_swaps(search, seen_at))
    found.sort(key=lambda offer: offer.cost)
    distinct: dict[tuple[int, str], Offer] = {}
    for offer in found:
        distinct.setdefault((offer.round_index, offer.corrected_line), offer)
    return list(distinct.values())[:MAX_OFFERS]


def _first_suspect(search: _Search, seen_at: int) -> int:
    """How far back the misprint can be: to the last round whose total and instruction vouch for each other."""
    index = seen_at
    while index > 0 and seen_at - index < BACK:
        index -= 1
        if search.stated(index) is not None and search.piece.rounds[index].verdict == "ok":
            return index
    return index


def _edits_of(search: _Search, index: int, seen_at: int) -> Iterator[Offer]:
    line = search.lines[index]
    if line.reference is not None or not line.text:
        return
    base = search.base(index)
    away = 0.15 * (seen_at - index)
    for edit, edited, stated in _edited_lines(search, index, base):
        weighed = _weigh(edited, base, stated)
        if not _content(weighed) or not _rest_is_content(search, index, weighed, seen_at, (edited, stated)):
            continue
        cost = edit.cost + away + _doubt(search, index, edit)
        yield Offer(index, edit, edit.text, _sentence(search, index, edit, weighed), cost)


def _doubt(search: _Search, index: int, edit: Edit) -> float:
    """A total that its own instruction confirms, or a first round that all others rest on, is hardly the slip."""
    if edit.slip is Slip.TOTAL or search.stated(index) is None:
        return 0.0
    return 0.5 if search.piece.rounds[index].verdict == "ok" else 0.0


def _edited_lines(search: _Search, index: int, base: Base | None) -> Iterator[tuple[Edit, Line, Stated | None]]:
    line, stated = search.lines[index], search.stated(index)
    if stated is not None:
        alone = weigh(replace(line, stated=()), base)
        if alone.plan is not None and alone.leaves is not None:
            edit = total_edit(line, stated, alone.leaves)
            if edit is not None:
                yield edit, line, replace(stated, stitches=alone.leaves)
    for edit in instruction_edits(line, search.context.terms, _usual_increase(search)):
        edited = read_line(edit.text, search.context)
        if edited.is_readable and edited.body:
            yield edit, edited, edited.stated[-1] if edited.stated else stated


def _usual_increase(search: _Search) -> str:
    """How this piece writes an increase, so that one put back looks like the others."""
    written = [act.name for line in search.lines[:200] for act in acts(line.body) if act.is_increase]
    texts = " ".join(fold(line.text) for line in search.lines[:200])
    if not written or re.search(r"\binc\b", texts):
        return "inc"
    match = re.search(r"2 ?(\w+) in (?:the )?next(?: st| stitch| \w+)?", texts)
    return match[0] if match else "inc"


def _weigh(line: Line, base: Base | None, stated: Stated | None) -> Weighed:
    return weigh(replace(line, stated=()), base, stated)


def _content(weighed: Weighed) -> bool:
    if weighed.plan is None or weighed.leaves is None:
        return False
    return not any(problem.severity is not Severity.NOTE for problem in weighed.problems)


def _rest_is_content(
    search: _Search, index: int, weighed: Weighed, seen_at: int, edited: tuple[Line, Stated | None] | None = None
) -> bool:
    """Whether the rounds after the edit agree with it and with each other; those of the same line are edited too."""
    rounds = search.piece.rounds
    base = _left(weighed)
    end = min(len(rounds), max(seen_at, index) + WINDOW)
    for later in range(index + 1, end):
        line, stated = search.lines[later], search.stated(later)
        if edited is not None and _same_line(search, index, later):
            line, stated = edited
        elif line.worked_into is not None or line.foundation is not None:
            base = _base_of_later(search, later, index, weighed)
        before = rounds[later].before
        if later > seen_at and base is not None and before == base.stitches and not _complains(rounds[later].problems):
            return True
        result = _weigh(line, base, stated)
        if not _content(result):
            return False
        base = _left(result)
    return True


def _same_line(search: _Search, index: int, later: int) -> bool:
    one, other = search.piece.rounds[index], search.piece.rounds[later]
    return (one.line, one.column, one.text) == (other.line, other.column, other.text)


def _base_of_later(search: _Search, later: int, index: int, weighed: Weighed) -> Base | None:
    line = search.lines[later]
    if line.worked_into is not None and search.piece.rounds[index].number == line.worked_into:
        return _left(weighed)
    return search.base(later)


def _left(weighed: Weighed) -> Base | None:
    return Base(weighed.plan.leaves, weighed.plan.tally.spaces) if weighed.plan else None


def _swaps(search: _Search, seen_at: int) -> Iterator[Offer]:
    """Two neighbouring rounds in the wrong order."""
    rounds = search.piece.rounds
    for first in (seen_at, seen_at - 1):
        second = first + 1
        if first < 0 or second >= len(rounds) or search.lines[first] is search.lines[second]:
            continue
        one, other = swapped(search.lines[first].text, search.lines[second].text)
        line_one, line_other = (read_line(text, search.context) for text in (one, other))
        if len(line_one.heading.numbers) > 1 or len(line_other.heading.numbers) > 1:
            continue
        weighed = _weigh(line_one, search.base(first), line_one.stated[-1] if line_one.stated else None)
        if not _content(weighed):
            continue
        after = _weigh(line_other, _left(weighed), line_other.stated[-1] if line_other.stated else None)
        if not _content(after) or not _rest_is_content(search, second, after, max(seen_at, second)):
            continue
        labels = rounds[first].label, rounds[second].label
        sentence = f"{labels[0]} and {labels[1]} look swapped: in the other order every count agrees"
        edit = Edit(Slip.SWAP, one, labels[0], labels[1], Slip.SWAP.value)
        yield Offer(first, edit, one, sentence, Slip.SWAP.value - 0.3, second, other)


def _finding(search: _Search, piece_index: int, seen_at: int, offers: list[Offer]) -> Finding:
    if offers:
        return Finding(piece_index, offers[0].round_index, seen_at, offers[0].sentence, tuple(offers))
    label = search.piece.rounds[seen_at].label
    sentence = f"{label}: no single change makes the instruction, the totals and the rounds around it agree"
    return Finding(piece_index, seen_at, seen_at, sentence)


def _sentence(search: _Search, index: int, edit: Edit, weighed: Weighed) -> str:
    """What was probably meant, and which witnesses say so."""
    label = search.piece.rounds[index].label
    witnesses = _witnesses(search, index, weighed)
    if edit.slip is Slip.TOTAL:
        return f"{label}: the total is probably {edit.now}, not {edit.was}: {witnesses}"
    if edit.slip is Slip.LOST:
        return f"{label}: '{edit.now}' is probably missing: {witnesses}"
    return f"{label}: '{edit.was}' is probably '{edit.now}': {witnesses}"


def _witnesses(search: _Search, index: int, weighed: Weighed) -> str:
    rounds = search.piece.rounds
    said: list[str] = []
    if weighed.uses and index > 0:
        said.append(f"it then uses {weighed.uses}, as {rounds[index - 1].label} leaves")
    said.append(f"makes {weighed.leaves}")
    following = rounds[index + 1] if index + 1 < len(rounds) else None
    if following is not None and following.plan is not None and following.plan.uses == weighed.leaves:
        said.append(f"and {following.label} needs {weighed.leaves}")
    return ", ".join(said)

