"""Counting: when to ask for it, and what to do when the maker's count differs."""

from __future__ import annotations

from dataclasses import replace

from tracker.making.events import AskChosen, Counted
from tracker.making.known import carried_to, last_carried, made_up_for
from tracker.making.work import (
    Copy,
    Miscount,
    Place,
    Refused,
    State,
    Work,
    copy_name,
    round_at,
)
from tracker.pattern.model import Pattern, Round
from tracker.rounds.plan import MAX_STITCHES

WHEN = ("each", "change", "every", "never")


def should_be_counted(pattern: Pattern, state: State, copy: Copy, index: int) -> bool:
    """Whether the maker wishes to be asked for a count when this round is done."""
    asks = state.work.asks
    if asks.when == "never":
        return False
    if asks.when == "change":
        return _changes(round_at(pattern, state, copy.piece, copy.number, index))
    return (index + 1) % asks.every == 0


def _changes(item: Round) -> bool:
    """Whether the round increases or decreases, also where both keep the balance."""
    if item.plan is not None and any(act.is_increase or act.is_decrease for act in item.plan.acts()):
        return True
    return bool(item.before) and item.leaves is not None and item.before != item.leaves


def round_to_count(work: Work) -> int:
    """The round of the copy in hand that a count given now is about: the one just ended, or the one being made."""
    place = work.place_in(work.in_hand)
    return place.round_index - 1 if place.moves == 0 and place.round_index else place.round_index


def expected_now(pattern: Pattern, state: State, index: int) -> int | None:
    """How many stitches this round of the copy in hand should have by now; None where nobody can know."""
    copy = state.work.in_hand
    place = state.work.place_in(copy)
    item = round_at(pattern, state, copy.piece, copy.number, index)
    if item.leaves is None or (item.plan is None and index >= place.round_index):
        return None
    return (item.leaves if index < place.round_index else place.stitches) + made_up_for(state.work, copy, index, item)


def counted(pattern: Pattern, state: State, event: Counted) -> Work:
    """The work after a count: equal answers what was open, different opens a question."""
    if not 0 <= event.stitches <= MAX_STITCHES:
        raise Refused(f"a count from 0 to {MAX_STITCHES:,} is needed")
    copy, index = state.work.in_hand, _index_meant(pattern, state, event)
    expected = expected_now(pattern, state, index)
    work = state.work if index != round_to_count(state.work) else replace(state.work, count_due=False)
    if expected is None:
        return work
    if event.stitches == expected:
        return _agreed(work, copy, index)
    carried = last_carried(work, copy, index)
    known = carried_to(pattern, state, carried, index) if carried else None
    if event.stitches == known:
        return _nothing_new(work, copy)
    if known is not None and carried and carried.round_index < index:
        expected = known
    return _asked(work, Miscount(copy, index, _moves_made(pattern, state, copy, index), expected, event.stitches))


def _index_meant(pattern: Pattern, state: State, event: Counted) -> int:
    """Which round was counted. At the start of a round there is nothing of it to count: the one before is meant."""
    place = state.work.place_in(state.work.in_hand)
    index = event.round_index
    if index < 0 or index > place.round_index:
        raise Refused("that round is not begun yet: count the one just made, or the one being made")
    if index < place.round_index or place.moves:
        return index
    if index == 0:
        raise Refused(f"nothing of {copy_name(pattern, state.work.in_hand)} is made yet that could be counted")
    return index - 1


def _moves_made(pattern: Pattern, state: State, copy: Copy, index: int) -> int:
    place: Place = state.work.place_in(copy)
    if index == place.round_index:
        return place.moves
    return round_at(pattern, state, copy.piece, copy.number, index).moves


def _agreed(work: Work, copy: Copy, index: int) -> Work:
    return replace(_nothing_new(work, copy), miscounts=_without(work, copy, index))


def _nothing_new(work: Work, copy: Copy) -> Work:
    """A count with no more in it than the maker knows already answers what was open about this copy."""
    still = work.unanswered if work.unanswered and work.unanswered.copy != copy else None
    return replace(work, unanswered=still)


def _asked(work: Work, found: Miscount) -> Work:
    """A difference waits for an answer. One that still waited about another round was carried on from in fact."""
    before = work.unanswered
    if before is not None and (before.copy, before.round_index) != (found.copy, found.round_index):
        work = carried_on(work)
    return replace(work, unanswered=found)


def carried_on(work: Work) -> Work:
    """The difference is remembered and no longer asked about."""
    found = work.unanswered
    if found is None:
        raise Refused("there is no differing count to carry on from")
    kept = _without(work, found.copy, found.round_index)
    return replace(work, unanswered=None, miscounts=(*kept, found))


def _without(work: Work, copy: Copy, index: int) -> tuple[Miscount, ...]:
    """The remembered differences without those of one round: a later count of it replaces them."""
    return tuple(m for m in work.miscounts if (m.copy, m.round_index) != (copy, index))


def asked_when(work: Work, event: AskChosen) -> Work:
    """The work with another wish of when to be asked."""
    if event.when not in WHEN or event.every < 1:
        raise Refused('a count can be asked for "each" round, at a "change", "every" so many rounds, or "never"')
    due = work.count_due and event.when != "never"
    return replace(work, asks=event, count_due=due)
