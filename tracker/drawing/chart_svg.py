"""A chart as an SVG picture: bands of yarn colour under dark symbols, round numbers, letters, and the key.

Everything can be read in print without colour: yarns have letters, symbols are dark on light.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from tracker.drawing.chart_layout import CLEAR
from tracker.drawing.chart_model import Chart, ColourArc, DrawnRound, Layout, Mark, Middle
from tracker.drawing.geometry import Point, Polygon
from tracker.drawing.legend import LegendEntry, explain_side, key
from tracker.drawing.strokes import ovals, strokes_of
from tracker.drawing.svg import Paper, number
from tracker.drawing.yarn_letters import Ink, inks, mixed, short
from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern

UNIT = 24.0
"""Pixels to a stitch width."""
_TINT = 0.34
"""How much yarn colour there is in a band; the rest is white, so that dark symbols stand out on any yarn."""
_PLAIN = ("#f4f1ec", "#ffffff")
_GREY = "#a8a29a"
_MARGIN = 0.8
_ROW_NUMBER = 1.4
"""Room for the number of a row and its arrow beside the chart."""
_STEP = 0.3
"""How closely the edge of a band is followed, in stitch widths."""


def chart_svg(chart: Chart, pattern: Pattern, heading: str, terms: str = "") -> str:
    """The picture as the text of an SVG file; `terms` "US" or "UK", by default those of the pattern."""
    yarn_keys = {stretch.colour: None for each in chart.drawn for stretch in each.stretches}
    yarn_inks = inks(pattern, yarn_keys)
    left, bottom, right, top = (value * UNIT for value in bounds(chart))
    paper = Paper(UNIT)
    _bands(paper, chart, yarn_inks)
    _start(paper, chart)
    for each in chart.rounds:
        _symbols(paper, each)
    _numbers(paper, chart, yarn_inks)
    frame = draw_key(paper, chart, yarn_inks, terms or pattern.terms, heading, (left, -top, right, -bottom))
    return paper.document(*frame, heading, _description(chart))


def bounds(chart: Chart) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of all that is drawn, with a margin, in stitch widths."""
    points = [oval.centre for oval in chart.start.ovals]
    reach = chart.start.reach
    points += [Point(-reach, -reach), Point(reach, reach)] if not chart.start.ovals else []
    points += [oval.centre for start in chart.unrolled for oval in start.ovals]
    for each in chart.rounds:
        points.append(each.number_at)
        points += [point for mark in each.marks for point in (mark.top, *mark.feet)]
        points += [oval.centre for mark in each.marks for oval in mark.ovals]
        if each.track.closed:
            points += _along(each, ColourArc("", 0.0, each.track.length), each.reach)[::4]
    xs, ys = [point.x for point in points], [point.y for point in points]
    aside = _MARGIN + (_ROW_NUMBER if any(not each.track.closed for each in chart.rounds) else 0.0)
    return min(xs) - aside, min(ys) - _MARGIN, max(xs) + aside, max(ys) + _MARGIN


def _bands(paper: Paper, chart: Chart, yarn_inks: Mapping[str, Ink]) -> None:
    for index, each in reversed([*enumerate(chart.drawn)]):
        for stretch in each.stretches:
            ink = yarn_inks.get(stretch.colour)
            fill = mixed(ink.colour, "#ffffff", _TINT) if ink and ink.colour else _PLAIN[index % 2]
            paper.polygon(_edge(each, stretch), f'fill="{fill}" stroke="{fill}" stroke-width="0.4"')
    paper.group(fill="none", stroke="#bfb7ab", stroke_width="0.6")
    for each in chart.drawn:
        for stretch in each.stretches:
            paper.polyline(_along(each, stretch, each.reach + CLEAR / 2))
    paper.end()


def _edge(each: DrawnRound, stretch: ColourArc) -> list[Point]:
    """Around a stretch of a band: along its outer edge and back along the inner one; of a figure all that is inside,
    since what is round in its middle is painted over it."""
    if isinstance(each.track, Polygon) and len(each.stretches) == 1:
        return _along(each, stretch, each.reach + CLEAR / 2)
    return [*_along(each, stretch, each.reach + CLEAR / 2), *reversed(_along(each, stretch, each.inner - CLEAR / 2))]


def _along(each: DrawnRound, stretch: ColourArc, level: float) -> list[Point]:
    steps = max(1, ceil((stretch.end - stretch.start) / _STEP))
    share = (stretch.end - stretch.start) / steps
    return [each.at_level(stretch.start + share * step, level).point for step in range(steps + 1)]


def _start(paper: Paper, chart: Chart) -> None:
    paper.group(fill="none", stroke=_GREY, stroke_width="1.3", color=_GREY)
    for start in chart.unrolled:
        for oval in start.ovals:
            paper.strokes(ovals((oval,)))
    paper.end()
    below = chart.start.middle is Middle.BASES
    if below and not chart.shows_start:
        return
    colour = "#1d1a17" if chart.shows_start and not below else _GREY
    paper.group(fill="none", stroke=colour, stroke_width="1.3", color=colour)
    if chart.start.middle is Middle.RING:
        paper.raw(f'<circle cx="0" cy="0" r="{chart.start.reach * UNIT:.2f}"/>')
    for oval in chart.start.ovals:
        paper.strokes(ovals((oval,)))
    paper.end()


def _symbols(paper: Paper, each: DrawnRound) -> None:
    colour = _GREY if each.ghost else "#1d1a17"
    paper.group(
        fill="none", stroke=colour, color=colour, stroke_width="1.5", stroke_linecap="round", stroke_linejoin="round"
    )
    for mark in each.marks:
        paper.strokes(strokes_of(mark))
    if each.joined and each.join_at is not None:
        paper.raw(_dot(paper, each.join_at.point))
    paper.end()


def _dot(paper: Paper, at: Point) -> str:
    x, y = paper.at(at).split()
    return f'<circle cx="{x}" cy="{y}" r="{0.12 * UNIT:.2f}" fill="currentColor" stroke="none"/>'


def _numbers(paper: Paper, chart: Chart, yarn_inks: Mapping[str, Ink]) -> None:
    """The number of each round where it begins, and the letter of its yarn where that is a new one."""
    before = ""
    for each in chart.drawn:
        first = each.stretches[0].colour if each.stretches else ""
        ink = yarn_inks.get(first)
        words = f"{each.number}{ink.label}" if ink and first != before else str(each.number)
        _number(paper, each, words)
        if each.undrawn:
            at = each.at_level((each.stretches[-1].end + each.track.length) / 2, (each.inner + each.outer) / 2).point
            paper.text("…", at.x * UNIT, -at.y * UNIT, 16, anchor="middle")
        for stretch in each.stretches[1:]:
            _letter(paper, each, stretch, yarn_inks)
        before = each.stretches[-1].colour if each.stretches else ""


def _number(paper: Paper, each: DrawnRound, words: str) -> None:
    anchor = "middle"
    if not each.track.closed:
        words, anchor = (f"→ {words}", "end") if each.backward else (f"{words} ←", "start")
    elif each.backward:
        words = f"{words} ↻"
    at = each.number_at
    paper.text(words, at.x * UNIT, -at.y * UNIT + 3.1, 8.5, bold=True, anchor=anchor)


def _letter(paper: Paper, each: DrawnRound, stretch: ColourArc, yarn_inks: Mapping[str, Ink]) -> None:
    """The letter of a yarn where it begins within a round."""
    ink = yarn_inks.get(stretch.colour)
    if ink is None:
        return
    at = each.at_level(stretch.start, each.inner + 0.28).point
    paper.text(ink.label, at.x * UNIT, -at.y * UNIT + 2.6, 7.5, anchor="middle")


def _description(chart: Chart) -> str:
    drawn = chart.drawn
    if not drawn:
        return "; ".join(chart.remarks)
    way = {
        Layout.ROWS: "rows from the bottom up, right side rows read from right to left",
        Layout.OVAL: "rounds read counter-clockwise from the chain outwards",
        Layout.ROUND: "rounds read counter-clockwise from the middle outwards",
    }[chart.shape]
    return "; ".join((f"{len(drawn)} drawn, {way}", *chart.remarks))


# The heading above a chart, and below it the key of its symbols, the yarns, and what is not drawn.

_UNIT = 18.0
"""Pixels to a stitch width in the key."""
# Wide enough for the longest name of a symbol in the legend's letters.
_COLUMN = 215.0
# Two lines of the legend's letters.
_LEAST_ROW = 30.0
_SAMPLE = 66.0
"""Room for the sample at the left of an entry."""
# Two columns of the legend.
_LEAST_WIDTH = 470.0
# The heading in its size of letters, with room above and below.
_HEADING = 44.0
_PAGE = 760.0
"""A sheet of this width in pixels is printed at about its own size on A4."""
_INK = "#1d1a17"
_QUIET = "#5b554d"

READING = {
    Layout.ROUND: "Read counter-clockwise from the middle; numbers stand where rounds begin.",
    Layout.OVAL: "Read counter-clockwise from the chain outwards; numbers stand where rounds begin.",
    Layout.ROWS: "Read from the bottom up; arrows tell the way of each row, seen from the right side.",
}

Box = tuple[float, float, float, float]
"""Left, top, right and bottom, in pixels."""


@dataclass(frozen=True, slots=True)
class _SvgChart:
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
    paper: Paper, chart: Chart, yarn_inks: Mapping[str, Ink], terms: str, heading: str, box: Box
) -> tuple[float, float, float, float]:
    """Draws around the chart in `box`; gives left, top, width and height of the whole sheet.

    On a wide sheet heading and key are larger, so that they can be read when it is printed on one page.
    """
    left, top, right, bottom = box
    width = max(right - left, _LEAST_WIDTH)
    left = (left + right - width) / 2
    zoom = max(1.0, width / _PAGE)
    paper.text(short(heading, int(width / zoom // 9)), left + 14, top - 14 * zoom, 15 * zoom, bold=True)
    sheet = _SvgChart(14.0, 10.0, width / zoom - 28)
    paper.group(transform=f"translate({number(left)} {number(bottom)}) scale({number(zoom)})")
    low = _lines(paper, chart, sheet)
    low = draw_yarns(paper, yarn_inks, sheet.left, low, sheet.width)
    low = _entries(paper, chart, terms, sheet, low)
    paper.end()
    above = _HEADING * zoom
    return left, top - above, width, above + bottom - top + (low + 12) * zoom


def _lines(paper: Paper, chart: Chart, sheet: _SvgChart) -> float:
    low = sheet.top
    paper.raw(
        f'<path d="M{number(sheet.left)} {number(low)} H{number(sheet.left + sheet.width)}" '
        'stroke="#cfc8be" stroke-width="0.8"/>'
    )
    sentences = [READING[chart.shape], *explain_side(chart)] if chart.rounds else []
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


def draw_yarns(paper: Paper, yarn_inks: Mapping[str, Ink], left: float, low: float, width: float) -> float:
    """A swatch, the letter and the name of each yarn, in columns; gives the height below them."""
    sheet = _SvgChart(left, low, width)
    for index, ink in enumerate(yarn_inks.values()):
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
    return low + 24 * ceil(len(yarn_inks) / sheet.columns)


def _entries(paper: Paper, chart: Chart, terms: str, sheet: _SvgChart, low: float) -> float:
    entries: list[LegendEntry | None] = [*key(chart, terms)]
    if chart.shows_start and chart.start.middle is Middle.RING:
        entries.insert(0, None)
    for first in range(0, len(entries), sheet.columns):
        row = entries[first : first + sheet.columns]
        high = max(_LEAST_ROW, *(_room(entry) for entry in row))
        for column, entry in enumerate(row):
            _entry(paper, entry, sheet.left + sheet.column * column, low + high / 2 + 4, sheet)
        low += high
    return low


def _room(entry: LegendEntry | None) -> float:
    """How high the row of an entry has to be, in pixels."""
    return _height(entry.sample) * _scale(entry.sample) * _UNIT + 14 if entry else _LEAST_ROW


def _scale(sample: tuple[Mark, ...]) -> float:
    return min(1.0, 2.6 / _height(sample), 3.4 / _width(sample))


def _entry(paper: Paper, entry: LegendEntry | None, x: float, middle: float, sheet: _SvgChart) -> None:
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
        paper.strokes(strokes_of(mark))
    paper.end()
    _words(paper, entry.meaning, x, middle, sheet)


def _height(sample: tuple[Mark, ...]) -> float:
    tops = [mark.top.y for mark in sample] + [oval.centre.y + 0.3 for mark in sample for oval in mark.ovals]
    return max(0.5, *tops)


def _width(sample: tuple[Mark, ...]) -> float:
    xs = [point.x for mark in sample for point in (mark.top, *mark.feet)]
    return max(xs) - min(xs) + 0.6


def _words(paper: Paper, words: str, x: float, middle: float, sheet: _SvgChart) -> None:
    room = int((sheet.column - _SAMPLE) // 6.0)
    lines = _wrapped(words, room)[:2]
    for index, line in enumerate(lines):
        paper.text(short(line, room), x + _SAMPLE, middle + 4 - 7 * (len(lines) - 1) + 14 * index, 11)
