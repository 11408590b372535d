"""The words of a line: each with its sort and its columns, phrases of them as patterns, and a place in their row.

A pattern such as "IN? SIDE OF* CHAIN*" is a regular expression over the words of a line. A name in it is a kind of
word (`T`), a set of kinds (`BASES`), or a group of words that the grammar asks for by their spelling (`WORD_GROUPS`);
all other signs mean what they mean in `re`, and spaces mean nothing. `[IN OVER]` is one word of either kind, `..` any
word, `(?! NUMBER)` looks ahead, `$` is the end of the line. Each word is two characters, its kind and its spelling,
so that half of the length of a match is a number of words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cached_property
from typing import NamedTuple

from tracker.diagnostics import Lines, Problem, Severity, Span
from tracker.notation.ast import Item, Loop, Technique
from tracker.notation.context import Context
from tracker.notation.token_kinds import KIND_SETS, WORD_GROUPS, T


class Token(NamedTuple):
    """One word or sign. `glued` says that no space stands before it; `start` and `end` are offsets in the text."""

    kind: T
    value: object
    text: str
    start: int
    end: int
    glued: bool = False
    typed: str = ""
    """What was typed, where a slip of the keyboard was forgiven."""

    @property
    def number(self) -> int:
        assert isinstance(self.value, int)
        return self.value

    @property
    def name(self) -> str:
        assert isinstance(self.value, str)
        return self.value

    @property
    def loop(self) -> Loop:
        assert isinstance(self.value, Loop)
        return self.value

    @property
    def technique(self) -> Technique:
        assert isinstance(self.value, Technique)
        return self.value

    @property
    def posted(self) -> tuple[str, Loop]:
        """The stitch and the post of "fpdc"."""
        assert isinstance(self.value, tuple)
        stitch, loop = self.value
        return stitch, loop


# Phrases as patterns.

# Kinds and words are single characters, most of them below 256: to compile a set of others takes ten times as long.
# So that most are, the words of the largest groups come first. The first sign behind the blanks is 0xA1.

_KIND = {kind: chr(0xA1 + number) for number, kind in enumerate(T)}

_KINDS = {kind.name: sign for kind, sign in _KIND.items()} | {
    name: "".join(sign for kind, sign in _KIND.items() if kind in kinds) for name, kinds in KIND_SETS.items()
}
"""What stands in a `shape` for a kind of word, or for any of a set of kinds, by the names in patterns."""

_NO_WORD = "-"

_LARGEST_FIRST = sorted((words.split("|") for words in WORD_GROUPS.values()), key=len, reverse=True)

_WORD = {
    word: chr(0xA1 + number)
    for number, word in enumerate(dict.fromkeys(word for words in _LARGEST_FIRST for word in words))
}

_NAMES = re.compile(r"\[([A-Z_ ]+)\]|\b([A-Z][A-Z_]+)\b")


def shape(kinds: Iterable[T], texts: Iterable[str]) -> str:
    """The words of a line as patterns see them, from their kinds and their spellings."""
    return "".join([_KIND[kind] + _WORD.get(text, _NO_WORD) for kind, text in zip(kinds, texts, strict=True)])


def shape_of(words: Sequence[Token]) -> str:
    """The same of words."""
    return shape([word.kind for word in words], [word.text for word in words])


MANY = 50
"""How often what a phrase needs is looked for before it is compiled all the same."""


class PhrasePattern:
    """A pattern of words; `source` is how it is written.

    It is compiled when it is first asked for in words that have all that it needs, or after a while: to compile one
    takes as long as to look `MANY` times for those words, and most patterns of stitches have those of few phrases.
    """

    def __init__(self, source: str) -> None:
        self.source = source
        self._tries = 0
        self.match: Callable[[str, int], re.Match[str] | None] = self._match_first
        """What matches a line's `shape` from a place in it, two characters a word."""

    @cached_property
    def compiled(self) -> Callable[[str, int], re.Match[str] | None]:
        """What `match` is from when it is compiled."""
        return re.compile("".join(_NAMES.sub(_one_word, self.source).split())).match

    def length(self, line: str, first: int) -> int:
        """How many words of a line's `shape` the phrase that begins at word `first` has; 0 if none begins there."""
        match = self.match(line, 2 * first)
        return (match.end() - match.start()) // 2 if match else 0

    def first_in(self, words: Sequence[Token], first: int) -> int:
        """The number of the word, from `first` on, at which the phrase begins; of the end if it begins nowhere."""
        line = shape_of(words)
        return next((number for number in range(first, len(words)) if self.length(line, number)), len(words))

    def _match_first(self, line: str, at: int) -> re.Match[str] | None:
        kinds, spelt = line[at::2], line[at + 1 :: 2]
        self._tries += 1
        if self._tries <= MANY and not any(
            all(not one.isdisjoint(kinds) or not other.isdisjoint(spelt) for one, other in way)
            for way in self._needed
        ):
            return None
        self.match = self.compiled
        return self.match(line, at)

    @cached_property
    def _needed(self) -> list[list[tuple[frozenset[str], frozenset[str]]]]:
        """For each way of saying it, words without which it is not said: those in no group that have to be there."""
        ways, count = _GROUP.subn("", self.source)
        while count:
            ways, count = _GROUP.subn("", ways)
        named = [
            [word[1] or word[2] for word in _NAMES_OFTEN.finditer(way) if not word[3]] for way in ways.split("|")
        ]
        return [[(frozenset(kinds), frozenset(spelt)) for kinds, spelt in map(_signs, way)] for way in named]


_GROUP = re.compile(r"\([^()]*\)\s*[?*+]?")
"""A group with none inside it, or what is looked for ahead or behind."""

_NAMES_OFTEN = re.compile(rf"(?:{_NAMES.pattern})\s*([?*{{]?)")
"""The same with the sign that it may be left out."""


def _signs(names: str) -> tuple[str, str]:
    """What stands in a `shape` for the words of these names: for their kinds, and for their spellings."""
    named = names.split()
    kinds = "".join(_KINDS[name] for name in named if name not in WORD_GROUPS)
    return kinds, "".join(
        _WORD[word] for name in named if name in WORD_GROUPS for word in WORD_GROUPS[name].split("|")
    )


def _one_word(written: re.Match[str]) -> str:
    """A word of any of the kinds and spellings that are named here; a group of its own only where it needs one, as
    groups take most of the time of compiling."""
    kinds, spelt = _signs(written[1] or written[2])
    ways = [*([f"[{kinds}]."] if kinds else []), *([f".[{spelt}]"] if spelt else [])]
    is_repeated = written.string[written.end() :].lstrip()[:1] in ("?", "*", "+", "{")
    return f"(?:{'|'.join(ways)})" if is_repeated or len(ways) > 1 else ways[0]


class TotalInside(NamedTuple):
    """The `words` of a bracket that says how many stitches there are before the end of what is made, the number of
    the word `behind` it, how many `items` stand before it in its own group, and how many stitches those `made` (None
    where the words alone do not tell)."""

    words: tuple[Token, ...]
    behind: int
    items: int
    made: int | None
    is_in_group: bool


# A place in the row of words, with what the grammar has to remember on the way.

MAX_WHOLE_REPEATS = 4
"""How often a line may repeat all that it has said so far; each time can be read in two ways."""

MAX_NESTING = 8
"""Brackets inside brackets; nobody writes more than three."""

MAX_COUNT = 10**10
"""A count or number of repeats beyond this is a slip of the keyboard."""


class NotUnderstood(Exception):
    """Reading this line cannot go on; carries the problem. Never leaves the notation package."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


Closes = Callable[["Cursor"], bool]
"""Whether the row of items that is being read ends here."""

RowReader = Callable[["Cursor", int, Closes | None], list[Item]]
"""Reads items up to a word, or to where they are closed before it."""


class Cursor:
    """Reads tokens one after the other. `loop` is the loop in force, `worked_into` an earlier round that is named,
    `passing` is "behind" or "in front of" if all of the line is worked there, `chains_count` whether the line says of
    all its chains that they count as a stitch, `on_parts` whether some of
    it went along row ends or another part already, `along_part` whether it began on another one just now.

    `depth` counts the groups that are open, `open_marks` those of them that began with a star since the last bracket.
    `row` reads what stands in a bracket or behind a star, which may hold brackets and stars again.
    """

    def __init__(self, tokens: list[Token], lines: Lines, context: Context, row: RowReader) -> None:
        self.tokens = tokens
        self.context = context
        self.place = 0
        self.depth = 0
        self.whole_repeats = 0
        self.loop = Loop.BOTH
        self.open_marks = 0
        self.remarks: list[str] = []
        self.notes: list[Problem] = []
        self.worked_into: int | None = None
        self.passing = ""
        self.chains_count: bool | None = None
        self.rounds: int | None = None
        """How many rounds the line says it is for, "sc around for 5 rounds"."""
        self.on_parts = False
        self.along_part = False
        self.total_end = 0
        """Where the stated total ends that was taken out of the words; 0 where none was."""
        self.totals_inside: list[TotalInside] = []
        self.is_row = False
        """Whether the heading says that it is worked back and forth."""
        self.lines = lines
        self._row = row
        self._kinds = [token.kind for token in tokens]
        self._end = len(tokens)
        self._shape = shape(self._kinds, [token.text for token in tokens])

    @property
    def is_worked_back(self) -> bool:
        """Whether the heading or a turn before here says that this is a row."""
        return self.is_row or T.TURN in self._kinds[: self.place]

    def items(self, until: int, closes: Closes | None = None) -> list[Item]:
        """The row of items from here up to word number `until`, or to where `closes` ends it."""
        return self._row(self, until, closes)

    @contextmanager
    def nested(self, groups: str, open_marks: int) -> Iterator[None]:
        """Inside one more group; refuses too many inside each other."""
        if self.depth >= MAX_NESTING:
            raise self.fail("too-deep", f"{groups} stand more than {MAX_NESTING} deep", help="split the round up")
        outside, self.open_marks = self.open_marks, open_marks
        self.depth += 1
        yield
        self.depth -= 1
        self.open_marks = outside

    def repeat_all(self) -> None:
        """One more repeat of all that the line has said so far; refuses too many of them."""
        self.whole_repeats += 1
        if self.whole_repeats > MAX_WHOLE_REPEATS:
            message = f"this repeats what repeats already, more than {MAX_WHOLE_REPEATS} times"
            raise self.fail("too-deep", message, help="put what is repeated in brackets")

    def peek(self, ahead: int = 0) -> T | None:
        """The sort of the word `ahead` words on; None past the end."""
        index = self.place + ahead
        return self._kinds[index] if 0 <= index < self._end else None

    def token(self, ahead: int = 0) -> Token:
        return self.tokens[self.place + ahead]

    def at(self, *kinds: T) -> bool:
        return self.place < self._end and self._kinds[self.place] in kinds

    def begins(self, phrase: PhrasePattern, at: int | None = None) -> bool:
        """Whether the phrase begins here, or at word number `at`, even if it only looks ahead from there."""
        return phrase.match(self._shape, 2 * (self.place if at is None else at)) is not None

    def first_of(self, phrase: PhrasePattern, first: int, last: int) -> int:
        """The number of the word, from `first` on, at which the phrase begins; `last` if it begins at none before."""
        return next((number for number in range(first, last) if self.begins(phrase, number)), last)

    def length(self, phrase: PhrasePattern) -> int:
        """How many words the phrase has that begins here; 0 if none does."""
        return phrase.length(self._shape, self.place)

    def take_phrase(self, phrase: PhrasePattern) -> list[Token]:
        """The words of the phrase that begins here, taken; none if none does."""
        first = self.place
        self.place += phrase.length(self._shape, first)
        return self.tokens[first : self.place]

    def take(self) -> Token:
        token = self.tokens[self.place]
        self.place += 1
        return token

    def accept(self, *kinds: T) -> Token | None:
        """The next word, taken, if it is of one of these sorts."""
        return self.take() if self.place < self._end and self._kinds[self.place] in kinds else None

    def skip(self, *kinds: T) -> None:
        while self.place < self._end and self._kinds[self.place] in kinds:
            self.place += 1

    @property
    def finished(self) -> bool:
        return self.place >= len(self.tokens)

    def end_of(self, stops: frozenset[T]) -> int:
        """The number of the first word from here on that is of one of these sorts."""
        end = self.place
        while end < len(self._kinds) and self._kinds[end] not in stops:
            end += 1
        return end

    def words(self, first: int, last: int | None = None) -> str:
        """The words from number `first` up to but not including number `last` (default: here), as they were read,
        with what denies them: "don't stuff"."""
        if 0 < first <= len(self.tokens) and self.tokens[first - 1].kind is T.NOT:
            first -= 1
        return " ".join(token.text for token in self.tokens[first : self.place if last is None else last])

    def take_remark(self, end: int) -> None:
        """The words from here up to number `end` are for the maker: kept as a remark."""
        self.remarks.append(self.words(self.place, end))
        self.place = end

    def takes_remark(self, phrase: PhrasePattern) -> bool:
        """Whether the phrase begins here; it is taken, and kept as a remark."""
        length = self.length(phrase)
        if length:
            self.take_remark(self.place + length)
        return length > 0

    def inside(self, opening: int) -> list[Token]:
        """What stands in the bracket that opens at word `opening`."""
        return self.tokens[opening + 1 : self.closing(opening)]

    def span(self, first: int, last: int | None = None) -> Span:
        """The columns of the words from number `first` up to but not including number `last` (default: here)."""
        last = self.place if last is None else last
        if not self.tokens:
            return Span(0, 0, 1)
        first = min(first, len(self.tokens) - 1)
        end = self.tokens[max(min(last, len(self.tokens)) - 1, first)]
        return self.lines.span(self.tokens[first].start, end.end)

    def next_word_span(self) -> Span:
        return self.span(self.place, self.place + 1)

    def fail(self, code: str, message: str, span: Span | None = None, help: str = "") -> NotUnderstood:
        return NotUnderstood(Problem(Severity.ERROR, code, message, span or self.next_word_span(), help))

    def number(self) -> int:
        """The next word as a number within the limit."""
        token = self.take()
        if token.number > MAX_COUNT:
            raise self.fail(
                "too-many",
                f"{token.text} is more than a round can hold",
                self.span(self.place - 1),
                "the limit is 10,000,000,000 stitches a round",
            )
        return token.number

    def closing(self, opening: int) -> int:
        """The number of the word that closes the bracket at word `opening`; refuses open and crossed brackets."""
        awaited: list[str] = []
        for index in range(opening, len(self.tokens)):
            token = self.tokens[index]
            if token.kind is T.OPEN:
                awaited.append(token.name)
            elif token.kind is T.CLOSE:
                if token.value != awaited[-1]:
                    raise self._crossed(index, awaited[-1])
                awaited.pop()
                if not awaited:
                    return index
        raise self.fail(
            "open-bracket",
            f"bracket '{self.tokens[opening].text}' is not closed",
            self.span(opening, opening + 1),
            f"add '{self.tokens[opening].value}' after the stitches it should hold",
        )

    def _crossed(self, index: int, awaited: str) -> NotUnderstood:
        return self.fail(
            "crossed-brackets",
            f"'{self.tokens[index].text}' closes a bracket that was opened with another sign",
            self.span(index, index + 1),
            f"write '{awaited}' here, or open with the matching sign",
        )


def open_brackets(words: list[Token]) -> int:
    """How many brackets are open behind these words; negative where they close some that opened before."""
    return sum((word.kind is T.OPEN) - (word.kind is T.CLOSE) for word in words)


def opening_of(body: list[Token], close: int) -> int | None:
    """Where the bracket opens that closes at word `close`; None if none closes there."""
    if close < 0 or body[close].kind is not T.CLOSE:
        return None
    depth = 0
    for index in range(close, -1, -1):
        if body[index].kind is T.CLOSE:
            depth += 1
        elif body[index].kind is T.OPEN:
            depth -= 1
            if depth == 0:
                return index if body[index].value == body[close].value else None
    return None
