"""The taps that still stand, with their times: what was taken back or ripped out has no part in them.

The state remembers what was before each event that can be taken back, the journal when each event was; held side by
side from the newest on, they tell when each stretch of the last rounds was worked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice

from tracker.pattern.model import Pattern
from tracker.session.events import (
    Counted,
    Event,
    Making,
    RoundRewritten,
    Together,
)
from tracker.session.history import Timed, steps_back
from tracker.session.miscount.question import Tap
from tracker.session.state import Copy, Place, State
from tracker.session.worked_rounds import round_at

MOST_LOOKED_AT = 4000
"""Events gone through at most; three rounds that are tapped stitch by stitch have some hundreds."""


@dataclass(slots=True)
class Tapped:
    """How one round was worked. `begun` is the time of what was done last before its first tap."""

    taps: list[Tap] = field(default_factory=list)
    begun: float | None = None
    counted: bool = False


@dataclass(frozen=True, slots=True)
class _Step:
    """One event that stands, where the copy was before and after it, and whether it was the one in hand then."""

    at: float
    event: Event
    before: Place
    after: Place
    in_hand: bool


def rounds_tapped(
    pattern: Pattern, state: State, newest_first: Iterable[Timed], copy: Copy, first: int
) -> dict[int, Tapped]:
    """How the rounds of a copy were worked, from round `first` on; a round that nothing is known of is not there."""
    rounds: dict[int, Tapped] = {}
    last: float | None = None
    for step in reversed(list(_steps(state, newest_first, copy, first))):
        if step.after < step.before:
            _rip(rounds, step.after)
        elif step.after > step.before and isinstance(step.event, Making):
            _tap(
                rounds, step, last, lambda index: round_at(pattern, state.work, copy.piece, copy.number, index).moves
            )
        for index in _counted_in(step):
            rounds.setdefault(index, Tapped()).counted = True
        for index in _changed_in(step):
            rounds.get(index, Tapped()).taps.clear()  # a changed round has other moves than were tapped
        last = step.at
    return rounds


def _steps(state: State, newest_first: Iterable[Timed], copy: Copy, first: int) -> Iterator[_Step]:
    """The events that stand, newest first, back to the one with which round `first` was come to."""
    for step in steps_back(state, islice(newest_first, MOST_LOOKED_AT)):
        before, after = step.before.place_in(copy), step.after.place_in(copy)
        yield _Step(step.at, step.event, before, after, step.before.in_hand == copy)
        if before.round_index < first:
            return


def _rip(rounds: dict[int, Tapped], place: Place) -> None:
    """What was tapped beyond a place, or counted of rounds that are not whole any more, counts no more."""
    for index in [index for index in rounds if index > place.round_index]:
        del rounds[index]
    this_round = rounds.get(place.round_index)
    if this_round is not None:
        this_round.taps = [tap for tap in this_round.taps if tap.after <= place.moves]
        this_round.counted = False


def _tap(rounds: dict[int, Tapped], step: _Step, last: float | None, moves_of: Callable[[int], int]) -> None:
    """One tap; where it goes over the end of a round, nobody knows when the next one was begun."""
    first, end = step.before.round_index, step.after.round_index
    this_round = rounds.setdefault(first, Tapped())
    if not this_round.taps:
        this_round.begun = last
    until = step.after.moves if first == end else moves_of(first)
    this_round.taps.append(Tap(step.at, step.before.moves, until))
    if end > first and step.after.moves:
        rounds[end] = Tapped(begun=step.at)


def _counted_in(step: _Step) -> Iterator[int]:
    """The rounds of the copy that were counted with this event."""
    if not step.in_hand:
        return
    for part in _parts(step.event):
        if isinstance(part, Counted):
            at_start = part.round_index == step.before.round_index and not step.before.moves
            yield part.round_index - 1 if at_start else part.round_index


def _changed_in(step: _Step) -> Iterator[int]:
    if step.in_hand:
        yield from (part.round_index for part in _parts(step.event) if isinstance(part, RoundRewritten))


def _parts(event: Event) -> tuple[Event, ...]:
    return event.parts if isinstance(event, Together) else (event,)
