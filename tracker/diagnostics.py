"""What can be wrong with a line of pattern text, and where.

Reading never raises on what a person typed: it returns what was understood and a list of problems.
Lines and columns are counted from 0 inside the program and from 1 where they are shown.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum
from typing import NamedTuple

from tracker.lazy_dataclass import dataclass


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

LONGEST = 300
"""Characters of a message that are shown: it may quote a word without end."""


class Severity(Enum):
    """How much a problem matters; `NOTE` tells how something was read and is no finding."""

    NOTE = "note"
    WARNING = "warning"
    DISAGREES = "disagrees"
    ERROR = "error"

    @property
    def rank(self) -> int:
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing the maker should hear about.

    `code` is a stable name for programs; `message` is a sentence without a full stop, `help` says what to do.
    """

    severity: Severity
    code: str
    message: str
    span: Span = NOWHERE
    help: str = ""

    def moved(self, lines: int, columns: int) -> Problem:
        """The same problem inside a larger text."""
        return replace(self, span=self.span.moved(lines, columns))


def error(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.ERROR, code, message, span, help)


def warning(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.WARNING, code, message, span, help)


def disagreement(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.DISAGREES, code, message, span, help)


def note(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.NOTE, code, message, span, help)


def verdict_of(problems: tuple[Problem, ...]) -> str:
    """The worst of the problems as a word; notes are no finding."""
    worst = max((p.severity for p in problems), key=lambda severity: severity.rank, default=Severity.NOTE)
    return "ok" if worst is Severity.NOTE else worst.value


def show(problem: Problem, lines: list[str], name: str = "", width: int = 100) -> str:
    """The problem as a person reads it: place, message, the line as typed, a caret, what to do.

    A long line is shown as a window of `width` columns around the words in question.
    """
    where = f"{_printable(name)}:" if name else ""
    told = problem.message if len(problem.message) <= LONGEST else problem.message[: LONGEST - 1] + "…"
    place = f"{problem.span.line + 1}:{problem.span.start + 1}: " if lines else " "
    head = f"{where}{place}{problem.severity.value}: {told}".lstrip()
    parts = [head]
    if 0 <= problem.span.line < len(lines):
        text = lines[problem.span.line].replace("\t", " ")
        start = min(problem.span.start, len(text))
        end = max(start + 1, min(problem.span.end, len(text)))
        left = max(0, start - width // 3) if len(text) > width else 0
        window = text[left : left + width]
        parts.append(f"    {window}")
        parts.append("    " + " " * (start - left) + "^" * max(1, min(end - start, width - (start - left))))
    if problem.help:
        parts.append(f"  help: {problem.help}")
    return "\n".join(parts)


def _printable(name: str) -> str:
    """A file can be called anything; a terminal would obey some of it."""
    return "".join(character if character.isprintable() else "?" for character in name)
