"""A history gone through once more from its beginning, event by event: the one replay that everything asks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern
from tracker.session.events import Event
from tracker.session.history import Timed
from tracker.session.reducer import advance, begin
from tracker.session.state import Refused, State


@dataclass(frozen=True, slots=True)
class ReplayStep:
    """One event that was taken, with the state before and after it."""

    before: State
    event: Event
    after: State
    at: float


def steps(pattern: Pattern, history: Iterable[Timed], state: State | None = None) -> Iterator[ReplayStep]:
    """The events of a history, oldest first, from `state` on (None: from the beginning).

    One that was taken when it happened and makes no sense now (the pattern may read otherwise) changes nothing and is
    left out.
    """
    state = begin(pattern) if state is None else state
    for at, event in history:
        try:
            after = advance(pattern, state, event, at)
        except Refused:
            continue
        yield ReplayStep(state, event, after, at)
        state = after


def replayed(pattern: Pattern, history: Iterable[Timed], state: State | None = None) -> State:
    """Where a history leads to."""
    state = begin(pattern) if state is None else state
    for step in steps(pattern, history, state):
        state = step.after
    return state
