"""The rounds as they are worked: the pattern's, or those of the maker's own, read once and then remembered.

A round of the maker's own is asked for at every tap. One that does not read to its end is worked by eye.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache, partial

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern, Piece, Round, Stated, Yarn
from tracker.rounds.line_report import LineReport, read_line
from tracker.rounds.plan import Node, Plan, Repeat, Run
from tracker.session.state import Copy, Place, State


def round_at(pattern: Pattern, state: State, piece: int, copy: int, index: int) -> Round:
    """The round that a maker works there: the pattern's, or their own. Everything that asks for a round asks here."""
    work = state.work
    own = work.own_round(Copy(piece, copy), index) if work.own_rounds else None
    if own is None:
        return pattern.pieces[piece].rounds[index]
    return worked_instead(pattern, piece, index, own.text, own.before).round


Reader = Callable[[str, int | None], LineReport]
"""Reads the text of a round over a number of stitches, in the terms and with the definitions of the pattern."""


def reader_for(pattern: Pattern, piece: Piece) -> Reader:
    """Our reader, knowing what this pattern says about its words and what its yarns are called."""

    def read(text: str, before: int | None) -> LineReport:
        report = read_line(text, before, pattern.terms, piece.context)
        return report if report.plan is None else replace(report, plan=_with_keys(report.plan, pattern.yarns))

    return read


class _Readings:
    """Lines of one pattern over the maker's own numbers: asked for at every tap, so read once."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self.read = lru_cache(maxsize=MOST_REMEMBERED)(self._read)

    def _read(self, piece: int, text: str, before: int | None) -> LineReport:
        return reader_for(self._pattern, self._pattern.pieces[piece])(text, before)


_readings = remembered(_Readings)


def remembering_reader(pattern: Pattern, piece: int) -> Reader:
    """The same reader for a piece of the pattern, by its index; a line that was read lately is not read again."""
    return partial(_readings(pattern).read, piece)


def rewritten_round(pattern: Pattern, piece: Piece, round_: Round, text: str, before: int) -> Round | None:
    """The round as the maker works it instead of the pattern's: same number and label, this text over these stitches.

    None if our reader does not read it to the end without a fault; what was offered as a mend always is.
    """
    report = reader_for(pattern, piece)(text, before)
    if report.verdict != "ok" or report.plan is None:
        return None
    return replace(
        round_,
        text=text,
        plan=report.plan,
        before=before,
        stated=Stated(stitches=report.stated),
        line=0,
        column=0,
        problems=report.problems,
    )


def _with_keys(plan: Plan, yarns: tuple[Yarn, ...]) -> Plan:
    """The plan with its colours called by the pattern's yarn keys, whatever the case they were written in."""
    keys = {yarn.key.lower(): yarn.key for yarn in yarns}
    if not keys:
        return plan
    return Plan(_keyed(plan.body, keys), keys.get(plan.ends_with.lower(), plan.ends_with))


def _keyed(body: tuple[Node, ...], keys: dict[str, str]) -> tuple[Node, ...]:
    nodes: list[Node] = []
    for node in body:
        if isinstance(node, Repeat):
            nodes.append(replace(node, body=_keyed(node.body, keys)))
        else:
            colour = keys.get(node.act.colour.lower(), node.act.colour)
            nodes.append(Run(replace(node.act, colour=colour), node.times))
    return tuple(nodes)


MOST_REMEMBERED = 512
"""Own rounds of one pattern that are kept read."""


@dataclass(frozen=True)
class Instead:
    """A round as the maker works it. One that does not read to its end without a fault has no plan: it is worked
    by eye."""

    round: Round
    reads: bool


def worked_instead(pattern: Pattern, piece: int, index: int, text: str, before: int) -> Instead:
    """The round of this piece by another text, over so many stitches. The same words give the same object."""
    return _own_rounds(pattern).read(piece, index, text, before)


class _OwnRounds:
    """Those of one pattern."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self.read = lru_cache(maxsize=MOST_REMEMBERED)(self._read)

    def _read(self, piece: int, index: int, text: str, before: int) -> Instead:
        the_piece = self._pattern.pieces[piece]
        written = the_piece.rounds[index]
        found = rewritten_round(self._pattern, the_piece, written, text, before)
        by_eye = replace(written, text=text, plan=None, before=before, stated=None, problems=())
        return Instead(found or by_eye, found is not None)


_own_rounds = remembered(_OwnRounds)


def moved_over(pattern: Pattern, state: State, copy: Copy, place: Place) -> Place:
    """The place after as many stitches in the round as it is worked now."""
    item = round_at(pattern, state, copy.piece, copy.number, place.round_index)
    if item.plan is None:
        return place
    moves = min(item.plan.move_after_stitches(max(0, min(place.stitches, item.plan.leaves))), item.plan.moves - 1)
    return Place(place.round_index, moves, item.plan.stitches_before(moves)) if moves else Place(place.round_index)
