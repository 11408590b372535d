"""What a doubtful round could have meant, as remedies that a maker takes with one key.

What the reader itself asks about, the same changes that the misprint finder offers, and for words that are not known
the known ones that are most like them. A word is only put in place of another where the line then reads and nothing
new is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from itertools import product

from tracker.lazy_dataclass import dataclass
from tracker.notation.context import Context
from tracker.notation.parser.heading import heading_of
from tracker.pattern.live_reading import LONGEST_TYPED, around, known_words, read_live, usual_words
from tracker.pattern.mending import line_of, rounds_of_line
from tracker.pattern.misprints.finder import Finding, MisprintOffer, findings_in
from tracker.pattern.model import Pattern, Piece

# As many as fit under a round on a small screen.
MOST_REMEDIES = 3

MOST_WORDS = 3
"""Unknown words of one line that are tried together; a line with more was not written in these terms."""

NEAR_WORDS = 4
"""Known words that are tried in place of an unknown one."""

ALIKE = 0.5
"""How much alike two words must be at least, as difflib reckons it: "ict" and "inc" have 0.67, "sx" and "sc" 0.5."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """One thing that could be meant: for each line its first round and its new text, and why, in a sentence.

    `leaves` is what the round that is in doubt leaves then, None where that is not known.
    """

    lines: tuple[tuple[int, str], ...]
    sentence: str
    leaves: int | None


def remedies(pattern: Pattern, piece_index: int, round_index: int, counted: int | None = None) -> tuple[Remedy, ...]:
    """What could be meant where this round does not come out, likeliest first, at most `MOST_REMEDIES`.

    With what the maker `counted` in the round, the readings that agree with it come first.
    """
    by_lines: dict[tuple[tuple[int, str], ...], Remedy] = {}
    for remedy in _all(pattern, piece_index, round_index):
        by_lines.setdefault(remedy.lines, remedy)
    ordered = sorted(by_lines.values(), key=lambda remedy: counted is not None and remedy.leaves != counted)
    return tuple(ordered[:MOST_REMEDIES])


def _all(pattern: Pattern, piece_index: int, round_index: int) -> Iterator[Remedy]:
    piece = pattern.pieces[piece_index]
    if line_of(piece, round_index) is None:
        return
    indexes = set(rounds_of_line(piece, round_index))
    yield from _proposed(piece, min(indexes))
    for finding in findings_in(pattern, piece_index):
        for offer in finding.offers:
            if indexes & _touched(finding, offer):
                yield _remedy(pattern, piece_index, round_index, offer)
    yield from _known_words(pattern, piece_index, min(indexes))


def _proposed(piece: Piece, first: int) -> Iterator[Remedy]:
    """The line as the reader asks whether it is meant."""
    for each in (problem.proposal for problem in piece.rounds[first].problems):
        if each is not None:
            sentence = f"{each.reason}: it then uses {each.uses:,} and leaves {each.leaves:,}"
            yield Remedy(((first, each.text.strip()),), sentence, each.leaves)


def _touched(finding: Finding, offer: MisprintOffer) -> set[int]:
    partner = () if offer.partner_index is None else (offer.partner_index,)
    return {finding.seen_at, finding.round_index, offer.round_index, *partner}


def _remedy(pattern: Pattern, piece_index: int, round_index: int, offer: MisprintOffer) -> Remedy:
    piece = pattern.pieces[piece_index]
    firsts = [rounds_of_line(piece, offer.round_index)[0]]
    if offer.partner_index is not None:
        firsts.append(rounds_of_line(piece, offer.partner_index)[0])
    lines = tuple(zip(firsts, (line.strip() for line in offer.corrected_lines), strict=True))
    first = rounds_of_line(piece, round_index)[0]
    own = next((text for index, text in lines if index == first), None)
    leaves = read_live(own, around(pattern, piece_index, first)).leaves if own else None
    return Remedy(lines, offer.sentence, leaves)


# Words that are not known.


def _known_words(pattern: Pattern, piece_index: int, first: int) -> Iterator[Remedy]:
    """The line with known words in place of those that are not, where it then comes out."""
    item, surroundings = pattern.pieces[piece_index].rounds[first], around(pattern, piece_index, first)
    if read_live(item.text, surroundings).is_clean:
        return
    spots = list(_unknown(item.text, surroundings.context))
    near = [_near(word[0], surroundings.context.terms) for word in spots]
    if not spots or len(spots) > MOST_WORDS:
        return
    for words in product(*near):
        text = item.text
        for spot, word in zip(reversed(spots), reversed(words), strict=True):
            text = text[: spot.start()] + word + text[spot.end() :]
        reading = read_live(text, surroundings)
        if reading.is_clean and reading.next_works is not False:
            guesses = ", ".join(f"'{spot[0]}' is probably '{word}'" for spot, word in zip(spots, words, strict=True))
            yield Remedy(
                ((first, text.strip()),), f"{item.label}: {guesses}: it then makes {reading.leaves}", reading.leaves
            )


def _unknown(text: str, context: Context) -> Iterator[re.Match[str]]:
    """The words behind the heading that are neither known nor a colour of the pattern."""
    vocabulary = known_words(context.terms)
    for word in re.finditer(r"[A-Za-z][A-Za-z']*", text[: heading_of(text).end + LONGEST_TYPED]):
        if word.start() >= heading_of(text).end and word[0].lower() not in (*vocabulary, *context.colours):
            yield word


def _near(word: str, terms: str) -> list[str]:
    return get_close_matches(word.lower(), usual_words(terms), n=NEAR_WORDS, cutoff=ALIKE)
