"""New counts for an old outline: how many rounds, and how many stitches each. Nothing here knows notation."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.measure.edges import Edge
from tracker.measure.meridian import Point, Step, climb
from tracker.measure.plain import PlainRound
from tracker.measure.stepping import Target, apart, opening_for, stepped
from tracker.measure.stitches import StitchSize
from tracker.notation.ast import Loop

KEPT = 0.02
"""Share of a piece's largest dimension that the new outline may be off and still count as kept."""

STRAY = 0.5
"""Stitches by which any count may stray lightly from what is wanted."""

NEARBY = 4
"""Rounds before and after among which the nearest part of a line is looked for."""

FEWEST = 3
"""Stitches that a magic ring needs to hold together."""


@dataclass(frozen=True, slots=True)
class _Rounding:
    """How counts are made whole.

    `evenness` is what it is worth to divide as the pattern does, `share` of the widest count is how far a count may
    stray lightly for it, `beyond` how many whole numbers past the nearest are tried.
    """

    evenness: float
    share: float
    beyond: int


_ROUNDINGS = (_Rounding(4.0, 0.01, 1), _Rounding(1.0, 0.0, 0))
"""Tried in this order: counts that divide well, then counts that are as near as can be."""


@dataclass(frozen=True, slots=True)
class NewRound:
    """One round: `before` to `after` stitches, `rise` tall, ending `place` along the wanted outline."""

    before: int
    after: int
    rise: float
    place: float
    made_of: PlainRound


def unchanged(target: Target, edges: Sequence[Edge], made_of: Sequence[PlainRound]) -> list[NewRound]:
    """The rounds of the pattern as they are."""
    counts = [round(target.edges[0]), *(int(edge.around) for edge in edges)]
    return [
        NewRound(before, after, edge.rise, place, made)
        for before, after, edge, place, made in zip(
            counts[:-1], counts[1:], edges, target.lengths[1:], made_of, strict=True
        )
    ]


def plan_rounds(target: Target, made_of: Sequence[PlainRound], stitch: StitchSize) -> list[NewRound]:
    """The rounds that follow the outline best.

    The outline is seldom a whole number of rounds long. Either the compasses keep the height of a round and
    may miss the end by half of one, or they are opened a little more or less so that they land on it, in
    one step fewer or more. The nearest is taken; counts that divide well go before the nearest if the outline is
    kept.
    """
    rises = [stitch.rise_of(made.kind) for made in made_of]
    places, left = stepped(target, rises, 1.0)
    if left >= 0.5 or not places:
        places.append(target.length)
    tried = [places]
    for steps in range(max(1, len(places) - 1), len(places) + 2):
        landed, _ = stepped(target, rises, opening_for(target, rises, steps))
        tried.append([*landed[: steps - 1], target.length])
    size = max(target.widest / math.pi, height(target.path))
    best: list[NewRound] = []
    for rounding in _ROUNDINGS:
        plans = [_rounds_at(target, made_of, rises, chosen, rounding) for chosen in tried]
        best = min([*plans, best] if best else plans, key=lambda plan: difference(target, plan))
        if difference(target, best) <= KEPT * size:
            break
    return best


def _rounds_at(
    target: Target,
    made_of: Sequence[PlainRound],
    rises: Sequence[float],
    places: Sequence[float],
    rounding: _Rounding,
) -> list[NewRound]:
    first = round(target.edges[0])
    counts = _reachable(first, _smoothest(target, [target.edge_at(place) for place in places], rounding))
    olds = _old_rounds(target, made_of, places)
    return [
        NewRound(before, after, rises[old], place, _with_loops(made_of, olds, index))
        for index, (before, after, place, old) in enumerate(
            zip([first, *counts[:-1]], counts, places, olds, strict=True)
        )
    ]


def _old_rounds(target: Target, made_of: Sequence[PlainRound], places: Sequence[float]) -> list[int]:
    """For each new round the round of the pattern that it stands for: the one at its middle.

    A stripe too thin to hold a middle takes the round that covers most of it, from a neighbour with several.
    """
    spans = list(pairwise([0.0, *places]))
    olds = [target.round_at((start + end) / 2) for start, end in spans]
    for first, last in _bands(made_of):
        if any(first <= old < last for old in olds):
            continue
        low, high = target.lengths[first], target.lengths[last]
        covered = [min(high, end) - max(low, start) for start, end in spans]
        best = covered.index(max(covered))
        if sum(made_of[old] == made_of[olds[best]] for old in olds) > 1:
            olds[best] = first
    return olds


def _bands(made_of: Sequence[PlainRound]) -> list[tuple[int, int]]:
    """Neighbouring rounds made alike, as (first, one past the last)."""
    ends = [index for index in range(1, len(made_of)) if made_of[index] != made_of[index - 1]]
    return list(pairwise([0, *ends, len(made_of)]))


def _with_loops(made_of: Sequence[PlainRound], olds: Sequence[int], index: int) -> PlainRound:
    """One round in the back loops makes an edge: where it becomes several, only the first keeps the loops."""
    old = olds[index]
    made = made_of[old]
    alone = (old == 0 or made_of[old - 1] != made) and (old + 1 == len(made_of) or made_of[old + 1] != made)
    again = index > 0 and olds[index - 1] == old
    return PlainRound(made.kind, Loop.BOTH, made.colour) if alone and again else made


def _smoothest(target: Target, wanted: Sequence[float], rounding: _Rounding) -> list[int]:
    """Whole numbers near what is wanted, chosen together.

    What counts against a choice: how far it strays, how much its growth differs (that is what tilts the side), and
    not dividing as the pattern's counts do. Found by going over the rounds once, keeping the best way to each
    number (dynamic programming).
    """
    far = max(STRAY, rounding.share * target.widest)
    before = target.edges[0]
    best: list[dict[int, tuple[float, int]]] = [{round(before): (0.0, 0)}]
    for edge in wanted:
        reached: dict[int, tuple[float, int]] = {}
        nearest = range(math.floor(edge) - rounding.beyond, math.ceil(edge) + rounding.beyond + 1)
        for count in {max(FEWEST, count) for count in nearest}:
            uneven = 1 - math.gcd(count, target.division) / target.division
            stray = ((count - edge) / far) ** 2 + rounding.evenness * uneven
            ways = ((cost + (count - last - (edge - before)) ** 2, last) for last, (cost, _) in best[-1].items())
            cost, last = min(ways)
            reached[count] = (cost + stray, last)
        best.append(reached)
        before = edge
    return _traced(best)


def _traced(best: Sequence[dict[int, tuple[float, int]]]) -> list[int]:
    """The cheapest way, followed back from its end."""
    count = min(best[-1], key=lambda last: best[-1][last])
    counts: list[int] = []
    for reached in reversed(best[1:]):
        counts.append(count)
        count = reached[count][1]
    return counts[::-1]


def _reachable(first: int, counts: list[int]) -> list[int]:
    """The counts raised where needed so that no round more than doubles or halves the one before."""
    for index in range(len(counts) - 2, -1, -1):
        counts[index] = max(counts[index], math.ceil(counts[index + 1] / 2))
    before = first
    for index, count in enumerate(counts):
        counts[index] = min(max(count, math.ceil(before / 2)), 2 * before) if before else count
        before = counts[index]
    return counts


def difference(target: Target, planned: Sequence[NewRound]) -> float:
    """The most by which the new outline stands off the wanted one, in stitch widths.

    Looked at from every round of either to the line of the other, across the widest, and at fabric that is
    too long or too short for its stretch.
    """
    outline, wanted = outline_of(planned), target.outline
    places = [0.0, *(new.place for new in planned)]
    there = (_off(point, wanted, bisect_left(target.lengths, at)) for point, at in zip(outline, places, strict=True))
    back = (_off(point, outline, bisect_left(places, at)) for point, at in zip(wanted, target.lengths, strict=True))
    across = abs(2 * max(point.radius for point in outline) - target.widest / math.pi)
    ends = [target.point_at(place) for place in places]
    stretched = abs(sum(new.rise for new in planned) - sum(apart(low, high) for low, high in pairwise(ends)))
    return max(*there, *back, across, stretched)


def _off(point: Point, line: Sequence[Point], near: int) -> float:
    """Distance of a point from that part of a line that lies around its point number `near`."""
    part = line[max(0, near - NEARBY - 1) : near + NEARBY + 1]
    return min(_from_line(point, low, high) for low, high in pairwise(part))


def outline_of(planned: Sequence[NewRound]) -> list[Point]:
    """The line up the side that the new rounds make."""
    return climb(planned[0].before, [Step(new.after, new.rise) for new in planned])


def height(points: Sequence[Point]) -> float:
    """How tall a line up the side stands."""
    return max(point.level for point in points) - min(point.level for point in points)


def _from_line(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from the straight line between two others, ends included (geometry)."""
    along = (end.radius - start.radius, end.level - start.level)
    offset = (point.radius - start.radius, point.level - start.level)
    square = along[0] ** 2 + along[1] ** 2
    share = max(0.0, min(1.0, (along[0] * offset[0] + along[1] * offset[1]) / square)) if square else 0.0
    return math.hypot(offset[0] - share * along[0], offset[1] - share * along[1])
