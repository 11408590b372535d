"""Where something stands in a text: lines and columns, counted from 0 inside the program and from 1 where shown."""

from __future__ import annotations

import re
from typing import NamedTuple


class Span(NamedTuple):
    """A stretch of one source line, `end` excluded."""

    line: int
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """The stretch from here to the end of `other`; on one line only."""
        if other.line != self.line:
            return self
        return Span(self.line, min(self.start, other.start), max(self.end, other.end))

    def moved(self, lines: int, columns: int) -> Span:
        """The same stretch inside a larger text."""
        return Span(self.line + lines, self.start + columns, self.end + columns)


NOWHERE = Span(0, 0, 0)


class Lines:
    """Turns offsets in a text of one or more lines into line and column."""

    def __init__(self, text: str) -> None:
        self._starts = [0]
        for match in re.finditer("\n", text):
            self._starts.append(match.end())

    def span(self, start: int, end: int) -> Span:
        line = 0
        while line + 1 < len(self._starts) and self._starts[line + 1] <= start:
            line += 1
        base = self._starts[line]
        return Span(line, start - base, max(start + 1, end) - base)
