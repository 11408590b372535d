"""The rounds of a piece gathered into lines: equal ones together, each line with all the ways to write it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from tracker.diagnostics import Severity
from tracker.notation.ast import Stated
from tracker.pattern.model import Pattern, Piece, Round
from tracker.phrasing.terms import prose_in_terms
from tracker.sheet.wording import Own, Words, own_words, wordings


@dataclass(frozen=True, slots=True)
class WrittenLine:
    """One line of the sheet: a round, or several that are worked alike.

    `colour` is the yarn key that stands in the heading, "" where the yarn goes on. `before` are the pattern's own
    remarks over it. `reads_back` says that our reader reads the line to the very rounds that it was written from.
    """

    rounds: tuple[Round, ...]
    own: Own
    words: Words
    colour: str = ""
    before: tuple[str, ...] = ()
    reads_back: bool = True
    said_otherwise: str = ""
    """The pattern's own words, where the line is in other ones."""

    @property
    def label(self) -> str:
        """ "Rnd 5", "Rnds 5-17"."""
        first, last = self.rounds[0], self.rounds[-1]
        word, _, number = first.label.partition(" ")
        return first.label if first is last else f"{word}s {number}-{last.number}"

    @property
    def heading(self) -> str:
        return f"{self.label} ({self.colour}):" if self.colour else f"{self.label}:"

    @property
    def text(self) -> str:
        """The whole line, as a reader takes it."""
        return " ".join(part for part in (self.heading, self.words.body, self.words.total) if part)


@dataclass(slots=True)
class Draft:
    """A line on its way: the wordings that it can have, and which of them is tried."""

    rounds: list[Round]
    own: Own
    ways: tuple[Words, ...]
    colour: str
    before: tuple[str, ...]
    way: int = 0
    failed: bool = False

    def tried(self) -> WrittenLine:
        """The line with the words that are tried now."""
        return WrittenLine(tuple(self.rounds), self.own, self.ways[self.way], self.colour)

    def finished(self) -> WrittenLine:
        first, words = self.ways[0], self.ways[0 if self.failed else self.way]
        otherwise = first.body if words.body != first.body else ""
        rounds = tuple(self.rounds)
        return WrittenLine(rounds, self.own, words, self.colour, self.before, not self.failed, otherwise)


def drafts_of(pattern: Pattern, piece: Piece, rounds: Sequence[Round], terms: str) -> list[Draft]:
    """The lines for these rounds, to be written in "US" or "UK" terms."""
    gathering = _Gathering(pattern, piece, terms, _remarks(piece))
    for round_ in rounds:
        gathering.add(round_)
    return gathering.drafts


Same = tuple[str, int, Stated | None, str]
"""What two rounds have in common that are written in the same ways: text, plan, stated total, verdict."""


@dataclass(slots=True)
class _Gathering:
    """Goes through the rounds; knows the yarn in hand, and what was found out about equal rounds before."""

    pattern: Pattern
    piece: Piece
    terms: str
    remarks: dict[tuple[int, int], tuple[str, ...]]
    drafts: list[Draft] = field(default_factory=list)
    in_hand: str = ""
    place: tuple[int, int] | None = None
    known: dict[Same, tuple[Own, tuple[Words, ...]]] = field(default_factory=dict)

    def add(self, round_: Round) -> None:
        own, ways = self._words(round_)
        said = self._said_before(round_)
        if self.drafts and not said and self._goes_on(self.drafts[-1], round_, own, ways):
            self.drafts[-1].rounds.append(round_)
        else:
            colour = round_.colour if own.names_colour or round_.colour != self.in_hand else ""
            self.drafts.append(Draft([round_], own, ways, colour, said))
        self.in_hand = (round_.plan.ends_with if round_.plan else "") or round_.colour or self.in_hand

    def _words(self, round_: Round) -> tuple[Own, tuple[Words, ...]]:
        key = (round_.text, id(round_.plan), round_.stated, round_.verdict)
        if key not in self.known:
            own = own_words(round_, self.piece)
            colours = self.piece.context.colours
            self.known[key] = own, tuple(wordings(round_, own, self.pattern.terms, self.terms, colours))
        return self.known[key]

    def _said_before(self, round_: Round) -> tuple[str, ...]:
        """What the pattern says over a round, at the first one of its line."""
        place = (round_.line, round_.column)
        said = self.remarks.get(place, ()) if place != self.place else ()
        self.place = place
        return tuple(prose_in_terms(words, self.pattern.terms, self.terms) for words in said)

    def _goes_on(self, draft: Draft, round_: Round, own: Own, ways: tuple[Words, ...]) -> bool:
        """Whether a round is the one before it once more, in the same yarn."""
        last = draft.rounds[-1]
        alike = draft.ways == ways and replace(own, names_colour=draft.own.names_colour) == draft.own
        counts = last.before == round_.before and last.leaves == round_.leaves
        counted = round_.plan is not None and round_.label.partition(" ")[0] == last.label.partition(" ")[0]
        steady = round_.colour == last.colour and (own.names_colour or round_.colour == self.in_hand)
        follows = round_.number == last.number + 1 and codes(last) == codes(round_)
        return alike and counts and counted and steady and follows


def _remarks(piece: Piece) -> dict[tuple[int, int], tuple[str, ...]]:
    """What the pattern says over each written round, by where that round stands in the file."""
    places = [place for place, _ in groupby(piece.rounds, lambda each: (each.line, each.column))]
    return {place: entry.remarks for place, entry in zip(places, piece.entries, strict=False) if entry.remarks}


def codes(round_: Round) -> set[str]:
    """What was found wrong with a round; a number that does not follow on is no matter of its words."""
    found = {problem.code for problem in round_.problems if problem.severity is not Severity.NOTE}
    return found - {"round-number"}
