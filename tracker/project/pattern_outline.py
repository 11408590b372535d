"""The outline of a pattern: names, labels and sizes, kept beside each place so that it can be found again.

Of the rounds' words only a mark is kept: whether they changed is all that is asked.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import cached_property
from hashlib import blake2b
from typing import Any

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern, Piece, Round

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
        seen: dict[tuple[str, int], int] = {}
        keys = []
        for item in self.rounds:
            which = seen[item.label, item.number] = seen.get((item.label, item.number), -1) + 1
            keys.append((item.label, item.number, which))
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

    def written(self) -> str:
        """As JSON text."""
        pieces = [[p.name, p.make, [_round_out(item) for item in p.rounds]] for p in self.pieces]
        return json.dumps([pieces, self.steps], separators=(",", ":"))


def outline_of(pattern: Pattern) -> PatternOutline:
    """The outline of a pattern as it is read now."""
    return PatternOutline(
        tuple(_piece(piece) for piece in pattern.pieces), tuple(step.step for step in pattern.making_up)
    )


def outline_in(written: str) -> PatternOutline:
    """The outline that was written. Raises ValueError, TypeError or KeyError for anything else."""
    pieces, steps = json.loads(written)
    return PatternOutline(
        tuple(OutlinedPiece(name, make, tuple(_rounds_in(rounds))) for name, make, rounds in pieces), tuple(steps)
    )


def _piece(piece: Piece) -> OutlinedPiece:
    return OutlinedPiece(piece.name, piece.make, tuple(_round(item) for item in piece.rounds))


def _round(item: Round) -> OutlinedRound:
    mark = blake2b(item.text.encode("utf-8", "replace"), digest_size=6).hexdigest()
    return OutlinedRound(item.label, item.number, item.moves, item.leaves, mark)


def _round_out(item: OutlinedRound) -> list[Any]:
    return [item.label, item.number, item.moves, item.leaves, item.mark]


def _rounds_in(rounds: Iterable[Iterable[Any]]) -> Iterable[OutlinedRound]:
    return (OutlinedRound(*values) for values in rounds)
