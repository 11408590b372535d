"""How long the rest will take, from the maker's own pace and from nothing else.

A sample is what was made between two taps and how long that took. Pauses and taps made up for later are
left out by comparing with the maker's own middle pace. Before there are samples there is no answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from statistics import median

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


@dataclass(frozen=True, slots=True)
class Sample:
    """What was made between two taps, by kind, and the seconds between them; `each` is one stitch's share of them."""

    kinds: tuple[tuple[str, int], ...]
    seconds: float
    stitches: int = field(init=False)
    each: float = field(init=False)

    def __post_init__(self) -> None:
        stitches = sum([count for _, count in self.kinds])
        object.__setattr__(self, "stitches", stitches)
        object.__setattr__(self, "each", self.seconds / stitches if stitches else 0.0)


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
    usable = [sample for sample in samples if sample.stitches > 0 and sample.seconds > 0]
    steady = _steady([sample for sample in usable if sample.each >= FASTEST])
    plain: dict[str, list[Sample]] = {}
    for sample in steady:
        if len(sample.kinds) == 1:
            plain.setdefault(sample.kinds[0][0], []).append(sample)
    rough = {kind: median(sample.each for sample in own) for kind, own in plain.items()}
    for sample in steady:
        if len(sample.kinds) > 1:
            for kind, part in _shared(sample, rough):
                plain.setdefault(kind, []).append(part)
    paces = {kind: _pace_of(own) for kind, own in plain.items() if len(own) >= ENOUGH}
    return WorkingPace(paces, len(usable) - len(steady))


def _steady(samples: Sequence[Sample]) -> list[Sample]:
    """Without pauses and taps made up for later, each compared with samples of the same make-up."""
    alike: dict[tuple[str, ...], list[Sample]] = {}
    for sample in samples:
        alike.setdefault(tuple(sorted(kind for kind, _ in sample.kinds)), []).append(sample)
    steady_samples: list[Sample] = []
    for group in alike.values():
        middle = median(sample.each for sample in group)
        steady_samples += [sample for sample in group if middle / PAUSE <= sample.each <= middle * PAUSE]
    return steady_samples


def _shared(sample: Sample, rough: Mapping[str, float]) -> list[tuple[str, Sample]]:
    """A mixed sample's seconds shared out by what is known of each kind; evenly where something is not
    known."""
    weights = {kind: rough.get(kind, sample.each) * count for kind, count in sample.kinds}
    scale = sample.seconds / sum(weights.values())
    return [(kind, Sample(((kind, count),), weights[kind] * scale)) for kind, count in sample.kinds if count]


def _pace_of(samples: Sequence[Sample]) -> KindPace:
    """Mean seconds a stitch, give or take twice its standard error (ratio of sums) or `DAYS_DIFFER`, if
    that is more."""
    stitches = sum(sample.stitches for sample in samples)
    mean = sum(sample.seconds for sample in samples) / stitches
    squares = sum((sample.seconds - mean * sample.stitches) ** 2 for sample in samples)
    error = math.sqrt(squares * len(samples) / (len(samples) - 1)) / stitches
    spread = min(max(2 * error, DAYS_DIFFER * mean), mean)
    return KindPace(Range(mean - spread, mean + spread), len(samples))


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
