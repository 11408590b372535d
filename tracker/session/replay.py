"""A history gone through once more from its beginning, event by event: the one replay that everything asks."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern
from tracker.session.events import Closed, Event, Opened, Undo
from tracker.session.history import Timed
from tracker.session.reducer import begin, work_after
from tracker.session.state import REMEMBERED, Refused, State, Work


@dataclass(frozen=True, slots=True)
class ReplayStep:
    """One event that was taken, with the work before and after it."""

    before: Work
    event: Event
    after: Work
    at: float


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
        if isinstance(event, Opened | Closed):
            after = work
        elif isinstance(event, Undo):
            if not past:
                continue
            after = past.pop()
        else:
            try:
                after = work_after(pattern, work, event, at)
            except Refused:
                continue
            past.append(work)
        yield ReplayStep(work, event, after, at)
        work = after


def replayed(pattern: Pattern, history: Iterable[Timed], state: State | None = None) -> State:
    """Where a history leads to."""
    state = begin(pattern) if state is None else state
    work, at, past = state.work, state.at, deque(state.past, REMEMBERED)
    for step in _steps(pattern, history, work, past):
        work, at = step.after, step.at
    return State(work, tuple(past), at)
