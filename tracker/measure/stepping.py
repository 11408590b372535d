"""A wanted outline, stepped off like a line with a pair of compasses that stand one round apart.

So every round ends on the outline, however its height divides it. Lengths are in widths of the new stitch.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.measure.edges import Edge
from tracker.measure.meridian import Point, Step, even_turns, laid, radius_of, reach

_HALVINGS = 24
"""Enough to find how far the compasses open to a ten-millionth."""


@dataclass(frozen=True, slots=True)
class Target:
    """The wanted outline, round by round of the pattern, the opening first.

    `path` is the line at its true length, `lengths` how far along it each round ends, `edges` how long around it
    is there. `division` goes into all counts of the pattern.
    """

    path: tuple[Point, ...]
    lengths: tuple[float, ...]
    edges: tuple[float, ...]
    division: int

    @property
    def outline(self) -> list[Point]:
        """The line up the side as wide as it is around."""
        points = [Point(radius_of(self.edges[0]), self.path[0].level)]
        for edge, point, (low, high) in zip(self.edges[1:], self.path[1:], pairwise(self.lengths), strict=True):
            points.append(Point(reach(points[-1].radius, radius_of(edge), high - low), point.level))
        return points

    @property
    def length(self) -> float:
        return self.lengths[-1]

    @property
    def widest(self) -> float:
        return max(self.edges)

    def edge_at(self, length: float) -> float:
        """How long around it is so far along, straight between the rounds of the pattern."""
        index, share = self._between(length)
        return self.edges[index] + share * (self.edges[index + 1] - self.edges[index])

    def point_at(self, length: float) -> Point:
        index, share = self._between(length)
        low, high = self.path[index], self.path[index + 1]
        return Point(low.radius + share * (high.radius - low.radius), low.level + share * (high.level - low.level))

    def round_at(self, length: float) -> int:
        """Which round of the pattern, from 0, is worked just behind this place."""
        return min(bisect_right(self.lengths, length + 1e-9), len(self.lengths) - 1) - 1

    def _between(self, length: float) -> tuple[int, float]:
        index = min(max(bisect_left(self.lengths, length), 1), len(self.lengths) - 1) - 1
        span = self.lengths[index + 1] - self.lengths[index]
        return index, min(1.0, max(0.0, (length - self.lengths[index]) / span)) if span else 1.0


def target_of(first_edge: float, edges: Sequence[Edge], scale: float) -> Target:
    """The outline of a piece, `scale` new stitch widths to an old one; growth in turns (6, 0, 6, 0) made even."""
    path = laid(first_edge, [Step(edge.around, edge.rise) for edge in edges])
    rises = [apart(low, high) for low, high in pairwise(path)]
    circles = even_turns([first_edge, *(edge.around for edge in edges)], rises)
    lengths = [0.0]
    for rise in rises:
        lengths.append(lengths[-1] + rise * scale)
    return Target(
        path=tuple(Point(point.radius * scale, point.level * scale) for point in path),
        lengths=tuple(lengths),
        edges=tuple(circle * scale for circle in circles),
        division=math.gcd(int(first_edge), *(int(edge.around) for edge in edges)),
    )


def apart(one: Point, other: Point) -> float:
    """The distance between two points of an outline."""
    return math.hypot(one.radius - other.radius, one.level - other.level)


def stepped(target: Target, rises: Sequence[float], opening: float) -> tuple[list[float], float]:
    """Where the compasses land, and what part of a step is left at the end."""
    places: list[float] = []
    place = 0.0
    while True:
        height = opening * rises[target.round_at(place)]
        landed = _next(target, place, height)
        if landed is None:
            end = apart(target.point_at(place), target.path[-1])
            return places, end / height
        places.append(landed)
        place = landed


def _next(target: Target, place: float, reach: float) -> float | None:
    """The next place on the outline that is `reach` away as the crow flies; None if there is none."""
    start = target.point_at(place)
    low, low_length = start, place
    for index in range(target.round_at(place) + 1, len(target.lengths)):
        high, high_length = target.path[index], target.lengths[index]
        if apart(start, high) >= reach - 1e-9:
            return low_length + (high_length - low_length) * _share(start, low, high, reach)
        low, low_length = high, high_length
    return None


def _share(start: Point, low: Point, high: Point, reach: float) -> float:
    """How far from `low` to `high` lies the point that is `reach` away from `start` (circle and line, geometry)."""
    along = (high.radius - low.radius, high.level - low.level)
    offset = (low.radius - start.radius, low.level - start.level)
    square = along[0] ** 2 + along[1] ** 2
    half = (along[0] * offset[0] + along[1] * offset[1]) / square
    rest = (offset[0] ** 2 + offset[1] ** 2 - reach**2) / square
    return min(1.0, -half + math.sqrt(max(0.0, half * half - rest)))


def opening_for(target: Target, rises: Sequence[float], steps: int) -> float:
    """How far the compasses must open, as a share of a round's height, to land on the end with so many steps."""
    low, high = 0.5, 2.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        places, left = stepped(target, rises, middle)
        low, high = (middle, high) if len(places) + left > steps else (low, middle)
    return high
