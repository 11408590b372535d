"""Time at work, from the times of what was done; pauses left out.

The clock is the caller's: all times are seconds since the epoch. A clock that was set back costs the time of one gap
and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from itertools import groupby, pairwise

from tracker.lazy_dataclass import dataclass

PAUSE = 5 * 60.0
"""Seconds without a tap after which the maker is taken to be away (common practice, no source)."""

QUARTER = 15 * 60
"""Seconds of the clock in which no day begins or ends but at their beginning: all clocks on earth are whole quarters
of an hour apart (source: the time zone database, from 1973 on)."""


@dataclass(frozen=True, slots=True)
class Moment:
    """When something was done, how many rounds were made in all after it, and whether a session ended with it."""

    at: float
    rounds: int = 0
    ends: bool = False


@dataclass(frozen=True, slots=True)
class Day:
    """What one day brought. `rounds` are those made less those ripped back, 0 at least."""

    date: str
    rounds: int
    seconds: float


def seconds_at_work(moments: Iterable[Moment], pause: float = PAUSE) -> float:
    """Seconds between what was done, without gaps longer than `pause` and without the time between sessions."""
    gaps = (after.at - before.at for before, after in pairwise(moments) if not before.ends)
    return sum((gap for gap in gaps if 0 < gap <= pause), 0.0)


class Today:
    """What was done today, summed up as it comes, because it is told at each tap. `day_begins` gives the time at
    which the day of another began."""

    def __init__(
        self, day_begins: Callable[[float], float], moments: Iterable[Moment] = (), pause: float = PAUSE
    ) -> None:
        self._day_begins = day_begins
        self._pause = pause
        self._begin(float("-inf"), moments)

    def _begin(self, begins: float, moments: Iterable[Moment]) -> None:
        self._begins = begins
        self._moments: list[Moment] = []
        self._seconds = 0.0
        for moment in moments:
            self.add(moment)

    def add(self, moment: Moment) -> None:
        """One more thing was done."""
        self._seconds += self._since_last(moment)
        self._moments.append(moment)

    def seconds_until(self, now: float) -> float:
        """Seconds at work today up to now: a running gap counts until it has become a pause."""
        begins = self._day_begins(now)
        if begins != self._begins:
            self._begin(begins, [moment for moment in self._moments if moment.at >= begins])
        return self._seconds + self._since_last(Moment(now))

    def _since_last(self, moment: Moment) -> float:
        return seconds_at_work((*self._moments[-1:], moment), self._pause)

    def is_paused(self, now: float) -> bool:
        """Whether nothing was done for so long that the time no longer counts."""
        last = self._moments[-1] if self._moments else None
        return last is None or last.ends or now - last.at > self._pause


def days(moments: Iterable[Moment], day_of: Callable[[float], str], pause: float = PAUSE) -> tuple[Day, ...]:
    """The history of a project day by day, oldest first. `day_of` gives the date of a time where the maker is."""
    parts: list[Day] = []
    last: list[Moment] = []
    date_of = lru_cache(lambda quarter: day_of(quarter * QUARTER))
    for date, group in groupby(moments, key=lambda moment: date_of(moment.at // QUARTER)):
        of_day = [*last, *group]
        rounds = of_day[-1].rounds - (last[0].rounds if last else 0)
        parts.append(Day(date, rounds, seconds_at_work(of_day, pause)))
        last = of_day[-1:]
    return _one_a_date(parts)


def _one_a_date(days: list[Day]) -> tuple[Day, ...]:
    """A clock set back can bring a date twice: both are one day."""
    by_date: dict[str, Day] = {}
    for day in days:
        other = by_date.get(day.date, Day(day.date, 0, 0.0))
        by_date[day.date] = Day(day.date, other.rounds + day.rounds, other.seconds + day.seconds)
    return tuple(Day(day.date, max(0, day.rounds), day.seconds) for day in by_date.values())
