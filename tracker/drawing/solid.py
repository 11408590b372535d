"""A piece as a solid of the room, seen from a little above: rings of fabric, lit from the upper left.

Painted from its far end to its near one each round covers what it hides: of a solid turned about its axis, what is
nearer to somebody who looks down on it is always further along that axis (geometry). Lengths are in the unit of the
outline; x goes to the right, y up, z toward the eye.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, cos, hypot, pi, sin, sqrt, tau

from tracker.drawing.geometry import Point
from tracker.drawing.outline import Band, BandEdge, PieceOutline, Viewpoint
from tracker.lazy_dataclass import dataclass, replace

Vector = tuple[float, float, float]

LOOK_DOWN = 0.2
"""Sine of the angle at which the eye looks down: what is nearer lies lower in the picture by this share."""
_UPRIGHT = sqrt(1 - LOOK_DOWN**2)
"""Its cosine: by this share what is higher is seen higher."""
UP: Vector = (0.0, 1.0, 0.0)
_TOWARD: Vector = (0.0, LOOK_DOWN, _UPRIGHT)
"""Where the eye is."""
_AROUND = 36
"""Points of a ring; with more no corner is seen to go."""
_ACROSS = 24
"""Points of a patch along the front."""
OPEN = 0.15
"""An end wider than this share of the widest round is seen as an opening."""
_INSIDE = 0.72
"""How light the inside of an opening is beside the outside; by eye."""


@dataclass(frozen=True, slots=True)
class Face:
    """A flat area of one yarn in the picture."""

    colour: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Slice:
    """One round as it is painted: its shapes, the whole of it first, and how light it is from left to right.

    `light` is 1 where the yarn looks as its own colour, less in the shade; `levels` are the lowest and the highest
    place of it in the room.
    """

    shapes: tuple[Face, ...]
    light: tuple[float, ...]
    done: bool
    levels: tuple[float, float]

    @property
    def whole(self) -> tuple[Point, ...]:
        return self.shapes[0].points


@dataclass(frozen=True, slots=True)
class Stance:
    """Where a solid is: its axis starts at `origin`, at level 0, and goes along `up`."""

    origin: Vector = (0.0, 0.0, 0.0)
    up: Vector = UP

    def at(self, across: float, level: float, near: float) -> Vector:
        """A place of the solid in the room: sideways, along its axis, and toward the eye."""
        side, front = self._sides()
        return (
            self.origin[0] + side[0] * across + self.up[0] * level + front[0] * near,
            self.origin[1] + side[1] * across + self.up[1] * level + front[1] * near,
            self.origin[2] + side[2] * across + self.up[2] * level + front[2] * near,
        )

    def levels(self, *edges: BandEdge) -> tuple[float, float]:
        """The lowest and the highest place of what lies between these edges."""
        lean = sqrt(max(0.0, 1 - self.up[1] ** 2))
        middles = [self.origin[1] + self.up[1] * edge.level for edge in edges]
        reach = [lean * edge.radius for edge in edges]
        low = min(middle - far for middle, far in zip(middles, reach, strict=True))
        return low, max(middle + far for middle, far in zip(middles, reach, strict=True))

    def front(self) -> Vector:
        """The direction away from the axis that comes nearest to the eye."""
        return self._sides()[1]

    def _sides(self) -> tuple[Vector, Vector]:
        x, y, z = self.up
        # So near to the axis no direction away from it is nearest to the eye.
        front = (-z * x, -z * y, 1 - z * z) if abs(z) < 0.999 else (0.0, -1.0, 0.0)
        size = hypot(*front)
        front = (front[0] / size, front[1] / size, front[2] / size)
        side = (y * front[2] - z * front[1], z * front[0] - x * front[2], x * front[1] - y * front[0])
        return side, front

    @property
    def is_upright(self) -> bool:
        return self.up == UP


STANDING = Stance()


def seen_at(place: Vector) -> Point:
    """Where a place of the room is in the picture: straight onto a plane across the way of looking (geometry)."""
    return Point(place[0], _UPRIGHT * place[1] - LOOK_DOWN * place[2])


def faces_eye(direction: Vector) -> bool:
    """Whether what faces this way is seen."""
    return _dot(direction, _TOWARD) > 0


MOST_SLICES = 160
"""Rounds of a piece that are painted one by one; of a longer piece neighbours of one yarn are painted as one."""


def _together(outline: PieceOutline) -> PieceOutline:
    """The same piece with so few bands that each is still seen."""
    step = ceil(len(outline.bands) / MOST_SLICES)
    if step < 2:
        return outline
    bands: list[Band] = []
    for index, band in enumerate(outline.bands):
        last = bands[-1] if bands else None
        alike = last and last.plain is not None and (last.plain, last.done) == (band.plain, band.done)
        if last and alike and index % step:
            bands[-1] = replace(last, high=band.high)
        else:
            bands.append(band)
    return replace(outline, bands=tuple(bands))


def slices(outline: PieceOutline, stance: Stance = STANDING) -> list[Slice]:
    """The rounds of a piece in the order in which they are painted."""
    outline = _together(outline)
    if outline.view is Viewpoint.FRONT:
        return [_row(band, stance) for band in outline.bands]
    along = 1 if _dot(stance.up, _TOWARD) >= 0 else -1
    lies_flat = outline.view is Viewpoint.ABOVE

    def turn(index: int) -> tuple[float, float]:
        band = outline.bands[index]
        return (0.0 if lies_flat else along * (band.low.level + band.high.level), -band.high.radius)

    order = sorted(range(len(outline.bands)), key=turn)
    rings = [_ring_of_fabric(index, outline, stance) for index in order]
    return [*rings, *_inside(outline, stance)] if stance.is_upright else rings


def _row(band: Band, stance: Stance) -> Slice:
    """One row of a flat piece, seen from its front."""

    def corner(edge: BandEdge, share: float) -> Point:
        return seen_at(stance.at((2 * share - 1) * edge.radius, edge.level, 0.0))

    patches = [
        Face(
            patch.colour,
            (
                *(corner(band.low, patch.start), corner(band.low, patch.end)),
                *(corner(band.high, patch.end), corner(band.high, patch.start)),
            ),
        )
        for patch in band.patches
    ]
    whole = (corner(band.low, 0), corner(band.low, 1), corner(band.high, 1), corner(band.high, 0))
    return Slice(
        (Face(band.patches[0].colour, whole), *patches[1:]),
        (1.0,),
        band.done,
        stance.levels(band.low, band.high),
    )


_BENT = (0.33, 0.67)
"""Shares of a round at which its bend is shown."""
_FOLD = 0.3
"""Cosine of the angle between two rounds from which on fabric is folded there and not bent."""


def _ring_of_fabric(index: int, outline: PieceOutline, stance: Stance) -> Slice:
    band = outline.bands[index]
    between = [_bent_edge(index, share, outline.bands) for share in _BENT]
    rings = (_ring(edge, outline, stance) for edge in (band.low, *between, band.high))
    whole = Face(band.patches[0].colour, hull(point for ring in rings for point in ring))
    levels = stance.levels(band.low, band.high)
    patches: tuple[Face, ...] = ()
    if band.plain is None and stance.is_upright:
        patches = tuple(
            Face(patch.colour, _front(band, (patch.start, patch.end), outline, stance)) for patch in band.patches
        )
    return Slice((whole, *patches), _light(band, outline, stance), band.done, levels)


def _bent_edge(index: int, share: float, bands: Sequence[Band]) -> BandEdge:
    """A place within a round on the smooth line through its ends and those of its neighbours (Catmull and Rom 1974,
    from memory); straight where the neighbour is folded off, or is none."""
    band = bands[index]
    before = bands[index - 1].low if index and _runs_on(bands[index - 1], band) else None
    after = bands[index + 1].high if index + 1 < len(bands) and _runs_on(band, bands[index + 1]) else None

    def place(low: float, high: float, one: float | None, other: float | None) -> float:
        start = high - low if one is None else (high - one) / 2
        end = high - low if other is None else (other - low) / 2
        t, u = share, share * share
        cube = u * t
        return (
            (2 * cube - 3 * u + 1) * low + (cube - 2 * u + t) * start + (3 * u - 2 * cube) * high + (cube - u) * end
        )

    radius = place(
        band.low.radius, band.high.radius, before.radius if before else None, after.radius if after else None
    )
    level = place(band.low.level, band.high.level, before.level if before else None, after.level if after else None)
    return BandEdge(max(0.0, radius), level)


def _runs_on(one: Band, other: Band) -> bool:
    """Whether the fabric goes on from one round to the next without a fold."""
    if one.high != other.low:
        return False
    first = (one.high.radius - one.low.radius, one.high.level - one.low.level)
    second = (other.high.radius - other.low.radius, other.high.level - other.low.level)
    size = hypot(*first) * hypot(*second)
    return size > 0 and (first[0] * second[0] + first[1] * second[1]) / size > _FOLD


def _ring(edge: BandEdge, outline: PieceOutline, stance: Stance) -> list[Point]:
    """Points around an edge: a circle, the ends of an oval with its sides, or a figure with corners."""
    if outline.corners:
        return [seen_at(stance.at(x, edge.level, y)) for x, y in corners_at(outline.corners, edge.radius)]
    points = []
    for step in range(_AROUND):
        angle = tau * (step + 0.5) / _AROUND
        across = edge.radius * cos(angle)
        across += outline.core / 2 if across > 0 else -outline.core / 2
        points.append(seen_at(stance.at(across, edge.level, edge.radius * sin(angle))))
    return points


def corners_at(corners: int, radius: float) -> list[tuple[float, float]]:
    """The corners of a regular figure whose edge is as long as a circle of this radius (geometry)."""
    out = pi * radius / (corners * sin(pi / corners))
    first = pi / 2 + (pi / corners if corners % 2 == 0 else 0.0)
    return [(out * cos(first + tau * k / corners), out * sin(first + tau * k / corners)) for k in range(corners)]


def _front(band: Band, part: tuple[float, float], outline: PieceOutline, stance: Stance) -> tuple[Point, ...]:
    """Around what is seen of a patch: along the upper edge and back along the lower one."""
    start, end = part
    shares = [start + (end - start) * step / _ACROSS for step in range(_ACROSS + 1)]
    return (
        *(on_front(band.high, share, outline, stance) for share in shares),
        *(on_front(band.low, share, outline, stance) for share in reversed(shares)),
    )


def on_front(edge: BandEdge, share: float, outline: PieceOutline, stance: Stance = STANDING) -> Point:
    """A place on the front of an edge, from left (0) to right (1) along the fabric."""
    across = outline.across(share) * (edge.radius + outline.core / 2)
    return seen_at(stance.at(across, edge.level, edge.radius * sin(pi * share)))


def _inside(outline: PieceOutline, stance: Stance) -> list[Slice]:
    """What is seen of the inside through an opening at the top: round below round, cut off by the rim."""
    if not outline.bands:
        return []
    first, last = outline.bands[0].low, outline.bands[-1].high
    is_end_above = last.level >= first.level
    rim = last if is_end_above else first
    edges = [edge for band in outline.bands for edge in (band.low, band.high)]
    if rim.radius <= OPEN * max(edge.radius for edge in edges):
        return []
    if rim.level < max(edge.level for edge in edges) - 1e-9:
        return []
    opening = hull(_ring(rim, outline, stance))
    rings = []
    for band in reversed(outline.bands) if is_end_above else outline.bands:
        deeper = band.low if is_end_above else band.high
        nearer = band.high if is_end_above else band.low
        shape = within(hull(_ring(nearer, outline, stance)), opening)
        # Less than a triangle has no area to be seen.
        if len(shape) < 3:
            break
        is_flat = abs(band.high.level - band.low.level) < LOOK_DOWN * abs(band.high.radius - band.low.radius)
        light = (1.0 if is_flat else _INSIDE,)
        rings.append(Slice((Face(band.patches[0].colour, shape),), light, band.done, stance.levels(deeper, nearer)))
        if deeper.level > nearer.level:
            break
    return rings


# Light: matt fabric by the cosine of the angle at which light falls on it (Lambert's law).

_FROM: Vector = (-0.42, 0.62, 0.66)
"""Where the light comes from, by eye."""
_EVERYWHERE = 0.5
"""Share of the light that comes from all sides, by eye."""
_STOPS = 13
"""Places from left to right at which the light of a round is told."""


def _light(band: Band, outline: PieceOutline, stance: Stance) -> tuple[float, ...]:
    along, out = _facing(band, outline)
    if not stance.is_upright:
        front = stance.front()
        toward = tuple(up * along + away * out for up, away in zip(stance.up, front, strict=True))
        return (_falls((toward[0], toward[1], toward[2])),)
    places = [2 * step / (_STOPS - 1) - 1 for step in range(_STOPS)]
    return tuple(_falls((out * x, along, out * sqrt(max(0.0, 1 - x * x)))) for x in places)


def _facing(band: Band, outline: PieceOutline) -> tuple[float, float]:
    """Which way the fabric of a round faces: along the axis, and away from it."""
    wide, high = band.high.radius - band.low.radius, band.high.level - band.low.level
    size = hypot(wide, high)
    if not size:
        return 1.0, 0.0
    turned = 1 if outline.bands[0].low.level <= outline.bands[-1].high.level else -1
    along, out = -turned * wide / size, turned * high / size
    # Fabric that lies flatter than this is seen along its edge: it faces the way of the axis.
    return (along, out) if out > 0.05 else (abs(along), max(0.0, out))


def _falls(facing: Vector) -> float:
    size = hypot(*_FROM)
    return round(_EVERYWHERE + (1 - _EVERYWHERE) * 1.12 * max(0.0, _dot(facing, _FROM) / size), 3)


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def light_at(light: Sequence[float], share: float) -> float:
    """How light a slice is at this share of its width from the left."""
    place = min(1.0, max(0.0, share)) * (len(light) - 1)
    index = min(int(place), max(0, len(light) - 2))
    after = light[min(index + 1, len(light) - 1)]
    return light[index] + (after - light[index]) * (place - index)


# Areas without hollows.


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The smallest area without hollows around these points, counter-clockwise (Andrew 1979, from memory)."""
    ordered = sorted({(point.x, point.y) for point in points})
    # Two points and one are their own hull.
    if len(ordered) < 3:
        return tuple(Point(*place) for place in ordered)
    lower, upper = _half(ordered), _half(ordered[::-1])
    return tuple(Point(*place) for place in (*lower[:-1], *upper[:-1]))


def _half(ordered: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    corners: list[tuple[float, float]] = []
    for place in ordered:
        while len(corners) > 1 and _turn(corners[-2], corners[-1], place) <= 0:
            corners.pop()
        corners.append(place)
    return corners


def _turn(one: tuple[float, float], other: tuple[float, float], third: tuple[float, float]) -> float:
    return (other[0] - one[0]) * (third[1] - one[1]) - (other[1] - one[1]) * (third[0] - one[0])


def within(shape: Sequence[Point], frame: Sequence[Point]) -> tuple[Point, ...]:
    """The part of a shape that lies in a frame without hollows (Sutherland and Hodgman 1974, from memory)."""
    left = list(shape)
    for index, start in enumerate(frame):
        end = frame[(index + 1) % len(frame)]
        if not left:
            break
        left = _cut_by(left, start, end)
    return tuple(left)


def _cut_by(shape: Sequence[Point], start: Point, end: Point) -> list[Point]:
    def inside(point: Point) -> float:
        return (end.x - start.x) * (point.y - start.y) - (end.y - start.y) * (point.x - start.x)

    corners: list[Point] = []
    for index, point in enumerate(shape):
        before = shape[index - 1]
        side, side_before = inside(point), inside(before)
        if (side >= 0) != (side_before >= 0):
            corners.append(before.toward(point, side_before / (side_before - side)))
        if side >= 0:
            corners.append(point)
    return corners
