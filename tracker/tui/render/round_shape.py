"""A round as a drawing needs it: its stretches in order, each with what it is and the yarn it is worked in.

A round of few stitches gives a stretch for each act; a larger one is sampled, so that the cost never depends on
the number of stitches.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from enum import Enum
from functools import cached_property
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Round
from tracker.rounds.plan import Act, Plan, Role

FINEST = 240
"""The most stretches that a drawing shows; a round of more moves is sampled at as many places."""


class Sort(Enum):
    """What a stretch does to the number of stitches, or that it makes none."""

    EVEN = "even"
    MORE = "more"
    FEWER = "fewer"
    CHAIN = "chain"
    STEP = "step"

    __hash__ = object.__hash__
    """The usual hash of an enum is that of its name, made anew each time; a ring asks for each of its pixels."""


@dataclass(frozen=True, slots=True)
class ShapeStretch:
    """Moves `start` to `end` (excluded) of a round."""

    start: int
    end: int
    sort: Sort
    colour: str
    """The key of the yarn, "" if the pattern names none."""


@dataclass(frozen=True, eq=False)
class Sketch:
    """All stretches of a round, without gaps. Two are the same only if they are one: what is drawn is kept by it."""

    moves: int
    stretches: tuple[ShapeStretch, ...]

    @cached_property
    def _starts(self) -> list[int]:
        return [stretch.start for stretch in self.stretches]

    def at(self, share: float) -> ShapeStretch | None:
        """The stretch at this share of the round, 0 to 1; None in an empty round."""
        if not self.stretches:
            return None
        move = min(int(share * self.moves), self.moves - 1)
        return self.stretches[max(0, bisect_right(self._starts, move) - 1)]

    @cached_property
    def changes(self) -> tuple[ShapeStretch, ...]:
        """The stretches that begin a new colour."""
        return tuple(after for before, after in pairwise(self.stretches) if after.colour != before.colour)


def sketch(a_round: Round) -> Sketch:
    """The drawing of a round; one that could not be read is a single stretch."""
    if a_round.plan is None:
        return Sketch(1, (ShapeStretch(0, 1, Sort.EVEN, a_round.colour),))
    plan = a_round.plan
    stretches = _each_act(plan) if plan.moves <= FINEST else _sampled(plan)
    return Sketch(plan.moves, tuple(_coloured(stretches, a_round.colour)))


def sort_of(act: Act) -> Sort:
    if act.is_increase:
        return Sort.MORE
    if act.is_decrease:
        return Sort.FEWER
    if act.role is Role.CHAIN:
        return Sort.CHAIN
    return Sort.STEP if act.role is Role.STEP or not act.makes else Sort.EVEN


def _each_act(plan: Plan) -> Iterator[ShapeStretch]:
    move = 0
    while (spot := plan.spot(move)) is not None:
        yield ShapeStretch(move, move + spot.act.moves, sort_of(spot.act), spot.act.colour)
        move += spot.act.moves


def _sampled(plan: Plan) -> Iterator[ShapeStretch]:
    edges = [plan.moves * index // FINEST for index in range(FINEST + 1)]
    for start, end in pairwise(edges):
        spot = plan.spot((start + end) // 2)
        assert spot is not None
        yield ShapeStretch(start, end, sort_of(spot.act), spot.act.colour)


def _coloured(stretches: Iterator[ShapeStretch], first: str) -> Iterator[ShapeStretch]:
    """Acts that name no colour go on in the one before."""
    colour = first
    for stretch in stretches:
        colour = stretch.colour or colour
        yield ShapeStretch(stretch.start, stretch.end, stretch.sort, colour)
