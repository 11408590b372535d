"""One round laid out: each symbol in its place, on what it is worked into, at its own height."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import atan2, pi, remainder, tau

from tracker.drawing.chart_model import (
    OVAL_BREADTH,
    OVAL_LENGTH,
    ColourArc,
    DrawnRound,
    Mark,
    Oval,
    arc,
    column,
    loop,
)
from tracker.drawing.geometry import Circle, Foot, Point, Polygon, Stadium, Straight, Track, at_level, unit
from tracker.drawing.marks import MOST_OVALS, DrawnBase, MarkDraft
from tracker.drawing.symbols import SymbolForm
from tracker.lazy_dataclass import dataclass, replace

_LEAST_FOOT = 0.2
"""Feet in one space stand at least so far apart, in stitch widths, that a line of ink shows between them."""
_MOST_FOOT = 0.45
"""And not further, so that they are seen to belong together."""
DROOP = 0.2
"""How much lower the outer stitches of a wide fan end, as a share of their height."""
_NUMBER_ASIDE = 0.8
"""How far before its first stitch the number of a row stands."""
_JOIN_ASIDE = 0.24
"""How far before the number of a round the slip stitch that closes it is drawn."""


def lay(
    number: int,
    drafts: Sequence[MarkDraft],
    below: Below,
    *,
    backward: bool = False,
    joined: bool = False,
    undrawn: int = 0,
    corners: int = 0,
) -> DrawnRound:
    """The round with every symbol in its place; `undrawn` stitches were left out at its end.

    A figure has `corners`, and its round as many groups that turn the work.
    """
    turns = turns_in(drafts, corners) if below.track.closed else ()
    if turns:
        round_frame = _figure_frame(drafts, below, turns, backward=backward)
    else:
        round_frame = frame(drafts, below, backward=backward, broken=undrawn > 0)
    marks = [
        replace(_mark(draft, at, round_frame, below), wrong_side=backward)
        for draft, at in zip(drafts, round_frame.places, strict=True)
    ]
    marks = _apart(marks, below)
    marks = _spanned(marks, round_frame, closed=round_frame.track.closed and not undrawn)
    middle = (round_frame.inner + round_frame.outer) / 2
    start = round_frame.at_level(0.0 if round_frame.track.closed else -_NUMBER_ASIDE, middle)
    return DrawnRound(
        number=number,
        marks=tuple(marks),
        track=round_frame.track,
        inner=round_frame.inner,
        outer=round_frame.outer,
        reach=max([round_frame.outer, *(_reach(mark, round_frame) for mark in marks)]),
        number_at=start.point,
        stretches=_stretches(drafts, round_frame),
        join_at=round_frame.at_level(-_JOIN_ASIDE, round_frame.outer),
        joined=joined,
        backward=backward,
        undrawn=undrawn,
    )


def _mark(draft: MarkDraft, at: float, round_frame: Frame, below: Below) -> Mark:
    top = round_frame.top(at, draft.height * (1.0 - _droop(draft)))
    under = round_frame.foot(at)
    feet = _feet(draft, under.point, below)
    ovals = column(feet[0], top, min(draft.chains, MOST_OVALS)) if draft.standing else ()
    return Mark(
        kind=draft.kind,
        symbol=draft.symbol,
        name=draft.name,
        top=top,
        outward=under.outward,
        feet=feet,
        bases=draft.bases,
        distance=at,
        width=draft.width,
        colour=draft.colour,
        loop=draft.loop,
        fan=draft.fan,
        company=draft.company,
        chains=draft.chains,
        ovals=ovals,
        standing=draft.standing,
        counted=draft.counted,
        between=draft.between,
        legs=draft.legs,
    )


def _droop(draft: MarkDraft) -> float:
    return DROOP * draft.lean**2 if draft.fan > 2 and draft.symbol.form is SymbolForm.STEM else 0.0


def _feet(draft: MarkDraft, under: Point, below: Below) -> tuple[Point, ...]:
    if not draft.bases:
        return (under,)
    feet = tuple(below.grounds[base].foot.raised(CLEAR) for base in draft.bases)
    return (feet[0].toward(feet[-1], 0.5),) if draft.between else feet


def _apart(marks: Sequence[Mark], below: Below) -> list[Mark]:
    """The same marks, those that go under one chain standing side by side along it.

    Feet apart are worked into a space, feet together into one stitch: common practice of Japanese and other charts,
    read of on pages about symbols and not in a standard.
    """
    done = list(marks)
    under: dict[int, list[int]] = {}
    for index, mark in enumerate(marks):
        if len(mark.bases) == 1 and not mark.space and below.grounds[mark.bases[0]].place.space:
            under.setdefault(mark.bases[0], []).append(index)
    for base, indexes in under.items():
        ground = below.grounds[base]
        along = unit(ground.foot.outward + pi / 2)
        indexes.sort(key=lambda index: marks[index].top.x * along.x + marks[index].top.y * along.y)
        pitch = min(_MOST_FOOT, max(_LEAST_FOOT, ground.place.chains * OVAL_LENGTH / len(indexes)))
        for place, index in enumerate(indexes):
            aside = along * ((place - (len(indexes) - 1) / 2) * pitch)
            foot = marks[index].feet[0] + aside
            ovals = column(foot, marks[index].top, len(marks[index].ovals)) if marks[index].standing else ()
            done[index] = replace(marks[index], feet=(foot,), ovals=ovals or marks[index].ovals, in_space=True)
    return done


def _spanned(marks: list[Mark], round_frame: Frame, *, closed: bool) -> list[Mark]:
    """The same marks, with lengths of chain and picots drawn from the stitch before to the stitch after."""
    done = []
    for index, mark in enumerate(marks):
        if mark.space:
            done.append(_spanning(marks, index, round_frame, closed))
        elif mark.symbol.form is SymbolForm.PICOT:
            before = _neighbour(marks, index, -1, closed)
            level = round_frame.track.level_of(before.top) if before else round_frame.inner
            ovals = loop(round_frame.at_level(mark.distance, level), min(mark.chains, MOST_OVALS))
            done.append(replace(mark, ovals=ovals))
        else:
            done.append(mark)
    return done


def _spanning(marks: Sequence[Mark], index: int, round_frame: Frame, closed: bool) -> Mark:
    mark = marks[index]
    start, end = (_beside(_neighbour(marks, index, side, closed), mark, round_frame, side) for side in (-1, 1))
    ovals = arc(start, end, mark.outward, min(mark.chains, MOST_OVALS))
    return replace(mark, ovals=ovals, top=_crown(ovals) + unit(mark.outward) * (OVAL_BREADTH / 2))


def _crown(ovals: Sequence[Oval]) -> Point:
    """The middle of an arc of ovals."""
    half = len(ovals) // 2
    if len(ovals) % 2:
        return ovals[half].centre
    return ovals[half - 1].centre.toward(ovals[half].centre, 0.5)


def _neighbour(marks: Sequence[Mark], index: int, step: int, closed: bool) -> Mark | None:
    """The next stitch on this side that is no length of chain itself; across the seam if the round closes."""
    for away in range(1, len(marks)):
        other = index + step * away
        if not closed and not 0 <= other < len(marks):
            return None
        mark = marks[other % len(marks)]
        if mark.is_stitch:
            return mark
    return None


def _beside(other: Mark | None, mark: Mark, round_frame: Frame, side: int) -> Point:
    """Where a length of chain touches its neighbour: at the end of its own room, level with the neighbour's top."""
    edge = mark.distance + side * mark.width / 2 * round_frame.stretch
    level = round_frame.track.level_of(other.top) if other else round_frame.outer
    return round_frame.at_level(edge, level).point


def _reach(mark: Mark, round_frame: Frame) -> float:
    """The level that a mark reaches up to."""
    half = unit(mark.outward) * (OVAL_BREADTH / 2)
    points = (mark.top, *(oval.centre + half for oval in mark.ovals))
    return max(round_frame.track.level_of(point) for point in points)


def _stretches(drafts: Sequence[MarkDraft], round_frame: Frame) -> tuple[ColourArc, ...]:
    """Runs of one colour along the round, the whole of it covered unless it is broken off."""
    arcs: list[ColourArc] = []
    last = len(drafts) - 1
    for index, draft in enumerate(drafts):
        start = 0.0 if index == 0 else round_frame.edges[index]
        whole = index == last and round_frame.track.length - round_frame.edges[-1] < 1.0
        end = round_frame.track.length if whole else round_frame.edges[index + 1]
        stitches = int(draft.counted if draft.standing else not draft.chains)
        if arcs and arcs[-1].colour == draft.colour:
            arcs[-1] = replace(arcs[-1], end=end, stitches=arcs[-1].stitches + stitches)
        else:
            arcs.append(ColourArc(draft.colour, start, end, stitches))
    return tuple(arcs)


# Where along its track each symbol of a round goes: evenly, and as nearly as can be over what it is worked into.

SEAM = 0.7
"""Room between the last and the first stitch of a round, where its number stands; in stitch widths."""
CLEAR = 0.14
"""Between the top of a stitch and the foot of the one worked into it."""
BREAK = 6.0
"""Room for the note that a round is not drawn to its end."""
_PAIR_PITCH = 1.4
"""Two stitches worked into one place stand no further apart than this."""
_LEAST_PITCH = 0.8
"""The more stand in one place, the closer, but not closer than this."""
_CROWN = 0.4
"""How far below its top, as a share of its height, a round must have the room that it needs."""
_FITTED_BY = 60
"""At most so many symbols decide where an oval begins."""


@dataclass(frozen=True, slots=True)
class Ground:
    """One place that the next round can go into, and where it is."""

    foot: Foot
    place: DrawnBase


@dataclass(frozen=True, slots=True)
class Below:
    """What a round is laid upon. `level` is how far out it reaches."""

    track: Track
    level: float
    grounds: tuple[Ground, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """Where along which track the symbols of a round go.

    The band lies between the levels `inner` and `outer`; its highest symbol is `full` high. Distances are measured on
    `track`, a little below the outer edge, where symbols are widest. `places` are the middles of the symbols,
    `edges` the ends of the room that each has, `stretch` how many times wider it is than needed.
    `backward` rounds run against the track.
    """

    track: Track
    inner: float
    outer: float
    full: float
    places: tuple[float, ...]
    edges: tuple[float, ...]
    stretch: float
    backward: bool

    def at(self, distance: float) -> Foot:
        """On the track, `distance` from where the round begins."""
        return self.track.at(self.track.length - distance if self.backward else distance)

    def at_level(self, distance: float, level: float) -> Foot:
        """At any level."""
        return at_level(self.track, self.track.length - distance if self.backward else distance, level)

    def foot(self, distance: float) -> Foot:
        """On the lower edge of the band."""
        return self.at_level(distance, self.inner)

    def top(self, distance: float, height: float) -> Point:
        """`height` above the lower edge, in the measure of the highest symbol."""
        share = height / self.full if self.full else 1.0
        return self.at_level(distance, self.inner + share * (self.outer - self.inner)).point


def frame(drafts: Sequence[MarkDraft], below: Below, *, backward: bool, broken: bool) -> Frame:
    """The frame for these symbols upon what is below; `broken` leaves room for what is not drawn."""
    if not below.track.closed:
        return _row_frame(drafts, below, backward=backward)
    widths = [draft.width for draft in drafts]
    full = max((draft.height for draft in drafts), default=1.0)
    inner = below.level + CLEAR
    spare = SEAM + (BREAK if broken else 0.0)
    need = sum(widths) + spare
    middle = max(inner + (1 - _CROWN) * full, below.track.level_for(need))
    outer = middle + _CROWN * full
    track = below.track.level(middle)
    stretch = (track.length - spare) / sum(widths) if widths else 1.0
    edges = [SEAM / 2]
    for width in widths:
        edges.append(edges[-1] + width * stretch)
    places = _places(edges, drafts, stretch)
    return _fitted(Frame(track, inner, outer, full, places, tuple(edges), stretch, backward), drafts, below)


def turns_in(drafts: Sequence[MarkDraft], corners: int) -> tuple[int, ...]:
    """The symbols that stand at the corners of a figure, in order; none where the round has not just so many.

    The work turns at a chain amid a group in one place, else at the middle of three stitches and more in one.
    """
    chains: list[int] = []
    middles: list[int] = []
    index = 0
    while index < len(drafts):
        group = drafts[index : index + max(1, drafts[index].group)]
        inside = [index + at for at, each in enumerate(group[1:-1], 1) if each.chains and not each.standing]
        chains += inside[:1]
        if len(group) > 2 and not inside:
            middles.append(index + len(group) // 2)
        index += len(group)
    return next((tuple(turns) for turns in (chains, middles) if corners and len(turns) == corners), ())


def _figure_frame(drafts: Sequence[MarkDraft], below: Below, turns: tuple[int, ...], *, backward: bool) -> Frame:
    """The frame of a round with corners: each side as long as the longest, its symbols spread over it."""
    widths = [draft.width for draft in drafts]
    full = max(draft.height for draft in drafts)
    ends = list(accumulate(widths, initial=SEAM / 2))
    whole = ends[-1] + SEAM / 2
    middles = [(one + other) / 2 for one, other in pairwise(ends)]
    at = [middles[index] for index in turns]
    sides = [(other - one) % whole or whole for one, other in zip(at, (*at[1:], at[0]), strict=True)]
    inner = below.level + CLEAR
    corners = len(turns)
    longest = Polygon(corners, 1.0).level_for(corners * max(sides))
    middle = max(inner + (1 - _CROWN) * full, longest)
    side = Polygon(corners, middle).side

    def way(place: float) -> float:
        """How far from the first corner a place of the round is, in the measure of the track."""
        behind = (place - at[0]) % whole
        for number, length in enumerate(sides):
            if behind <= length:
                return (number + behind / length) * side
            behind -= length
        return corners * side

    length = corners * side
    first = length - way(0.0)
    """From where the round begins to its first corner."""
    angle = Polygon(corners, 1.0).corner_angle(0)
    base = (
        _middle(drafts[turns[0]].bases, below)
        if drafts[turns[0]].bases
        else _middle(_bases_near(drafts, turns[0]), below)
    )
    corner = round((atan2(base.y, base.x) - angle) / (tau / corners)) % corners
    begin = (corner / corners - 1 + first / length) if backward else (corner / corners - first / length)
    track = Polygon(corners, middle, begin % 1.0)
    places = tuple((way(place) + first) % length for place in middles)
    edges = [(way(place) + first) % length for place in ends]
    stretch = (length - SEAM) / sum(widths)
    return Frame(track, inner, middle + _CROWN * full, full, places, tuple(edges), stretch, backward)


def _bases_near(drafts: Sequence[MarkDraft], index: int) -> tuple[int, ...]:
    """What the nearest symbol goes into that goes into anything."""
    order = sorted(range(len(drafts)), key=lambda other: abs(other - index))
    return next((drafts[other].bases for other in order if drafts[other].bases), ())


def _row_frame(drafts: Sequence[MarkDraft], below: Below, *, backward: bool) -> Frame:
    """The frame of a row: each symbol straight over what it goes into, moved only as far as its neighbours need room.

    So plain rows make a grid, increases push apart and decreases leave a gap, and nothing drifts.
    """
    way = 1.0 if backward else -1.0
    full = max((draft.height for draft in drafts), default=1.0)
    inner = below.level + CLEAR
    wanted_places = [way * _middle(draft.bases, below).x if draft.bases else None for draft in drafts]
    widths = [draft.width for draft in drafts]
    places = _in_order(wanted_places, widths)
    ends = [(place - width / 2, place + width / 2) for place, width in zip(places, widths, strict=True)]
    edges = [ends[0][0], *((one[1] + other[0]) / 2 for one, other in pairwise(ends)), ends[-1][1]]
    begin, end = edges[0], edges[-1]
    track = Straight(end if backward else -begin, end - begin, inner + full)
    places_along = tuple(place - begin for place in places)
    edges_along = tuple(edge - begin for edge in edges)
    return Frame(track, inner, inner + full, full, places_along, edges_along, 1.0, backward)


def _in_order(wanted_places: Sequence[float | None], widths: Sequence[float]) -> list[float]:
    """Places as near as can be to those wanted, in squares, none nearer to the next than half of both widths.

    The exact answer is had by drawing together neighbours that are in each other's way (pool adjacent violators, Ayer
    and others 1955, from memory). What wants no place stands beside the one before it.
    """
    room = list(accumulate(((one + other) / 2 for one, other in pairwise(widths)), initial=0.0))
    targets = [place - at if place is not None else None for place, at in zip(wanted_places, room, strict=True)]
    first = next((place for place in targets if place is not None), -room[-1] / 2)
    pools: list[tuple[float, float, int]] = []
    before = first
    for place in targets:
        weight = _UNBOUND if place is None else 1.0
        before = before if place is None else place
        pools.append((before, weight, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (one, heavy, some), (other, light, more) = pools[-2:]
            pools[-2:] = [((one * heavy + other * light) / (heavy + light), heavy + light, some + more)]
    spread = [middle for middle, _, count in pools for _ in range(count)]
    return [middle + at for middle, at in zip(spread, room, strict=True)]


_UNBOUND = 1e-6
"""Weight of a symbol that goes into nothing, beside 1 for others: it only follows."""


def _places(edges: Sequence[float], drafts: Sequence[MarkDraft], stretch: float) -> tuple[float, ...]:
    """The middles of the symbols; wide fans closed up where there is more room than they need."""
    middles: list[float] = []
    while len(middles) < len(drafts):
        start, end = len(middles), len(middles) + drafts[len(middles)].group
        pitch = max(_LEAST_PITCH, 1.0 - 0.04 * drafts[start].group) if end - start > 2 else _PAIR_PITCH
        closer = min(1.0, pitch / stretch) if end - start > 1 else 1.0
        middle = (edges[start] + edges[end]) / 2
        middles += [middle + ((edges[i] + edges[i + 1]) / 2 - middle) * closer for i in range(start, end)]
    return tuple(middles)


def _fitted(frame: Frame, drafts: Sequence[MarkDraft], below: Below) -> Frame:
    """The frame moved along its track, so that the symbols stand over what they go into.

    So rounds begin a little further on with each increase, as they do in the hand.
    """
    pairs = [
        (at, _middle(draft.bases, below))
        for at, draft in zip(frame.places, drafts, strict=True)
        if draft.bases and not draft.standing
    ]
    if not pairs:
        return frame
    return replace(frame, track=_moved(frame, frame.track, pairs))


def _middle(bases: tuple[int, ...], below: Below) -> Point:
    points = [below.grounds[base].foot.point for base in bases]
    return Point(sum(point.x for point in points) / len(points), sum(point.y for point in points) / len(points))


def _moved(frame: Frame, track: Track, pairs: Sequence[tuple[float, Point]]) -> Track:
    if isinstance(track, Circle):
        turns = [remainder(atan2(base.y, base.x) - frame.at(at).outward, tau) for at, base in pairs]
        return replace(track, begin=track.begin + sum(turns) / len(turns))
    if isinstance(track, Polygon):
        return track
    assert isinstance(track, Stadium)
    return _turned(frame, track, pairs)


def _turned(frame: Frame, track: Stadium, pairs: Sequence[tuple[float, Point]]) -> Stadium:
    """The oval begun where the distances from symbols to their bases are least."""
    pairs = pairs[:: max(1, len(pairs) // _FITTED_BY)]

    def misfit(begin: float) -> float:
        turned = replace(frame, track=replace(track, begin=begin))
        return sum((turned.at(at).point - base).size ** 2 for at, base in pairs)

    best = min((track.begin + step / 24 for step in range(-36, 37)), key=misfit)
    return replace(track, begin=min((best + step / 240 for step in range(-10, 11)), key=misfit))
