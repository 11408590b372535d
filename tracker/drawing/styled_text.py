"""Lines of text with styled spans: what a terminal drawing is, before anybody knows of colours or markup."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum


class Style(Enum):
    """What a stretch of a line is; whoever paints it decides how that looks."""

    HEADING = "heading"
    SYMBOL = "symbol"
    NUMBER = "number"
    LETTER = "letter"
    QUIET = "quiet"
    DONE = "done"
    AHEAD = "ahead"


@dataclass(frozen=True, slots=True)
class Span:
    """Characters `start` to `end` (excluded) of a line. `colour` is a yarn key, "" for none.

    `halves` are the colours ("#rrggbb", "" for none) of the upper and the lower half of each of these cells; who
    can paint them shows them instead of the characters, which are there for all others.
    """

    start: int
    end: int
    style: Style
    colour: str = ""
    halves: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of plain text. Spans are in order and do not overlap."""

    text: str
    spans: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True)
class Bit:
    """A piece of a line to come."""

    text: str
    style: Style
    colour: str = ""
    halves: tuple[str, str] = ("", "")


def line(bits: Iterable[Bit | str]) -> Line:
    """Bits and plain words, one after the other; neighbours of one style become one span."""
    text = ""
    spans: list[Span] = []
    for bit in bits:
        if isinstance(bit, str):
            text += bit
            continue
        start, text = len(text), text + bit.text
        last = spans[-1] if spans else None
        alike = last and (last.style, last.colour, last.halves) == (bit.style, bit.colour, bit.halves)
        if last and alike and last.end == start:
            spans[-1] = replace(last, end=len(text))
        elif bit.text:
            spans.append(Span(start, len(text), bit.style, bit.colour, bit.halves))
    return Line(text, tuple(spans))


def bits(a_line: Line) -> list[Bit | str]:
    """A line taken apart again, to be put into a longer one."""
    found: list[Bit | str] = []
    done = 0
    for span in a_line.spans:
        text = a_line.text[span.start : span.end]
        found += [a_line.text[done : span.start], Bit(text, span.style, span.colour, span.halves)]
        done = span.end
    return [*found, a_line.text[done:]]


class Grid:
    """A rectangle of cells to draw in; what lies outside is refused, not wrapped."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns = columns
        self.rows = rows
        self._cells: dict[tuple[int, int], Bit] = {}

    def free(self, x: int, y: int, width: int = 1) -> bool:
        """Whether so many cells from here are inside and empty."""
        inside = 0 <= y < self.rows and x >= 0 and x + width <= self.columns
        return inside and not any((x + step, y) in self._cells for step in range(width))

    def put(self, x: int, y: int, bit: Bit) -> bool:
        """Write where there is room; says whether there was."""
        if not self.free(x, y, len(bit.text)):
            return False
        for step, character in enumerate(bit.text):
            self._cells[x + step, y] = replace(bit, text=character)
        return True

    def lines(self) -> tuple[Line, ...]:
        """The rows from the first to the last that is drawn on, without blanks at their ends."""
        drawn = {row for _, row in self._cells}
        return tuple(self._line(y) for y in range(min(drawn, default=0), max(drawn, default=-1) + 1))

    def _line(self, y: int) -> Line:
        last = max((x for x, row in self._cells if row == y), default=-1)
        return line(self._cells.get((x, y), " ") for x in range(last + 1))


def wrapped(words: str, columns: int) -> list[str]:
    """Words in lines of at most `columns` characters; a longer word is cut."""
    found = [""]
    for word in words.split():
        word = word[:columns]
        if found[-1] and len(found[-1]) + 1 + len(word) > columns:
            found.append("")
        found[-1] = f"{found[-1]} {word}" if found[-1] else word
    return found


CELL_HEIGHT = 2.0
"""How many times higher than wide a cell is: common practice, no source; most terminal fonts are close to it."""


def half_block(halves: tuple[str, str]) -> tuple[str, str, str]:
    """How to paint a cell of two colours: its character, its ink and its ground ("" for none)."""
    upper, lower = halves
    if not upper:
        return "▄", lower, ""
    return "▀", upper, lower
