"""The round drawn as a ring that fills as the work goes.

It starts at the top and runs against the clock, as a right-handed maker sees it from the right side. Shape says what
colour cannot be trusted to say: what is done is thick, what is being worked now is thicker and reaches inwards, what
is ahead is a thin line; an increase is a tooth on the outside and a decrease a tooth on the inside.

Two pixels share a character, one above the other, which makes them square.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from functools import lru_cache
from math import atan2, hypot, pi

from tracker.lazy_dataclass import dataclass
from tracker.tui.render.round_shape import ShapeStretch, Sketch, Sort
from tracker.tui.render.styled_text import Bit, Line, Look, merged


@dataclass(frozen=True, slots=True)
class Progress:
    """Moves done, and the end of what the main key would do next."""

    done: int
    until: int


SMALLEST = 13
"""Lines below which a ring is a blot."""

_MARGIN = 1.0
"""Pixels that are free around the ring."""

_LOOKS = (Look.DONE, Look.NOW, Look.AHEAD)


def fits_inside(widths: Sequence[int], lines: int) -> bool:
    """Whether a block of lines of such widths has room in the middle of a ring of so many lines."""
    radius = lines - _MARGIN - 1.3 * _reach(lines)
    top = -len(widths)
    return all(
        hypot(width / 2, max(abs(top + 2 * row), abs(top + 2 * row + 2))) <= radius
        for row, width in enumerate(widths)
    )


def ring(
    a_sketch: Sketch, progress: Progress, lines: int, colours: Mapping[str, str], left_handed: bool = False
) -> list[Line]:
    """The ring as `lines` lines of twice as many columns. `colours` gives the yarns' colours by key."""
    yarn_colours = tuple(colours.items())
    return [row.painted(progress, yarn_colours) for row in _rows(a_sketch, lines, left_handed)]


@dataclass(frozen=True, slots=True)
class _Dot:
    """A pixel that is painted at some time: the move it stands for, and how it looks done, now and ahead; None where
    it is blank then."""

    move: float
    looks: tuple[Look | None, ...]
    colour: str

    def look(self, progress: Progress) -> Look | None:
        """How it looks now."""
        return self.looks[(self.move >= progress.done) + (self.move >= progress.until)]


class _Row:
    """One line of characters. Those are painted anew whose pixels the work has reached since the last time."""

    def __init__(self, pairs: list[tuple[_Dot | None, _Dot | None]]) -> None:
        self._pairs = pairs
        dots = ((dot.move, column) for column, pair in enumerate(pairs) for dot in pair if dot is not None)
        reached = sorted(dots)
        self._moves = [move for move, _ in reached]
        self._columns = [column for _, column in reached]
        self._bits: list[Bit] = []
        self._named: tuple[tuple[str, str], ...] | None = None
        self._reached = 0, 0
        self._line: Line = ()

    def painted(self, progress: Progress, yarn_colours: tuple[tuple[str, str], ...]) -> Line:
        reached = bisect_left(self._moves, progress.done), bisect_left(self._moves, progress.until)
        if self._named != yarn_colours:
            columns = set(range(len(self._pairs)))
            self._bits = [_BLANK] * len(columns)
        elif reached == self._reached:
            return self._line
        else:
            spans = (sorted(span) for span in zip(self._reached, reached, strict=True))
            columns = {column for first, last in spans for column in self._columns[first:last]}
        colours = dict(yarn_colours)
        for column in columns:
            self._bits[column] = _character(*self._pairs[column], progress, colours)
        self._named, self._reached, self._line = yarn_colours, reached, merged(self._bits)
        return self._line


@lru_cache(maxsize=8)
def _rows(a_sketch: Sketch, lines: int, left_handed: bool) -> tuple[_Row, ...]:
    rows = [
        [_dot(a_sketch, lines, *pixel) if pixel else None for pixel in row] for row in _pixels(lines, left_handed)
    ]
    return tuple(_Row(list(zip(*pair, strict=True))) for pair in zip(rows[::2], rows[1::2], strict=True))


@lru_cache(maxsize=4)
def _pixels(lines: int, left_handed: bool) -> tuple[tuple[tuple[float, float] | None, ...], ...]:
    """Row by row how deep each pixel lies in the ring, and at which share of it; None for one outside."""
    side = range(2 * lines)
    return tuple(tuple(_pixel(lines, x - lines + 0.5, lines - 0.5 - y, left_handed) for x in side) for y in side)


def _pixel(lines: int, across: float, up: float, left_handed: bool) -> tuple[float, float] | None:
    depth = lines - hypot(across, up)
    if not 0 <= depth <= 1.3 * _reach(lines):
        return None
    return depth, atan2(across if left_handed else -across, up) / (2 * pi) % 1.0


def _dot(a_sketch: Sketch, lines: int, depth: float, share: float) -> _Dot | None:
    stretch = a_sketch.at(share)
    if stretch is None:
        return None
    done, now, ahead = _bands(stretch.sort, _reach(lines))
    looks = (
        Look.DONE if done[0] <= depth <= done[1] else None,
        Look.NOW if now[0] <= depth <= now[1] else None,
        Look.AHEAD if ahead[0] <= depth <= ahead[1] else None,
    )
    return _Dot(share * a_sketch.moves, looks, stretch.colour) if any(looks) else None


def _reach(lines: int) -> float:
    """How deep the part being worked reaches inwards, in pixels."""
    return max(5.0, lines * 0.34)


@lru_cache(maxsize=32)
def _bands(sort: Sort, reach: float) -> tuple[tuple[float, float], ...]:
    """How far from the edge the band of each look begins and ends."""
    tooth = max(1.5, reach * 0.25)
    outer = _MARGIN + tooth
    inner = (reach * 0.78, reach, outer + 1.2)
    more, fewer = tooth * (sort is Sort.MORE), tooth * (sort is Sort.FEWER)
    return tuple((outer - more, end + fewer) for end in inner)


def _character(upper: _Dot | None, lower: _Dot | None, progress: Progress, colours: Mapping[str, str]) -> Bit:
    """Two pixels, one above the other; of two that look different the further one in the work gives way."""
    if upper is None and lower is None:
        return _BLANK
    above = upper.look(progress) if upper is not None else None
    below = lower.look(progress) if lower is not None else None
    if upper is not None and above is not None:
        if lower is not None and below is not None:
            look, dot = (above, upper) if _LOOKS.index(above) <= _LOOKS.index(below) else (below, lower)
            return _bit("█", look, colours.get(dot.colour, ""))
        return _bit("▀", above, colours.get(upper.colour, ""))
    if lower is not None and below is not None:
        return _bit("▄", below, colours.get(lower.colour, ""))
    return _BLANK


_BLANK = Bit(" ")

_bit = lru_cache(maxsize=64)(Bit)
"""The few that a ring is made of."""


# The round drawn as a bar of two lines, where a ring has no room and for rows that go to and fro.

WIDEST_CELL = 4
"""A move is never drawn wider than this many characters."""

LINES = 2
DONE, NOW, AHEAD = "█", "▒", "─"
MARKS = {Sort.MORE: "V", Sort.FEWER: "A", Sort.CHAIN: "o"}


def bar(
    a_sketch: Sketch, progress: Progress, width: int, colours: Mapping[str, str], backwards: bool = False
) -> list[Line]:
    """Both lines of the bar, at most `width` cells wide. A row that is worked `backwards` fills from the right."""
    if a_sketch.moves <= 0 or width <= 0:
        return [(), ()]
    length = min(width, a_sketch.moves * min(WIDEST_CELL, max(1, width // a_sketch.moves)))
    cells = [_cell(a_sketch, progress, index, length, colours) for index in range(length)]
    marks, fill = [mark for mark, _ in cells], [bit for _, bit in cells]
    if backwards:
        marks, fill = marks[::-1], fill[::-1]
    return [merged(marks), merged(fill)]


def _cell(
    a_sketch: Sketch, progress: Progress, index: int, length: int, colours: Mapping[str, str]
) -> tuple[Bit, Bit]:
    first = a_sketch.moves * index / length
    stretch = a_sketch.at((index + 0.5) / length)
    assert stretch is not None
    colour = colours.get(stretch.colour, "")
    return _mark(a_sketch, stretch, index, length, colour), _fill(first, progress, colour)


def _mark(a_sketch: Sketch, stretch: ShapeStretch, index: int, length: int, colour: str) -> Bit:
    """A stretch is marked in its first cell only."""
    before = a_sketch.at((index - 0.5) / length) if index else None
    if before is stretch:
        return Bit(" ")
    if stretch in a_sketch.changes:
        return Bit(stretch.colour[:1], Look.CUE, colour)
    mark = MARKS.get(stretch.sort)
    return Bit(mark, Look.STRONG) if mark else Bit(" ")


def _fill(move: float, progress: Progress, colour: str) -> Bit:
    if move < progress.done:
        return Bit(DONE, Look.DONE, colour)
    if move < progress.until:
        return Bit(NOW, Look.NOW, colour)
    return Bit(AHEAD, Look.AHEAD, colour)
