"""Printed lines that the maker mends, and what becomes of places and counts when one is.

A correction is for every copy of its piece. What is made stays made: a place inside a round that reads otherwise now
is found again by its stitches, and a count that was asked about is held against the new reading.
"""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.normalize import clean
from tracker.pattern.mending import as_printed, line_of, mended, rounds_of_line
from tracker.pattern.model import Correction, Pattern, Piece
from tracker.rounds.plan import MAX_STITCHES
from tracker.session.events import LONGEST_ROUND, RoundCorrected, RoundLeaves
from tracker.session.state import Copy, Miscount, Place, Refused, State, Witness, Work
from tracker.session.worked_rounds import moved_over, round_at


def corrected(pattern: Pattern, state: State, event: RoundCorrected | RoundLeaves) -> Work:
    """The work with one printed line mended. Raises `Refused` for a line that is not there, that our reader does not
    take, or that is for another number of rounds than the printed one."""
    correction = _correction(pattern, event)
    others = (own for own in state.work.corrections if own.is_for != correction.is_for)
    corrections = tuple(sorted((*others, correction), key=lambda own: own.is_for))
    after = mended(pattern, corrections)
    _must_fit(pattern.pieces[correction.piece], after.pieces[correction.piece], correction)
    work = replace(state.work, corrections=corrections)
    for copy in (work.copy, *(parked.copy for parked in work.parked)):
        if copy.piece == correction.piece:
            work = _with_place(work, copy, _place_now(pattern, after, replace(state, work=work), copy))
    return _with_counts(pattern, after, work)


def round_to_mend(pattern: Pattern, state: State, ahead: int = 0) -> tuple[int, int]:
    """The piece and the round that a maker means who wants to mend: the one looked at (so many `ahead`), the one just
    made while it is in doubt and nothing of the next is made, else the one being worked."""
    work = state.work
    copy, place = work.copy, work.place
    if not ahead and work.ended is not None and not place.moves:
        copy, place = work.ended, work.place_in(work.ended)
    last = len(pattern.pieces[copy.piece].rounds) - 1
    index = min(max(place.round_index + ahead, 0), last)
    before = index - 1 if place.round_index <= last else last
    if not ahead and not place.moves and before >= 0:
        made, coming = (round_at(pattern, state.work, copy.piece, copy.number, each) for each in (before, index))
        if made.is_in_doubt and (work.witness(copy, before) or not coming.is_in_doubt):
            return copy.piece, before
    return copy.piece, index


def _correction(pattern: Pattern, event: RoundCorrected | RoundLeaves) -> Correction:
    """The correction for the line that the round stands in, by the first of its rounds."""
    printed = as_printed(pattern)
    if not 0 <= event.piece < len(printed.pieces):
        raise Refused("there is no such piece")
    piece = printed.pieces[event.piece]
    if not 0 <= event.round_index < len(piece.rounds):
        raise Refused(f"{piece.name} has no such round")
    if line_of(piece, event.round_index) is None:
        raise Refused(f"{piece.rounds[event.round_index].label} has no written line that could be mended")
    first = rounds_of_line(piece, event.round_index)[0]
    if isinstance(event, RoundLeaves):
        if not 0 <= event.stitches <= MAX_STITCHES:
            raise Refused(f"a number of stitches from 0 to {MAX_STITCHES:,} is needed")
        return Correction(event.piece, first, leaves=event.stitches)
    text = clean(event.text).strip()
    if len(text) > LONGEST_ROUND:
        raise Refused(f"a round has 1 to {LONGEST_ROUND:,} characters, this one has {len(text):,}")
    return Correction(event.piece, first, "" if text == piece.rounds[first].text.strip() else text)


def _must_fit(before: Piece, after: Piece, correction: Correction) -> None:
    if not correction.text:
        return
    item = after.rounds[correction.round_index] if correction.round_index < len(after.rounds) else None
    numbers = [item.number for item in before.rounds], [item.number for item in after.rounds]
    if item is None or numbers[0] != numbers[1]:
        raise Refused(f"the line is for other rounds now: keep its heading, as in {_heading(before, correction)}")
    line = after.lines[correction.round_index]
    wrong = next((problem for problem in line.problems if not line.is_readable), None)
    if wrong is None and not line.body and line.reference is None:
        raise Refused("there is nothing to make in this line: name its stitches")
    if wrong is not None:
        raise Refused(f"{wrong.message}; {wrong.help}" if wrong.help else wrong.message)


def _heading(piece: Piece, correction: Correction) -> str:
    numbers = rounds_of_line(piece, correction.round_index)
    return piece.rounds[numbers[0]].label if len(numbers) == 1 else f"{piece.rounds[numbers[0]].label} and the others"


def _place_now(before: Pattern, after: Pattern, state: State, copy: Copy) -> Place:
    """The place in a copy once its rounds read otherwise: after as many stitches of the round as there were."""
    place = state.work.place_in(copy)
    if not place.moves:
        return place
    was, now = (
        round_at(pattern, state.work, copy.piece, copy.number, place.round_index) for pattern in (before, after)
    )
    if was.plan == now.plan:
        return place
    return Place(place.round_index) if now.plan is None else moved_over(after, state.work, copy, place)


def _with_place(work: Work, copy: Copy, place: Place) -> Work:
    if copy == work.copy:
        return replace(work, place=place)
    parked = tuple(replace(each, place=place) if each.copy == copy else each for each in work.parked)
    return replace(work, parked=parked)


def _with_counts(before: Pattern, after: Pattern, work: Work) -> Work:
    """Counts that differed from what a round should have, held against what it should have now."""
    miscounts = tuple(new for old in work.miscounts if (new := _counted_now(before, after, work, old)) is not None)
    unanswered = _counted_now(before, after, work, work.unanswered) if work.unanswered else None
    witnesses = tuple(witness for witness in work.witnesses if _is_still_in_doubt(after, work, witness))
    return replace(work, miscounts=miscounts, unanswered=unanswered, witnesses=witnesses)


def _is_still_in_doubt(pattern: Pattern, work: Work, witness: Witness) -> bool:
    return round_at(pattern, work, witness.copy.piece, witness.copy.number, witness.round_index).is_in_doubt


def _counted_now(before: Pattern, after: Pattern, work: Work, miscount: Miscount) -> Miscount | None:
    """The count as it differs now; None if it does not any more."""
    copy, index = miscount.copy, miscount.round_index
    was, now = (round_at(pattern, work, copy.piece, copy.number, index) for pattern in (before, after))
    if was is now or was.leaves == now.leaves:
        return miscount
    if was.plan is not None and miscount.moves < was.plan.moves and now.plan is not None:
        return None  # counted within a round that reads otherwise now: nobody can tell what it should have been
    moves = now.moves if miscount.moves >= was.moves else min(miscount.moves, now.moves)
    if now.leaves is None or now.leaves == miscount.counted:
        return None
    return replace(miscount, expected=now.leaves, moves=moves)
