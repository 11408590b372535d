"""A figure that is known only between two bounds; a measured one has both bounds equal."""

from __future__ import annotations

import math
from collections.abc import Iterable

from tracker.lazy_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Range:
    """From `low` to `high`, in whatever unit its holder names. `high` may be infinite: "at least"."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(f"{self.low} to {self.high} is no range")

    def __add__(self, other: Range) -> Range:
        return Range(self.low + other.low, self.high + other.high)

    def __mul__(self, factor: float) -> Range:
        """Scaled by a factor of 0 or more."""
        if factor == 0:
            return exactly(0.0)
        return Range(self.low * factor, self.high * factor)

    def times(self, factor: Range) -> Range:
        """Scaled by a factor that is itself known from here to there."""
        return Range(self.low * factor.low, self.high * factor.high)

    def __truediv__(self, divisor: float) -> Range:
        return self * (1 / divisor)

    @property
    def is_exact(self) -> bool:
        return self.low == self.high

    @property
    def is_open(self) -> bool:
        return math.isinf(self.high)

    @property
    def middle(self) -> float:
        """Half way; the lower bound where there is no upper one."""
        return self.low if self.is_open else (self.low + self.high) / 2


def exactly(value: float) -> Range:
    """A figure that is known."""
    return Range(value, value)


def around(ranges: Iterable[Range]) -> Range:
    """The narrowest range that holds all of these; at least one is needed."""
    ranges = list(ranges)
    return Range(min(r.low for r in ranges), max(r.high for r in ranges))


def total(ranges: Iterable[Range]) -> Range:
    return sum(ranges, exactly(0.0))
