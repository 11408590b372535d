"""How long the rest will take, from the maker's own pace and from nothing else.

A sample is what was made between two taps and how long that took. Pauses and taps made up for later are
left out by comparing with the maker's own middle pace. Before there are samples there is no answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from statistics import median

from tracker.lazy_dataclass import dataclass
from tracker.measure.ranges import Range, exactly, total
from tracker.measure.stitch_counts import StitchWork

PAUSE = 4.0
"""A tap that took this many times the middle pace was a pause, one that took a 4th of it was made up for
later.

Common practice, no source.
"""

FASTEST = 0.4
"""Seconds in which nobody makes a stitch by hand: from memory. What is quicker is a key held down."""

ENOUGH = 5
"""Samples of a kind of stitch from which on its pace is told."""

DAYS_DIFFER = 0.10
"""The least spread of an answer either way; hands, light and yarn differ from day to day: common practice,
no source."""


Kinds = tuple[tuple[str, int], ...]
"""What was made between two taps, by kind."""


@dataclass(frozen=True, slots=True)
class Sample:
    """What was made between two taps, and the seconds between them."""

    kinds: Kinds
    seconds: float


@dataclass(frozen=True, slots=True)
class KindPace:
    """Seconds for one stitch of a kind, as a range about the maker's mean, and how many samples tell it."""

    seconds: Range
    samples: int


@dataclass(frozen=True, slots=True)
class WorkingPace:
    """What is known of a maker's pace. `left_out` samples were pauses or taps made up for later."""

    kinds: Mapping[str, KindPace]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """Seconds for the rest, None before there is data; `without` are kinds that the maker has not shown a
    pace for."""

    seconds: Range | None
    without: tuple[str, ...] = ()


def learn(samples: Iterable[Sample]) -> WorkingPace:
    """The maker's pace by kind of stitch, from what was tapped."""
    usable: _Timings = {}
    for sample in samples:  # a long history has a hundred thousand, and few things that were made between two taps
        if sample.seconds > 0:
            usable.setdefault(sample.kinds, []).append(sample.seconds)
    usable = {kinds: timings for kinds, timings in usable.items() if _stitches(kinds) > 0}
    steady = _steady(usable)
    by_kind: dict[str, list[_Share]] = {}
    for kinds, timings in steady.items():
        if len(kinds) == 1:
            by_kind.setdefault(kinds[0][0], []).append((kinds[0][1], timings))
    rough = {kind: median(_each(shares)) for kind, shares in by_kind.items()}
    for kinds, timings in steady.items():
        if len(kinds) > 1:
            for kind, share in _shared(kinds, timings, rough):
                by_kind.setdefault(kind, []).append(share)
    paces = {kind: _pace_of(shares) for kind, shares in by_kind.items() if _count(shares) >= ENOUGH}
    return WorkingPace(paces, _count(usable.items()) - _count(steady.items()))


_Timings = dict[Kinds, list[float]]
"""The seconds that it took each time, by what was made."""

_Share = tuple[int, list[float]]
"""How many stitches of a kind were made, and the seconds that it took each time."""


def _count(timings: Iterable[tuple[object, list[float]]]) -> int:
    return sum(len(seconds) for _, seconds in timings)


def _stitches(kinds: Kinds) -> int:
    return sum(count for _, count in kinds)


def _each(shares: Iterable[_Share]) -> list[float]:
    """The seconds for one stitch, each time."""
    return [seconds / stitches for stitches, timings in shares for seconds in timings]


def _steady(usable: _Timings) -> _Timings:
    """Without pauses and taps made up for later, each compared with samples of the same make-up."""
    alike: dict[tuple[str, ...], list[Kinds]] = {}
    slow: _Timings = {}
    for kinds, timings in usable.items():
        fastest = FASTEST * _stitches(kinds)
        slow[kinds] = [seconds for seconds in timings if seconds >= fastest]
        alike.setdefault(tuple(sorted(kind for kind, _ in kinds)), []).append(kinds)
    steady: _Timings = {}
    for group in alike.values():
        times = _each((_stitches(kinds), slow[kinds]) for kinds in group)
        middle = median(times) if times else 0.0
        for kinds in group:
            least, most = (_stitches(kinds) * limit for limit in (middle / PAUSE, middle * PAUSE))
            steady[kinds] = [seconds for seconds in slow[kinds] if least <= seconds <= most]
    return {kinds: timings for kinds, timings in steady.items() if timings}


def _shared(kinds: Kinds, timings: Iterable[float], rough: Mapping[str, float]) -> Iterator[tuple[str, _Share]]:
    """The seconds of a mixed make-up shared out by what is known of each kind; evenly where nothing is."""
    for seconds in timings:
        each = seconds / _stitches(kinds)
        weights = {kind: rough.get(kind, each) * count for kind, count in kinds}
        scale = seconds / sum(weights.values())
        yield from ((kind, (count, [weights[kind] * scale])) for kind, count in kinds if count)


def _pace_of(shares: Sequence[_Share]) -> KindPace:
    """Mean seconds a stitch, give or take twice its standard error (ratio of sums) or `DAYS_DIFFER`, if
    that is more."""
    samples = _count(shares)
    stitches = sum(number * len(timings) for number, timings in shares)
    mean = sum(sum(timings) for _, timings in shares) / stitches
    squares = sum((seconds - mean * number) ** 2 for number, timings in shares for seconds in timings)
    error = math.sqrt(squares * samples / (samples - 1)) / stitches
    spread = min(max(2 * error, DAYS_DIFFER * mean), mean)
    return KindPace(Range(mean - spread, mean + spread), samples)


def time_for(work: StitchWork, pace: WorkingPace) -> TimeLeft:
    """How long this work will take; the parts of it that nothing is known of are named, not guessed."""
    counts = {kind: count for kind, count in work.kinds.items() if count}
    timed_counts = {kind: count for kind, count in counts.items() if kind in pace.kinds}
    without = tuple(kind for kind in counts if kind not in timed_counts)
    if not counts:
        return TimeLeft(exactly(0.0))
    if not timed_counts:
        return TimeLeft(None, without)
    parts = (pace.kinds[kind].seconds * count for kind, count in timed_counts.items())
    return TimeLeft(total(parts), without)
