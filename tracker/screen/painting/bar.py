"""The round drawn as a bar of two lines, where a ring has no room and for rows that go to and fro.

The lower line fills as the work goes; the upper one marks increases (V), decreases (A) and, by the letter of the
yarn, where a colour begins.
"""

from __future__ import annotations

from tracker.screen.painting.lines import Bit, Line, Look, merged
from tracker.screen.painting.ring import Progress
from tracker.screen.painting.sketch import Sketch, Sort, Stretch

WIDEST_CELL = 4
"""A move is never drawn wider than this many characters."""

LINES = 2
DONE, NOW, AHEAD = "█", "▒", "─"
MARKS = {Sort.MORE: "V", Sort.FEWER: "A", Sort.CHAIN: "o"}


def bar(
    a_sketch: Sketch, progress: Progress, width: int, colours: dict[str, str], backwards: bool = False
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


def _cell(a_sketch: Sketch, progress: Progress, index: int, length: int, colours: dict[str, str]) -> tuple[Bit, Bit]:
    first = a_sketch.moves * index / length
    stretch = a_sketch.at((index + 0.5) / length)
    assert stretch is not None
    colour = colours.get(stretch.colour, "")
    return _mark(a_sketch, stretch, index, length, colour), _fill(first, progress, colour)


def _mark(a_sketch: Sketch, stretch: Stretch, index: int, length: int, colour: str) -> Bit:
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
