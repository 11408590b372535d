"""The rounds of a piece as lines of the sheet: equal ones put together, and every line read back before it is used.

A line is written in the pattern's own words; where our own reader would not read those to the same round in the
terms that are wanted, in the shorthand of its plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from tracker.notation.cursor import Context
from tracker.notation.glossary import abbreviation
from tracker.notation.problems import Severity
from tracker.pattern.check import check_rounds
from tracker.pattern.entries import Entry, cut
from tracker.pattern.model import Pattern, Piece, Round
from tracker.pattern.plan import Plan
from tracker.sheet.terms import prose_in_terms
from tracker.sheet.wording import Own, Words, own_words, wordings

_TRIES = 8
"""Times that a piece is read back while other words are looked for; each round has at most five wordings."""


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
class _Draft:
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


def written_lines(pattern: Pattern, piece: Piece, rounds: Sequence[Round], terms: str) -> tuple[WrittenLine, ...]:
    """These rounds of a piece, written in "US" or "UK" terms."""
    drafts = _drafts(pattern, piece, rounds, terms)
    for _ in range(_TRIES):
        wrong = _first_wrong(drafts, _read_back(pattern, piece, drafts, terms), replace(piece.context, terms=terms))
        if not wrong:
            break
        for draft in wrong:
            if draft.way + 1 < len(draft.ways):
                draft.way += 1
            else:
                draft.failed = True
    return tuple(draft.finished() for draft in drafts)


def _drafts(pattern: Pattern, piece: Piece, rounds: Sequence[Round], terms: str) -> list[_Draft]:
    remarks = _remarks(piece)
    drafts: list[_Draft] = []
    in_hand = ""
    known: dict[str, Own] = {}
    last_place: tuple[int, int] | None = None
    for round_ in rounds:
        own = known.setdefault(round_.text, own_words(round_, piece))
        ways = tuple(wordings(round_, own, pattern.terms, terms, piece.context.colours))
        place = (round_.line, round_.column)
        said = remarks.get(place, ()) if place != last_place else ()
        last_place = place
        colour = round_.colour if own.names_colour or round_.colour != in_hand else ""
        said = tuple(prose_in_terms(words, pattern.terms, terms) for words in said)
        if drafts and not said and _goes_on(drafts[-1], round_, own, ways, in_hand):
            drafts[-1].rounds.append(round_)
        else:
            drafts.append(_Draft([round_], own, ways, colour, said))
        in_hand = (round_.plan.ends_with if round_.plan else "") or round_.colour or in_hand
    return drafts


def _remarks(piece: Piece) -> dict[tuple[int, int], tuple[str, ...]]:
    """What the pattern says over each written round, by where that round stands in the file."""
    places = [place for place, _ in groupby(piece.rounds, lambda each: (each.line, each.column))]
    return {place: entry.remarks for place, entry in zip(places, piece.entries, strict=False) if entry.remarks}


def _goes_on(draft: _Draft, round_: Round, own: Own, ways: tuple[Words, ...], in_hand: str) -> bool:
    """Whether a round is the one before it once more, in the same yarn."""
    last = draft.rounds[-1]
    alike = draft.ways == ways and replace(own, names_colour=draft.own.names_colour) == draft.own
    counts = last.before == round_.before and last.leaves == round_.leaves
    counted = round_.plan is not None and round_.label.partition(" ")[0] == last.label.partition(" ")[0]
    steady = round_.colour == last.colour and (own.names_colour or round_.colour == in_hand)
    return alike and counts and counted and steady and round_.number == last.number + 1 and same_codes(last, round_)


def same_codes(one: Round, other: Round) -> bool:
    """Whether the same was found wrong with two rounds."""
    return _codes(one) == _codes(other)


def _codes(round_: Round) -> set[str]:
    found = {problem.code for problem in round_.problems if problem.severity is not Severity.NOTE}
    return found - {"round-number"}


def _read_back(pattern: Pattern, piece: Piece, drafts: Sequence[_Draft], terms: str) -> list[Round]:
    """What our reader makes of the lines. Where a round is over another number of stitches than the one before left,
    as a maker may have them in hand, a round that leaves so many stands between."""
    entries: list[Entry] = []
    between = -1
    before: Round | None = None
    for draft in drafts:
        if before is not None and _is_over_others(draft, before):
            entries.append(Entry(_so_many(draft.rounds[0], before, terms), between))
            between -= 1
        entries.append(Entry(draft.tried().text, len(entries)))
        before = draft.rounds[-1]
    context = replace(piece.context, terms=terms)
    rounds, _ = check_rounds(tuple(entries), context, pattern.yarns, piece.main)
    return [round_ for round_ in rounds if round_.line >= 0]


def _is_over_others(draft: _Draft, before: Round) -> bool:
    first = draft.rounds[0]
    known = None not in (first.before, before.leaves)
    return known and first.before != before.leaves and draft.own.worked_into is None and not draft.own.foundation


def _so_many(round_: Round, before: Round, terms: str) -> str:
    kinds = before.plan.tally.kinds if before.plan else ()
    stitch = abbreviation(max(kinds, key=lambda kind: kind[1])[0] if kinds else "sc", terms)
    colour = (before.plan.ends_with if before.plan else "") or before.colour
    return f"{before.label}{f' ({colour})' if colour else ''}: {round_.before} {stitch} in magic ring"


def _first_wrong(drafts: Sequence[_Draft], back: Sequence[Round], context: Context) -> list[_Draft]:
    """The lines that were read to something else though what is below them was right; and those that are two."""
    wrong: list[_Draft] = []
    place = 0
    for draft in drafts:
        read = back[place : place + len(draft.rounds)]
        place += len(draft.rounds)
        whole = len(cut(draft.tried().text, context).entries) == 1
        if draft.failed or (whole and len(read) == len(draft.rounds) and all(map(same_round, draft.rounds, read))):
            continue
        if not wrong or not read or read[0].before == draft.rounds[0].before:
            wrong.append(draft)
    return wrong


def same_round(one: Round, other: Round) -> bool:
    """Whether two rounds are worked alike and come to the same counts, yarns and findings."""
    if one.plan is None or other.plan is None:
        return one.plan is other.plan
    same_counts = _numbers(one.plan) == _numbers(other.plan) and one.before == other.before
    return same_counts and _yarns(one) == _yarns(other) and _codes(other) <= _codes(one)


def _numbers(plan: Plan) -> tuple[object, ...]:
    """What is counted; a step more or less changes none of it."""
    tally = plan.tally
    return tally.takes, tally.stitches, tally.spaces, tally.chains, sorted(tally.kinds)


def _yarns(round_: Round) -> tuple[object, ...]:
    """The yarns of a round in their order, and the one that it ends with."""
    assert round_.plan is not None
    colour, found = round_.colour, [round_.colour]
    for act in round_.plan.acts():
        if act.colour and act.colour != colour:
            colour = act.colour
            found.append(colour)
    return tuple(found), round_.plan.ends_with or found[-1]
