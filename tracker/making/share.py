"""How much is done, counted in moves; and how many rounds, for the history of a project."""

from __future__ import annotations

from functools import partial
from itertools import accumulate

from tracker.making.identity import remembered
from tracker.making.work import Copy, Place, State, Work, round_at, rounds_of
from tracker.pattern.model import Pattern, Piece


@remembered
def _moves_before(piece: Piece) -> tuple[int, ...]:
    """The moves of all rounds before each round; the last entry is all of them."""
    return tuple(accumulate((item.moves for item in piece.rounds), initial=0))


def _more_moves(pattern: Pattern, work: Work, copy: Copy, rounds: int) -> int:
    """How many moves more the first rounds of a copy have because the maker works some of them otherwise."""
    if not work.own_rounds:
        return 0
    changed = {own.round_index for own in work.own_rounds if own.copy == copy and own.round_index < rounds}
    written = pattern.pieces[copy.piece].rounds
    at = partial(round_at, pattern, State(work), copy.piece, copy.number)
    return sum(at(index).moves - written[index].moves for index in changed)


def _moves_done(pattern: Pattern, work: Work, copy: Copy) -> int:
    place = work.place_in(copy)
    written = _moves_before(pattern.pieces[copy.piece])[place.round_index]
    return written + _more_moves(pattern, work, copy, place.round_index) + place.moves


def _all_moves(pattern: Pattern, work: Work, copy: Copy) -> int:
    piece = pattern.pieces[copy.piece]
    return _moves_before(piece)[-1] + _more_moves(pattern, work, copy, len(piece.rounds))


def piece_share(pattern: Pattern, work: Work, copy: Copy) -> float:
    """How much of one copy is done, 0 to 1."""
    if copy.piece >= len(pattern.pieces):
        return 1.0
    return _moves_done(pattern, work, copy) / (_all_moves(pattern, work, copy) or 1)


def whole_share(pattern: Pattern, work: Work) -> float:
    """How much of all copies of all pieces is done, 0 to 1."""
    written = sum(_moves_before(piece)[-1] * piece.make for piece in pattern.pieces)
    changed = {own.copy for own in work.own_rounds}
    more = sum(_more_moves(pattern, work, copy, rounds_of(pattern, copy)) for copy in changed)
    whole = written + more
    done = sum(_moves_done(pattern, work, copy) for copy, _ in _begun(pattern, work))
    return done / whole if whole else 1.0


def rounds_done(pattern: Pattern, work: Work) -> int:
    """How many rounds of all copies are made."""
    return sum(place.round_index for _, place in _begun(pattern, work))


def _begun(pattern: Pattern, work: Work) -> list[tuple[Copy, Place]]:
    places = [(work.copy, work.place), *((parked.copy, parked.place) for parked in work.parked)]
    return [(copy, place) for copy, place in places if copy.piece < len(pattern.pieces)]
