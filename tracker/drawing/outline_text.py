"""An outline in a terminal: what is made is filled with the letters of the yarns, what is to come with dots."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.drawing.outline import Band, Patch, PieceOutline, Viewpoint, groups, label
from tracker.drawing.styled_text import CELL_HEIGHT, Bit, Line, Style, line, wrapped
from tracker.drawing.yarn_letters import Ink, inks, short
from tracker.pattern.model import Pattern

NO_YARN = "#"
TO_COME = "·"
_LABELS = 16
"""Columns beside the drawing for which rounds are of which yarn."""


def outline_text(
    seen: PieceOutline, pattern: Pattern, heading: str, columns: int, rows: int, notes: tuple[str, ...] = ()
) -> tuple[Line, ...]:
    """Heading, drawing and key; the drawing itself in at most so many columns and rows."""
    known = inks(pattern, (patch.colour for band in seen.bands for patch in band.patches))
    head = line([Bit(short(heading, columns), Style.HEADING)])
    body = _body(seen, known, columns, rows)
    said = [line([Bit(part, Style.QUIET)]) for note in (*notes, *seen.left_out) for part in wrapped(note, columns)]
    yarns = [line([Bit(ink.letter, Style.LETTER, ink.key), f"  {ink.name}"]) for ink in known.values()]
    return (head, Line(""), *body, Line(""), *_told(seen, columns), *said, *yarns)


def _told(seen: PieceOutline, columns: int) -> list[Line]:
    if not seen.bands:
        return []
    made = sum(band.done for band in seen.bands)
    words = f"seen {seen.view.value}; {_where(seen)}"
    if made < len(seen.bands):
        each = "rows" if seen.view is Viewpoint.FRONT else "rounds"
        words += f"; {made} of {len(seen.bands)} {each} made, the dots are to come"
    return [line([Bit(part, Style.QUIET)]) for part in wrapped(words, columns)]


def _where(seen: PieceOutline) -> str:
    first = seen.bands[0].number
    return f"{first} is {'in the middle' if seen.view is Viewpoint.ABOVE else 'at the bottom'}"


def _body(seen: PieceOutline, known: Mapping[str, Ink], columns: int, rows: int) -> list[Line]:
    if not seen.bands or not seen.width or not seen.height:
        return [line([Bit("there is nothing to draw yet", Style.QUIET)])]
    room = max(4, columns - _LABELS)
    scale = min(rows / seen.height, room / CELL_HEIGHT / seen.width)
    wide, high = max(1, round(seen.width * scale * CELL_HEIGHT)), max(1, round(seen.height * scale))
    labels = {} if seen.view is Viewpoint.ABOVE else _labels(seen, known, high)
    lines = []
    for row in range(high):
        cells: list[Bit | str] = [_cell(seen, known, (x + 0.5) / wide, 1 - (row + 0.5) / high) for x in range(wide)]
        told = [Bit(f"  {labels[row]}", Style.NUMBER)] if row in labels else []
        while not told and cells and cells[-1] == " ":
            cells.pop()
        lines.append(line([*cells, *told]))
    return lines


def _cell(seen: PieceOutline, known: Mapping[str, Ink], across: float, up: float) -> Bit | str:
    """What is to be seen at a place of the drawing, 0 to 1 from the left and from below."""
    x = (across - 0.5) * seen.width
    found = _above(seen, x, up) if seen.view is Viewpoint.ABOVE else _from_side(seen, x, up)
    if found is None:
        return " "
    band, patch = found
    if not band.done:
        return Bit(TO_COME, Style.AHEAD, patch.colour)
    ink = known.get(patch.colour)
    return Bit(ink.letter if ink else NO_YARN, Style.DONE, patch.colour)


def _from_side(seen: PieceOutline, x: float, up: float) -> tuple[Band, Patch] | None:
    level = seen.bottom + up * seen.height
    widest: tuple[float, Band] | None = None
    for band in seen.bands:
        low, high = sorted((band.low.level, band.high.level))
        if low <= level <= high and high > low:
            share = (level - band.low.level) / (band.high.level - band.low.level)
            radius = band.low.radius + share * (band.high.radius - band.low.radius)
            if widest is None or radius > widest[0]:
                widest = radius, band
    if widest is None:
        return None
    half = widest[0] + seen.core / 2
    if abs(x) > half:
        return None
    return widest[1], _patch(widest[1], seen.share(x / half if half else 0.0))


def _above(seen: PieceOutline, x: float, up: float) -> tuple[Band, Patch] | None:
    y = (up - 0.5) * seen.height
    away = (max(0.0, abs(x) - seen.core / 2) ** 2 + y**2) ** 0.5
    for band in seen.bands:
        if band.low.radius <= away <= band.high.radius:
            return band, _patch(band, 0.5)
    return None


def _patch(band: Band, share: float) -> Patch:
    return next((patch for patch in band.patches if share <= patch.end), band.patches[-1])


def _labels(seen: PieceOutline, known: Mapping[str, Ink], high: int) -> dict[int, str]:
    """Which rounds are of which yarn, beside the middle of each; not more than there are lines."""
    letters = {key: ink.letter for key, ink in known.items()}
    found: dict[int, str] = {}
    for group in groups(seen.bands):
        low, top = seen.bands[group.first].low.level, seen.bands[group.last].high.level
        middle = ((low + top) / 2 - seen.bottom) / seen.height
        row = min(high - 1, int((1 - middle) * high))
        found.setdefault(row, short(label(group, seen.bands, letters), _LABELS - 2))
    return found
