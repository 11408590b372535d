"""Events that move the place: stitches, repeats, rounds, frogging, going on with another piece.

One stitch event is what one tap does; `Stitch(n)` is exactly n of them. A repeat goes as far as the words of `now`
tell. Chains, skips and steps on the way to a stitch go with it. What is left at the end of a round when no stitch
follows (a join, a turn) is one tap of its own, because that is what the hands do then, and the place must never get
ahead of the hands.
"""

from __future__ import annotations

from functools import lru_cache

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import replace
from tracker.normalize import clean
from tracker.pattern.model import Pattern, Round
from tracker.rounds.next_step import coming_now
from tracker.rounds.plan import MAX_STITCHES, Plan
from tracker.session.due_notes import due_notes
from tracker.session.events import (
    LONGEST_ROUND,
    Frog,
    Making,
    MovesDone,
    NoteTicked,
    PieceChosen,
    RepeatDone,
    RoundRewritten,
    Stitch,
)
from tracker.session.state import (
    Copy,
    Miscount,
    OwnRound,
    Place,
    Refused,
    State,
    Ticked,
    Work,
    copy_name,
    next_copy,
    rounds_of,
)
from tracker.session.worked_rounds import moved_over, round_at, worked_instead


def worked(pattern: Pattern, work: Work, event: Making) -> Work:
    """The work after some more of it was made."""
    copy, place = work.copy, work.place
    if place.round_index >= rounds_of(pattern, copy):
        raise Refused(_made_already(pattern, work))
    item = round_at(pattern, work, copy.piece, copy.number, place.round_index)
    if item.plan is not None and isinstance(event, (Stitch, RepeatDone)):  # a union would be made at each tap
        count = event.count if isinstance(event, Stitch) else None
        after = _taps_in(item.plan).after(count, place.moves, place.stitches)
        if after == _ENDED:
            return _arrived(pattern, work, Place(place.round_index + 1))
        if after is not None:
            return work.moved_to(Place(place.round_index, *after))
    if isinstance(event, Stitch):
        return _arrived(pattern, work, _stitches_on(pattern, work, event.count))
    return _arrived(pattern, work, _settled(item, place.round_index, _moves_after(item, place, event)))


class _PlanTaps:
    """Where taps in one round lead: asked for with every tap of a long history, and again with every copy."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self.after = lru_cache(maxsize=MOST_TAPS)(self._after)

    def _after(self, count: int | None, moves: int, stitches: int) -> tuple[int, int] | None:
        """The moves and stitches made after so many stitches more, or one repeat more, none where the round ended
        with them; None if it has not so many left."""
        if count is None:
            moves += coming_now(self._plan, moves).moves
        elif 1 <= count <= self._plan.leaves - stitches:
            moves = self._plan.move_after_stitches(stitches + count)
        else:
            return None
        return (moves, self._plan.stitches_before(moves)) if moves < self._plan.moves else _ENDED


_ENDED = (0, 0)

_taps_in = remembered(_PlanTaps)

MOST_TAPS = 2048
"""Taps of one round that are remembered, more than most rounds have."""


def _moves_after(item: Round, place: Place, event: Making) -> int:
    if isinstance(event, MovesDone):
        if not 1 <= event.moves <= item.moves - place.moves:
            raise Refused(f"{item.label} has not so much left to make")
        return place.moves + event.moves
    return item.moves


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


def _stitches_on(pattern: Pattern, work: Work, count: int) -> Place:
    if not 1 <= count <= MAX_STITCHES:
        raise Refused(f"a number of stitches from 1 to {MAX_STITCHES:,} is needed")
    copy, place, stitches_ahead = work.copy, work.place, count
    while stitches_ahead:
        if place.round_index >= rounds_of(pattern, copy):
            raise Refused(f"{copy_name(pattern, copy)} ends sooner: only {count - stitches_ahead:,} left to make")
        item = round_at(pattern, work, copy.piece, copy.number, place.round_index)
        if item.plan is None and count > 1:
            raise Refused(f"{item.label} could not be read: work it by eye and tap it as one round")
        tap_stitches = _taps(item.plan, place, stitches_ahead)
        moves = item.plan.move_after_stitches(place.stitches + tap_stitches) if item.plan else item.moves
        place = _settled(item, place.round_index, moves)
        stitches_ahead -= tap_stitches
    return place


def _taps(plan: Plan | None, place: Place, most: int) -> int:
    """How many of these taps stay in this round: one for each stitch left, or one for what follows the last."""
    stitches_ahead = plan.leaves - place.stitches if plan else 0
    return min(max(stitches_ahead, 1), most)


def _arrived(pattern: Pattern, work: Work, place: Place) -> Work:
    """The work with the place moved on, and the next copy taken up when this one is made."""
    ended_a_round = place.moves == 0
    due = ended_a_round and should_be_counted(pattern, work, place.round_index - 1)
    return _next_taken_up(pattern, work.moved_to(place, due))


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
    miscounts = tuple(
        miscount for miscount in work.miscounts if miscount.copy != copy or _lies_before(miscount, place)
    )
    work = replace(
        work.going_on_with(copy), place=place, ended=None, count_due=False, unanswered=None, miscounts=miscounts
    )
    work = replace(work, ticked=_still_ticked(pattern, work, copy, place))
    return _next_taken_up(pattern, work)


def ticked(pattern: Pattern, work: Work, event: NoteTicked) -> Work:
    """The work with a note of the copy in hand done."""
    copy = work.in_hand
    done = Ticked(copy, event.note)
    if copy.piece >= len(pattern.pieces) or not 0 <= event.note < len(due_notes(pattern.pieces[copy.piece])):
        raise Refused("there is no such note in this pattern")
    if done in work.ticked:
        raise Refused("that note is ticked already")
    return replace(work, ticked=(*work.ticked, done))


def _still_ticked(pattern: Pattern, work: Work, copy: Copy, place: Place) -> tuple[Ticked, ...]:
    """The ticks that are not ripped out with what lies beyond a place."""
    notes = due_notes(pattern.pieces[copy.piece])
    stays = {note.number for note in notes if max(note.indexes, default=0) < place.round_index}
    return tuple(done for done in work.ticked if done.copy != copy or done.note in stays)


def _place_meant(pattern: Pattern, state: State, copy: Copy, event: Frog) -> Place:
    index, stitch = event.round_index, event.stitch
    if not 0 <= index < rounds_of(pattern, copy):
        raise Refused(f"{copy_name(pattern, copy)} has no such round")
    item = round_at(pattern, state.work, copy.piece, copy.number, index)
    most = item.plan.leaves if item.plan else 0
    if not 0 <= stitch <= most:
        raise Refused(f"{item.label} has only {most:,} stitches" if item.plan else _only_its_start(item))
    return Place(index) if stitch == 0 else _settled(item, index, _move_for(item, stitch))


def _only_its_start(item: Round) -> str:
    return f"{item.label} could not be read: only its start can be gone to"


def _move_for(item: Round, stitch: int) -> int:
    return item.plan.move_after_stitches(stitch) if item.plan else 0


def _lies_before(miscount: Miscount, place: Place) -> bool:
    return (miscount.round_index, miscount.moves) <= (place.round_index, place.moves)


def chosen(pattern: Pattern, state: State, event: PieceChosen) -> Work:
    """The work with another copy taken up."""
    if not 0 <= event.piece < len(pattern.pieces):
        raise Refused("there is no such piece")
    piece = pattern.pieces[event.piece]
    if not 1 <= event.copy <= piece.make:
        times = "once" if piece.make == 1 else f"{piece.make} times"
        raise Refused(f"{piece.name} is made {times} only")
    copy = Copy(event.piece, event.copy)
    if copy == state.work.copy and state.work.ended is None:
        raise Refused(f"you are at {copy_name(pattern, copy)} already")
    return replace(state.work.going_on_with(copy), ended=None, count_due=False)


# Rounds that the maker works otherwise than written, and what became of that when something is ripped back.


def rewritten(pattern: Pattern, state: State, event: RoundRewritten, answered: Miscount | None) -> Work:
    """The work with one round of the copy in hand changed; the count that it answers is no longer open.

    Raises `Refused` for a round that is made already, and for a line that our reader does not take.
    """
    work, copy = state.work, state.work.in_hand
    own = OwnRound(copy, event.round_index, clean(event.text).strip(), event.before, _since(work, copy, answered))
    _must_be_ahead(pattern, work, own)
    _must_read(pattern, own)
    miscount = answered if answered is not None and answered.copy == copy else None
    place = work.place_in(copy)
    changed = replace(work, own_rounds=(*work.own_rounds, own))
    if place.round_index == own.round_index and place.moves:
        by = miscount.counted - miscount.expected if miscount and miscount.round_index == own.round_index else 0
        place = moved_over(pattern, changed, copy, replace(place, stitches=place.stitches + by))
        own = replace(own, since=(place.round_index, place.moves)) if by else own
        changed = replace(changed, place=place, own_rounds=(*work.own_rounds, own))
    return replace(changed, unanswered=None if miscount else work.unanswered)


def _since(work: Work, copy: Copy, answered: Miscount | None) -> tuple[int, int]:
    if answered is not None and answered.copy == copy:
        return answered.round_index, answered.moves
    place = work.place_in(copy)
    return place.round_index, place.moves


def _must_be_ahead(pattern: Pattern, work: Work, own_round: OwnRound) -> None:
    if not 0 <= own_round.round_index < rounds_of(pattern, own_round.copy):
        raise Refused(f"{copy_name(pattern, own_round.copy)} has no such round")
    if own_round.round_index < work.place_in(own_round.copy).round_index:
        label = pattern.pieces[own_round.copy.piece].rounds[own_round.round_index].label
        raise Refused(f"{label} is made already: frog back to change it")


def _must_read(pattern: Pattern, own_round: OwnRound) -> None:
    if not own_round.text or len(own_round.text) > LONGEST_ROUND:
        raise Refused(f"a round has 1 to {LONGEST_ROUND:,} characters, this one has {len(own_round.text):,}")
    if not worked_instead(
        pattern, own_round.copy.piece, own_round.round_index, own_round.text, own_round.before
    ).reads:
        raise Refused(f"this line does not work out over {own_round.before:,} stitches")


def still_worked(work: Work, copy: Copy, place: Place) -> tuple[OwnRound, ...]:
    """The own rounds that go on when this copy is ripped back to `place`: what they make up for is still there."""
    position = place.round_index, place.moves
    return tuple(own for own in work.own_rounds if own.copy != copy or own.since <= position)


def should_be_counted(pattern: Pattern, work: Work, index: int) -> bool:
    """Whether the maker wishes to be asked for a count when this round of the copy that is worked is done."""
    asks = work.asks
    if asks.when == "never":
        return False
    if asks.when == "change":
        return _asks_for_a_count(round_at(pattern, work, work.copy.piece, work.copy.number, index))
    return (index + 1) % asks.every == 0


@remembered
def _asks_for_a_count(item: Round) -> bool:
    """Whether a miscount is likely in this round."""
    return item.is_in_doubt or _changes(item)


def _changes(item: Round) -> bool:
    """Whether the round increases or decreases, also where both keep the balance."""
    if item.plan is not None and any(act.is_increase or act.is_decrease for act in item.plan.acts()):
        return True
    return bool(item.before) and item.leaves is not None and item.before != item.leaves
