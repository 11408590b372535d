"""A place in a row of words, with what the grammar has to remember on the way."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.notation.lexicon import T
from tracker.notation.problems import Problem, Severity, Span
from tracker.notation.scanner import Lines, Token
from tracker.notation.tree import Loop

MAX_NESTING = 12
"""Brackets inside brackets; nobody writes more than three."""

MAX_COUNT = 10**10
"""A count or number of repeats beyond this is a slip of the keyboard."""


class NotUnderstood(Exception):
    """Reading this line cannot go on; carries the problem. Never leaves the notation package."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Context:
    """What the rest of the pattern says about its words.

    `chain_counts`: whether turning chains count as a stitch throughout (None: not said).
    `bunches`: named groups that the pattern defines, to what they make. `colours`: its yarn keys, in lower case.
    `size`: which of several sizes in brackets is made, from 0.
    """

    terms: str = "US"
    chain_counts: bool | None = None
    bunches: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()
    colours: frozenset[str] = frozenset()
    size: int = 0


class Cursor:
    """Reads tokens one after the other. `loop` is the loop in force; `depth` guards against deep nesting."""

    def __init__(self, tokens: list[Token], lines: Lines, context: Context) -> None:
        self._tokens = tokens
        self._lines = lines
        self.context = context
        self.place = 0
        self.depth = 0
        self.loop = Loop.BOTH
        self.open_marks = 0
        self.remarks: list[str] = []
        self.notes: list[Problem] = []
        self.worked_into: int | None = None

    def peek(self, ahead: int = 0) -> T | None:
        """The sort of the word `ahead` words on; None past the end."""
        index = self.place + ahead
        return self._tokens[index].kind if 0 <= index < len(self._tokens) else None

    def token(self, ahead: int = 0) -> Token:
        return self._tokens[self.place + ahead]

    def at(self, *kinds: T) -> bool:
        return self.peek() in kinds

    def sees(self, *kinds: T) -> bool:
        """Whether the next words are of these sorts, in this order."""
        return all(self.peek(index) is kind for index, kind in enumerate(kinds))

    def take(self) -> Token:
        token = self._tokens[self.place]
        self.place += 1
        return token

    def accept(self, *kinds: T) -> Token | None:
        """The next word, taken, if it is of one of these sorts."""
        return self.take() if self.peek() in kinds else None

    def skip(self, *kinds: T) -> None:
        while self.peek() in kinds:
            self.place += 1

    @property
    def finished(self) -> bool:
        return self.place >= len(self._tokens)

    @property
    def tokens(self) -> list[Token]:
        return self._tokens

    def span(self, first: int, last: int | None = None) -> Span:
        """The columns of the words from number `first` up to but not including number `last` (default: here)."""
        last = self.place if last is None else last
        if not self._tokens:
            return Span(0, 0, 1)
        start = self._tokens[min(first, len(self._tokens) - 1)]
        end = self._tokens[max(min(last, len(self._tokens)) - 1, min(first, len(self._tokens) - 1))]
        return self._lines.span(start.start, end.end)

    def here(self) -> Span:
        return self.span(self.place, self.place + 1)

    def fail(self, code: str, message: str, span: Span | None = None, help: str = "") -> NotUnderstood:
        return NotUnderstood(Problem(Severity.ERROR, code, message, span or self.here(), help))

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
        stack: list[object] = []
        for index in range(opening, len(self._tokens)):
            token = self._tokens[index]
            if token.kind is T.OPEN:
                stack.append(token.value)
            elif token.kind is T.CLOSE:
                if token.value != stack[-1]:
                    raise self.fail(
                        "crossed-brackets",
                        f"'{token.text}' closes a bracket that was opened with another sign",
                        self.span(index, index + 1),
                        f"write '{stack[-1]}' here, or open with the matching sign",
                    )
                stack.pop()
                if not stack:
                    return index
        raise self.fail(
            "open-bracket",
            f"bracket '{self._tokens[opening].text}' is not closed",
            self.span(opening, opening + 1),
            f"add '{self._tokens[opening].value}' after the stitches it should hold",
        )
