"""Rounds that the maker works otherwise than written, and what became of that when something is ripped back."""

from __future__ import annotations

from dataclasses import replace

from tracker.making.events import RoundRewritten
from tracker.making.own_rounds import worked_instead
from tracker.making.work import (
    Copy,
    Miscount,
    OwnRound,
    Place,
    Refused,
    State,
    Work,
    copy_name,
    round_at,
    rounds_of,
)
from tracker.normalize import clean
from tracker.pattern.model import Pattern

LONGEST_ROUND = 20_000
"""Characters of one round; no maker writes more."""


def rewritten(pattern: Pattern, state: State, event: RoundRewritten, answered: Miscount | None) -> Work:
    """The work with one round of the copy in hand changed; the count that it answers is no longer open.

    Raises `Refused` for a round that is made already, and for a line that our reader does not take.
    """
    work, copy = state.work, state.work.in_hand
    own = OwnRound(copy, event.round_index, clean(event.text).strip(), event.before, _since(work, copy, answered))
    _must_be_ahead(pattern, work, own)
    _must_read(pattern, own)
    found = answered if answered is not None and answered.copy == copy else None
    place = work.place_in(copy)
    changed = replace(work, own_rounds=(*work.own_rounds, own))
    if place.round_index == own.round_index and place.moves:
        by = found.counted - found.expected if found and found.round_index == own.round_index else 0
        place = _moved_over(pattern, replace(state, work=changed), copy, replace(place, stitches=place.stitches + by))
        own = replace(own, since=(place.round_index, place.moves)) if by else own
        changed = replace(changed, place=place, own_rounds=(*work.own_rounds, own))
    return replace(changed, unanswered=None if found else work.unanswered)


def _since(work: Work, copy: Copy, answered: Miscount | None) -> tuple[int, int]:
    if answered is not None and answered.copy == copy:
        return answered.round_index, answered.moves
    place = work.place_in(copy)
    return place.round_index, place.moves


def _must_be_ahead(pattern: Pattern, work: Work, own: OwnRound) -> None:
    if not 0 <= own.round_index < rounds_of(pattern, own.copy):
        raise Refused(f"{copy_name(pattern, own.copy)} has no such round")
    if own.round_index < work.place_in(own.copy).round_index:
        label = pattern.pieces[own.copy.piece].rounds[own.round_index].label
        raise Refused(f"{label} is made already: frog back to change it")


def _must_read(pattern: Pattern, own: OwnRound) -> None:
    if not own.text or len(own.text) > LONGEST_ROUND:
        raise Refused(f"a round has 1 to {LONGEST_ROUND:,} characters, this one has {len(own.text):,}")
    if not worked_instead(pattern, own.copy.piece, own.round_index, own.text, own.before).reads:
        raise Refused(f"this line does not work out over {own.before:,} stitches")


def _moved_over(pattern: Pattern, state: State, copy: Copy, place: Place) -> Place:
    """The place after as many stitches in the round as it is worked now."""
    item = round_at(pattern, state, copy.piece, copy.number, place.round_index)
    if item.plan is None:
        return place
    moves = min(item.plan.move_after_stitches(max(0, min(place.stitches, item.plan.leaves))), item.plan.moves - 1)
    return Place(place.round_index, moves, item.plan.stitches_before(moves)) if moves else Place(place.round_index)


def still_worked(work: Work, copy: Copy, place: Place) -> tuple[OwnRound, ...]:
    """The own rounds that go on when this copy is ripped back to `place`: what they make up for is still there."""
    there = place.round_index, place.moves
    return tuple(own for own in work.own_rounds if own.copy != copy or own.since <= there)
