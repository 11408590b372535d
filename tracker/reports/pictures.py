"""One picture of a piece, to be had as lines for a terminal or as SVG: its chart or its outline."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from math import tau
from typing import Protocol

from tracker.drawing.assembly import MOST_COPIES, AssembledObject, ObjectPart, assemble
from tracker.drawing.chart import chart_of_piece, chart_of_round
from tracker.drawing.chart_model import Chart
from tracker.drawing.chart_svg import chart_svg
from tracker.drawing.chart_text import chart_text
from tracker.drawing.fabric_profile import Line as Profile
from tracker.drawing.fabric_profile import bent, filled, is_closed
from tracker.drawing.outline import FLAT, PieceOutline, Viewpoint, outline
from tracker.drawing.outline_svg import object_svg, outline_svg
from tracker.drawing.outline_text import object_text, outline_text
from tracker.drawing.solid import MOST_SLICES
from tracker.drawing.styled_text import PictureLine
from tracker.drawing.yarn_letters import short
from tracker.lazy_dataclass import dataclass, replace
from tracker.measure.figure import corners_of
from tracker.measure.size import PatternSize, PieceSize, SolidKind, measure_pattern
from tracker.measure.standing import stands_of
from tracker.pattern.model import Pattern, Piece, Round, Stands


class Picture(Protocol):
    """What can be shown of one piece, or of all of them."""

    @property
    def name(self) -> str:
        """Whose picture it is."""
        ...

    def text(self, columns: int, rows: int) -> tuple[PictureLine, ...]:
        """For a terminal of this size."""
        ...

    def svg(self) -> str:
        """The text of an SVG file."""
        ...


def heading(pattern: Pattern, piece: Piece, round_: Round | None = None) -> str:
    """What is written over a picture."""
    label = f", {short(round_.label or str(round_.number), 20)}" if round_ else ""
    return f"{short(pattern.title, 60)}: {short(piece.name, 40)}{label}"


@dataclass(frozen=True, slots=True)
class ChartPicture:
    """The chart of a piece, or of one of its rounds."""

    pattern: Pattern
    piece: Piece
    chart: Chart
    rounds: tuple[Round, ...]
    terms: str
    title: str

    @classmethod
    def of(cls, pattern: Pattern, piece: Piece, index: int | None, terms: str) -> ChartPicture:
        """The chart of round `index` (from 0), or of the whole piece if it is None."""
        if index is None:
            return cls(
                pattern, piece, chart_of_piece(piece, corners_of(piece)), piece.rounds, terms, heading(pattern, piece)
            )
        each = piece.rounds[index]
        title = heading(pattern, piece, each)
        return cls(pattern, piece, chart_of_round(piece, index, corners_of(piece)), (each,), terms, title)

    @property
    def name(self) -> str:
        return self.piece.name

    def text(self, columns: int, rows: int) -> tuple[PictureLine, ...]:
        return chart_text(self.chart, self.pattern, self.title, self.rounds, columns, rows, self.terms)

    def svg(self) -> str:
        return chart_svg(self.chart, self.pattern, self.title, self.terms)


_STUFFING = re.compile(r"\b(?:stuff(?:ed|ing)?|fib(?:re|er) ?fill|filling)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OutlinePicture:
    """The outline of a piece, whole or as it stands after one of its rounds."""

    pattern: Pattern
    piece: Piece
    outline: PieceOutline
    title: str
    notes: tuple[str, ...]

    @classmethod
    def of(cls, pattern: Pattern, piece: Piece, index: int | None) -> OutlinePicture | None:
        """As it stands after round `index` (from 0), or finished if it is None; None if there is nothing to show."""
        measured = measure_pattern(pattern)
        lying = _lying(pattern, piece, measured)
        if lying is None:
            return None
        piece_outline = lying.outline(piece, None if index is None else index + 1)
        last_round = None if index is None else piece.rounds[index]
        return cls(pattern, piece, piece_outline, heading(pattern, piece, last_round), _size_words(measured, lying))

    @property
    def name(self) -> str:
        return self.piece.name

    def text(self, columns: int, rows: int) -> tuple[PictureLine, ...]:
        return outline_text(self.outline, self.pattern, self.title, columns, rows, self.notes)

    def svg(self) -> str:
        return outline_svg(self.outline, self.pattern, self.title, self.notes)


MOST_PARTS = 60
"""Pieces on the sheet of a whole thing; more are too small to tell apart."""
MOST_SHOWN = 4000
"""Rounds of all pieces and copies on one sheet; with more of them no round is as high as a line of ink."""
MOST_NAMED = 12
"""Pieces that are named because they are not shown."""


@dataclass(frozen=True, slots=True)
class ObjectPicture:
    """All that a pattern makes, each piece in all its copies: put together where the pattern says how."""

    pattern: Pattern
    assemblies: tuple[AssembledObject, ...]
    title: str
    notes: tuple[str, ...]

    @classmethod
    def of(cls, pattern: Pattern, made: Callable[[int, int], int] | None = None) -> ObjectPicture | None:
        """As far as it is made; None if no piece of it has an outline.

        `made` gives how many rounds are made of a piece (its index) in one of its copies (from 1); None: all of them.
        """
        measured = measure_pattern(pattern)
        parts: list[ObjectPart] = []
        left_out = [short(piece.name, 40) for piece in pattern.pieces[MOST_PARTS:]]
        shown_rounds = 0
        for number, piece in enumerate(pattern.pieces[:MOST_PARTS]):
            lying = _lying(pattern, piece, measured)
            shown_rounds += min(len(piece.rounds), MOST_SLICES) * min(piece.make, MOST_COPIES)
            if lying is None or not piece.rounds or (parts and shown_rounds > MOST_SHOWN):
                left_out.append(short(piece.name, 40))
                continue
            copies = range(1, min(piece.make, MOST_COPIES) + 1)
            done = [made(number, copy) if made else None for copy in copies]
            drawn = {each: lying.outline(piece, each) for each in set(done)}
            parts.append(ObjectPart(piece.name, tuple(drawn[each] for each in done), piece.seat))
        assemblies = assemble(parts, short(pattern.title, 60))
        if not assemblies:
            return None
        more = ", …" if len(left_out) > MOST_NAMED else ""
        notes = [f"not shown: {', '.join(left_out[:MOST_NAMED])}{more}"] if left_out else []
        if not all(each.done for assembly in assemblies for each in assembly.slices):
            notes.append("What is pale is still to come.")
        return cls(pattern, tuple(assemblies), short(pattern.title, 60), (*_tall_words(measured, assemblies), *notes))

    @property
    def name(self) -> str:
        return self.pattern.title

    def text(self, columns: int, rows: int) -> tuple[PictureLine, ...]:
        return object_text(self.assemblies, self.pattern, self.title, columns, rows, self.notes)

    def svg(self) -> str:
        return object_svg(self.assemblies, self.pattern, self.title, self.notes)


@dataclass(frozen=True, slots=True)
class _Lying:
    """How the fabric of a piece lies: its line, start first, and whether a filling blows it out."""

    points: tuple[tuple[float, float], ...]
    size: PieceSize
    width: float
    """Of a stitch, in the unit of the size."""
    is_filled: bool

    def outline(self, piece: Piece, done: int | None) -> PieceOutline:
        size = self.size
        bases, corners = size.bases, size.corners
        piece_outline = outline(
            piece.rounds, self.points, done, size.core, flat=not size.outline, bases=bases, corners=corners
        )
        if size.shape is not SolidKind.RUFFLE:
            return piece_outline
        return replace(piece_outline, view=Viewpoint.ABOVE, waves=self._waves(piece_outline))

    def _waves(self, piece_outline: PieceOutline) -> tuple[float, ...]:
        """How many times longer the edge of each round of a ruffle is than the circle in which it lies."""
        circles = (tau * band.high.radius * self.width for band in piece_outline.bands)
        edges = (each.around.middle for each in self.size.rounds)
        return tuple(max(1.0, edge / circle) if circle else 1.0 for edge, circle in zip(edges, circles, strict=True))


def _lying(pattern: Pattern, piece: Piece, measured: PatternSize) -> _Lying | None:
    """None where the piece has no outline."""
    size = measured.pieces[pattern.pieces.index(piece)]
    points, is_filled = _points(size, measured.stitch.width.middle, stuffed=_is_stuffed(pattern))
    if len(points) != len(piece.rounds) + 1:
        return None
    if size.outline and stands_of(pattern, piece) is Stands.OPENING:
        points = [(radius, -level) for radius, level in points]
    return _Lying(tuple(points), size, measured.stitch.width.middle, is_filled)


def _is_stuffed(pattern: Pattern) -> bool:
    """Whether anything in the pattern's lists and steps is about stuffing."""
    steps = (each.step for each in pattern.making_up)
    notes = (note for piece in pattern.pieces for note in piece.notes)
    return any(_STUFFING.search(words) for words in (*pattern.notions, *pattern.notes, *steps, *notes))


def _points(size: PieceSize, width: float, *, stuffed: bool) -> tuple[list[tuple[float, float]], bool]:
    """How far out and how high each round ends, the start first; of flat rows half their widths.

    In stitch widths, one being `width` in the unit of the size. Beside it whether a filling blows the piece out.
    """
    if size.corners:
        return [(point.radius, 0.0) for point in size.outline], False
    if size.meridian:
        line = tuple((point.radius, point.level) for point in size.meridian)
        is_blown = is_closed(line, stuffed=stuffed) and not size.core
        lying = filled(line) if is_blown else bent(line)
        return [*lying, *_branches(size, lying)], is_blown
    if not size.rounds:
        return [], False
    rows = [(each.around.middle / 2 / width, each.level.middle / width) for each in size.rounds]
    return [(rows[0][0], 0.0), *rows], False


def _branches(size: PieceSize, lying: Profile) -> list[tuple[float, float]]:
    """The rounds behind the main line, each as far from the one that it is worked into as they were measured."""
    points = list(lying)
    for index in range(len(lying), len(size.outline)):
        base = size.bases[index - 1]
        before, after = size.outline[base], size.outline[index]
        radius, level = points[base]
        points.append((radius + after.radius - before.radius, level + after.level - before.level))
    return points[len(lying) :]


def _size_words(measured: PatternSize, lying: _Lying) -> tuple[str, ...]:
    """The finished size, where it is measured by a gauge; of a stuffed piece as it is drawn."""
    size = lying.size
    if not measured.stitch.is_measured:
        return ()
    if lying.is_filled:
        width = measured.stitch.width.middle
        wide = 2 * max(radius for radius, _ in lying.points) * width
        levels = [level for _, level in lying.points]
        tall = (max(levels) - min(levels)) * width
        return (f"about {wide:.1f} cm across and {tall:.1f} cm tall when filled",)
    if size.shape is SolidKind.RUFFLE:
        edge, fabric = size.edge.middle, size.fabric.middle
        return (f"ruffled: the edge is about {edge:.0f} cm long, the fabric {fabric:.0f} cm2",)
    across = f"{size.across.middle:.1f}"
    if size.corners:
        return (f"about {across} cm each side when finished",)
    if size.along is not None:
        across = f"{size.along.middle:.1f} by {across}"
    if size.shape is SolidKind.ROWS:
        return (f"about {across} cm wide and {size.tall.middle:.1f} cm long when finished",)
    if size.tall.middle < size.across.middle * FLAT:
        return (f"about {across} cm across when finished, flat",)
    return (f"about {across} cm across and {size.tall.middle:.1f} cm tall when finished",)


def _tall_words(measured: PatternSize, assemblies: Sequence[AssembledObject]) -> tuple[str, ...]:
    """The size of a thing that is put together, where it is measured by a gauge."""
    if not measured.stitch.is_measured or len(assemblies) > 1:
        return ()
    left, _, right, _ = assemblies[0].box()
    width = measured.stitch.width.middle
    return (f"about {(right - left) * width:.1f} cm wide and {assemblies[0].height * width:.1f} cm high",)
