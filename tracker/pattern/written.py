"""A line as it stands on the page: its phrases, brackets and numbers, each with its place in the text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from tracker.notation.fold import fold
from tracker.notation.lexicon import T
from tracker.notation.line import Line
from tracker.notation.problems import Span
from tracker.notation.scanner import Token, scan
from tracker.notation.tree import Act, Choice, Colour, Exactly, Group, Item, Role, Some, Times


@dataclass(frozen=True, slots=True)
class Phrase:
    """The words of one act and its count: "sc in next 3 sts".

    `times` is None where the bases tell how often; `to_end` then says that none are left after it. `start` and
    `end` are offsets in the text of the line.
    """

    start: int
    end: int
    act: Act
    times: int | None
    to_end: bool = False

    @property
    def shapes(self) -> bool:
        """Whether it is a stitch or a skip, and not a step or a chain."""
        return self.act.role in (Role.WORK, Role.SKIP)


@dataclass(frozen=True, slots=True)
class Bracket:
    """A group with its number of times; `inner` are the phrases and brackets in it, in order."""

    start: int
    end: int
    inner: tuple[Part, ...]
    times: int | None
    to_end: bool = False

    @property
    def shapes(self) -> bool:
        return any(part.shapes for part in self.inner)


Part = Phrase | Bracket


@dataclass(frozen=True, slots=True)
class Written:
    """A line taken apart. `numbers` are its number words outside heading and total, `totals` those of the total."""

    text: str
    parts: tuple[Part, ...]
    numbers: tuple[Token, ...]
    totals: tuple[Token, ...]
    instructions: int
    """Where the instructions start, behind the heading and the colour that may stand with it."""

    def phrases(self) -> Iterator[Phrase]:
        return _phrases(self.parts)

    def brackets(self) -> Iterator[Bracket]:
        return _brackets(self.parts)

    def said(self, part: Phrase) -> str:
        return self.text[part.start : part.end]


def _phrases(parts: Iterable[Part]) -> Iterator[Phrase]:
    for part in parts:
        if isinstance(part, Phrase):
            yield part
        else:
            yield from _phrases(part.inner)


def _brackets(parts: Iterable[Part]) -> Iterator[Bracket]:
    for part in parts:
        if isinstance(part, Bracket):
            yield part
            yield from _brackets(part.inner)


@lru_cache(maxsize=512)
def written(line: Line, terms: str) -> Written:
    """Take a line apart, by its likeliest reading."""
    starts = _row_starts(line.text)
    parts = tuple(_merged(_parts(line.body, starts)))
    tokens = _tokens(line, terms)
    spans = [_bounds(starts, stated.span) for stated in line.stated]
    totals = tuple(t for t in tokens if any(start <= t.start < end for start, end in spans))
    numbers = tuple(t for t in tokens if t not in totals)
    return Written(line.text, parts, numbers, totals, _instructions_start(line, starts))


def _tokens(line: Line, terms: str) -> list[Token]:
    """The number words behind the heading that count something: not the 3 of "ch-3 sp", nor the 2 of "sc2tog"."""
    start = line.heading.end
    tokens = scan(" " * start + fold(line.text)[start:], terms)
    found: list[Token] = []
    for index, token in enumerate(tokens):
        before = tokens[index - 1].kind if index else None
        after = tokens[index + 1].kind if index + 1 < len(tokens) else None
        fixed = before is T.CHAIN or after in (T.TOG, T.CHAIN)
        if token.kind is T.OFTEN or (token.kind is T.NUMBER and (not fixed or _is_foundation(line, found))):
            found.append(token)
    return found


def _is_foundation(line: Line, found: list[Token]) -> bool:
    """The first number of a line that begins on a chain is the length of that chain."""
    return line.foundation is not None and not found


def _parts(items: tuple[Item, ...], starts: list[int]) -> Iterator[Part]:
    for item in items:
        if isinstance(item, Choice):
            yield from _parts(item.options[0].body, starts)
        elif isinstance(item, Group):
            inner = tuple(_merged(_parts(item.body, starts)))
            start, end = _bounds(starts, item.span)
            if inner:
                yield Bracket(min(start, inner[0].start), max(end, inner[-1].end), inner, *_often(item.times))
        elif isinstance(item, Some) and item.act.span.end:
            start, end = _bounds(starts, item.act.span)
            yield Phrase(start, end, item.act, *_often(item.times))


def _often(times: Times) -> tuple[int | None, bool]:
    if isinstance(times, Exactly):
        return times.count, False
    return None, times.leaving == 0


def _merged(parts: Iterable[Part]) -> Iterator[Part]:
    """Acts that were read from the same words are one phrase: "sc in 2nd ch and in next 5 ch"."""
    last: Part | None = None
    for part in parts:
        same = isinstance(part, Phrase) and isinstance(last, Phrase) and part.start == last.start
        if same and isinstance(part, Phrase) and isinstance(last, Phrase):
            both = part.times is not None and last.times is not None
            last = replace(last, times=(last.times or 0) + (part.times or 0) if both else None)
            continue
        if last is not None:
            yield last
        last = part
    if last is not None:
        yield last


def _instructions_start(line: Line, starts: list[int]) -> int:
    """Behind the heading, and behind a colour named there: "Rnd 5 (A):", "Rnd 5: with A,"."""
    first = line.body[0] if line.body else None
    if not isinstance(first, Colour) or not first.span.end:
        return line.heading.end
    end = _bounds(starts, first.span)[1]
    text = line.text
    while end < len(text) and text[end] in ") ]:,-":
        end += 1
    return end


def _row_starts(text: str) -> list[int]:
    starts = [0]
    for row in text.split("\n"):
        starts.append(starts[-1] + len(row) + 1)
    return starts


def _bounds(starts: list[int], span: Span) -> tuple[int, int]:
    return starts[span.line] + span.start, starts[span.line] + span.end
