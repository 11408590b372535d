"""Charts in terminal cells: rings and ovals to scale, rows one above the other. A chart that does not fit is None."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.pictures.cells import CELL_HEIGHT
from tracker.pictures.drawn import Chart, DrawnRound, Mark, Middle
from tracker.pictures.glyphs import Glyphs
from tracker.pictures.inks import Ink
from tracker.pictures.key import PLAIN
from tracker.pictures.lines import Bit, Grid, Line, Style
from tracker.pictures.symbols import Form
from tracker.pictures.tracks import Point, unit

LARGEST = 2.0
"""At most so many rows to a stitch width, so that a small round stays together."""
LEAST = 1.25
"""With fewer rows to a stitch width several rounds run into each other."""
_SHADOW = "·"
_SIDE = 7
"""Columns beside a row for its number and its arrow."""


def draw_rings(chart: Chart, glyphs: Glyphs, known: Mapping[str, Ink], columns: int, rows: int) -> list[Line] | None:
    """One character a stitch, as large as `columns` and `rows` allow; None if two would need the same cell."""
    middles = [_middle(mark) for each in chart.rounds for mark in each.marks]
    high = max(abs(point.y) for point in middles)
    wide = max(abs(point.x) for point in middles) * CELL_HEIGHT
    scale = min(LARGEST, (rows - 1) / 2 / high, (columns - 3) / 2 / wide)
    if len(chart.drawn) > 1 and scale < LEAST:
        return None
    sheet = _Sheet(Grid(columns, 2 * int(high * scale + 0.5) + 1), scale, int(wide * scale + 0.5) + 1)
    for each in sorted(chart.rounds, key=lambda each: each.ghost):
        for mark in each.marks:
            if not sheet.mark(mark, _bit(mark, each, glyphs)) and not each.ghost:
                return None
    _start(sheet, chart, glyphs)
    before = ""
    for each in chart.drawn:
        before = _number(sheet, each, known, before)
        if (
            each.joined
            and each.join_at is not None
            and sheet.at(each.join_at.point, Bit(glyphs.join(), Style.SYMBOL))
        ):
            continue
    return list(sheet.grid.lines())


class _Sheet:
    """A grid with the middle of the chart in its middle."""

    def __init__(self, grid: Grid, scale: float, middle: int) -> None:
        self.grid = grid
        self._scale = scale
        self._middle = middle

    def mark(self, mark: Mark, bit: Bit) -> bool:
        """A symbol in its cell; each oval of a chain in one of its own as long as there are free ones."""
        if not mark.ovals or mark.symbol.form is Form.PICOT:
            return self.at(_middle(mark), bit)
        crown = mark.ovals[len(mark.ovals) // 2].centre
        placed = self.at(crown, bit)
        for oval in mark.ovals:
            self.grid.put(*self._cell(oval.centre), bit)
        return placed

    def at(self, point: Point, bit: Bit) -> bool:
        """In the nearest free cell, at most half a cell aside."""
        for across, down in ((0.0, 0.0), (0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)):
            if self.grid.put(*self._cell(point, across, down), bit):
                return True
        return False

    def _cell(self, point: Point, across: float = 0.0, down: float = 0.0) -> tuple[int, int]:
        x = self._middle + point.x * self._scale * CELL_HEIGHT + across
        y = (self.grid.rows - 1) / 2 - point.y * self._scale + down
        return int(x + 0.5), int(y + 0.5)

    def words(self, point: Point, bit: Bit) -> bool:
        x, y = self._cell(point)
        return self.grid.put(x - len(bit.text) // 2, y, bit)


def _middle(mark: Mark) -> Point:
    """Where the one character of a symbol goes."""
    if mark.symbol.form in (Form.STEM, Form.CLUSTER, Form.BOBBLE, Form.POPCORN, Form.PUFF):
        return mark.feet[0].toward(mark.feet[-1], 0.5).toward(mark.top, 0.75)
    if mark.ovals:
        return mark.ovals[len(mark.ovals) // 2].centre
    return mark.top + unit(mark.outward) * -0.45


def _bit(mark: Mark, each: DrawnRound, glyphs: Glyphs) -> Bit:
    if each.ghost:
        return Bit(_SHADOW, Style.QUIET)
    return Bit(glyphs.of_mark(mark), Style.SYMBOL, mark.colour)


def _start(sheet: _Sheet, chart: Chart, glyphs: Glyphs) -> None:
    if not chart.shows_start:
        return
    if chart.start.middle is Middle.RING:
        sheet.at(Point(0.0, 0.0), Bit(glyphs.ring(), Style.SYMBOL))
    for oval in chart.start.ovals:
        below = chart.start.middle is Middle.BASES
        sheet.at(oval.centre, Bit(_SHADOW, Style.QUIET) if below else Bit(glyphs.of(PLAIN, "ch"), Style.SYMBOL))


def _number(sheet: _Sheet, each: DrawnRound, known: Mapping[str, Ink], before: str) -> str:
    """The round's number, with the letter of its yarn where that is a new one; gives the yarn it ends with."""
    ink = known.get(each.stretches[0].colour)
    letter = ink.label if ink and ink.key != before else ""
    arrow = "↻" if each.backward else ""
    for words in (f"{each.number}{letter}{arrow}", str(each.number)):
        if sheet.words(each.number_at, Bit(words, Style.NUMBER)):
            break
    return each.stretches[-1].colour


def draw_rows(chart: Chart, glyphs: Glyphs, known: Mapping[str, Ink], columns: int, rows: int) -> list[Line] | None:
    """One line a row, the last on top; None if they are too wide or too many."""
    if len(chart.rounds) + 1 > rows:
        return None
    places = [mark.top.x for each in chart.rounds for mark in each.marks]
    left, right = min(places), max(places)
    room = columns - 2 * _SIDE
    for scale in (2.0, 1.0):
        if (right - left) * scale < room:
            lines = _rows(chart, glyphs, known, left, scale, int((right - left) * scale) + 1)
            if lines is not None:
                return lines
    return None


def _rows(
    chart: Chart, glyphs: Glyphs, known: Mapping[str, Ink], left: float, scale: float, width: int
) -> list[Line] | None:
    grid = Grid(width + 2 * _SIDE, len(chart.rounds) + 1)

    def column(x: float) -> int:
        return _SIDE + int((x - left) * scale + 0.5)

    before = ""
    for index, each in enumerate(chart.rounds):
        row = len(chart.rounds) - 1 - index
        for mark in each.marks:
            bit = _bit(mark, each, glyphs)
            if not any(grid.put(column(mark.top.x) + aside, row, bit) for aside in (0, 1, -1)):
                return None
        if not each.ghost:
            _row_number(grid, each, row, _row_label(each, known, before), width)
            before = each.stretches[-1].colour
    if chart.shows_start:
        for oval in chart.start.ovals:
            below = chart.start.middle is Middle.BASES
            bit = Bit(_SHADOW, Style.QUIET) if below else Bit(glyphs.of(PLAIN, "ch"), Style.SYMBOL)
            grid.put(column(oval.centre.x), len(chart.rounds), bit)
    return list(grid.lines())


def _row_label(each: DrawnRound, known: Mapping[str, Ink], before: str) -> str:
    ink = known.get(each.stretches[0].colour)
    return f"{each.number}{ink.label if ink and ink.key != before else ''}"


def _row_number(grid: Grid, each: DrawnRound, row: int, label: str, width: int) -> None:
    words = f"→ {label}" if each.backward else f"{label} ←"
    x = _SIDE - 2 - len(words) if each.backward else _SIDE + width + 2
    grid.put(max(0, x), row, Bit(words[:_SIDE], Style.NUMBER))
