"""The size of each round and of each piece, by gauge and geometry.

A round of n stitches of width w is n * w around and n * w / pi across; heights come from the line up the
side (see `meridian`). Everything is reckoned in stitch widths and scaled at the end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

from tracker.lazy_dataclass import dataclass
from tracker.measure.figure import corners_of
from tracker.measure.piece_start import Begins, Opening, opening_of
from tracker.measure.profile import (
    FLAT_FROM,
    RUFFLES_FROM,
    ProfilePoint,
    ProfileStep,
    RoundEdge,
    climb,
    edges_of,
    height_spread,
    kinds_of,
    laid,
)
from tracker.measure.ranges import Range, exactly
from tracker.measure.stitch_counts import chains_of
from tracker.measure.stitch_sizes import StitchSize, Unit, stitch_size
from tracker.notation.glossary import abbreviation
from tracker.pattern.model import Gauge, Pattern, Piece

MEANT_FLAT = 0.6
"""Growth over flat growth from which on a piece that only grows may be meant to be flat: common practice,
no source."""

ROUNDS_OF_A_DISK = 4
"""With fewer rounds there is nothing to tell."""

NOTHING = exactly(0.0)

RUFFLED_FROM = 1 / 3
"""Share of rounds in waves from which on the whole piece is a ruffle and not one with a frilled edge."""

CLOSED_BELOW = 0.4
"""An end this much narrower than the widest round is drawn shut: common practice, no source."""


class SolidKind(Enum):
    """What sort of dimensions a piece has."""

    ROUND = "round"
    DISK = "flat disk"
    FIGURE = "figure with corners"
    RUFFLE = "ruffle"
    OVAL = "oval"
    ROWS = "rows"
    CORD = "cord"


@dataclass(frozen=True, slots=True)
class RoundSize:
    """One round. Lengths are in the unit of the stitch size; `across` is None for rows, whose width is
    `around`.

    `level` is how high it ends above the start of the piece, `stitches` None where the round could not be
    read.
    """

    number: int
    label: str
    stitches: int | None
    around: Range
    across: Range | None
    level: Range
    growth: Growth | None


@dataclass(frozen=True, slots=True)
class PieceSize:
    """A finished piece: `across` at its widest, `along` the longer way of an oval, `tall` from end to end.

    `tall` is as the rounds lie; `stuffed` how tall a closed piece can bow out when it is filled, None where
    it cannot. `outline` is the line up the side in stitch widths, start first; empty for rows.
    `meridian` is that line at the true length of its fabric, up to the first round that goes into an earlier one.
    A figure has `corners`, and `across` is its side. A ruffle has no size but that of its `edge` and of its fabric.
    `bases` is the point of those lines that each round starts from: the one before, or that of an earlier round.
    `fabric` is the surface of the fabric, stitch by stitch, in squares of the unit.
    """

    name: str
    make: int
    shape: SolidKind
    across: Range
    along: Range | None
    tall: Range
    stuffed: Range | None = None
    rounds: tuple[RoundSize, ...] = ()
    outline: tuple[ProfilePoint, ...] = ()
    meridian: tuple[ProfilePoint, ...] = ()
    bases: tuple[int, ...] = ()
    core: float = 0.0
    corners: int = 0
    edge: Range = NOTHING
    fabric: Range = NOTHING
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PatternSize:
    """All pieces, and what the figures rest on."""

    stitch: StitchSize
    pieces: tuple[PieceSize, ...]

    @property
    def unit(self) -> Unit:
        return self.stitch.unit


def measure_pattern(pattern: Pattern, gauge: Gauge | None = None) -> PatternSize:
    """The sizes of everything in a pattern; a `gauge` given here replaces the pattern's."""
    stitch = stitch_size(pattern, gauge)
    return PatternSize(stitch, tuple(measure_piece(piece, stitch) for piece in pattern.pieces))


def measure_piece(piece: Piece, stitch: StitchSize) -> PieceSize:
    """The size of one piece."""
    edges = edges_of(piece, stitch)
    opening = opening_of(piece, edges)
    if not any(edge.rise and edge.round.leaves for edge in edges):
        return _cord(piece, stitch)
    if opening.begins is Begins.FLAT:
        return _rows(piece, edges, stitch)
    return _round(piece, edges, opening, stitch)


def _cord(piece: Piece, stitch: StitchSize) -> PieceSize:
    """Chain only, or nothing that could be read."""
    chains = sum(chains_of(act) for round_ in piece.rounds if round_.plan for act in round_.plan.acts())
    remarks = () if chains else ("no round of this piece could be read: no size",)
    return PieceSize(
        piece.name, piece.make, SolidKind.CORD, stitch.width * chains, None, exactly(0.0), remarks=remarks
    )


def _rows(piece: Piece, edges: list[RoundEdge], stitch: StitchSize) -> PieceSize:
    """Flat rows: as wide as the widest, as tall as all heights together."""
    level = 0.0
    rounds = []
    for edge in edges:
        level += edge.rise
        rounds.append(_row_size(edge, stitch, None, level, None))
    return PieceSize(
        name=piece.name,
        make=piece.make,
        shape=SolidKind.ROWS,
        across=stitch.width * max(edge.around for edge in edges),
        along=None,
        tall=(stitch.width * level).times(height_spread(piece.rounds, stitch)),
        rounds=tuple(rounds),
        fabric=fabric_of(edges, piece, stitch, edges[0].around),
        remarks=(*_unread(edges), *_heights(piece, stitch)),
    )


def _round(piece: Piece, edges: list[RoundEdge], opening: Opening, stitch: StitchSize) -> PieceSize:
    """Worked in rounds: as wide as the widest, as tall as the line up the side."""
    points = _points(edges, opening)
    corners = corners_of(piece)
    grown = _growths(edges, opening, corners)
    rounds = tuple(
        _row_size(edge, stitch, point.radius, point.level, growth)
        for edge, point, growth in zip(edges, points[1:], grown, strict=True)
    )
    radius = max(point.radius for point in points)
    tall = max(point.level for point in points) - min(point.level for point in points)
    shape = SolidKind.FIGURE if corners else _shape(opening, tall, edges, grown)
    spread = height_spread(piece.rounds, stitch)
    across = stitch.width * (edges[-1].around / corners if corners else 2 * radius)
    return PieceSize(
        name=piece.name,
        make=piece.make,
        shape=shape,
        # A disk is as wide as its rounds are tall; anything else is as wide as its stitches.
        across=across.times(spread) if shape is SolidKind.DISK else across,
        along=stitch.width * (2 * radius + opening.core) if opening.core else None,
        tall=(stitch.width * (0.0 if corners else tall)).times(spread),
        stuffed=_stuffed(edges, opening, radius, tall, stitch),
        rounds=rounds,
        outline=tuple(points),
        meridian=() if corners else _meridian(edges, opening),
        bases=tuple(edge.based_on + 1 for edge in edges),
        core=opening.core,
        corners=corners,
        edge=stitch.width * edges[-1].around,
        fabric=fabric_of(edges, piece, stitch, opening.first_edge),
        remarks=(*_unread(edges), *(() if corners else _cupping(grown)), *_heights(piece, stitch)),
    )


def fabric_of(edges: Sequence[RoundEdge], piece: Piece, stitch: StitchSize, first_edge: float) -> Range:
    """The surface of the fabric: stitches by their width and height, whatever shape they are in (geometry).

    A round is as wide, half way up, as the mean of the edge that it is worked into and its own.
    """
    before = [first_edge, *(edge.around for edge in edges)]
    area = sum((low + edge.around) / 2 * edge.rise for low, edge in zip(before, edges, strict=False))
    squared = Range(stitch.width.low**2, stitch.width.high**2)
    return (squared * area).times(height_spread(piece.rounds, stitch))


def _heights(piece: Piece, stitch: StitchSize) -> tuple[str, ...]:
    """On what the heights rest that were not counted; which rounds a gauge in pattern is taken for."""
    kinds = {kind for round_ in piece.rounds for kind in kinds_of(round_)}
    if stitch.in_pattern and len(kinds) == 1:
        kind = abbreviation(kinds.pop(), piece.context.terms)
        return (f"the gauge is counted in pattern: is it of these rounds of {kind} too? a gauge of {kind} tells",)
    rough = [kind for kind in sorted(kinds) if not stitch.spread_of(kind).is_exact]
    if not rough or stitch.unit is Unit.WIDTHS or not stitch.width.is_exact:
        return ()
    called = [abbreviation(kind, piece.context.terms) for kind in (*rough, stitch.counted or "sc")]
    return (f"height of {', '.join(called[:-1])} beside {called[-1]}: from measured rows, so a range",)


def _row_size(
    edge: RoundEdge, stitch: StitchSize, radius: float | None, level: float, growth: Growth | None
) -> RoundSize:
    return RoundSize(
        number=edge.round.number,
        label=edge.round.label,
        stitches=edge.round.leaves,
        around=stitch.width * edge.around,
        across=None if radius is None else stitch.width * (2 * radius),
        level=stitch.width * level,
        growth=growth,
    )


def _points(edges: list[RoundEdge], opening: Opening) -> list[ProfilePoint]:
    """The start and the end of each round; a round worked into an earlier one starts again from there."""
    points: list[ProfilePoint] = []
    for start, end in _unbroken(edges):
        base = edges[start].based_on
        first = opening.first_edge if base < 0 else edges[base].around
        ground = points[base + 1].level if points else 0.0
        climbed = climb(first, [ProfileStep(edge.around, edge.rise) for edge in edges[start:end]], opening.core)
        if not points:
            points.append(climbed[0])
        points.extend(ProfilePoint(point.radius, ground + point.level) for point in climbed[1:])
    return points


def _meridian(edges: list[RoundEdge], opening: Opening) -> tuple[ProfilePoint, ...]:
    """The start and the end of each round along the fabric, up to the first that goes into an earlier one."""
    _, end = _unbroken(edges)[0]
    steps = [ProfileStep(edge.around, edge.rise) for edge in edges[:end]]
    return tuple(laid(opening.first_edge, steps, opening.core))


def _growths(edges: list[RoundEdge], opening: Opening, corners: int) -> list[Growth]:
    """A flat round is longer than the one before by 2 pi of its height; a figure by its corners (geometry)."""
    around = 2 * corners * math.tan(math.pi / corners) if corners else 2 * math.pi
    by_round: list[Growth] = []
    for start, end in _unbroken(edges):
        base = edges[start].based_on
        first = opening.first_edge if base < 0 else edges[base].around
        by_round += growths(first, [(edge.around, around * edge.rise) for edge in edges[start:end]])
    return by_round


def _unbroken(edges: list[RoundEdge]) -> list[tuple[int, int]]:
    """Stretches of rounds each worked into the one before, as (first, one past the last)."""
    starts = [0, *(index for index, edge in enumerate(edges) if index and edge.based_on != index - 1)]
    return list(zip(starts, [*starts[1:], len(edges)], strict=True))


def _shape(opening: Opening, tall: float, edges: list[RoundEdge], grown: list[Growth]) -> SolidKind:
    in_waves = [growth.lie is Lie.RUFFLES for growth in grown]
    has_rounds = len(in_waves) >= ROUNDS_OF_A_DISK
    if has_rounds and in_waves[-1] and sum(in_waves) >= RUFFLED_FROM * len(in_waves):
        return SolidKind.RUFFLE
    if opening.core:
        return SolidKind.OVAL
    return SolidKind.DISK if tall < max(edge.rise for edge in edges) else SolidKind.ROUND


def _stuffed(
    edges: list[RoundEdge], opening: Opening, radius: float, tall: float, stitch: StitchSize
) -> Range | None:
    """How tall a piece closed at both ends can get: its fabric from pole to pole bent into a half circle.

    A half circle that is l long is 2 l / pi across (geometry); fabric does not stretch along its length.
    """
    if opening.begins is not Begins.CENTRE or edges[-1].around > CLOSED_BELOW * 2 * math.pi * radius:
        return None
    bowed = 2 * sum(edge.rise for edge in edges) / math.pi
    return stitch.width * bowed if bowed > tall else None


def _unread(edges: list[RoundEdge]) -> tuple[str, ...]:
    labels = [edge.round.label for edge in edges if not edge.is_known]
    if not labels:
        return ()
    return (f"{', '.join(labels)} could not be read: taken to be as wide as the round before",)


def _cupping(grown: list[Growth]) -> tuple[str, ...]:
    """Told of a piece that looks as if it were meant to be flat: it only grows, steadily, and not quite
    enough."""
    ratios = [growth.ratio for growth in grown]
    mean = sum(ratios) / len(ratios)
    if len(ratios) < ROUNDS_OF_A_DISK or min(ratios) < MEANT_FLAT or not MEANT_FLAT <= mean < FLAT_FROM:
        return ()
    last = grown[-1]
    flat = f"{last.stitches:g} more in the last round, {last.flat:.1f} would lie flat"
    return (f"it will cup if it is meant to be flat: {flat}",)


# How a round lies against the one before: flat, in waves, cupped, straight up, drawn in.

RING_ROOM = 0.5
"""Share of a flat growth that a magic ring gives by staying a little open: disks of sc begin with 6, 7 or 8
(common practice, no source)."""


class Lie(Enum):
    """How a round lies; the words are what the maker is told."""

    RUFFLES = "ruffles"
    FLAT = "flat"
    CUPS = "cups"
    STRAIGHT = "straight"
    NARROWS = "narrows"
    GATHERS = "gathers"


@dataclass(frozen=True, slots=True)
class Growth:
    """Stitches added by a round (fewer: negative), the number that would lie flat, and how it lies."""

    stitches: float
    flat: float
    lie: Lie

    @property
    def ratio(self) -> float:
        return self.stitches / self.flat if self.flat else 0.0

    @property
    def half_angle(self) -> float | None:
        """Degrees between the side and the axis of the cone that this growth makes; None where it lies flat
        or waves.

        sin(half angle) = growth / flat growth (geometry).
        """
        return math.degrees(math.asin(abs(self.ratio))) if abs(self.ratio) < 1 else None


def growths(first_edge: float, edges: list[tuple[float, float]]) -> list[Growth]:
    """The growth of each round, from (edge, flat growth) of each; all in stitches."""
    by_round = []
    before = first_edge
    room = RING_ROOM * edges[0][1] if edges and first_edge == 0 else 0.0
    for edge, flat in edges:
        grown = edge - before
        by_round.append(Growth(grown, flat, _lie(grown, flat, room)))
        room = min(flat, max(0.0, room + flat - abs(grown)))
        before = edge
    return by_round


def _lie(grown: float, flat: float, room: float) -> Lie:
    if grown > RUFFLES_FROM * flat + room:
        return Lie.RUFFLES
    if -grown > RUFFLES_FROM * flat:
        return Lie.GATHERS
    if grown >= FLAT_FROM * flat:
        return Lie.FLAT
    if grown > 0:
        return Lie.CUPS
    return Lie.NARROWS if grown < 0 else Lie.STRAIGHT
