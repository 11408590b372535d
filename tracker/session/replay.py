"""A history gone through once more from its beginning, event by event: the one replay that everything asks."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator

from tracker.pattern.model import Pattern
from tracker.session.events import Deed, Event, Undo
from tracker.session.history import Timed
from tracker.session.reducer import begin, work_after
from tracker.session.state import REMEMBERED, Refused, State, Work

ReplayStep = tuple[Work, Event, Work, float]
"""One event that was taken: the work before it, the event, the work after it, and when."""


def steps(pattern: Pattern, history: Iterable[Timed], state: State | None = None) -> Iterator[ReplayStep]:
    """The events of a history, oldest first, from `state` on (None: from the beginning).

    One that was taken when it happened and makes no sense now (the pattern may read otherwise) changes nothing and is
    left out.
    """
    state = begin(pattern) if state is None else state
    return _steps(pattern, history, state.work, deque(state.past, REMEMBERED))


def _steps(pattern: Pattern, history: Iterable[Timed], work: Work, past: deque[Work]) -> Iterator[ReplayStep]:
    """As `advance` goes on, but for what can be taken back: that is one stack for all steps, and not one for each."""
    for at, event in history:
        after = work
        if isinstance(event, Deed):
            try:
                after = work_after(pattern, work, event, at)
            except Refused:
                continue
            past.append(work)
        elif isinstance(event, Undo):
            if not past:
                continue
            after = past.pop()
        yield work, event, after, at
        work = after


def replayed(pattern: Pattern, history: Iterable[Timed], state: State | None = None) -> State:
    """Where a history leads to."""
    state = begin(pattern) if state is None else state
    work, at, past = state.work, state.at, deque(state.past, REMEMBERED)
    for _, _, after, when in _steps(pattern, history, work, past):
        work, at = after, when
    return State(work, tuple(past), at)
