"""New counts for an old outline: how many rounds, and how many stitches each. Nothing here knows notation."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise

from tracker.lazy_dataclass import dataclass, replace
from tracker.measure.profile import (
    ProfilePoint,
    ProfileStep,
    RoundEdge,
    climb,
    even_turns,
    laid,
    radius_of,
    reach,
)
from tracker.measure.stitch_sizes import StitchSize
from tracker.notation.ast import Into, Loop, Role
from tracker.notation.glossary import BY_ID
from tracker.pattern.model import Round
from tracker.rounds.plan import Act

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
    stray lightly for it, `beyond` how many whole numbers past the nearest are tried. `keeps_repeat` takes only counts
    into which the pattern's own repeat goes.
    """

    evenness: float
    share: float
    beyond: int
    keeps_repeat: bool = False


_IN_REPEATS = _Rounding(0.0, 0.01, 0, keeps_repeat=True)
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


def unchanged(target: Target, edges: Sequence[RoundEdge], made_of: Sequence[PlainRound]) -> list[NewRound]:
    """The rounds of the pattern as they are."""
    counts = [round(target.edges[0]), *(int(edge.around) for edge in edges)]
    return [
        NewRound(before, after, edge.rise, place, plain)
        for before, after, edge, place, plain in zip(
            counts[:-1], counts[1:], edges, target.lengths[1:], made_of, strict=True
        )
    ]


def plan_rounds(target: Target, made_of: Sequence[PlainRound], stitch: StitchSize) -> list[NewRound]:
    """The rounds that follow the outline best.

    The outline is seldom a whole number of rounds long. Either the compasses keep the height of a round and
    may miss the end by half of one, or they are opened a little more or less so that they land on it, in
    one step fewer or more. The nearest is taken. A pattern whose counts all divide by its repeat keeps that; in
    others, and where that costs the outline, counts that divide well go before the nearest.
    """
    rises = [stitch.rise_of(plain.kind) for plain in made_of]
    places, remainder = stepped(target, rises, 1.0)
    # Half a round and more is nearer to a round than to none.
    if remainder >= 0.5 or not places:
        places.append(target.length)
    tried = [places]
    for steps in range(max(1, len(places) - 1), len(places) + 2):
        landed, _ = stepped(target, rises, opening_for(target, rises, steps))
        tried.append([*landed[: steps - 1], target.length])
    size = max(target.widest / math.pi, height(target.path))
    best: list[NewRound] = []
    for rounding in (_IN_REPEATS, *_ROUNDINGS) if target.division > 1 else _ROUNDINGS:
        plans = [_rounds_at(target, made_of, rises, chosen, rounding) for chosen in tried]
        best = min([*plans, best] if best else plans, key=lambda plan: difference(target, plan))
        # Whole repeats are worth no more than a fiftieth of the width, other counts that of the largest dimension.
        if difference(target, best) <= KEPT * (target.widest / math.pi if rounding.keeps_repeat else size):
            break
        if rounding.keeps_repeat:
            best = []
    return best


def _rounds_at(
    target: Target,
    made_of: Sequence[PlainRound],
    rises: Sequence[float],
    places: Sequence[float],
    rounding: _Rounding,
) -> list[NewRound]:
    counts = _reachable(
        round(target.edges[0]), _smoothest(target, [target.edge_at(place) for place in places], rounding), target
    )
    # A tube begins with as many chains as its first round has stitches, and needs no round that makes up for it.
    is_tube = target.edges[0] > 0 and math.isclose(target.edges[0], target.edges[1])
    first = counts[0] if is_tube else _near_multiples(target.edges[0], target.division)[0] if target.edges[0] else 0
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
    plain = made_of[old]
    alone = (old == 0 or made_of[old - 1] != plain) and (old + 1 == len(made_of) or made_of[old + 1] != plain)
    again = index > 0 and olds[index - 1] == old
    return replace(plain, loop=Loop.BOTH) if alone and again else plain


def _smoothest(target: Target, edges: Sequence[float], rounding: _Rounding) -> list[int]:
    """Whole numbers near the wanted `edges`, chosen together.

    What counts against a choice: how far it strays, how much its growth differs (that is what tilts the side), and
    not dividing as the pattern's counts do. Found by going over the rounds once, keeping the best way to each
    number (dynamic programming).
    """
    far = max(STRAY, rounding.share * target.widest)
    before = target.edges[0]
    best: list[dict[int, tuple[float, int]]] = [{round(before): (0.0, 0)}]
    for edge in edges:
        reached: dict[int, tuple[float, int]] = {}
        nearest: Sequence[int] = range(math.floor(edge) - rounding.beyond, math.ceil(edge) + rounding.beyond + 1)
        if rounding.keeps_repeat:
            nearest = _near_multiples(edge, target.division)
        for count in {max(FEWEST, count) for count in nearest}:
            uneven = 1 - math.gcd(count, target.division) / target.division
            stray = ((count - edge) / far) ** 2 + rounding.evenness * uneven
            ways = ((cost + (count - last - (edge - before)) ** 2, last) for last, (cost, _) in best[-1].items())
            cost, last = min(ways)
            reached[count] = (cost + stray, last)
        best.append(reached)
        before = edge
    return _traced(best)


def _near_multiples(edge: float, repeat: int) -> Sequence[int]:
    """The multiples of a repeat on either side, the nearer first; at least one repeat."""
    below = max(repeat, math.floor(edge / repeat) * repeat)
    return sorted({below, max(repeat, math.ceil(edge / repeat) * repeat)}, key=lambda count: abs(count - edge))


def _traced(best: Sequence[dict[int, tuple[float, int]]]) -> list[int]:
    """The cheapest way, followed back from its end."""
    count = min(best[-1], key=lambda last: best[-1][last])
    counts: list[int] = []
    for reached in reversed(best[1:]):
        counts.append(count)
        count = reached[count][1]
    return counts[::-1]


def _reachable(first: int, counts: list[int], target: Target) -> list[int]:
    """The counts raised where needed so that no round more than doubles or halves the one before."""
    repeat = target.division if all(count % target.division == 0 for count in counts) else 1

    def half(count: int) -> int:
        return math.ceil(count / 2 / repeat) * repeat

    for index in range(len(counts) - 2, -1, -1):
        counts[index] = max(counts[index], half(counts[index + 1]))
    before = first
    for index, count in enumerate(counts):
        counts[index] = min(max(count, half(before)), 2 * before) if before else count
        before = counts[index]
    return counts


def difference(target: Target, planned: Sequence[NewRound]) -> float:
    """The most by which the new outline stands off the wanted one, in stitch widths.

    Looked at from every round of either to the line of the other, across the widest, and at fabric that is
    too long or too short for its stretch.
    """
    outline, target_outline = outline_of(planned), target.outline
    places = [0.0, *(new.place for new in planned)]
    off_target = (
        _off(point, target_outline, bisect_left(target.lengths, at))
        for point, at in zip(outline, places, strict=True)
    )
    off_outline = (
        _off(point, outline, bisect_left(places, at))
        for point, at in zip(target_outline, target.lengths, strict=True)
    )
    across = abs(2 * max(point.radius for point in outline) - target.widest / math.pi)
    ends = [target.point_at(place) for place in places]
    stretched = abs(sum(new.rise for new in planned) - sum(apart(low, high) for low, high in pairwise(ends)))
    return max(*off_target, *off_outline, across, stretched)


def _off(point: ProfilePoint, line: Sequence[ProfilePoint], near: int) -> float:
    """Distance of a point from that part of a line that lies around its point number `near`."""
    part = line[max(0, near - NEARBY - 1) : near + NEARBY + 1]
    return min(_from_line(point, low, high) for low, high in pairwise(part))


def outline_of(planned: Sequence[NewRound]) -> list[ProfilePoint]:
    """The line up the side that the new rounds make."""
    return climb(planned[0].before, [ProfileStep(new.after, new.rise) for new in planned])


def height(points: Sequence[ProfilePoint]) -> float:
    """How tall a line up the side stands."""
    return max(point.level for point in points) - min(point.level for point in points)


def _from_line(point: ProfilePoint, start: ProfilePoint, end: ProfilePoint) -> float:
    """Distance of a point from the straight line between two others, ends included (geometry)."""
    along = (end.radius - start.radius, end.level - start.level)
    offset = (point.radius - start.radius, point.level - start.level)
    square = along[0] ** 2 + along[1] ** 2
    share = max(0.0, min(1.0, (along[0] * offset[0] + along[1] * offset[1]) / square)) if square else 0.0
    return math.hypot(offset[0] - share * along[0], offset[1] - share * along[1])


# A wanted outline, stepped off like a line with a pair of compasses that stand one round apart.

_HALVINGS = 24
"""Enough to find how far the compasses open to a ten-millionth."""


@dataclass(frozen=True, slots=True)
class Target:
    """The wanted outline, round by round of the pattern, the opening first.

    `path` is the line at its true length, `lengths` how far along it each round ends, `edges` how long around it
    is there. `division` goes into all counts of the pattern.
    """

    path: tuple[ProfilePoint, ...]
    lengths: tuple[float, ...]
    edges: tuple[float, ...]
    division: int

    @property
    def outline(self) -> list[ProfilePoint]:
        """The line up the side as wide as it is around."""
        points = [ProfilePoint(radius_of(self.edges[0]), self.path[0].level)]
        for edge, point, (low, high) in zip(self.edges[1:], self.path[1:], pairwise(self.lengths), strict=True):
            points.append(ProfilePoint(reach(points[-1].radius, radius_of(edge), high - low), point.level))
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

    def point_at(self, length: float) -> ProfilePoint:
        index, share = self._between(length)
        low, high = self.path[index], self.path[index + 1]
        return ProfilePoint(
            low.radius + share * (high.radius - low.radius), low.level + share * (high.level - low.level)
        )

    def round_at(self, length: float) -> int:
        """Which round of the pattern, from 0, is worked just behind this place."""
        return min(bisect_right(self.lengths, length + 1e-9), len(self.lengths) - 1) - 1

    def _between(self, length: float) -> tuple[int, float]:
        index = min(max(bisect_left(self.lengths, length), 1), len(self.lengths) - 1) - 1
        span = self.lengths[index + 1] - self.lengths[index]
        return index, min(1.0, max(0.0, (length - self.lengths[index]) / span)) if span else 1.0


def target_of(first_edge: float, edges: Sequence[RoundEdge], scale: float) -> Target:
    """The outline of a piece, `scale` new stitch widths to an old one; growth in turns (6, 0, 6, 0) made even."""
    path = laid(first_edge, [ProfileStep(edge.around, edge.rise) for edge in edges])
    rises = [apart(low, high) for low, high in pairwise(path)]
    circles = even_turns([first_edge, *(edge.around for edge in edges)], rises)
    lengths = [0.0]
    for rise in rises:
        lengths.append(lengths[-1] + rise * scale)
    return Target(
        path=tuple(ProfilePoint(point.radius * scale, point.level * scale) for point in path),
        lengths=tuple(lengths),
        edges=tuple(circle * scale for circle in circles),
        division=repeat_of([*([int(first_edge)] if first_edge else []), *(int(edge.around) for edge in edges)]),
    )


def repeat_of(counts: Sequence[int]) -> int:
    """What all the counts of a pattern divide by; 1 for a tube, whose one count is no repeat."""
    return math.gcd(*counts) if len(set(counts)) > 1 else 1


def apart(one: ProfilePoint, other: ProfilePoint) -> float:
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


def _share(start: ProfilePoint, low: ProfilePoint, high: ProfilePoint, reach: float) -> float:
    """How far from `low` to `high` lies the point that is `reach` away from `start` (circle and line, geometry)."""
    along = (high.radius - low.radius, high.level - low.level)
    offset = (low.radius - start.radius, low.level - start.level)
    square = along[0] ** 2 + along[1] ** 2
    half = (along[0] * offset[0] + along[1] * offset[1]) / square
    constant = (offset[0] ** 2 + offset[1] ** 2 - reach**2) / square
    return min(1.0, -half + math.sqrt(max(0.0, half * half - constant)))


def opening_for(target: Target, rises: Sequence[float], steps: int) -> float:
    """How far the compasses must open, as a share of a round's height, to land on the end with so many steps."""
    low, high = 0.5, 2.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        places, remainder = stepped(target, rises, middle)
        low, high = (middle, high) if len(places) + remainder > steps else (low, middle)
    return high


# Which rounds can be worked anew for another count: plain ones, all of one stitch, changing by inc and dec only.

MOST_IN_ONE = 3
"""Stitches worked into one, or taken together, up to which a change counts as plain."""


@dataclass(frozen=True, slots=True)
class PlainRound:
    """What a plain round is made of: `kind` is the US name of its stitch, `colour` the key of its yarn.

    `counted` says that its starting chain counts as its first stitch.
    """

    kind: str
    loop: Loop
    colour: str
    counted: bool = False


def plain_round(round_: Round) -> PlainRound | str:
    """The round's stitch, loop and colour, or in words what keeps it from being worked over another count."""
    if round_.plan is None:
        return f"{round_.label} could not be read"
    acts = [act for act in round_.plan.acts() if act.role is not Role.STEP]
    for act in acts:
        hindrance = _hindrance(act)
        if hindrance:
            return f"{round_.label} has {hindrance}"
    kinds = {made.counts_as or made.kind for act in acts for made in act.makes}
    loops = {act.loop for act in acts}
    colours = {act.colour or round_.colour for act in acts}
    if len(kinds) != 1:
        return f"{round_.label} has stitches of different heights" if kinds else f"{round_.label} makes no stitch"
    if len(loops) != 1:
        return f"{round_.label} takes different loops in turn, which must divide"
    if len(colours) != 1:
        return f"{round_.label} changes colour inside the round, at a stitch that another count does not have"
    counted = any(made.counts_as for act in acts for made in act.makes)
    return PlainRound(kinds.pop(), loops.pop(), colours.pop(), counted)


def _hindrance(act: Act) -> str:
    """What about an act depends on the very count, "" if nothing does."""
    if act.role is Role.SKIP:
        return "skipped stitches, which must divide"
    if any(made.is_chain and not made.counts_as for made in act.makes):
        return "chain spaces, which must divide"
    if len(act.makes) != 1 or max(act.makes[0].stitches, act.takes) > MOST_IN_ONE:
        return f"a group worked as one ({act.name}), which must divide"
    kind = act.makes[0].counts_as or act.makes[0].kind
    if kind not in BY_ID:
        return f"a motif ({act.name}), which must divide"
    if act.loop in (Loop.BACK_POST, Loop.FRONT_POST):
        return "post stitches, which must divide"
    if act.into in (Into.SPACE, Into.BETWEEN):
        return "stitches worked into spaces"
    return ""
