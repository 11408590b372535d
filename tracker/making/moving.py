"""Events that move the place: stitches, repeats, rounds, frogging, going on with another piece.

One stitch event is what one tap does; `Stitch(n)` is exactly n of them. A repeat goes as far as the words of `now`
tell. Chains, skips and steps on the way to a stitch go with it. What is left at the end of a round when no stitch
follows (a join, a turn) is one tap of its own, because that is what the hands do then, and the place must never get
ahead of the hands.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.making.counting import should_be_counted
from tracker.making.events import Frog, PieceChosen, RepeatDone, RoundDone, Stitch
from tracker.making.rewriting import still_worked
from tracker.making.work import (
    Copy,
    Miscount,
    Place,
    Refused,
    State,
    Work,
    copy_name,
    next_copy,
    round_at,
    rounds_of,
)
from tracker.pattern.model import Pattern, Round
from tracker.rounds.next_step import coming_now
from tracker.rounds.plan import MAX_STITCHES, Plan


def worked(pattern: Pattern, state: State, event: Stitch | RepeatDone | RoundDone) -> Work:
    """The work after some more of it was made."""
    copy, place = state.work.copy, state.work.place
    if place.round_index >= rounds_of(pattern, copy):
        raise Refused(_made_already(pattern, state.work))
    if isinstance(event, Stitch):
        return _arrived(pattern, state, copy, _stitches_on(pattern, state, event.count))
    item = round_at(pattern, state, copy.piece, copy.number, place.round_index)
    part = item.plan if isinstance(event, RepeatDone) else None
    moves = place.moves + coming_now(part, place.moves).moves if part else item.moves
    return _arrived(pattern, state, copy, _settled(item, place.round_index, moves))


def _made_already(pattern: Pattern, work: Work) -> str:
    if next_copy(pattern, work) is not None:
        return f"{copy_name(pattern, work.copy)} is made: choose another piece, or frog back in this one"
    if pattern.making_up:
        return "every piece is made: only making up is left"
    return "everything is made"


def _settled(item: Round, index: int, moves: int) -> Place:
    """The place after so many moves of a round; at its end the next round begins."""
    if moves >= item.moves:
        return Place(index + 1)
    return Place(index, moves, item.plan.stitches_before(moves) if item.plan else 0)


def _stitches_on(pattern: Pattern, state: State, count: int) -> Place:
    if not 1 <= count <= MAX_STITCHES:
        raise Refused(f"a number of stitches from 1 to {MAX_STITCHES:,} is needed")
    copy, place, left = state.work.copy, state.work.place, count
    while left:
        if place.round_index >= rounds_of(pattern, copy):
            raise Refused(f"{copy_name(pattern, copy)} ends sooner: only {count - left:,} left to make")
        item = round_at(pattern, state, copy.piece, copy.number, place.round_index)
        if item.plan is None and count > 1:
            raise Refused(f"{item.label} could not be read: work it by eye and tap it as one round")
        taken = _taps(item.plan, place, left)
        moves = _after_taps(item.plan, place, taken) if item.plan else item.moves
        place = _settled(item, place.round_index, moves)
        left -= taken
    return place


def _taps(plan: Plan | None, place: Place, most: int) -> int:
    """How many of these taps stay in this round: one for each stitch left, or one for what follows the last."""
    left = plan.leaves - place.stitches if plan else 0
    return min(max(left, 1), most)


def _after_taps(plan: Plan, place: Place, taps: int) -> int:
    if place.stitches >= plan.leaves:
        return plan.moves
    return plan.move_after_stitches(place.stitches + taps)


def _arrived(pattern: Pattern, state: State, copy: Copy, place: Place) -> Work:
    """The work with the place moved on, and the next copy taken up when this one is made."""
    ended_a_round = place.moves == 0
    due = ended_a_round and should_be_counted(pattern, state, copy, place.round_index - 1)
    work = replace(state.work, place=place, ended=None, count_due=due)
    return _next_taken_up(pattern, work)


def _next_taken_up(pattern: Pattern, work: Work) -> Work:
    if work.place.round_index < rounds_of(pattern, work.copy):
        return work
    following = next_copy(pattern, work)
    if following is None:
        return work
    return replace(work.going_on_with(following), ended=work.copy)


def frogged(pattern: Pattern, state: State, event: Frog) -> Work:
    """The work set to a place of the copy in hand; what was counted beyond it is forgotten, because it is undone, and
    so are rounds that were changed to make up for it."""
    copy = state.work.in_hand
    place = _place_meant(pattern, state, copy, event)
    own_rounds = still_worked(state.work, copy, place)
    work = replace(state.work, own_rounds=own_rounds)
    if own_rounds != state.work.own_rounds:
        place = _place_meant(pattern, replace(state, work=work), copy, event)
    kept = tuple(found for found in work.miscounts if found.copy != copy or _lies_before(found, place))
    work = replace(
        work.going_on_with(copy), place=place, ended=None, count_due=False, unanswered=None, miscounts=kept
    )
    return _next_taken_up(pattern, work)


def _place_meant(pattern: Pattern, state: State, copy: Copy, event: Frog) -> Place:
    index, stitch = event.round_index, event.stitch
    if not 0 <= index < rounds_of(pattern, copy):
        raise Refused(f"{copy_name(pattern, copy)} has no such round")
    item = round_at(pattern, state, copy.piece, copy.number, index)
    most = item.plan.leaves if item.plan else 0
    if not 0 <= stitch <= most:
        raise Refused(f"{item.label} has only {most:,} stitches" if item.plan else _only_its_start(item))
    return Place(index) if stitch == 0 else _settled(item, index, _move_for(item, stitch))


def _only_its_start(item: Round) -> str:
    return f"{item.label} could not be read: only its start can be gone to"


def _move_for(item: Round, stitch: int) -> int:
    return item.plan.move_after_stitches(stitch) if item.plan else 0


def _lies_before(found: Miscount, place: Place) -> bool:
    return (found.round_index, found.moves) <= (place.round_index, place.moves)


def chosen(pattern: Pattern, state: State, event: PieceChosen) -> Work:
    """The work with another copy taken up."""
    if not 0 <= event.piece < len(pattern.pieces):
        raise Refused("there is no such piece")
    piece = pattern.pieces[event.piece]
    if not 1 <= event.copy <= piece.make:
        made = "once" if piece.make == 1 else f"{piece.make} times"
        raise Refused(f"{piece.name} is made {made} only")
    copy = Copy(event.piece, event.copy)
    if copy == state.work.copy and state.work.ended is None:
        raise Refused(f"you are at {copy_name(pattern, copy)} already")
    return replace(state.work.going_on_with(copy), ended=None, count_due=False)
