"""Time left from the maker's own taps: pauses left out, ranges honest, nothing invented."""

from __future__ import annotations

import random

import pytest

from tracker.measure.pace import DAYS_DIFFER, ENOUGH, Sample, learn, time_for
from tracker.measure.ranges import exactly
from tracker.measure.stitch_counts import StitchWork


def taps(kind: str, seconds: float, number: int, stitches: int = 1) -> list[Sample]:
    return [Sample(((kind, stitches),), seconds * stitches) for _ in range(number)]


def test_before_there_is_data_nothing_is_told() -> None:
    left = time_for(StitchWork({"sc": 100}), learn([]))
    assert left.seconds is None and left.without == ("sc",)
    assert not learn(taps("sc", 4, ENOUGH - 1)).kinds


def test_a_steady_maker_s_rest_is_stitches_times_seconds() -> None:
    left = time_for(StitchWork({"sc": 100}), learn(taps("sc", 4, 20)))
    assert left.seconds is not None
    assert left.seconds.low == pytest.approx(400 * (1 - DAYS_DIFFER))
    assert left.seconds.high == pytest.approx(400 * (1 + DAYS_DIFFER))


def test_a_tap_for_a_whole_repeat_counts_by_its_stitches() -> None:
    pace = learn(taps("sc", 4, 10, stitches=6))
    assert pace.kinds["sc"].seconds.middle == pytest.approx(4)


def test_pauses_and_taps_made_up_for_later_are_left_out() -> None:
    pauses = taps("sc", 900, 3) + taps("sc", 0.05, 5)
    pace = learn(taps("sc", 4, 30) + pauses)
    assert pace.kinds["sc"].seconds.middle == pytest.approx(4)
    assert pace.left_out == 8


def test_each_kind_has_its_own_pace() -> None:
    pace = learn(taps("sc", 4, 10) + taps("dc", 9, 10))
    left = time_for(StitchWork({"sc": 10, "dc": 10}), pace)
    assert left.seconds is not None and left.seconds.middle == pytest.approx(130)


def test_a_kind_never_shown_is_named_and_not_guessed() -> None:
    left = time_for(StitchWork({"sc": 10, "tr": 10}), learn(taps("sc", 4, 10)))
    assert left.without == ("tr",)
    assert left.seconds is not None and left.seconds.middle == pytest.approx(40)


def test_mixed_taps_are_shared_out_by_what_is_known() -> None:
    mixed = [Sample((("sc", 3), ("dc", 1)), 3 * 4 + 9)] * 10
    pace = learn(taps("sc", 4, 10) + taps("dc", 9, 10) + mixed)
    assert pace.kinds["sc"].seconds.middle == pytest.approx(4)
    assert pace.kinds["dc"].seconds.middle == pytest.approx(9)


def test_nothing_left_takes_no_time() -> None:
    assert time_for(StitchWork({}), learn([])).seconds == exactly(0)


def test_the_true_time_lies_in_the_range_for_makers_of_human_spread() -> None:
    """Simulated makers: log-normal taps of 30% spread, some pauses; 100 stitches of practice, 600 to come."""
    inside = 0
    for seed in range(100):
        maker = random.Random(seed)
        mean = maker.uniform(2, 8)

        def tap(maker: random.Random = maker, mean: float = mean) -> float:
            pause = maker.uniform(60, 600) if maker.random() < 0.03 else 0.0
            return mean * maker.lognormvariate(-0.045, 0.3) + pause

        pace = learn(Sample((("sc", 1),), tap()) for _ in range(100))
        left = time_for(StitchWork({"sc": 600}), pace)
        truth = sum(mean * maker.lognormvariate(-0.045, 0.3) for _ in range(600))
        assert left.seconds is not None
        inside += left.seconds.low <= truth <= left.seconds.high
    assert inside >= 95
