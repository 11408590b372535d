"""All pieces of a thing at one scale: sewn together where the pattern says how, the rest beside them.

A piece is set on top of another, or its copies are sewn to rounds of it: `on` and `at` in the pattern file.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, hypot, pi, sin, tau

from tracker.drawing.geometry import Point
from tracker.drawing.outline import Band, BandEdge, PieceOutline, Viewpoint
from tracker.drawing.solid import Slice, Stance, Vector, faces_eye, slices
from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Seat, Side

MOST_COPIES = 24
"""Copies of one piece that are sewn on in a picture; more cannot be told apart."""
MOST_BESIDE = 6
"""Copies of one piece that are shown side by side; of more one is shown, with their number."""
_PAIR = pi / 7
"""Two pieces on the front, as eyes are, stand so far from its middle; by eye."""
_GOLDEN = pi * (3 - 5**0.5)
"""The turn from one copy to the next that spreads them over a surface most evenly (Vogel 1979, from memory)."""
_OFFSET = 1.1
"""Radians by which each further piece sewn all round is turned, so that it does not hide the one before."""
_GAP = 0.12
"""Room between things that stand side by side, as a share of the width of the widest."""


@dataclass(frozen=True, slots=True)
class ObjectPart:
    """A piece in all its copies, which differ only in how far they are made."""

    name: str
    copies: tuple[PieceOutline, ...]
    seat: Seat | None = None


@dataclass(frozen=True, slots=True)
class AssembledObject:
    """What stands by itself in the picture, in the order in which it is painted. `label` says what it is."""

    label: str
    slices: tuple[Slice, ...]

    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top."""
        points = [point for each in self.slices for point in each.whole]
        across, up = [point.x for point in points], [point.y for point in points]
        return min(across), min(up), max(across), max(up)

    @property
    def height(self) -> float:
        """From the lowest to the highest place of it in the room."""
        levels = [level for each in self.slices for level in each.levels]
        return max(levels) - min(levels)

    def moved(self, by: Point) -> AssembledObject:
        return AssembledObject(self.label, tuple(_moved(each, by) for each in self.slices))


def assemble(parts: Sequence[ObjectPart], title: str) -> list[AssembledObject]:
    """The thing put together, then what is sewn nowhere, each beside the other and on one line.

    A piece whose seat leads back to itself, or to no piece, stands beside.
    """
    by_name = {part.name.casefold(): part for part in reversed(parts)}
    roots = [part for part in parts if part.seat is None or not _is_held(part, by_name)]
    hosts = {part.seat.on.casefold() for part in parts if part.seat is not None and part not in roots}
    assemblies = []
    for root in roots:
        if root.name.casefold() in hosts:
            label = title if len(roots) == 1 else f"{root.name} with what is sewn on it"
            assemblies.append(AssembledObject(label, tuple(_painted(root, parts, Stance()))))
        else:
            assemblies += _beside(root)
    return _in_line([assembly for assembly in assemblies if assembly.slices])


def _is_held(part: ObjectPart, by_name: dict[str, ObjectPart]) -> bool:
    """Whether a piece is in the end on one that stands by itself."""
    passed = {part.name.casefold()}
    while part.seat is not None:
        name = part.seat.on.casefold()
        if name in passed or name not in by_name:
            return False
        passed.add(name)
        part = by_name[name]
    return True


def _beside(part: ObjectPart) -> list[AssembledObject]:
    """The copies of a piece that is sewn nowhere; those that lie flat from above."""
    copies = part.copies if len(part.copies) <= MOST_BESIDE else part.copies[:1]
    labels = [part.name] * len(copies)
    if len(part.copies) > len(copies):
        labels = [f"{part.name}, {len(part.copies)} of it"]
    elif len(copies) > 1:
        labels = [f"{part.name} {number} of {len(copies)}" for number in range(1, len(copies) + 1)]
    lying = Stance(up=(0.0, 0.0, 1.0))
    return [
        AssembledObject(label, tuple(slices(each, lying if each.view is Viewpoint.ABOVE else Stance())))
        for label, each in zip(labels, copies, strict=True)
    ]


def _painted(part: ObjectPart, parts: Sequence[ObjectPart], stance: Stance) -> Iterator[Slice]:
    """A piece with all that is sewn on it: what is behind first, what is on top last."""
    host = part.copies[0]
    sewn = [other for other in parts if other.seat and other.seat.on.casefold() == part.name.casefold()]
    sewn = [other for other in sewn if other.name.casefold() != part.name.casefold()]
    before: list[Slice] = []
    after: list[Slice] = []
    above: list[Slice] = []
    for number, other in enumerate(sewn):
        assert other.seat is not None
        if other.seat.rounds is None and other.seat.side is None:
            above += _painted(other, parts, _on_top(host, other.copies[0], stance))
            continue
        for each, place in zip(other.copies, _places(host, other, number, stance), strict=False):
            (after if faces_eye(place.up) else before).extend(slices(each, place))
    yield from before
    yield from slices(host, stance)
    yield from after
    yield from above


def _on_top(below: PieceOutline, above: PieceOutline, stance: Stance) -> Stance:
    """Where a piece stands whose lower end is sewn to the upper one of another.

    If its lower end is narrower than that, it sinks in until its own width fits.
    """
    top = max(_ends(below), key=lambda edge: edge.level)
    level = _level_of_width(above, top.radius)
    return Stance(stance.at(0.0, top.level - level, 0.0))


def _ends(outline: PieceOutline) -> tuple[BandEdge, BandEdge]:
    return outline.bands[0].low, outline.bands[-1].high


def _level_of_width(outline: PieceOutline, radius: float) -> float:
    """How high, from its lower end up, a piece is first as wide as this; its lower end if that is wider."""
    first, last = _ends(outline)
    edges = [first, *(band.high for band in outline.bands)]
    if first.level > last.level:
        edges.reverse()
    low = edges[0]
    widest = max(edge.radius for edge in edges)
    for high in edges[1:]:
        if low.radius >= min(radius, widest):
            break
        if high.radius >= radius > low.radius:
            share = (radius - low.radius) / (high.radius - low.radius)
            return low.level + share * (high.level - low.level)
        low = high
    return low.level


def _places(host: PieceOutline, part: ObjectPart, number: int, stance: Stance) -> list[Stance]:
    """Where each copy is sewn to the side of another piece, its own lower end at the fabric."""
    assert part.seat is not None
    first, last = part.seat.rounds or (host.bands[0].number, host.bands[-1].number)
    bands = [band for band in host.bands if first <= band.number <= last] or list(host.bands[-1:])
    count = min(MOST_COPIES, len(part.copies))
    turns = _turns(count, part.seat.side, len(bands) > 1, number)
    stances = []
    for index, turn in enumerate(turns):
        # Copies on several rounds are spread over all of them, by their surface.
        share = (index + 0.5) / count
        band = bands[min(len(bands) - 1, int(share**0.5 * len(bands)))] if len(bands) > 1 else bands[0]
        place, facing = _on_fabric(host, band, turn, stance)
        lowest = min(edge.level for edge in (*_ends(part.copies[0]), *(b.high for b in part.copies[0].bands)))
        origin = tuple(coordinate - way * lowest for coordinate, way in zip(place, facing, strict=True))
        stances.append(Stance((origin[0], origin[1], origin[2]), facing))
    return stances


def _turns(count: int, side: Side | None, is_spread: bool, number: int) -> list[float]:
    """How far each copy is turned from the front, in radians to the right."""
    side = side or (Side.SIDES if count == 2 else Side.FRONT if count == 1 else Side.ALL_ROUND)
    if side is Side.ALL_ROUND:
        step = _GOLDEN if is_spread else tau / count
        return [(index + (0.0 if is_spread else 0.5)) * step + _OFFSET * number for index in range(count)]
    middle = pi if side is Side.BACK else 0.0
    if side is Side.SIDES:
        return [pi / 2 * (-1 if index % 2 == 0 else 1) for index in range(count)]
    return [middle + _PAIR * (2 * index - (count - 1)) for index in range(count)]


def _on_fabric(host: PieceOutline, band: Band, turn: float, stance: Stance) -> tuple[Vector, Vector]:
    """The middle of a round at this turn, and the way the fabric faces there."""
    radius = (band.low.radius + band.high.radius) / 2
    level = (band.low.level + band.high.level) / 2
    wide, high = band.high.radius - band.low.radius, band.high.level - band.low.level
    first, last = _ends(host)
    turned = 1 if first.level <= last.level else -1
    size = hypot(wide, high) or 1.0
    along, out = -turned * wide / size, turned * high / size
    across = sin(turn) * radius + (host.core / 2 if sin(turn) > 0 else -host.core / 2 if host.core else 0.0)
    place = stance.at(across, level, cos(turn) * radius)
    start, facing = stance.at(0, 0, 0), stance.at(sin(turn) * out, along, cos(turn) * out)
    return place, (facing[0] - start[0], facing[1] - start[1], facing[2] - start[2])


def _in_line(assemblies: Sequence[AssembledObject]) -> list[AssembledObject]:
    """The same, side by side, standing on one line."""
    placed = []
    right = 0.0
    widest = max((assembly.box()[2] - assembly.box()[0] for assembly in assemblies), default=0.0)
    for assembly in assemblies:
        left, bottom, end, _ = assembly.box()
        placed.append(assembly.moved(Point(right - left, -bottom)))
        right += end - left + _GAP * widest
    return placed


def _moved(each: Slice, by: Point) -> Slice:
    shapes = tuple(replace(shape, points=tuple(point + by for point in shape.points)) for shape in each.shapes)
    return replace(each, shapes=shapes)
