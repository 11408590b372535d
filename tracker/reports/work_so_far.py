"""What a maker has done of a pattern, for measuring: the work that is left, and how long the taps took.

Only looks: nothing is written, nobody is kept from working.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.journal.records import Happened
from tracker.measure.pace import Kinds, Sample
from tracker.measure.stitch_counts import (
    ByYarn,
    done_between,
    rest_of_piece,
    together,
    work_of_piece,
)
from tracker.pattern.model import Pattern
from tracker.session.events import Closed, Making, Opened
from tracker.session.replay import steps
from tracker.session.state import Work


def rest_of(pattern: Pattern, work: Work) -> ByYarn:
    """What is left to make of all copies of all pieces."""
    parts: list[ByYarn] = []
    begun = [(work.copy, work.place), *((parked.copy, parked.place) for parked in work.parked)]
    for index, piece in enumerate(pattern.pieces):
        mine = [place for copy, place in begun if copy.piece == index]
        parts += [rest_of_piece(piece, place.round_index, place.moves) for place in mine]
        whole = work_of_piece(piece)
        parts.append({key: part * max(0, piece.make - len(mine)) for key, part in whole.items()})
    return together(parts)


def samples_of(pattern: Pattern, history: Sequence[Happened]) -> tuple[Sample, ...]:
    """One sample for each tap that made something, with the time since whatever was done before it.

    A tap that made no stitch (a join, a skip) adds its time to the next. What comes first in a session was not timed.
    """
    samples: list[Sample] = []
    since: float | None = None
    kinds_by_stretch: dict[_Stretch, Kinds] = {}
    for before, event, after, at in steps(pattern, ((each.at, each.event) for each in history)):
        if not isinstance(event, Making):
            since = None if isinstance(event, Opened | Closed) else at
            continue
        kinds = _made(pattern, before, after, kinds_by_stretch)
        if kinds and since is not None:
            samples.append(Sample(kinds, at - since))
        if kinds or since is None:
            since = at
    return tuple(samples)


_Stretch = tuple[int, int, int, int, int]
"""A piece, and from which round and move to which."""


def _made(pattern: Pattern, before: Work, after: Work, kinds_by_stretch: dict[_Stretch, Kinds]) -> Kinds:
    """What a tap made; the same stretch comes with every copy, and `kinds_by_stretch` keeps it."""
    copy = before.copy
    if copy.piece >= len(pattern.pieces):
        return ()
    start, end = before.place, after.place_in(copy)
    stretch = (copy.piece, start.round_index, start.moves, end.round_index, end.moves)
    if stretch not in kinds_by_stretch:
        work = done_between(
            pattern.pieces[copy.piece], (start.round_index, start.moves), (end.round_index, end.moves)
        )
        kinds_by_stretch[stretch] = tuple(work.kinds.items())
    return kinds_by_stretch[stretch]
