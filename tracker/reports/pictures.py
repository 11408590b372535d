"""One picture of a piece, to be had as lines for a terminal or as SVG: its chart or its outline."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Protocol

from tracker.drawing.chart import chart_of_piece, chart_of_round
from tracker.drawing.chart_model import Chart
from tracker.drawing.chart_svg import chart_svg
from tracker.drawing.chart_text import chart_text
from tracker.drawing.fabric_profile import bent, filled, is_closed
from tracker.drawing.outline import FLAT, PieceOutline, outline
from tracker.drawing.outline_svg import outline_svg
from tracker.drawing.outline_text import outline_text
from tracker.drawing.styled_text import Line
from tracker.drawing.yarn_letters import short
from tracker.measure.size import PatternSize, PieceSize, SolidKind, measure_pattern
from tracker.pattern.model import Pattern, Piece, Round


class Picture(Protocol):
    """What can be shown of one piece."""

    @property
    def piece(self) -> Piece: ...

    def text(self, columns: int, rows: int) -> tuple[Line, ...]:
        """For a terminal of this size."""
        ...

    def svg(self) -> str:
        """The text of an SVG file."""
        ...


def heading(pattern: Pattern, piece: Piece, which: Round | None = None) -> str:
    """What is written over a picture."""
    label = f", {short(which.label or str(which.number), 20)}" if which else ""
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
            return cls(pattern, piece, chart_of_piece(piece), piece.rounds, terms, heading(pattern, piece))
        each = piece.rounds[index]
        title = heading(pattern, piece, each)
        return cls(pattern, piece, chart_of_round(piece, index), (each,), terms, title)

    def text(self, columns: int, rows: int) -> tuple[Line, ...]:
        return chart_text(self.chart, self.pattern, self.title, self.rounds, columns, rows, self.terms)

    def svg(self) -> str:
        return chart_svg(self.chart, self.pattern, self.title, self.terms)


_STUFFING = re.compile(r"\b(?:stuff(?:ed|ing)?|fib(?:re|er) ?fill|filling)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class OutlinePicture:
    """The outline of a piece, whole or as it stands after one of its rounds."""

    pattern: Pattern
    piece: Piece
    seen: PieceOutline
    title: str
    notes: tuple[str, ...]

    @classmethod
    def of(cls, pattern: Pattern, piece: Piece, index: int | None) -> OutlinePicture | None:
        """As it stands after round `index` (from 0), or finished if it is None; None if there is nothing to show."""
        measured = measure_pattern(pattern)
        size = measured.pieces[pattern.pieces.index(piece)]
        points = _points(size, stuffed=_is_stuffed(pattern))
        if len(points) != len(piece.rounds) + 1:
            return None
        done = None if index is None else index + 1
        seen = outline(piece.rounds, points, done, size.core, flat=not size.outline)
        which = None if index is None else piece.rounds[index]
        return cls(pattern, piece, seen, heading(pattern, piece, which), _size_words(measured, size))

    def text(self, columns: int, rows: int) -> tuple[Line, ...]:
        return outline_text(self.seen, self.pattern, self.title, columns, rows, self.notes)

    def svg(self) -> str:
        return outline_svg(self.seen, self.pattern, self.title, self.notes)


def _is_stuffed(pattern: Pattern) -> bool:
    """Whether anything in the pattern's lists and steps is about stuffing."""
    steps = (each.step for each in pattern.making_up)
    notes = (note for piece in pattern.pieces for note in piece.notes)
    return any(_STUFFING.search(words) for words in (*pattern.notions, *pattern.notes, *steps, *notes))


def _points(size: PieceSize, *, stuffed: bool) -> list[tuple[float, float]]:
    """How far out and how high each round ends, the start first; of flat rows half their widths."""
    if size.meridian:
        line = tuple((point.radius, point.level) for point in size.meridian)
        return list(filled(line) if is_closed(line, stuffed=stuffed) and not size.core else bent(line))
    if size.outline:
        return [(point.radius, point.level) for point in size.outline]
    if not size.rounds:
        return []
    rows = [(each.around.middle / 2, each.level.middle) for each in size.rounds]
    return [(rows[0][0], 0.0), *rows]


def _size_words(measured: PatternSize, size: PieceSize) -> tuple[str, ...]:
    """The finished size, where it is measured by a gauge."""
    if not measured.stitch.is_measured:
        return ()
    across = f"{size.across.middle:.1f}"
    if size.along is not None:
        across = f"{size.along.middle:.1f} by {across}"
    if size.shape is SolidKind.ROWS:
        return (f"about {across} cm wide and {size.tall.middle:.1f} cm long when finished",)
    if size.tall.middle < size.across.middle * FLAT:
        return (f"about {across} cm across when finished, flat",)
    return (f"about {across} cm across and {size.tall.middle:.1f} cm tall when finished, unstuffed",)
