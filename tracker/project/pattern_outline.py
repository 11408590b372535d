"""The outline of a pattern: names, labels and sizes, kept beside each place so that it can be found again.

Of the rounds' words only a mark is kept: whether they changed is all that is asked.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable
from functools import cached_property
from hashlib import blake2b
from typing import Any

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern, Piece, Round
from tracker.session.state import BEGINNING, Copy, Place, Work

RoundKey = tuple[str, int, int]
"""What a round is found by: its label, its number, and which one of several with both."""


@dataclass(frozen=True, slots=True)
class OutlinedRound:
    """A round by its heading; `moves`, `leaves` and `mark` (of its words) tell whether it is the same."""

    label: str
    number: int
    moves: int
    leaves: int | None
    mark: str


@dataclass(frozen=True)
class OutlinedPiece:
    """A piece by its name."""

    name: str
    make: int
    rounds: tuple[OutlinedRound, ...]

    @cached_property
    def keys(self) -> tuple[RoundKey, ...]:
        """The key of each round, in order."""
        last_nth: dict[tuple[str, int], int] = {}
        keys = []
        for item in self.rounds:
            nth = last_nth[item.label, item.number] = last_nth.get((item.label, item.number), -1) + 1
            keys.append((item.label, item.number, nth))
        return tuple(keys)

    @cached_property
    def index_of(self) -> dict[RoundKey, int]:
        """Where the round with each key stands."""
        return {key: index for index, key in enumerate(self.keys)}


@dataclass(frozen=True)
class PatternOutline:
    """What a place refers to."""

    pieces: tuple[OutlinedPiece, ...]
    steps: tuple[str, ...]

    def fits(self, work: Work) -> bool:
        """Whether everything that the work speaks of is there. If not, it was not written by this program."""
        miscounts = [*work.miscounts, *([work.unanswered] if work.unanswered else [])]
        rounds = [(miscount.copy, miscount.round_index) for miscount in miscounts]
        rounds += [(own.copy, own.round_index) for own in work.own_rounds]
        rounds += [(witness.copy, witness.round_index) for witness in work.witnesses]
        rounds += [(Copy(line.piece, 1), line.round_index) for line in work.corrections]
        notes = [(note.copy, note.round_index) for note in work.notes]
        places = [(work.copy, work.place), *((parked.copy, parked.place) for parked in work.parked)]
        return (
            all(self._has_place(work, copy, place) for copy, place in places)
            and all(0 <= index < self._rounds(copy) for copy, index in rounds)
            and all(0 <= index <= self._rounds(copy) for copy, index in notes)
            and (work.ended is None or self._rounds(work.ended) >= 0)
            and all(0 <= step < len(self.steps) for step in work.steps_done)
            and all(own.before >= 0 for own in work.own_rounds)
            and all(witness.counted >= 0 for witness in work.witnesses)
            and all(line.leaves is None or line.leaves >= 0 for line in work.corrections)
        )

    def _has_place(self, work: Work, copy: Copy, place: Place) -> bool:
        if not self.pieces:
            return (copy, place) == (Work().copy, BEGINNING)
        if not 0 <= place.round_index <= self._rounds(copy) or place.stitches < 0:
            return False
        if place.round_index == self._rounds(copy):
            return place.moves == 0
        is_mended = any(line.piece == copy.piece for line in work.corrections)
        if is_mended or work.own_round(copy, place.round_index) is not None:
            return place.moves >= 0
        return 0 <= place.moves <= self.pieces[copy.piece].rounds[place.round_index].moves

    def _rounds(self, copy: Copy) -> int:
        """How many rounds a copy has; -1 if there is no such copy."""
        if not 0 <= copy.piece < len(self.pieces):
            return -1
        piece = self.pieces[copy.piece]
        return len(piece.rounds) if 1 <= copy.number <= piece.make else -1

    def written(self) -> str:
        """As JSON text."""
        pieces = [[p.name, p.make, [_round_out(item) for item in p.rounds]] for p in self.pieces]
        return json.dumps([pieces, self.steps], separators=(",", ":"))


@remembered
def outline_of(pattern: Pattern) -> PatternOutline:
    """The outline of a pattern as it is read now."""
    return PatternOutline(
        tuple(_piece(piece) for piece in pattern.pieces), tuple(step.step for step in pattern.making_up)
    )


def share_alike(one: PatternOutline, other: PatternOutline) -> float:
    """How many of the rounds stand word for word in both, as a share of the longer one's; 0 where there are none."""
    marks = [Counter(item.mark for piece in each.pieces for item in piece.rounds) for each in (one, other)]
    return (marks[0] & marks[1]).total() / max(marks[0].total(), marks[1].total(), 1)


def outline_in(text: str) -> PatternOutline:
    """The outline that was written. Raises ValueError for anything else."""
    try:
        pieces, steps = json.loads(text)
        outline = PatternOutline(
            tuple(OutlinedPiece(name, make, tuple(_rounds_in(rounds))) for name, make, rounds in pieces), tuple(steps)
        )
        if outline.written() != text or not all(_is_sound(piece) for piece in outline.pieces):
            raise ValueError("another form")
    except (AttributeError, RecursionError, TypeError, ValueError) as problem:
        raise ValueError("an outline that is not known here") from problem
    return outline


def _is_sound(piece: OutlinedPiece) -> bool:
    numbers = (number for item in piece.rounds for number in (item.number, item.moves, item.leaves or 0))
    texts = (piece.name, *(text for item in piece.rounds for text in (item.label, item.mark)))
    return all(type(n) is int and n >= 0 for n in (piece.make, *numbers)) and all(type(t) is str for t in texts)


def _piece(piece: Piece) -> OutlinedPiece:
    return OutlinedPiece(piece.name, piece.make, tuple(_round(item) for item in piece.rounds))


def _round(item: Round) -> OutlinedRound:
    mark = blake2b(item.text.encode("utf-8", "replace"), digest_size=6).hexdigest()
    return OutlinedRound(item.label, item.number, item.moves, item.leaves, mark)


def _round_out(item: OutlinedRound) -> list[Any]:
    return [item.label, item.number, item.moves, item.leaves, item.mark]


def _rounds_in(rounds: Iterable[Iterable[Any]]) -> Iterable[OutlinedRound]:
    return (OutlinedRound(*values) for values in rounds)
