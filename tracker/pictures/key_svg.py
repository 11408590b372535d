"""The heading above a chart, and below it the key of its symbols, the yarns, and what is not drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from tracker.pictures.drawn import Chart, Mark, Middle, Shape
from tracker.pictures.inks import Ink, short
from tracker.pictures.key import Entry, key
from tracker.pictures.paper import Paper, number
from tracker.pictures.strokes import strokes

_UNIT = 18.0
"""Pixels to a stitch width in the key."""
_COLUMN = 215.0
_LEAST_ROW = 30.0
_SAMPLE = 66.0
"""Room for the sample at the left of an entry."""
_LEAST_WIDTH = 470.0
_HEADING = 44.0
_PAGE = 760.0
"""A sheet of this width in pixels is printed at about its own size on A4."""
_INK = "#1d1a17"
_QUIET = "#5b554d"

READING = {
    Shape.ROUND: "Read counter-clockwise from the middle; numbers stand where rounds begin.",
    Shape.OVAL: "Read counter-clockwise from the chain outwards; numbers stand where rounds begin.",
    Shape.ROWS: "Read from the bottom up; arrows tell the way of each row, seen from the right side.",
}

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Where the parts below the chart go."""

    left: float
    top: float
    width: float

    @property
    def columns(self) -> int:
        return max(1, int(self.width // _COLUMN))

    @property
    def column(self) -> float:
        return self.width / self.columns


def draw_key(
    paper: Paper, chart: Chart, known: Mapping[str, Ink], terms: str, heading: str, box: Box
) -> tuple[float, float, float, float]:
    """Draws around the chart in `box`; gives left, top, width and height of the whole sheet.

    On a wide sheet heading and key are larger, so that they can be read when it is printed on one page.
    """
    left, top, right, bottom = box
    width = max(right - left, _LEAST_WIDTH)
    left = (left + right - width) / 2
    zoom = max(1.0, width / _PAGE)
    paper.text(short(heading, int(width / zoom // 9)), left + 14, top - 14 * zoom, 15 * zoom, bold=True)
    sheet = _Sheet(14.0, 10.0, width / zoom - 28)
    paper.group(transform=f"translate({number(left)} {number(bottom)}) scale({number(zoom)})")
    low = _lines(paper, chart, sheet)
    low = draw_yarns(paper, known, sheet.left, low, sheet.width)
    low = _entries(paper, chart, terms, sheet, low)
    paper.end()
    above = _HEADING * zoom
    return left, top - above, width, above + bottom - top + (low + 12) * zoom


def _lines(paper: Paper, chart: Chart, sheet: _Sheet) -> float:
    low = sheet.top
    paper.raw(
        f'<path d="M{number(sheet.left)} {number(low)} H{number(sheet.left + sheet.width)}" '
        'stroke="#cfc8be" stroke-width="0.8"/>'
    )
    sentences = [READING[chart.shape]] if chart.rounds else []
    for words in [*sentences, *(f"{line}." for line in chart.remarks)]:
        for line in _wrapped(words, int(sheet.width // 5.6)):
            low += 15
            paper.text(line, sheet.left, low, 10, fill=_QUIET)
    return low + 8


def _wrapped(words: str, most: int) -> list[str]:
    lines = [""]
    for word in words.split():
        if lines[-1] and len(lines[-1]) + len(word) + 1 > most:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def draw_yarns(paper: Paper, known: Mapping[str, Ink], left: float, low: float, width: float) -> float:
    """A swatch, the letter and the name of each yarn, in columns; gives the height below them."""
    sheet = _Sheet(left, low, width)
    for index, ink in enumerate(known.values()):
        x = left + sheet.column * (index % sheet.columns)
        y = low + 24 * (index // sheet.columns)
        fill = ink.colour or "#ffffff"
        paper.raw(
            f'<rect x="{number(x)}" y="{number(y)}" width="26" height="15" rx="2" fill="{fill}" '
            f'stroke="{_INK}" stroke-width="0.8"/>'
        )
        paper.text(ink.label, x + 34, y + 12, 11, bold=True)
        if ink.name != ink.label:
            name = short(ink.name, int((sheet.column - 60) // 6.4))
            paper.text(name, x + 46 + 8 * len(ink.label), y + 12, 11)
    return low + 24 * ceil(len(known) / sheet.columns)


def _entries(paper: Paper, chart: Chart, terms: str, sheet: _Sheet, low: float) -> float:
    entries: list[Entry | None] = [*key(chart, terms)]
    if chart.shows_start and chart.start.middle is Middle.RING:
        entries.insert(0, None)
    for first in range(0, len(entries), sheet.columns):
        row = entries[first : first + sheet.columns]
        high = max(_LEAST_ROW, *(_room(entry) for entry in row))
        for column, entry in enumerate(row):
            _entry(paper, entry, sheet.left + sheet.column * column, low + high / 2 + 4, sheet)
        low += high
    return low


def _room(entry: Entry | None) -> float:
    """How high the row of an entry has to be, in pixels."""
    return _height(entry.sample) * _scale(entry.sample) * _UNIT + 14 if entry else _LEAST_ROW


def _scale(sample: tuple[Mark, ...]) -> float:
    return min(1.0, 2.6 / _height(sample), 3.4 / _width(sample))


def _entry(paper: Paper, entry: Entry | None, x: float, middle: float, sheet: _Sheet) -> None:
    """One symbol and its meaning, around the height `middle`; None is the magic ring."""
    centre = x + _SAMPLE / 2 - 4
    if entry is None:
        paper.raw(
            f'<circle cx="{number(centre)}" cy="{number(middle)}" r="7" fill="none" stroke="{_INK}" '
            'stroke-width="1.3"/>'
        )
        _words(paper, "magic ring", x, middle, sheet)
        return
    scale = _scale(entry.sample) * _UNIT / 24
    foot = middle + _height(entry.sample) * scale * 12
    paper.group(
        transform=f"translate({number(centre)} {number(foot)}) scale({number(scale)})",
        fill="none",
        stroke=_INK,
        color=_INK,
        stroke_width=number(1.3 / scale),
        stroke_linecap="round",
    )
    for mark in entry.sample:
        paper.strokes(strokes(mark))
    paper.end()
    _words(paper, entry.meaning, x, middle, sheet)


def _height(sample: tuple[Mark, ...]) -> float:
    tops = [mark.top.y for mark in sample] + [oval.centre.y + 0.3 for mark in sample for oval in mark.ovals]
    return max(0.5, *tops)


def _width(sample: tuple[Mark, ...]) -> float:
    xs = [point.x for mark in sample for point in (mark.top, *mark.feet)]
    return max(xs) - min(xs) + 0.6


def _words(paper: Paper, words: str, x: float, middle: float, sheet: _Sheet) -> None:
    room = int((sheet.column - _SAMPLE) // 6.0)
    lines = _wrapped(words, room)[:2]
    for index, line in enumerate(lines):
        paper.text(short(line, room), x + _SAMPLE, middle + 4 - 7 * (len(lines) - 1) + 14 * index, 11)
