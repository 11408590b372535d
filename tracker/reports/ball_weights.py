"""What the balls weighed on the way, and the yarn rates that this gives.

What was made between two readings of one yarn, and by how much the ball got lighter, is one weighing.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from tracker.journal.records import Happened
from tracker.lazy_dataclass import dataclass
from tracker.measure.stitch_counts import NO_WORK, StitchWork
from tracker.measure.yarn import SCALE_STEP, Weighing, YarnRate, rate_from_weighings
from tracker.pattern.model import Pattern
from tracker.reports.quantities import UnclearFigure
from tracker.reports.work_so_far import rest_of
from tracker.session.events import HEAVIEST, BallWeighed
from tracker.session.reducer import State
from tracker.session.replay import steps

_GRAMS = r"(\d{1,6}(?:[.,]\d{1,3})?)"
_TYPED = re.compile(rf"(?:(\S+?)\s*[=:\s]\s*)?{_GRAMS}\s*(?:g|grams?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class BallReading:
    """Grams of the ball of yarn `key` at a moment, and the work that was left of this yarn then."""

    key: str
    grams: float
    work_left: StitchWork


def weight_in(typed: str, in_use: str, keys: Iterable[str]) -> tuple[str, float]:
    """Which yarn, and grams, from "43", "43.5 g" (the yarn in use) or "R 43". Raises `UnclearFigure`."""
    yarn_keys = {key.casefold(): key for key in keys if key}
    match = _TYPED.fullmatch(typed.strip())
    typed_key = (match[1] or "").casefold() if match else ""
    if match is None or (typed_key and typed_key not in yarn_keys):
        example = f"43, or {next(iter(yarn_keys.values()))} 43" if yarn_keys else "43"
        raise UnclearFigure(f"type the grams that the scale shows: {example}")
    grams = float(match[2].replace(",", "."))
    if not 0 < grams <= HEAVIEST:
        raise UnclearFigure(f"a ball of {grams:g} g cannot be: look at the scale again")
    return (yarn_keys[typed_key] if typed_key else in_use), grams


def readings(pattern: Pattern, history: Iterable[Happened], state: State) -> tuple[BallReading, ...]:
    """All readings that still stand in `state`, the state that the history leads to, oldest first."""
    if not state.work.weights:
        return ()
    timed = [(each.at, each.event) for each in history]
    while timed and not isinstance(timed[-1][1], BallWeighed):
        timed.pop()
    ball_readings: list[BallReading] = []
    for _, event, after, _ in steps(pattern, timed):
        if isinstance(event, BallWeighed) and after.weights[-1] in state.work.weights:
            work_left = rest_of(pattern, after).get(event.yarn, NO_WORK)
            ball_readings.append(BallReading(event.yarn, event.grams, work_left))
    return tuple(ball_readings)


def weighings(balls: Sequence[BallReading]) -> Mapping[str, tuple[Weighing, ...]]:
    """What was used between two readings, by yarn. A ball that got heavier is another ball: it counts anew."""
    by_yarn: dict[str, list[BallReading]] = {}
    for reading in balls:
        by_yarn.setdefault(reading.key, []).append(reading)
    return {key: tuple(_between(of_yarn)) for key, of_yarn in by_yarn.items()}


def _between(of_yarn: Sequence[BallReading]) -> Iterable[Weighing]:
    for before, after in pairwise(of_yarn):
        made = StitchWork(Counter(before.work_left.kinds) - Counter(after.work_left.kinds))
        if after.grams <= before.grams and made.units > 0:
            yield Weighing(before.grams, after.grams, made)


def rate_of(key: str, weighed: Mapping[str, tuple[Weighing, ...]], step: float = SCALE_STEP) -> YarnRate | None:
    """How much of this yarn a stitch takes: from its own ball, else as the other balls of the pattern did."""
    own = rate_from_weighings(weighed.get(key, ()), step)
    return own or rate_from_weighings([one for each in weighed.values() for one in each], step)
