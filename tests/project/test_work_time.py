"""Time at work: pauses left out, sessions apart, days told."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tracker.project.work_time import Day, Moment, Today, days, seconds_at_work

PAUSE = 300.0


def moments(*at: float) -> list[Moment]:
    return [Moment(time) for time in at]


def day_begins(at: float) -> float:
    return at // 86400 * 86400


def day_of(at: float) -> str:
    return f"day {int(at // 86400)}"


@pytest.mark.parametrize(
    ("what", "given_moments", "seconds"),
    [
        ("nothing", [], 0),
        ("one tap takes no time", moments(10), 0),
        ("gaps add up", moments(0, 10, 40), 40),
        ("a gap of just a pause counts", moments(0, 300), 300),
        ("a longer one does not", moments(0, 301, 311), 10),
        ("a clock set back costs its gap only", moments(100, 110, 50, 60), 20),
        ("between sessions nobody works", [Moment(0), Moment(10, ends=True), Moment(20), Moment(25)], 15),
    ],
)
def test_seconds_at_work(what: str, given_moments: list[Moment], seconds: float) -> None:
    assert seconds_at_work(given_moments, PAUSE) == seconds, what


def test_a_running_gap_counts_until_it_is_a_pause() -> None:
    today = Today(day_begins, moments(0, 10), PAUSE)
    assert today.seconds_until(70) == 70
    assert today.seconds_until(700) == 10
    assert not today.is_paused(310)
    assert today.is_paused(311)
    assert Today(day_begins, [Moment(10, ends=True)], PAUSE).is_paused(11)
    assert Today(day_begins, [], PAUSE).is_paused(11)
    assert Today(day_begins, [], PAUSE).seconds_until(11) == 0


def test_at_midnight_the_day_begins_anew() -> None:
    today = Today(day_begins, moments(86340, 86380), PAUSE)
    assert today.seconds_until(86399) == 59
    today.add(Moment(86440))
    assert today.seconds_until(86450) == 10
    assert today.seconds_until(86390) == 0, "a clock set back to before midnight brings no time that was let go"


def test_the_history_is_told_by_days() -> None:
    first = [Moment(1000, 0), Moment(1100, 2), Moment(1200, 3)]
    second = [Moment(90000, 3), Moment(90060, 5)]
    assert days([*first, *second], day_of, PAUSE) == (Day("day 0", 3, 200), Day("day 1", 2, 60))


def test_rounds_ripped_back_are_taken_off_the_day_on_which_that_happened() -> None:
    told = days([Moment(0, 0), Moment(10, 5), Moment(90000, 5), Moment(90010, 2), Moment(90020, 3)], day_of, PAUSE)
    assert [day.rounds for day in told] == [5, 0]


def test_work_over_midnight_loses_no_time() -> None:
    told = days(moments(86340, 86380, 86440), day_of, PAUSE)
    assert [(day.date, day.seconds) for day in told] == [("day 0", 40), ("day 1", 60)]


def test_a_date_that_comes_twice_is_one_day() -> None:
    told = days([Moment(10, 1), Moment(90000, 2), Moment(20, 3), Moment(30, 4)], day_of, PAUSE)
    assert [(day.date, day.rounds) for day in told] == [("day 0", 3), ("day 1", 1)]


@given(some.lists(some.floats(0, 1e6), max_size=20), some.floats(1, 1000))
def test_time_at_work_is_never_negative_and_never_more_than_passed(times: list[float], pause: float) -> None:
    ordered = sorted(times)
    told = seconds_at_work(moments(*ordered), pause)
    assert 0 <= told <= (ordered[-1] - ordered[0] if ordered else 0) + 1e-6
    assert seconds_at_work(moments(*times), pause) >= 0
