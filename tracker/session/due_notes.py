"""Notes of the pattern when they are due: at the rounds that they name, and before work goes on where work must stop.

"In rounds 10-12 ...", "after Rnd 17 stuff ...", "before Rnd 4 ...". A note that names no round is told as the piece
begins; one about its tail or its end, or that stands behind the last round, as it ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Piece


class When(Enum):
    """When a note is due in relation to the rounds that it names."""

    DURING = "during"
    AFTER = "after"


@dataclass(frozen=True, slots=True)
class DueNote:
    """A note (or a sentence of one), its number among those of the piece, and the rounds (from 0) that it is due at.

    One that `stops` asks for something that the hands do once, like stuffing: due after the last of its rounds.
    """

    number: int
    text: str
    when: When
    indexes: tuple[int, ...]
    stops: bool = False

    @property
    def keyword(self) -> str:
        """The one word that can be read from afar: "stuff"."""
        return next((match[0].lower() for part in _parts(self.text) if (match := _STOPS.search(part))), "note")


_NAMED = compile_later(
    r"(?P<when>\bafter |\bbefore |\bat the end of |\bonce )?(?:(?:completing|finishing|working) )?"
    r"\b(?:rnds?|rounds?|rows?|r)\.? ?(?P<numbers>\d{1,4}(?:(?: ?(?:-|–|to|,|and|&) ?)+\d{1,4})*)",
    re.IGNORECASE,
)
_STOPS = compile_later(
    r"\b(?:stuff|fill|insert|attach|embroider|sew|push|place|add|fix|put|cut|weave|fasten off|close|turn (?:it )?"
    r"(?:right side|inside) out)\b",
    re.IGNORECASE,
)
_NOT_YET = compile_later(r"\b(?:do not|don't|never|without|unsewn|not yet|no need)\b", re.IGNORECASE)
_AT_THE_END = compile_later(
    r"\b(?:tails?|fasten(?:ing)? off|last (?:round|rnd|row)|sew(?:ing|n)?|closing|when done)\b", re.I
)


@remembered
def due_notes(piece: Piece) -> tuple[DueNote, ...]:
    """All notes of a piece, sentence by sentence, in the order they are written."""
    behind = len(piece.notes) - piece.closing
    sentences = [(text, place >= behind) for place, note in enumerate(piece.notes) for text in _sentences(note)]
    return tuple(_due(piece, number, text, closes) for number, (text, closes) in enumerate(sentences))


def _sentences(note: str) -> Iterator[str]:
    yield from (
        part.strip() for part in re.split(r"(?<=[.!?])\s+(?=[A-Z0-9])", " ".join(note.split())) if part.strip()
    )


_RHYTHM = compile_later(r"Every (?:\d{1,3}(?:st|nd|rd|th) )?round \((\d{1,4}), (\d{1,4}), \d{1,4} and so on\): ")
"""A note that names its rounds as a rhythm, the first two of them and on."""


def _due(piece: Piece, number: int, text: str, closes: bool) -> DueNote:
    """`closes` if it stands behind the last round."""
    if rhythm := _RHYTHM.match(text):
        return DueNote(number, text, When.DURING, tuple(_in_rhythm(piece, int(rhythm[1]), int(rhythm[2]))))
    matches = list(_NAMED.finditer(text))
    by_number = {item.number: index for index, item in reversed(list(enumerate(piece.rounds)))}
    last = len(piece.rounds) - 1
    if not matches:
        at_end = last > 0 and (closes or _AT_THE_END.search(text) is not None)
        return DueNote(number, text, When.DURING, (last if at_end else 0,))
    first = matches[0]
    when = (first["when"] or "").strip().lower()
    if when in ("after", "once", "at the end of"):
        index = by_number.get(_numbers(first["numbers"])[-1])
        stops = index is not None and _asks_for_something(text)
        return DueNote(number, text, When.AFTER, () if index is None else (index,), stops)
    if when == "before":
        index = by_number.get(_numbers(first["numbers"])[0])
        indexes = () if index is None else (max(0, index - 1),)
        return DueNote(
            number, text, When.AFTER if index else When.DURING, indexes, bool(index) and _asks_for_something(text)
        )
    round_indexes = sorted({by_number[n] for match in matches for n in _numbers(match["numbers"]) if n in by_number})
    return DueNote(number, text, When.DURING, tuple(round_indexes) or (0,))


def _in_rhythm(piece: Piece, start: int, second: int) -> Iterator[int]:
    """The rounds whose numbers go on from these two in equal steps."""
    step = max(second - start, 1)
    for index, item in enumerate(piece.rounds):
        if item.number >= start and (item.number - start) % step == 0:
            yield index


def _asks_for_something(text: str) -> bool:
    """Whether there is something to do, and not only something not to do."""
    return any(_STOPS.search(part) for part in _parts(text))


def _parts(text: str) -> list[str]:
    """Those that tell something to do."""
    return [part for part in re.split(r"[,;:]| and ", text) if not _NOT_YET.search(part)]


def _numbers(text: str) -> list[int]:
    """ "10-12" and "4, 6 and 8" as numbers; a range of more rounds than any piece has is its ends."""
    numbers: list[int] = []
    for part in re.split(r" ?(?:,|and|&) ?", text):
        ends = [int(number) for number in re.findall(r"\d+", part)]
        if len(ends) == 2 and 0 <= ends[1] - ends[0] <= MOST_ROUNDS:
            numbers += range(ends[0], ends[1] + 1)
        else:
            numbers += ends
    return numbers


# That one note may name; a range beyond is a slip of the keyboard.
MOST_ROUNDS = 2000


def notes_due(piece: Piece, index: int) -> tuple[str, ...]:
    """What is told while the round of this number (from 0) is worked. What is due after a round is told at its end:
    see `notes_due_after`."""
    return tuple(note.text for note in due_notes(piece) if note.when is When.DURING and index in note.indexes)


def notes_due_after(piece: Piece, index: int) -> tuple[DueNote, ...]:
    """What is to be done or known once this round is made."""
    return tuple(note for note in due_notes(piece) if note.when is When.AFTER and index in note.indexes)
