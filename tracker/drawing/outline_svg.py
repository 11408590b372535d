"""An outline as an SVG picture: bands of yarn colour, lit where made and pale where still to come, with letters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import cos, tau

from tracker.drawing.assembly import AssembledObject
from tracker.drawing.chart_svg import draw_yarns
from tracker.drawing.geometry import Circle, Point, Stadium, Track, unit
from tracker.drawing.outline import Band, PieceOutline, Viewpoint, groups, label
from tracker.drawing.painting import LINE, NO_YARN, QUIET, Painter, box_of
from tracker.drawing.solid import corners_at, on_front, seen_at, slices
from tracker.drawing.svg import Paper, number
from tracker.drawing.yarn_letters import Ink, inks, lightness, mixed, short
from tracker.pattern.model import Pattern

_SIZE = 420.0
"""The longer way of the drawing of a piece, in pixels."""
_SHEET = 640.0
"""The longer way of the drawing of a whole thing."""
# Share of the yarn in the colour of what is still to come: seen, and not taken for made; by eye.
_PALE = 0.22
# Pixels: room for a label of some fifteen letters beside the outline.
_BESIDE = 110.0
# Room for a label beside the outline.
_MARGIN = 24.0
_LEAST_LETTER = 9.0
"""A patch narrower than this many pixels has no letter of its own."""
# More labels than this run into each other on a page.
MOST_LABELS = 60
_LETTER = 6.2
"""Pixels that a letter of a label takes, on the average."""

_Box = tuple[float, float, float, float]


def outline_svg(outline: PieceOutline, pattern: Pattern, heading: str, notes: tuple[str, ...] = ()) -> str:
    """The picture as the text of an SVG file; `notes` are sentences for below it."""
    yarn_inks = inks(pattern, (patch.colour for band in outline.bands for patch in band.patches))
    longest = max(outline.width, outline.height) or 1.0
    paper = Paper(_SIZE / longest)
    if outline.view is Viewpoint.ABOVE:
        widest = max((point.size for point in waving(1.0, max(outline.waves))), default=1.0) if outline.waves else 1.0
        half, high = (widest * side / 2 * paper.unit for side in (outline.width, outline.height))
        _from_above(paper, outline, yarn_inks)
        box = (-half, -high, half, high)
    else:
        painted = slices(outline)
        box = _in_pixels(box_of(painted), paper.unit)
        Painter(paper, yarn_inks).paint(painted)
        for band in outline.bands:
            _inside_letters(paper, band, outline, yarn_inks)
        _labels(paper, outline, yarn_inks, box[2] + 14)
    sentences = (*_describe(outline), *notes, *outline.left_out)
    return _sheet(paper, yarn_inks, heading, sentences, box)


def object_svg(
    assemblies: Sequence[AssembledObject], pattern: Pattern, heading: str, notes: tuple[str, ...] = ()
) -> str:
    """All that a pattern makes on one sheet, as the text of an SVG file."""
    painted = [each for assembly in assemblies for each in assembly.slices]
    yarn_inks = inks(pattern, (shape.colour for each in painted for shape in each.shapes))
    left, bottom, right, top = box_of(painted)
    paper = Paper(_SHEET / (max(right - left, top - bottom) or 1.0))
    Painter(paper, yarn_inks).paint(painted)
    box = _in_pixels((left, bottom, right, top), paper.unit)
    low = box[3] + 16
    if len(assemblies) > 1:
        low = _names(paper, assemblies, low)
    return _sheet(paper, yarn_inks, heading, notes, (*box[:3], low), beside=0.0)


def _in_pixels(box: _Box, unit: float) -> _Box:
    """Left, top, right and bottom on the sheet, whose y points down."""
    left, bottom, right, top = box
    return left * unit, -top * unit, right * unit, -bottom * unit


def _names(paper: Paper, assemblies: Sequence[AssembledObject], low: float) -> float:
    """What each thing is, below it; on a lower line where it would run into the one before."""
    free = [-1e9]
    for assembly in assemblies:
        left, _, right, _ = assembly.box()
        words = short(assembly.label, 40)
        middle, half = (left + right) / 2 * paper.unit, len(words) * _LETTER / 2
        line = next((index for index, end in enumerate(free) if middle - half > end), len(free))
        free[line : line + 1] = [middle + half + _LETTER]
        paper.text(words, middle, low + 13 * line, 10, anchor="middle", fill=QUIET)
    return low + 13 * (len(free) - 1)


def _inside_letters(paper: Paper, band: Band, outline: PieceOutline, yarn_inks: Mapping[str, Ink]) -> None:
    """The letters of the yarns on a round of several."""
    if band.plain is not None:
        return
    for patch in band.patches:
        ink = yarn_inks.get(patch.colour)
        middle = (patch.start + patch.end) / 2
        at = on_front(band.low, middle, outline).toward(on_front(band.high, middle, outline), 0.5)
        wide = (on_front(band.low, patch.end, outline).x - on_front(band.low, patch.start, outline).x) * paper.unit
        if ink is None or wide < _LEAST_LETTER:
            continue
        # Below this lightness black lines do not show; by eye.
        dark = band.done and ink.colour and lightness(ink.colour) < 0.4
        fill = "#ffffff" if dark else LINE
        paper.text(ink.letter, at.x * paper.unit, -at.y * paper.unit + 3, 8, anchor="middle", fill=fill)


def _labels(paper: Paper, outline: PieceOutline, yarn_inks: Mapping[str, Ink], x: float) -> None:
    """Beside the drawing: which rounds are of which yarn, with a bracket over their height."""
    letters = {key: ink.label for key, ink in yarn_inks.items()}
    free = None
    for group in groups(outline.bands)[:MOST_LABELS]:
        edges = (outline.bands[group.first].low, outline.bands[group.last].high)
        low, high = (-seen_at((0.0, edge.level, 0.0)).y * paper.unit for edge in edges)
        paper.raw(
            f'<path d="M{number(x)} {number(low - 1)} H{number(x + 5)} V{number(high + 1)} H{number(x)}" '
            f'fill="none" stroke="{QUIET}" stroke-width="0.8"/>'
        )
        y = (low + high) / 2 + 3.5
        if free is None or y <= free - 11:
            paper.text(short(label(group, outline.bands, letters), 16), x + 11, y, 10)
            free = y


_WAVES = 30
"""Waves around a ruffle: so many are told apart, and none hides the next; by eye."""
_POINTS = 20 * _WAVES
_DEEPEST = 0.4
"""Share of its radius by which an edge waves at most; a longer one would cross itself."""


def waving(radius: float, times: float) -> list[Point]:
    """Around an edge so many times longer than its circle, in waves as deep as its length needs (geometry)."""
    low, high = 0.0, _DEEPEST
    for _ in range(20):
        deep = (low + high) / 2
        low, high = (deep, high) if _wave_length(deep) < times else (low, deep)
    return _wave(radius, low)


def _wave(radius: float, deep: float) -> list[Point]:
    turns = [tau * step / _POINTS for step in range(_POINTS)]
    return [unit(turn) * (radius * (1 + deep * cos(_WAVES * turn))) for turn in turns]


def _wave_length(deep: float) -> float:
    """How many times longer such an edge is than its circle."""
    points = _wave(1.0, deep)
    return sum((one - other).size for one, other in pairwise([*points, points[0]])) / tau


def _from_above(paper: Paper, outline: PieceOutline, yarn_inks: Mapping[str, Ink]) -> None:
    for index, band in reversed([*enumerate(outline.bands)]):
        track: Track = Stadium(outline.core, band.high.radius) if outline.core else Circle(band.high.radius)
        points = [track.at(track.length * step / 96).point for step in range(96)]
        if outline.waves:
            points = waving(band.high.radius, outline.waves[index])
        elif outline.corners:
            points = [Point(x, y) for x, y in corners_at(outline.corners, band.high.radius)]
        paper.polygon(points, _painted(band, yarn_inks))
    letters = {key: ink.label for key, ink in yarn_inks.items()}
    for group in groups(outline.bands)[:MOST_LABELS]:
        band = outline.bands[(group.first + group.last + 1) // 2]
        ink = yarn_inks.get(band.patches[0].colour)
        # As above.
        dark = band.done and ink is not None and ink.colour and lightness(ink.colour) < 0.4
        radius = (band.low.radius + band.high.radius) / 2  # within one round, so that no line runs through the words
        if outline.corners:
            radius = min(y for _, y in corners_at(outline.corners, radius)) * -1
        words = label(group, outline.bands, letters)
        paper.text(
            short(words, 12), 0, radius * paper.unit + 3.5, 9, anchor="middle", fill="#ffffff" if dark else LINE
        )


def _painted(band: Band, yarn_inks: Mapping[str, Ink]) -> str:
    ink = yarn_inks.get(band.patches[0].colour)
    colour = ink.colour if ink and ink.colour else NO_YARN
    if not band.done:
        return f'fill="{mixed(colour, "#ffffff", _PALE)}" stroke="{QUIET}" stroke-width="0.5" stroke-dasharray="2 2"'
    edge = mixed(LINE, colour, 0.45) if lightness(colour) > 0.12 else mixed("#ffffff", colour, 0.35)
    return f'fill="{colour}" stroke="{edge}" stroke-width="0.6"'


def _sheet(
    paper: Paper,
    yarn_inks: Mapping[str, Ink],
    heading: str,
    sentences: tuple[str, ...],
    box: _Box,
    beside: float = _BESIDE,
) -> str:
    left, top, right, bottom = box
    width = max(right - left + 2 * _MARGIN + beside, 360.0)
    start = left - _MARGIN
    paper.text(short(heading, int(width // 9)), start + _MARGIN, top - 26, 15, bold=True)
    low = bottom + 26
    for words in sentences:
        paper.text(short(words, int(width // 5.4)), start + _MARGIN, low, 10, fill=QUIET)
        low += 15
    low = draw_yarns(paper, yarn_inks, start + _MARGIN, low - 4, width - 2 * _MARGIN)
    above = 54.0
    return paper.document(start, top - above, width, low + 14 - top + above, heading, "; ".join(sentences))


def _describe(outline: PieceOutline) -> tuple[str, ...]:
    if not outline.bands:
        return ("there is nothing to draw yet",)
    made = sum(band.done for band in outline.bands)
    sentence = f"Seen {outline.view.value}; round {outline.bands[0].number} is {outline.first_is}."
    if made == len(outline.bands):
        return (sentence,)
    return (sentence, f"{made} of {len(outline.bands)} rounds are made; the pale ones are to come.")
