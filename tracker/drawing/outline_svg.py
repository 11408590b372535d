"""An outline as an SVG picture: bands of yarn colour, solid where made and pale where still to come, with letters."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, sin

from tracker.drawing.chart_svg import draw_yarns
from tracker.drawing.geometry import Circle, Point, Stadium, Track
from tracker.drawing.outline import Band, BandEdge, Patch, PieceOutline, Viewpoint, groups, label
from tracker.drawing.svg import Paper, number
from tracker.drawing.yarn_letters import Ink, inks, lightness, mixed, short
from tracker.pattern.model import Pattern

_SIZE = 420.0
"""The longer way of the drawing, in pixels."""
_SAG = 0.16
"""How far an edge bows down at the front, as a share of its radius: seen from a little above."""
# Share of the yarn in the colour of what is still to come: seen, and not taken for made; by eye.
_PALE = 0.22
_LINE = "#1d1a17"
_QUIET = "#5b554d"
_NO_YARN = "#cfc8be"
_BESIDE = 110.0
# Room for a label beside the outline.
_MARGIN = 24.0
_LEAST_LETTER = 9.0
"""A patch narrower than this many pixels has no letter of its own."""
# More labels than this run into each other on a page.
MOST_LABELS = 60


def outline_svg(seen: PieceOutline, pattern: Pattern, heading: str, notes: tuple[str, ...] = ()) -> str:
    """The picture as the text of an SVG file; `notes` are sentences for below it."""
    known = inks(pattern, (patch.colour for band in seen.bands for patch in band.patches))
    longest = max(seen.width, seen.height) or 1.0
    paper = Paper(_SIZE / longest)
    right, top, left, bottom = _frame(seen, _SIZE / longest)
    if seen.view is Viewpoint.ABOVE:
        _from_above(paper, seen, known)
    else:
        _from_side(paper, seen, known)
        _labels(paper, seen, known, right + 14)
    return _sheet(paper, seen, known, heading, notes, (left, top, right, bottom))


def _frame(seen: PieceOutline, unit: float) -> tuple[float, float, float, float]:
    """Right, top, left and bottom of the drawing, in pixels."""
    half = seen.width / 2 * unit
    if seen.view is Viewpoint.ABOVE:
        high = seen.height / 2 * unit
        return half, -high, -half, high
    sag = 0.0 if seen.view is Viewpoint.FRONT else _SAG
    deepest = max((edge.radius * sag for band in seen.bands for edge in (band.low, band.high)), default=0.0)
    rim = seen.bands[-1].high.radius * sag if seen.bands else 0.0
    return half, -(seen.bottom + seen.height + rim) * unit, -half, (deepest - seen.bottom) * unit


def _from_side(paper: Paper, seen: PieceOutline, known: Mapping[str, Ink]) -> None:
    for band in seen.bands:
        for patch in band.patches:
            paper.polygon(_front(band, patch, seen), _painted(band, patch, known))
        _inside_letters(paper, band, seen, known)
    last = seen.bands[-1] if seen.bands else None
    if last and seen.view is Viewpoint.SIDE and last.high.radius > 0.15 * seen.width / 2:
        paper.polygon(_rim(last.high, seen), _opening(last))


def _front(band: Band, patch: Patch, seen: PieceOutline) -> list[Point]:
    """Around what is seen of a patch: along the upper edge and back along the lower one."""
    return [*_arc(band.high, patch, seen), *reversed(_arc(band.low, patch, seen))]


def _arc(edge: BandEdge, patch: Patch, seen: PieceOutline) -> list[Point]:
    steps = 1 if seen.view is Viewpoint.FRONT else 24
    shares = [patch.start + (patch.end - patch.start) * step / steps for step in range(steps + 1)]
    return [_on_edge(edge, share, seen) for share in shares]


def _on_edge(edge: BandEdge, share: float, seen: PieceOutline) -> Point:
    sag = 0.0 if seen.view is Viewpoint.FRONT else edge.radius * _SAG * sin(pi * share)
    return Point(seen.across(share) * (edge.radius + seen.core / 2), edge.level - sag)


def _rim(edge: BandEdge, seen: PieceOutline) -> list[Point]:
    """The opening at the end of the last round."""
    front = _arc(edge, Patch("", 0.0, 1.0), seen)
    back = [Point(point.x, 2 * edge.level - point.y) for point in reversed(front)]
    return [*front, *back]


def _opening(band: Band) -> str:
    dash = "" if band.done else ' stroke-dasharray="3 3"'
    return f'fill="#ffffff" fill-opacity="0.55" stroke="{_LINE}" stroke-width="0.9"{dash}'


def _painted(band: Band, patch: Patch, known: Mapping[str, Ink]) -> str:
    ink = known.get(patch.colour)
    colour = ink.colour if ink and ink.colour else _NO_YARN
    if not band.done:
        return f'fill="{mixed(colour, "#ffffff", _PALE)}" stroke="{_QUIET}" stroke-width="0.5" stroke-dasharray="2 2"'
    edge = mixed(_LINE, colour, 0.45) if lightness(colour) > 0.12 else mixed("#ffffff", colour, 0.35)
    return f'fill="{colour}" stroke="{edge}" stroke-width="0.6"'


def _inside_letters(paper: Paper, band: Band, seen: PieceOutline, known: Mapping[str, Ink]) -> None:
    """The letters of the yarns on a round of several."""
    if band.plain is not None:
        return
    for patch in band.patches:
        ink = known.get(patch.colour)
        middle = (patch.start + patch.end) / 2
        at = _on_edge(band.low, middle, seen).toward(_on_edge(band.high, middle, seen), 0.5)
        wide = (_on_edge(band.low, patch.end, seen).x - _on_edge(band.low, patch.start, seen).x) * paper.unit
        if ink is None or wide < _LEAST_LETTER:
            continue
        # Below this lightness black lines do not show; by eye.
        dark = band.done and ink.colour and lightness(ink.colour) < 0.4
        fill = "#ffffff" if dark else _LINE
        paper.text(ink.letter, at.x * paper.unit, -at.y * paper.unit + 3, 8, anchor="middle", fill=fill)


def _labels(paper: Paper, seen: PieceOutline, known: Mapping[str, Ink], x: float) -> None:
    """Beside the drawing: which rounds are of which yarn, with a bracket over their height."""
    letters = {key: ink.label for key, ink in known.items()}
    free = None
    for group in groups(seen.bands)[:MOST_LABELS]:
        low = -seen.bands[group.first].low.level * paper.unit
        high = -seen.bands[group.last].high.level * paper.unit
        paper.raw(
            f'<path d="M{number(x)} {number(low - 1)} H{number(x + 5)} V{number(high + 1)} H{number(x)}" '
            f'fill="none" stroke="{_QUIET}" stroke-width="0.8"/>'
        )
        y = (low + high) / 2 + 3.5
        if free is None or y <= free - 11:
            paper.text(short(label(group, seen.bands, letters), 16), x + 11, y, 10)
            free = y


def _from_above(paper: Paper, seen: PieceOutline, known: Mapping[str, Ink]) -> None:
    for band in reversed(seen.bands):
        track: Track = Stadium(seen.core, band.high.radius) if seen.core else Circle(band.high.radius)
        points = [track.at(track.length * step / 96).point for step in range(96)]
        paper.polygon(points, _painted(band, band.patches[0], known))
    letters = {key: ink.label for key, ink in known.items()}
    for group in groups(seen.bands)[:MOST_LABELS]:
        band = seen.bands[(group.first + group.last + 1) // 2]
        ink = known.get(band.patches[0].colour)
        # As above.
        dark = band.done and ink is not None and ink.colour and lightness(ink.colour) < 0.4
        radius = (band.low.radius + band.high.radius) / 2  # within one round, so that no line runs through the words
        words = label(group, seen.bands, letters)
        paper.text(
            short(words, 12), 0, radius * paper.unit + 3.5, 9, anchor="middle", fill="#ffffff" if dark else _LINE
        )


def _sheet(
    paper: Paper,
    seen: PieceOutline,
    known: Mapping[str, Ink],
    heading: str,
    notes: tuple[str, ...],
    box: tuple[float, float, float, float],
) -> str:
    left, top, right, bottom = box
    width = max(right - left + 2 * _MARGIN + _BESIDE, 360.0)
    start = left - _MARGIN
    paper.text(short(heading, int(width // 9)), start + _MARGIN, top - 26, 15, bold=True)
    low = bottom + 26
    said = (*_told(seen), *notes, *seen.left_out)
    for words in said:
        paper.text(short(words, int(width // 5.4)), start + _MARGIN, low, 10, fill=_QUIET)
        low += 15
    low = draw_yarns(paper, known, start + _MARGIN, low - 4, width - 2 * _MARGIN)
    above = 54.0
    return paper.document(start, top - above, width, low + 14 - top + above, heading, "; ".join(said))


def _told(seen: PieceOutline) -> tuple[str, ...]:
    if not seen.bands:
        return ("there is nothing to draw yet",)
    made = sum(band.done for band in seen.bands)
    where = "in the middle" if seen.view is Viewpoint.ABOVE else "at the bottom"
    told = f"Seen {seen.view.value}; round {seen.bands[0].number} is {where}."
    if made == len(seen.bands):
        return (told,)
    return (told, f"{made} of {len(seen.bands)} rounds are made; the pale ones are to come.")
