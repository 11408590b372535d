"""What still stands of a history: the events that were not taken back, newest first, with the work around each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.session.events import Closed, Event, Opened, Undo
from tracker.session.state import State, Work

Timed = tuple[float, Event]
"""When something was done (seconds since the epoch), and what."""


@dataclass(frozen=True, slots=True)
class StepBack:
    """One event that still stands, with the work before and after it."""

    before: Work
    event: Event
    after: Work
    at: float


def steps_back(state: State, newest_first: Iterable[Timed]) -> Iterator[StepBack]:
    """What can still be taken back, newest first, as far as the state remembers it."""
    moments = pairwise((state.work, *reversed(state.past)))
    for (after, before), (at, event) in zip(moments, _standing(newest_first), strict=False):
        yield StepBack(before, event, after, at)


def _standing(newest_first: Iterable[Timed]) -> Iterator[Timed]:
    """What was not taken back; the opening and closing of sessions cannot be."""
    undone = 0
    for at, event in newest_first:
        if isinstance(event, Opened | Closed):
            continue
        if isinstance(event, Undo):
            undone += 1
        elif undone:
            undone -= 1
        else:
            yield at, event
