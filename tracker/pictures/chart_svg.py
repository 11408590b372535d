"""A chart as an SVG picture: bands of yarn colour under dark symbols, round numbers, letters, and the key.

Everything can be read in print without colour: yarns have letters, symbols are dark on light.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from tracker.pattern.model import Pattern
from tracker.pictures.drawn import Chart, DrawnRound, Middle, Shape, Stretch
from tracker.pictures.frames import CLEAR
from tracker.pictures.inks import Ink, inks, mixed
from tracker.pictures.key_svg import draw_key
from tracker.pictures.paper import Paper
from tracker.pictures.strokes import ovals, strokes
from tracker.pictures.tracks import Point

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
    used = {stretch.colour: None for each in chart.drawn for stretch in each.stretches}
    known = inks(pattern, used)
    left, bottom, right, top = (value * UNIT for value in bounds(chart))
    paper = Paper(UNIT)
    _bands(paper, chart, known)
    _start(paper, chart)
    for each in chart.rounds:
        _symbols(paper, each)
    _numbers(paper, chart, known)
    frame = draw_key(paper, chart, known, terms or pattern.terms, heading, (left, -top, right, -bottom))
    return paper.document(*frame, heading, _description(chart))


def bounds(chart: Chart) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of all that is drawn, with a margin, in stitch widths."""
    points = [oval.centre for oval in chart.start.ovals]
    reach = chart.start.reach
    points += [Point(-reach, -reach), Point(reach, reach)] if not chart.start.ovals else []
    for each in chart.rounds:
        points.append(each.number_at)
        points += [point for mark in each.marks for point in (mark.top, *mark.feet)]
        points += [oval.centre for mark in each.marks for oval in mark.ovals]
        if each.track.closed:
            points += _along(each, Stretch("", 0.0, each.track.length), each.reach)[::4]
    xs, ys = [point.x for point in points], [point.y for point in points]
    aside = _MARGIN + (_ROW_NUMBER if chart.shape is Shape.ROWS else 0.0)
    return min(xs) - aside, min(ys) - _MARGIN, max(xs) + aside, max(ys) + _MARGIN


def _bands(paper: Paper, chart: Chart, known: Mapping[str, Ink]) -> None:
    for index, each in enumerate(chart.drawn):
        for stretch in each.stretches:
            ink = known.get(stretch.colour)
            fill = mixed(ink.colour, "#ffffff", _TINT) if ink and ink.colour else _PLAIN[index % 2]
            paper.polygon(_edge(each, stretch), f'fill="{fill}" stroke="{fill}" stroke-width="0.4"')
    paper.group(fill="none", stroke="#bfb7ab", stroke_width="0.6")
    for each in chart.drawn:
        for stretch in each.stretches:
            paper.polyline(_along(each, stretch, each.reach + CLEAR / 2))
    paper.end()


def _edge(each: DrawnRound, stretch: Stretch) -> list[Point]:
    """Around a stretch of a band: along its outer edge and back along the inner one."""
    return [*_along(each, stretch, each.reach + CLEAR / 2), *reversed(_along(each, stretch, each.inner - CLEAR / 2))]


def _along(each: DrawnRound, stretch: Stretch, level: float) -> list[Point]:
    steps = max(1, ceil((stretch.end - stretch.start) / _STEP))
    share = (stretch.end - stretch.start) / steps
    return [each.at_level(stretch.start + share * step, level).point for step in range(steps + 1)]


def _start(paper: Paper, chart: Chart) -> None:
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
        paper.strokes(strokes(mark))
    if each.joined and each.join_at is not None:
        paper.raw(_dot(paper, each.join_at.point))
    paper.end()


def _dot(paper: Paper, at: Point) -> str:
    x, y = paper.at(at).split()
    return f'<circle cx="{x}" cy="{y}" r="{0.12 * UNIT:.2f}" fill="currentColor" stroke="none"/>'


def _numbers(paper: Paper, chart: Chart, known: Mapping[str, Ink]) -> None:
    """The number of each round where it begins, and the letter of its yarn where that is a new one."""
    before = ""
    for each in chart.drawn:
        first = each.stretches[0].colour if each.stretches else ""
        ink = known.get(first)
        words = f"{each.number}{ink.label}" if ink and first != before else str(each.number)
        _number(paper, each, words, chart.shape)
        if each.undrawn:
            at = each.at_level((each.stretches[-1].end + each.track.length) / 2, (each.inner + each.outer) / 2).point
            paper.text("…", at.x * UNIT, -at.y * UNIT, 16, anchor="middle")
        for stretch in each.stretches[1:]:
            _letter(paper, each, stretch, known)
        before = each.stretches[-1].colour if each.stretches else ""


def _number(paper: Paper, each: DrawnRound, words: str, shape: Shape) -> None:
    anchor = "middle"
    if shape is Shape.ROWS:
        words, anchor = (f"→ {words}", "end") if each.backward else (f"{words} ←", "start")
    elif each.backward:
        words = f"{words} ↻"
    at = each.number_at
    paper.text(words, at.x * UNIT, -at.y * UNIT + 3.1, 8.5, bold=True, anchor=anchor)


def _letter(paper: Paper, each: DrawnRound, stretch: Stretch, known: Mapping[str, Ink]) -> None:
    """The letter of a yarn where it begins within a round."""
    ink = known.get(stretch.colour)
    if ink is None:
        return
    at = each.at_level(stretch.start, each.inner + 0.28).point
    paper.text(ink.label, at.x * UNIT, -at.y * UNIT + 2.6, 7.5, anchor="middle")


def _description(chart: Chart) -> str:
    drawn = chart.drawn
    if not drawn:
        return "; ".join(chart.remarks)
    way = {
        Shape.ROWS: "rows from the bottom up, right side rows read from right to left",
        Shape.OVAL: "rounds read counter-clockwise from the chain outwards",
        Shape.ROUND: "rounds read counter-clockwise from the middle outwards",
    }[chart.shape]
    return "; ".join((f"{len(drawn)} drawn, {way}", *chart.remarks))
