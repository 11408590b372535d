"""The rounds as they are worked: the pattern's, or those of the maker's own, read once and then remembered.

A round of the maker's own is asked for at every tap. One that does not read to its end is worked by eye.
"""

from __future__ import annotations

from functools import lru_cache, partial
from typing import TYPE_CHECKING

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Pattern, Piece, Round, Stated, Yarn
from tracker.rounds.plan import Node, Plan, Repeat, Run
from tracker.session.refit import Reader, fit_round, is_worked_elsewhere
from tracker.session.state import Copy, Miscount, OwnRound, Place, Work

if TYPE_CHECKING:
    from tracker.rounds.line_report import LineReport


def round_at(pattern: Pattern, work: Work, piece: int, copy: int, index: int) -> Round:
    """The round that a maker works there: the pattern's, their own, or the pattern's over the maker's own number of
    stitches. Everything that asks for a round asks here."""
    if work.miscounts:
        fitted = _fitted_at(pattern, work, Copy(piece, copy), index)
        if fitted is not None:
            return fitted
    return written_at(pattern, work, piece, copy, index)


def written_at(pattern: Pattern, work: Work, piece: int, copy: int, index: int) -> Round:
    """The round as it is written, by the pattern or by the maker, whatever number of stitches is there."""
    own = work.own_round(Copy(piece, copy), index) if work.own_rounds else None
    if own is None:
        return pattern.pieces[piece].rounds[index]
    return worked_instead(pattern, piece, index, own.text, own.before).round


def reader_for(pattern: Pattern, piece: Piece) -> Reader:
    """Our reader, knowing what this pattern says about its words and what its yarns are called."""

    def read(text: str, before: int | None) -> LineReport:
        from tracker.rounds.line_report import read_line  # only what a maker makes their own is read here

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
        printed = the_piece.rounds[index]
        rewritten = rewritten_round(self._pattern, the_piece, printed, text, before)
        by_eye = replace(printed, text=text, plan=None, before=before, stated=None, problems=())
        return Instead(rewritten or by_eye, rewritten is not None)


_own_rounds = remembered(_OwnRounds)


def moved_over(pattern: Pattern, work: Work, copy: Copy, place: Place) -> Place:
    """The place after as many stitches in the round as it is worked now."""
    item = round_at(pattern, work, copy.piece, copy.number, place.round_index)
    if item.plan is None:
        return place
    moves = min(item.plan.move_after_stitches(max(0, min(place.stitches, item.plan.leaves))), item.plan.moves - 1)
    return Place(place.round_index, moves, item.plan.stitches_before(moves)) if moves else Place(place.round_index)


def refitted(pattern: Pattern, before: Work, work: Work) -> Work:
    """The work with its place found again by its stitches, where its round follows another number than before."""
    if work.miscounts == before.miscounts or not work.place.moves or work.copy != before.copy:
        return work
    copy, place = work.copy, work.place
    was, now = (round_at(pattern, each, copy.piece, copy.number, place.round_index) for each in (before, work))
    return work if was is now else replace(work, place=moved_over(pattern, work, copy, place))


# Rounds after a difference that was carried on with: the line over the stitches that are there.


def last_carried(work: Work, copy: Copy, index: int) -> Miscount | None:
    """The last difference that was carried on with in this round of a copy or before it."""
    before = (miscount for miscount in work.miscounts if miscount.copy == copy and miscount.round_index <= index)
    return max(before, key=lambda miscount: miscount.round_index, default=None)


def is_fitted(pattern: Pattern, work: Work, copy: Copy, index: int) -> bool:
    """Whether this round is worked over another number than the pattern has, and works out with it."""
    fitted = _fitted_at(pattern, work, copy, index) if work.miscounts else None
    return fitted is not None and fitted.plan is not pattern.pieces[copy.piece].rounds[index].plan


def _fitted_at(pattern: Pattern, work: Work, copy: Copy, index: int) -> Round | None:
    carried = last_carried(work, copy, index - 1)
    if carried is None or not carried.fitted or work.own_round(copy, index) is not None:
        return None
    start = round_at(pattern, work, copy.piece, copy.number, carried.round_index)
    if start.leaves is None:
        return None
    stitches = start.leaves if start.plan is None else start.plan.stitches_before(carried.moves)
    own = (each for each in work.own_rounds if each.copy == copy)
    number = max(0, start.leaves + carried.counted - stitches)
    return _fits(pattern).round_at(_Carried(copy.piece, carried.round_index, number, tuple(own)), index)


@dataclass(frozen=True, slots=True)
class _Carried:
    """So many stitches in a round of a piece, where the pattern has another number, and the rounds of the maker's
    own."""

    piece: int
    round_index: int
    number: int
    own_rounds: tuple[OwnRound, ...]


@dataclass(frozen=True, slots=True)
class _Fit:
    """A round over the maker's number, and how many stitches there are and should be behind it. `round` is None where
    nothing differs."""

    round: Round | None
    stitches: int
    leaves: int | None


class _Fits:
    """Those of one pattern; one is asked for at every tap."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._fit_at: dict[tuple[_Carried, int], _Fit] = {}

    def round_at(self, carried: _Carried, index: int) -> Round | None:
        if (carried, index) not in self._fit_at:
            self._work_up_to(carried, index)
        return self._fit_at[carried, index].round

    def _work_up_to(self, carried: _Carried, index: int) -> None:
        if len(self._fit_at) + index > MOST_FITTED:
            self._fit_at.clear()
        rounds = self._pattern.pieces[carried.piece].rounds
        fit = _Fit(None, carried.number, rounds[carried.round_index].leaves)
        for number in range(carried.round_index + 1, index + 1):
            fit = self._next(carried, number, rounds[number], fit)
            self._fit_at[carried, number] = fit

    def _next(self, carried: _Carried, number: int, item: Round, before: _Fit) -> _Fit:
        own = next((each for each in reversed(carried.own_rounds) if each.round_index == number), None)
        if own is not None:
            own_round = worked_instead(self._pattern, carried.piece, number, own.text, own.before).round
            return _Fit(None, own_round.leaves or 0, item.leaves)
        is_alike = before.leaves is None or before.stitches == before.leaves
        if is_alike or is_worked_elsewhere(item, before.leaves or 0):
            return _Fit(None, item.leaves or 0, item.leaves)
        fitted = fit_round(item, before.stitches, remembering_reader(self._pattern, carried.piece))
        if fitted is None:  # as well as it can be done: the difference goes on
            stitches = max(0, (item.leaves or 0) + before.stitches - (before.leaves or 0))
            return _Fit(_with_misfit(item, before.stitches), stitches, item.leaves)
        return _Fit(fitted, fitted.leaves or 0, item.leaves)


def _with_misfit(item: Round, stitches: int) -> Round:
    """The round as written, with the remark that it does not come out."""
    remark = f"this does not work out over {stitches:,} stitches: end it as well as it can be, then count"
    return replace(item, remark=f"{item.remark.rstrip('.')}. {remark}" if item.remark else remark)


MOST_FITTED = 4096
"""Rounds of one pattern that are kept fitted; more than any pattern has."""

_fits = remembered(_Fits)
