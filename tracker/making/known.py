"""Differences that the maker knows of: what a count should come to with them, so that nobody is told twice."""

from __future__ import annotations

from functools import partial

from tracker.making.onward import LOOKS_AHEAD, is_worked_elsewhere, made_over
from tracker.making.rewritten import reader_for
from tracker.making.work import Copy, Miscount, State, Work, round_at
from tracker.pattern.model import Pattern, Round


def made_up_for(work: Work, copy: Copy, index: int, item: Round) -> int:
    """How many stitches more or fewer there are in a round because the next one was changed to make up for it."""
    following = work.own_round(copy, index + 1) if work.own_rounds else None
    if following is None or following.since[0] != index or item.leaves is None:
        return 0
    place = work.place_in(copy)
    is_before = (place.round_index, place.moves) < following.since
    return 0 if is_before else following.before - item.leaves


def last_carried(work: Work, copy: Copy, index: int) -> Miscount | None:
    """The last difference that was carried on with in this round of a copy or before it."""
    before = (found for found in work.miscounts if found.copy == copy and found.round_index <= index)
    return max(before, key=lambda found: found.round_index, default=None)


def carried_to(pattern: Pattern, state: State, found: Miscount, index: int) -> int | None:
    """What a round comes to by now with a difference that was carried on with in it or before it; None if the
    difference has come right since, or if nobody can know."""
    at = partial(round_at, pattern, state, found.copy.piece, found.copy.number)
    item, place = at(found.round_index), state.work.place_in(found.copy)
    if item.plan is None or index - found.round_index > LOOKS_AHEAD:
        return None
    by = found.counted - item.plan.stitches_before(found.moves)
    if index >= place.round_index:
        return place.stitches + by if index == found.round_index else None
    rounds = [at(number) for number in range(found.round_index, index + 1)]
    return _worked_on(pattern, found.copy, rounds, item.plan.leaves + by)


def _worked_on(pattern: Pattern, copy: Copy, rounds: list[Round], stitches: int) -> int | None:
    """Stitches after the last of the rounds, if the first has so many and the others are worked as they are."""
    read = reader_for(pattern, pattern.pieces[copy.piece])
    leaves = rounds[0].leaves
    for item in rounds[1:]:
        if leaves is None or stitches == leaves or is_worked_elsewhere(item, leaves):
            return None
        made = made_over(item, stitches, read)
        if made is None:
            return None
        stitches, leaves = made, item.leaves
    return stitches
