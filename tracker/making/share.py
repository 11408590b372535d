"""How much is done, counted in moves; and how many rounds, for the history of a project."""

from __future__ import annotations

from itertools import accumulate

from tracker.making.identity import remembered
from tracker.making.work import Copy, Place, Work
from tracker.pattern.model import Pattern, Piece


@remembered
def _moves_before(piece: Piece) -> tuple[int, ...]:
    """The moves of all rounds before each round; the last entry is all of them."""
    return tuple(accumulate((item.moves for item in piece.rounds), initial=0))


def _all_moves(piece: Piece) -> int:
    return _moves_before(piece)[-1]


def _moves_done(piece: Piece, place: Place) -> int:
    return _moves_before(piece)[place.round_index] + place.moves


def piece_share(pattern: Pattern, work: Work, copy: Copy) -> float:
    """How much of one copy is done, 0 to 1."""
    if copy.piece >= len(pattern.pieces):
        return 1.0
    piece = pattern.pieces[copy.piece]
    return _moves_done(piece, work.place_in(copy)) / (_all_moves(piece) or 1)


def whole_share(pattern: Pattern, work: Work) -> float:
    """How much of all copies of all pieces is done, 0 to 1."""
    whole = sum(_all_moves(piece) * piece.make for piece in pattern.pieces)
    done = sum(_moves_done(pattern.pieces[copy.piece], place) for copy, place in _begun(pattern, work))
    return done / whole if whole else 1.0


def rounds_done(pattern: Pattern, work: Work) -> int:
    """How many rounds of all copies are made."""
    return sum(place.round_index for _, place in _begun(pattern, work))


def _begun(pattern: Pattern, work: Work) -> list[tuple[Copy, Place]]:
    places = [(work.copy, work.place), *((parked.copy, parked.place) for parked in work.parked)]
    return [(copy, place) for copy, place in places if copy.piece < len(pattern.pieces)]
