"""An outline in a terminal: what is made is filled with the letters of the yarns, what is to come with dots.

Each cell also has the colours of its two halves, as light falls on the piece, for terminals that can show them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import ceil, floor

from tracker.drawing.assembly import AssembledObject
from tracker.drawing.geometry import Point
from tracker.drawing.outline import PieceOutline, Viewpoint, groups, label
from tracker.drawing.painting import NO_YARN as NO_COLOUR
from tracker.drawing.painting import box_of
from tracker.drawing.solid import Slice, Stance, light_at, seen_at, slices
from tracker.drawing.styled_text import CELL_HEIGHT, PictureBit, PictureLine, Style, line, wrapped
from tracker.drawing.yarn_letters import Ink, inks, mixed, short
from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern

NO_YARN = "#"
TO_COME = "·"
_LABELS = 16
"""Columns beside the drawing for which rounds are of which yarn."""
_LEAST_ROWS = 4
"""Rows that are left to the drawing of a thing, however many names stand below it."""


def outline_text(
    outline: PieceOutline, pattern: Pattern, heading: str, columns: int, rows: int, notes: tuple[str, ...] = ()
) -> tuple[PictureLine, ...]:
    """Heading, drawing and key; the drawing itself in at most so many columns and rows."""
    yarn_inks = inks(pattern, (patch.colour for band in outline.bands for patch in band.patches))
    lying = Stance(up=(0.0, 0.0, 1.0)) if outline.view is Viewpoint.ABOVE else Stance()
    if outline.bands and outline.width and outline.height:
        drawn = _drawing(slices(outline, lying), yarn_inks, max(_LEAST_ROWS, columns - _LABELS), rows)
        labels = {} if outline.view is Viewpoint.ABOVE else _labels(outline, yarn_inks, drawn)
    else:
        drawn, labels = _Drawing((), 1.0, 0.0), {}
    body = []
    for row, cells in enumerate(drawn.rows):
        label_bits = [PictureBit(f"  {labels[row]}", Style.NUMBER)] if row in labels else []
        body.append(line([*(cells if label_bits else _trimmed(cells)), *label_bits]))
    note_lines = _quiet((*notes, *outline.left_out), columns)
    return (
        _head(heading, columns),
        PictureLine(),
        *_or_nothing(body),
        PictureLine(),
        *_describe(outline, columns),
        *note_lines,
        *_yarns(yarn_inks),
    )


def object_text(
    assemblies: Sequence[AssembledObject],
    pattern: Pattern,
    heading: str,
    columns: int,
    rows: int,
    notes: tuple[str, ...] = (),
) -> tuple[PictureLine, ...]:
    """All that a pattern makes, in at most so many columns and rows, and what each thing is from left to right."""
    painted = [each for assembly in assemblies for each in assembly.slices]
    yarn_inks = inks(pattern, (shape.colour for each in painted for shape in each.shapes))
    body = [line(_trimmed(cells)) for cells in _drawing(painted, yarn_inks, columns, max(_LEAST_ROWS, rows)).rows]
    names = (
        f"from left to right: {', '.join(short(assembly.label, 40) for assembly in assemblies)}"
        if len(assemblies) > 1
        else ""
    )
    note_lines = _quiet((*filter(None, [names]), *notes), columns)
    return (
        _head(heading, columns),
        PictureLine(),
        *_or_nothing(body),
        PictureLine(),
        *note_lines,
        *_yarns(yarn_inks),
    )


def _head(heading: str, columns: int) -> PictureLine:
    return line([PictureBit(short(heading, columns), Style.HEADING)])


def _or_nothing(body: list[PictureLine]) -> list[PictureLine]:
    return body or [line([PictureBit("there is nothing to draw yet", Style.QUIET)])]


def _quiet(words: Iterable[str], columns: int) -> list[PictureLine]:
    return [line([PictureBit(part, Style.QUIET)]) for each in words for part in wrapped(each, columns)]


def _yarns(yarn_inks: Mapping[str, Ink]) -> list[PictureLine]:
    return [line([PictureBit(ink.letter, Style.LETTER, ink.key), f"  {ink.name}"]) for ink in yarn_inks.values()]


def _describe(outline: PieceOutline, columns: int) -> list[PictureLine]:
    if not outline.bands:
        return []
    made = sum(band.done for band in outline.bands)
    words = f"seen {outline.view.value}; {_where(outline)}"
    if made < len(outline.bands):
        each = "rows" if outline.view is Viewpoint.FRONT else "rounds"
        words += f"; {made} of {len(outline.bands)} {each} made, the dots are to come"
    return _quiet((words,), columns)


def _where(outline: PieceOutline) -> str:
    first = outline.bands[0].number
    return f"{first} is {outline.first_is}"


# What is painted, pixel by pixel: two to a cell, one above the other, since a cell is twice as high as wide.


@dataclass(frozen=True, slots=True)
class _Pixel:
    yarn: str
    light: float
    done: bool


@dataclass(frozen=True, slots=True)
class _Drawing:
    """Rows of cells; `top` is the height of the upper edge, `scale` the pixels to a stitch width."""

    rows: tuple[list[PictureBit | str], ...]
    scale: float
    top: float

    def row_of(self, level: float) -> int:
        """The row in which a height is."""
        return max(0, min(len(self.rows) - 1, int((self.top - level) * self.scale / CELL_HEIGHT)))


def _drawing(painted: Sequence[Slice], yarn_inks: Mapping[str, Ink], columns: int, rows: int) -> _Drawing:
    """What is painted, as large as so many columns and rows allow."""
    left, bottom, right, top = box_of(painted)
    scale = min(rows * CELL_HEIGHT / ((top - bottom) or 1.0), columns / ((right - left) or 1.0))
    # What is narrower than a cell stands in the middle of one.
    left, right = min(left, (left + right - 1 / scale) / 2), max(right, (left + right + 1 / scale) / 2)
    wide, high = max(1, round((right - left) * scale)), max(1, round((top - bottom) * scale / CELL_HEIGHT))
    pixels: list[list[_Pixel | None]] = [[None] * wide for _ in range(2 * high)]
    for each in painted:
        for shape in each.shapes:
            _fill(
                pixels, [Point((p.x - left) * scale, (top - p.y) * scale) for p in shape.points], shape.colour, each
            )
    cells = tuple(
        [_cell(upper, lower, yarn_inks) for upper, lower in zip(pixels[2 * row], pixels[2 * row + 1], strict=True)]
        for row in range(high)
    )
    return _Drawing(cells, scale, top)


def _fill(pixels: list[list[_Pixel | None]], corners: Sequence[Point], yarn: str, each: Slice) -> None:
    """Every pixel whose middle is in the area; light by the place from its left to its right end."""
    low, high = min(point.y for point in corners), max(point.y for point in corners)
    left, right = min(point.x for point in corners), max(point.x for point in corners)
    for row in range(max(0, floor(low)), min(len(pixels), ceil(high) + 1)):
        crossed = sorted(_crossings(corners, row + 0.5))
        for start, end in zip(crossed[::2], crossed[1::2], strict=False):
            for column in range(max(0, ceil(start - 0.5)), min(len(pixels[row]), floor(end - 0.5) + 1)):
                light = light_at(each.light, (column + 0.5 - left) / ((right - left) or 1.0))
                pixels[row][column] = _Pixel(yarn, light, each.done)


def _crossings(corners: Sequence[Point], y: float) -> list[float]:
    """Where the line at this height goes in and out of an area."""
    crossings = []
    for index, end in enumerate(corners):
        start = corners[index - 1]
        if (start.y <= y) != (end.y <= y):
            crossings.append(start.x + (end.x - start.x) * (y - start.y) / (end.y - start.y))
    return crossings


def _cell(upper: _Pixel | None, lower: _Pixel | None, yarn_inks: Mapping[str, Ink]) -> PictureBit | str:
    pixel = lower or upper
    if pixel is None:
        return " "
    halves = (_colour(upper, yarn_inks), _colour(lower, yarn_inks))
    if not pixel.done:
        return PictureBit(TO_COME, Style.AHEAD, pixel.yarn)
    ink = yarn_inks.get(pixel.yarn)
    return PictureBit(ink.letter if ink else NO_YARN, Style.DONE, pixel.yarn, halves)


def _colour(pixel: _Pixel | None, yarn_inks: Mapping[str, Ink]) -> str:
    """The colour of a pixel as it is lit; "" for one that is not made, or not there."""
    if pixel is None or not pixel.done:
        return ""
    ink = yarn_inks.get(pixel.yarn)
    colour = ink.colour if ink and ink.colour else NO_COLOUR
    return mixed(colour, "#000000" if pixel.light < 1 else "#ffffff", 1 - abs(1 - pixel.light))


def _trimmed(cells: Sequence[PictureBit | str]) -> Sequence[PictureBit | str]:
    last = max((index for index, cell in enumerate(cells) if cell != " "), default=-1)
    return cells[: last + 1]


def _labels(outline: PieceOutline, yarn_inks: Mapping[str, Ink], drawn: _Drawing) -> dict[int, str]:
    """Which rounds are of which yarn, beside the middle of each; not more than there are lines."""
    letters = {key: ink.letter for key, ink in yarn_inks.items()}
    labels: dict[int, str] = {}
    for group in groups(outline.bands):
        low, top = outline.bands[group.first].low.level, outline.bands[group.last].high.level
        words = short(label(group, outline.bands, letters), _LABELS - 2)
        labels.setdefault(drawn.row_of(seen_at((0.0, (low + top) / 2, 0.0)).y), words)
    return labels
