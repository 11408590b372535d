"""A line as it stands on the page: its phrases, brackets and numbers, each with its place in the text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from tracker.diagnostics import Span
from tracker.identity_cache import ByIdentity
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import fold
from tracker.notation.ast import Choice, Exactly, Group, Instruction, Item, Line, Role, Some, Times
from tracker.notation.lexer import scan_behind
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token


@dataclass(frozen=True, slots=True)
class Phrase:
    """The words of one act and its count: "sc in next 3 sts".

    `times` is None where the bases tell how often, and `leaving` is how many of them are to be left then ("to last
    2 sts"). `start` and `end` are offsets in the text of the line.
    """

    start: int
    end: int
    act: Instruction
    times: int | None
    leaving: int = 0

    @property
    def shapes(self) -> bool:
        """Whether it is a stitch or a skip, and not a step or a chain."""
        return self.act.role in (Role.WORK, Role.SKIP)

    @property
    def takes(self) -> int | None:
        """The bases that it uses; None where that depends on how many there are."""
        return None if self.times is None else self.times * self.act.takes


@dataclass(frozen=True, slots=True)
class Bracket:
    """A group with its number of times; `inner` are the phrases and brackets in it, in order."""

    start: int
    end: int
    inner: tuple[Part, ...]
    times: int | None
    leaving: int
    span: Span

    @property
    def shapes(self) -> bool:
        return any(part.shapes for part in self.inner)

    @property
    def takes(self) -> int | None:
        return None if self.times is None else _sum_of_takes(self.inner, self.times)


Part = Phrase | Bracket


def _sum_of_takes(parts: tuple[Part, ...], times: int = 1) -> int | None:
    takes = [part.takes for part in parts]
    return None if None in takes else times * sum(number or 0 for number in takes)


@dataclass(frozen=True, slots=True)
class Written:
    """A line taken apart. `numbers` are its number words outside heading and total, `totals` those of the total."""

    text: str
    parts: tuple[Part, ...]
    numbers: tuple[Token, ...]
    totals: tuple[Token, ...]
    instructions: int
    """Where the instructions start, behind the heading and what stands with it: "(A):", "(6 rounds):", "with A,"."""

    def phrases(self) -> Iterator[Phrase]:
        return _phrases(self.parts)

    def brackets(self) -> Iterator[Bracket]:
        return _brackets(self.parts)

    def words_of(self, part: Phrase) -> str:
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


def keeps_its_word(line: Line) -> bool:
    """Whether as many bases are left as a line says: two after "sc to last 2 sts"."""
    parts = _parts_of(line)
    for index, part in enumerate(parts):
        if part.times is None and part.leaving:
            after = _sum_of_takes(parts[index + 1 :])
            if after is not None and after != part.leaving:
                return False
    return True


def _parts_of(line: Line) -> tuple[Part, ...]:
    return tuple(_merged(_parts(line.body, _row_starts(line.text))))


def written(line: Line, terms: str) -> Written:
    """Take a line apart, by its likeliest reading."""
    return _written(ByIdentity(line), terms)  # to compare two lines word by word would take longer


@lru_cache(maxsize=512)
def _written(key: ByIdentity[Line], terms: str) -> Written:
    line = key.part
    starts = _row_starts(line.text)
    parts = _parts_of(line)
    begin = _instructions_start(line)
    tokens = [t for t in scan_behind(fold(line.text), begin, terms) if t.start >= begin]
    spans = [_bounds(starts, stated.span) for stated in line.stated]
    first_total = min((start for start, _ in spans), default=len(line.text))
    inside = [token for token in tokens if token.start < first_total]
    totals = [t for t in tokens if any(start <= t.start < end for start, end in spans)]
    numbers = _numbers(inside, begins_on_chain=line.foundation is not None)
    return Written(line.text, parts, tuple(numbers), tuple(_numbers_of_total(totals)), begin)


def _numbers(tokens: list[Token], *, begins_on_chain: bool) -> list[Token]:
    """The number words that can be wrong: not the 2 of "ch 2" or "sc2tog", but that of "ch-2 sp"."""
    numbers: list[Token] = []
    for index, token in enumerate(tokens):
        before = tokens[index - 1].kind if index else None
        after = [token.kind for token in tokens[index + 1 : index + 3]]
        fixed = before is T.CHAIN or after[:1] in ([T.TOG], [T.CHAIN])
        is_foundation = begins_on_chain and not numbers
        if token.kind is T.OFTEN or (token.kind is T.NUMBER and (not fixed or is_foundation or T.SPACE in after)):
            numbers.append(token)
    return numbers


def _numbers_of_total(tokens: list[Token]) -> Iterator[Token]:
    """The counts of a total: the 12, but not the 2 of "12 ch-2 sps"."""
    for index, token in enumerate(tokens):
        if token.kind is T.NUMBER and (index == 0 or tokens[index - 1].kind is not T.CHAIN):
            yield token


def _parts(items: tuple[Item, ...], starts: list[int]) -> Iterator[Part]:
    for item in items:
        if isinstance(item, Choice):
            yield from _parts(item.options[0].body, starts)
        elif isinstance(item, Group):
            inner = tuple(_merged(_parts(item.body, starts)))
            start, end = _bounds(starts, item.span)
            if inner:
                start, end = min(start, inner[0].start), max(end, inner[-1].end)
                yield Bracket(start, end, inner, *_often(item.times), item.span)
        elif isinstance(item, Some) and item.act.span.end:
            start, end = _bounds(starts, item.act.span)
            yield Phrase(start, end, item.act, *_often(item.times))


def _often(times: Times) -> tuple[int | None, int]:
    return (times.count, 0) if isinstance(times, Exactly) else (None, times.leaving)


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


_BESIDE_HEADING = re.compile(r"\s*(?:(?:\([^()]*\)\s*|\[[^\][]*\]\s*)+:|with [\w ]{1,24}[,:])\s*")


def _instructions_start(line: Line) -> int:
    start, text = line.heading.end, fold(line.text)
    while match := _BESIDE_HEADING.match(text, start):
        start = match.end()
    return start


def _row_starts(text: str) -> list[int]:
    starts = [0]
    for row in text.split("\n"):
        starts.append(starts[-1] + len(row) + 1)
    return starts


def _bounds(starts: list[int], span: Span) -> tuple[int, int]:
    return starts[span.line] + span.start, starts[span.line] + span.end
