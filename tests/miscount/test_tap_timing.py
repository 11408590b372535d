"""What tap times say, and when they say nothing."""

from math import exp

import pytest
from support.round_shapes import group, inc, plain, round_of, step

from tracker.session.miscount import priors as weights
from tracker.session.miscount.priors import EFFORT, FINISHED_ROUND, PRACTICE, Weight
from tracker.session.miscount.question import Tap
from tracker.session.miscount.tap_timing import Rhythm, beats_of

STAR = round_of(group(6, plain(2), inc()))


def rhythm_of(*seconds: float) -> Rhythm:
    clock, taps = 0.0, []
    for number, took in enumerate(seconds):
        clock += took
        taps.append(Tap(clock, number * 4, number * 4 + 4))
    return Rhythm(beats_of(STAR, taps, 0.0))


def test_a_fast_beat_speaks_for_a_stitch_less_and_a_slow_one_against():
    rhythm = rhythm_of(8, 8, 5.9, 8, 8, 10.3)
    assert rhythm.ratio(2, -1.0) > 5
    assert rhythm.ratio(0, -1.0) < 0.5
    assert rhythm.ratio(5, -1.0) < rhythm.ratio(0, -1.0)
    assert rhythm.ratio(5, +1.0) > 3


def test_a_pause_speaks_neither_way():
    rhythm = rhythm_of(8, 8, 95, 8, 8, 8)
    assert rhythm.is_pause(2)
    assert rhythm.ratio(2, -1.0) == pytest.approx(1.0, abs=0.15)


def test_a_pause_draws_suspicion_to_itself_and_the_tap_after_it():
    rhythm = rhythm_of(8, 8, 95, 8, 8, 8)
    drawn = [rhythm.drawn_by_pause(i) for i in range(6)]
    assert drawn[2] == drawn[3] > 1
    assert drawn[0] == drawn[1] == drawn[4] == 1


def test_a_bare_tap_has_no_work_in_it():
    rhythm = rhythm_of(8, 8, 0.4, 8, 8, 8)
    assert rhythm.doubled(2) > 100
    assert rhythm.doubled(1) < 0.01


def test_an_uneven_hand_is_believed_less():
    even = rhythm_of(8, 8.1, 5.9, 7.9, 8, 8.1)
    uneven = rhythm_of(8, 12, 5.9, 6, 10, 8)
    assert uneven.ratio(2, -1.0) < even.ratio(2, -1.0)


@pytest.mark.parametrize("seconds", [(), (8,), (8, 8, 5)], ids=["no taps", "one", "three"])
def test_too_few_taps_say_nothing(seconds):
    rhythm = rhythm_of(*seconds)
    assert rhythm.pace is None
    assert rhythm.ratio(rhythm.beat_at(0), -1.0) == 1.0


def test_taps_of_the_round_before_help_while_there_are_few():
    before = rhythm_of(8, 8, 8, 8, 8, 8).beats
    taps = [Tap(108.0, 0, 4), Tap(113.5, 4, 8)]
    rhythm = Rhythm(beats_of(STAR, taps, 100.0), before)
    assert rhythm.ratio(1, -1.0) > rhythm.ratio(0, -1.0)


def test_nobody_knows_how_long_a_first_tap_took_that_came_out_of_nowhere():
    beats = beats_of(STAR, [Tap(50.0, 0, 4), Tap(58.0, 4, 8)])
    assert [beat.seconds for beat in beats] == [None, 8.0]


def test_a_joined_round_has_its_steps_in_the_effort():
    plan = round_of(step("ch 2"), plain(4, "dc"), step("join"))
    beat, *_ = beats_of(plan, [Tap(10.0, 0, plan.moves)], 0.0)
    assert beat.effort == pytest.approx(2 * EFFORT["step"].value + 4 * EFFORT["dc"].value)
    assert beat.stitches == 4


def test_every_weight_says_what_it_means_and_what_it_rests_on():
    named = [value for value in vars(weights).values() if isinstance(value, Weight)]
    for weight in (*named, *FINISHED_ROUND.values(), *EFFORT.values()):
        assert weight.meaning and weight.basis
        assert weight.value > 0
    assert {weight.basis for weight in named} >= {PRACTICE}
    assert sum(weight.value for weight in FINISHED_ROUND.values()) == pytest.approx(1.0, abs=0.1)


def test_the_pace_is_that_of_the_middle_tap_and_of_as_many_of_the_round_before_as_are_timed():
    """(2 sc, inc) is four single crochets of work: eight seconds are two for each."""
    effort = rhythm_of(8).beats[0].effort
    trust = weights.SPREAD_TRUST.value
    even = rhythm_of(8, 8, 8, 8, 8, 8).pace
    assert even is not None
    assert exp(even.log_seconds) * effort == pytest.approx(8)
    assert even.unevenness == pytest.approx(max(trust / (6 + trust), 0.6))
    untimed = beats_of(STAR, [Tap(50.0, 0, 4), *[Tap(50.0 + 6 * n, 4 * n, 4 * n + 4) for n in range(1, 6)]])
    with_before = Rhythm(rhythm_of(8, 8, 8).beats, untimed).pace
    assert with_before is not None and exp(with_before.log_seconds) * effort == pytest.approx(6)
    wild = rhythm_of(1, 30, 2, 60, 1, 90).pace
    assert wild is not None and wild.unevenness == 1.8


def test_enough_taps_of_this_round_need_none_of_the_one_before():
    """Twice the fewest are enough: a slow round before does not count then."""
    plan = round_of(group(12, plain(2), inc()))
    often = int(2 * weights.FEWEST_TAPS.value)
    taps = [Tap(8.0 * number, 4 * number - 4, 4 * number) for number in range(1, often + 1)]
    slow = rhythm_of(40, 40, 40, 40, 40, 40).beats * 3
    enough, one_less = Rhythm(beats_of(plan, taps, 0.0), slow).pace, Rhythm(beats_of(plan, taps[1:], 8.0), slow).pace
    assert enough is not None and one_less is not None
    assert enough == Rhythm(beats_of(plan, taps, 0.0)).pace
    assert one_less != Rhythm(beats_of(plan, taps[1:], 8.0)).pace
