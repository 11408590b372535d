"""Where to look when a count differs: places in words of the round, best first, however long the round."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.round_shapes import bodies, dec, group, inc, plain, round_of, step, toy_rounds

from tracker.rounds.other_bases import leaves_over, other_spacings
from tracker.rounds.plan import Act, Made, Plan, Role, Run
from tracker.session.miscount.confirmed_causes import Learned, learned_from, shifted
from tracker.session.miscount.question import Neighbour
from tracker.session.miscount.suspects import Mistake, Question, Tap, Worked, locate
from tracker.session.mistakes import LOOK_FOR

STAR = round_of(group(6, plain(2), inc()))
"""24 stitches over 18."""


def tapped(plan: Plan, seconds: list[float]) -> tuple[Tap, ...]:
    """One tap for each time through the only group, after so many seconds each."""
    each, clock, taps = plan.moves // len(seconds), 0.0, []
    for number, took in enumerate(seconds):
        clock += took
        taps.append(Tap(clock, number * each, (number + 1) * each))
    return tuple(taps)


def asked(plan: Plan, counted: int, done: int | None = None, **more) -> Question:
    done = plan.moves if done is None else done
    return Question(plan, plan.stitches_before(done), counted, done, **more)


def test_a_count_as_expected_has_nothing_to_look_for():
    assert locate(asked(STAR, 24)) == ()


def test_a_repeat_tapped_much_faster_than_its_neighbours_comes_first():
    first, *_ = locate(asked(STAR, 23, taps=tapped(STAR, [8, 8.3, 7.9, 5.6, 8.1, 8.2]), begun=0.0))
    assert first.words == "repeat 4: the increase may be missing"
    assert first.mistake is Mistake.MISSED_INCREASE
    assert (first.move, first.until) == (14, 16)
    assert first.stitch == 14
    assert first.back == 23 - 14
    assert "two V tops" in first.look_for


def test_two_taps_at_once_are_a_tap_too_many():
    taps = tapped(STAR, [8, 8.3, 0.3, 7.9, 8.1, 8.2])
    first, *_ = locate(asked(STAR, 20, taps=taps, begun=0.0))
    assert first.mistake is Mistake.PLACE
    assert first.words == "the tracker may be 4 stitches ahead of you"
    assert first.stitch == 20


def test_half_way_the_place_of_the_tracker_is_the_first_suspect():
    first, *_ = locate(asked(STAR, 17, done=16))
    assert first.mistake is Mistake.PLACE
    assert first.words == "you may be 1 stitch further than the tracker"
    assert first.stitch == 17


def test_a_tap_missed_half_way_shows_in_its_double_time():
    first, *_ = locate(asked(STAR, 16, done=12, taps=tapped(STAR, [8, 16.2, 8.1, 7.9, 8, 8.1])[:3], begun=0.0))
    assert first.mistake is Mistake.PLACE


def test_counting_once_more_is_always_thought_of():
    for counted in (23, 25, 17, 40, 0):
        assert Mistake.MISCOUNT in {s.mistake for s in locate(asked(STAR, counted))}


def test_all_increases_left_out_are_one_slip_and_not_six():
    first, *_ = locate(asked(STAR, 18))
    assert first.mistake is Mistake.EVERY_REPEAT


def test_one_too_many_in_a_round_of_decreases():
    plan = round_of(group(6, plain(2), dec()))
    first, *_ = locate(asked(plan, 19, taps=tapped(plan, [8, 8.1, 8.2, 7.9, 9.4, 8]), begun=0.0))
    assert first.words == "repeat 3 to the marker: one of the decreases may be missing"


WORDS = {
    "the last stitch of a joined round": (
        round_of(step("ch 1"), plain(30), step("join")),
        29,
        "stitch 21 to the join: a stitch may be skipped",
    ),
    "a turning chain that counts": (
        round_of(Run(Act("ch 3", Role.CHAIN, (Made("ch", 3, "dc"),), 0)), plain(19, "dc"), step("turn")),
        19,
        "the chain at the start counts as a stitch and may be left out",
    ),
    "the turn worked as a stitch": (
        round_of(step("ch 1"), plain(20), step("turn")),
        21,
        "the turn may be worked as a stitch",
    ),
    "which of two groups": (
        round_of(group(3, plain(3), inc()), plain(4), group(3, plain(3), inc())),
        33,
        "repeat 2 of group 2 to the marker: one of the increases may be missing",
    ),
    "a group in a group": (
        round_of(group(3, group(2, plain(), inc()), plain(2))),
        23,
        "the marker to repeat 2, time 1 of its inner repeat: one of the increases may be missing",
    ),
    "a single increase outside a group": (
        round_of(plain(5), inc(), plain(5)),
        11,
        "stitches 6 to 7: the increase may be missing",
    ),
}


@pytest.mark.parametrize(("plan", "counted", "words"), WORDS.values(), ids=WORDS)
def test_words_of_the_round(plan, counted, words):
    assert words in [suspect.words for suspect in locate(asked(plan, counted))]


def test_a_round_before_that_nobody_counted_is_suspected_too():
    before = Worked(
        round_of(group(6, plain(), inc())), tapped(round_of(group(6, plain(), inc())), [6, 6, 4, 6, 6, 6]), 0.0
    )
    plain_round = round_of(plain(18))
    trusted = locate(asked(plain_round, 17, earlier=(before,)))
    assert all(suspect.rounds_back == 0 for suspect in trusted)
    doubted = locate(asked(plain_round, 17, earlier=(Worked(before.plan, before.taps, 0.0, False, "Rnd 3"),)))
    found = next(suspect for suspect in doubted if suspect.rounds_back == 1)
    assert found.words == "Rnd 3 was never counted: the mistake may be there"
    two = (Worked(before.plan, counted=False, label="Rnd 3"), Worked(before.plan, counted=False, label="Rnd 2"))
    found = next(suspect for suspect in locate(asked(plain_round, 17, earlier=two)) if suspect.rounds_back)
    assert (found.words.split(":")[0], found.rounds_back_most) == ("Rnds 2 and 3 were never counted", 2)


def test_a_difference_goes_through_the_rounds_since_as_hands_work_them():
    """A stitch too few below six increases into each: two fewer; below a round that goes its own number: one
    fewer."""
    one_short = Worked(round_of(plain(6)), counted=False, label="Rnd 2")
    into_each = locate(asked(round_of(inc(6)), 10, earlier=(one_short,)))
    assert any(suspect.rounds_back for suspect in into_each)
    assert (leaves_over(round_of(inc(6)), 5), leaves_over(round_of(plain(6)), 5)) == ((10,), (5,))
    assert leaves_over(round_of(group(3, plain(2), dec())), 11) == (9,), "one base is no decrease"
    assert leaves_over(round_of(group(3, plain(1), inc())), 8) == (11, 12, 9)


@pytest.mark.parametrize(("by", "words"), [(2, "2 stitches past"), (-3, "3 stitches short of")])
def test_a_spiral_may_drift(by, words):
    plain_round = round_of(plain(24))
    found = [suspect.words for suspect in locate(asked(plain_round, 24 + by))]
    assert f"the round may end {words} the marker" in found
    joined = round_of(step("ch 1"), plain(24), step("join"))
    assert not any("marker" in suspect.words for suspect in locate(asked(joined, joined.leaves + by)))


def test_a_gap_that_is_misread_all_round_is_one_slip():
    """(2 sc, inc) x 6 over 18 with three plain stitches: four repeats and two stitches, 22; with one: nine, 27."""
    assert other_spacings(STAR) == (22, 27)
    for counted in (22, 27):
        assert Mistake.SPACING in {suspect.mistake for suspect in locate(asked(STAR, counted))[:3]}


@settings(deadline=None, max_examples=60)
@given(st.one_of(bodies().map(Plan), toy_rounds()), st.integers(-7, 7), st.data())
def test_at_most_five_suspects_whatever_the_round(plan, by, data):
    done = data.draw(st.integers(0, plan.moves))
    question = asked(plan, max(0, plan.stitches_before(done) + by), done)
    suspects = locate(question)
    assert len(suspects) <= 5
    assert bool(suspects) == bool(question.by)
    assert all(0 <= suspect.probability <= 1 for suspect in suspects)
    assert sum(suspect.probability for suspect in suspects) <= 1 + 1e-9
    for suspect in suspects:
        assert suspect.words and suspect.look_for == LOOK_FOR[suspect.mistake]
        assert 0 <= suspect.move <= suspect.until
        assert suspect.back >= 0


@settings(deadline=None, max_examples=60)
@given(toy_rounds(), st.sampled_from([-2, -1, 1, 2]), st.data())
def test_tap_times_of_any_kind_are_borne(plan, by, data):
    """Clocks go back, taps come at once, after days, or not at all."""
    moves = sorted(data.draw(st.sets(st.integers(1, plan.moves), max_size=12)))
    times = data.draw(st.lists(st.floats(-1e9, 1e9), min_size=len(moves), max_size=len(moves)))
    taps = tuple(Tap(at, a, b) for at, a, b in zip(times, [0, *moves], moves, strict=False))
    begun = data.draw(st.none() | st.floats(-1e9, 1e9))
    suspects = locate(asked(plan, plan.leaves + by, taps=taps, begun=begun))
    assert 1 <= len(suspects) <= 5
    assert all(0 < suspect.probability <= 1 for suspect in suspects)  # a clock that jumps makes none of them nan
    assert all(0 <= suspect.move <= suspect.until <= plan.moves for suspect in suspects)


def test_a_round_of_ten_thousand_million_stitches_is_searched_like_any_other():
    huge = round_of(group(10**9, plain(9), inc()))
    suspects = locate(asked(huge, huge.leaves - 1))
    assert any("increase" in suspect.words for suspect in suspects)
    taps = tuple(Tap(i * 8.0, i * 11, (i + 1) * 11) for i in range(20_000))
    done = 20_000 * 11
    near = locate(asked(huge, huge.stitches_before(done) - 1, done=done, taps=taps, begun=0.0))
    assert near and all(suspect.until <= done for suspect in near)


def test_what_was_confirmed_shifts_what_comes_first():
    learned = learned_from(["two in one"] * 15)
    question = asked(STAR, 25)
    usual, shifted_to = locate(question), locate(question, learned)
    doubled = [sum(s.probability for s in found if s.mistake is Mistake.DOUBLED) for found in (usual, shifted_to)]
    assert doubled[1] > doubled[0]


def test_learned_counts_are_plain_counts():
    learned = Learned().with_cause(Mistake.PLACE).with_cause(Mistake.SKIPPED).with_cause(Mistake.PLACE)
    assert learned.as_json() == {"place": 2, "stitch skipped": 1}
    assert learned_from(["place", "place", "stitch skipped", "a cause of a later version"]) == learned


def test_a_shifted_prior_still_sums_to_one():
    """Dirichlet pseudo-counts: twenty stand for the table, one for each cause confirmed."""
    prior = {Mistake.PLACE: 0.5, Mistake.SKIPPED: 0.5}
    after = shifted(prior, Learned(((Mistake.SKIPPED, 20),)))
    assert after == {Mistake.PLACE: pytest.approx(0.25), Mistake.SKIPPED: pytest.approx(0.75)}


def test_half_way_a_number_of_another_round_is_that_round():
    """18 of 24 are tapped and 18 more are there: not a tap that was forgotten, but what the round before leaves."""
    near = (Neighbour(-1, "Rnd 3", 9), Neighbour(1, "Rnd 5", 36))
    first, *_ = locate(asked(STAR, 36, done=16, near=near))
    assert first.words == "36 is what Rnd 5 leaves: is it made already?"
    first, *_ = locate(asked(STAR, 9, done=16, near=near, label="Rnd 4"))
    assert first.words == "9 is what Rnd 3 leaves: is Rnd 4 not begun yet?"
    close = (Neighbour(-1, "Rnd 3", 17),)
    first, *_ = locate(asked(STAR, 17, done=16, near=close))
    assert first.mistake is Mistake.PLACE


def test_a_round_whose_stitches_are_all_made_is_whole_before_its_join():
    joined = round_of(step("ch 1"), plain(30), step("join"))
    question = asked(joined, 29, done=joined.moves - 1)
    assert question.finished
    assert locate(question)[0].words == locate(asked(joined, 29))[0].words


def test_a_short_round_is_one_place_with_both_its_ends():
    row = round_of(step("ch 1"), inc(), plain(8), inc(), step("turn"))
    assert locate(asked(row, 11))[0].words == "the whole row, 12 stitches: one of the increases may be missing"
    spiral = round_of(group(4, plain(1), inc()))
    assert locate(asked(spiral, 11))[0].words == "the whole round, 12 stitches: one of the increases may be missing"


def test_a_number_that_fits_two_whole_rounds_asks_for_both():
    """The line once more over what it left may come to what the next round leaves."""
    near = (Neighbour(1, "Rnd 5", 30),)
    question = asked(STAR, 30, near=near, label="Rnd 4", again=30)
    first, *_ = locate(question)
    assert first.words == "30 is what Rnd 5 leaves: is it made already, or Rnd 4 twice?"
    assert (first.mistake, first.others) == (Mistake.ROUND_NOT_TAPPED, (Mistake.ROUND_TWICE,))
