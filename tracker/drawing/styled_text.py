"""Lines of text with styled spans: what a terminal drawing is, before anybody knows of colours or markup."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

from tracker.lazy_dataclass import dataclass, replace


class Style(Enum):
    """What a piece of a line is; whoever paints it decides how that looks."""

    PLAIN = "plain"
    HEADING = "heading"
    SYMBOL = "symbol"
    NUMBER = "number"
    LETTER = "letter"
    QUIET = "quiet"
    DONE = "done"
    AHEAD = "ahead"


@dataclass(frozen=True, slots=True)
class PictureBit:
    """Some text of one style. `colour` is a yarn key, "" for none.

    `halves` are the colours ("#rrggbb", "" for none) of the upper and the lower half of each of its cells; who can
    paint them shows them instead of the characters, which are there for all others.
    """

    text: str
    style: Style = Style.PLAIN
    colour: str = ""
    halves: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class PictureLine:
    """One line of a picture; neighbouring bits differ in more than their text."""

    bits: tuple[PictureBit, ...] = ()

    @property
    def text(self) -> str:
        return "".join(bit.text for bit in self.bits)


def line(parts: Iterable[PictureBit | str]) -> PictureLine:
    """Bits and plain words, one after the other; neighbours that are alike become one bit."""
    bits: list[PictureBit] = []
    for part in parts:
        bit = PictureBit(part) if isinstance(part, str) else part
        last = bits[-1] if bits else None
        if last and (last.style, last.colour, last.halves) == (bit.style, bit.colour, bit.halves):
            bits[-1] = replace(last, text=last.text + bit.text)
        elif bit.text:
            bits.append(bit)
    return PictureLine(tuple(bits))


class Grid:
    """A rectangle of cells to draw in; what lies outside is refused, not wrapped."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns = columns
        self.rows = rows
        self._cells: dict[tuple[int, int], PictureBit] = {}

    def free(self, x: int, y: int, width: int = 1) -> bool:
        """Whether so many cells from here are inside and empty."""
        inside = 0 <= y < self.rows and x >= 0 and x + width <= self.columns
        return inside and not any((x + step, y) in self._cells for step in range(width))

    def put(self, x: int, y: int, bit: PictureBit) -> bool:
        """Write where there is room; says whether there was."""
        if not self.free(x, y, len(bit.text)):
            return False
        for step, character in enumerate(bit.text):
            self._cells[x + step, y] = replace(bit, text=character)
        return True

    def lines(self) -> tuple[PictureLine, ...]:
        """The rows from the first to the last that is drawn on, without blanks at their ends."""
        drawn = {row for _, row in self._cells}
        return tuple(self._line(y) for y in range(min(drawn, default=0), max(drawn, default=-1) + 1))

    def _line(self, y: int) -> PictureLine:
        last = max((x for x, row in self._cells if row == y), default=-1)
        return line(self._cells.get((x, y), " ") for x in range(last + 1))


def wrapped(words: str, columns: int) -> list[str]:
    """Words in lines of at most `columns` characters; a longer word is cut."""
    lines = [""]
    for word in words.split():
        word = word[:columns]
        if lines[-1] and len(lines[-1]) + 1 + len(word) > columns:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return lines


CELL_HEIGHT = 2.0
"""How many times higher than wide a cell is: common practice, no source; most terminal fonts are close to it."""


def half_block(halves: tuple[str, str]) -> tuple[str, str, str]:
    """How to paint a cell of two colours: its character, its ink and its ground ("" for none)."""
    upper, lower = halves
    if not upper:
        return "▄", lower, ""
    return "▀", upper, lower
