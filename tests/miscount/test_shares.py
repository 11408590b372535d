"""How likely each place is, against counting all explanations one by one; and what is told of a place."""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.round_shapes import dec, group, inc, plain, round_of, step, toy_rounds

from tracker.rounds.plan import Plan
from tracker.session.miscount import priors as weights
from tracker.session.miscount.causes import Cause, causes_of, out_of_step
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.suspects import Mistake, Question, Suspect, Worked, locate

BY_THEMSELVES = {Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT, Mistake.MISCOUNT, Mistake.SPACING}
STAR = round_of(group(6, plain(2), inc()))


def asked(plan: Plan, counted: int, done: int | None = None, earlier: tuple[Worked, ...] = ()) -> Question:
    done = plan.moves if done is None else done
    return Question(plan, plan.stitches_before(done), counted, done, earlier=earlier)


def explanations(question: Question) -> list[tuple[float, tuple[Cause, ...]]]:
    """Every single cause that explains the difference, and every pair that does together, with its weight."""
    causes = causes_of(question, Learned())
    whole = sum(cause.weight for cause in causes)
    found: list[tuple[float, tuple[Cause, ...]]] = []
    found += [(cause.weight, (cause,)) for cause in causes if cause.effect == question.by]
    second = [cause for cause in causes if cause.mistake not in BY_THEMSELVES]
    for one, other in combinations(second, 2):
        if one.effect + other.effect == question.by:
            found.append((weights.TWO_MISTAKES.value * one.weight * other.weight / whole, (one, other)))
    return found


def shares(question: Question, mistakes: set[Mistake]) -> dict[Mistake, float]:
    """By counting: the share of all explanations that goes through a mistake that is one place wherever it is; what
    takes two mistakes counts half for each."""
    found: dict[Mistake, float] = defaultdict(float)
    every = explanations(question)
    for weight, causes in every:
        for cause in causes:
            if cause.mistake in mistakes:
                found[cause.mistake] += weight / len(causes) / sum(each for each, _ in every)
    return found


@settings(max_examples=60, deadline=None)
@given(toy_rounds(), st.integers(-3, 3).filter(bool), st.booleans())
def test_a_place_is_as_likely_as_the_share_of_all_explanations_through_it(plan: Plan, by: int, half: bool) -> None:
    """Explanations are counted one by one here, single mistakes and pairs; the program sums them by their effects."""
    done = plan.moves // 2 if half else plan.moves
    expected = plan.stitches_before(done)
    if expected + by < 0:
        return
    question = asked(plan, expected + by, done)
    if out_of_step(question):
        return  # the number may be that of another round, which is weighed apart
    alone = {Mistake.MISCOUNT, Mistake.PLACE}
    wanted = shares(question, alone)
    for suspect in locate(question):
        if suspect.mistake in alone:
            assert suspect.probability == pytest.approx(min(1.0, wanted[suspect.mistake]), rel=1e-9)


@given(toy_rounds(), st.integers(-3, 3).filter(bool))
@settings(max_examples=60, deadline=None)
def test_all_places_together_are_no_likelier_than_certain(plan: Plan, by: int) -> None:
    found = locate(asked(plan, max(0, plan.leaves + by)))
    likely = [suspect.probability for suspect in found]
    assert sum(likely) <= 1 + 1e-9
    assert all(0 < each <= 1 for each in likely) and len(found) <= 5


def only(found: tuple[Suspect, ...], mistake: Mistake, rounds_back: int = 0) -> Suspect:
    return next(each for each in found if each.mistake is mistake and each.rounds_back == rounds_back)


def test_a_wrong_place_of_the_tracker_is_wrong_by_the_whole_difference() -> None:
    found = only(locate(asked(STAR, 18, done=16)), Mistake.PLACE)
    assert (found.effect, found.back) == (2, 0)


def test_a_slip_does_what_it_does_and_not_the_whole_difference() -> None:
    """Three too few, in part by a stitch too many: that one does one more, whatever else happened."""
    found = only(locate(asked(STAR, 21)), Mistake.DOUBLED)
    assert found.effect == 1


def test_what_else_may_have_happened_at_a_place_is_told_when_it_is_nearly_as_likely() -> None:
    """One stitch too few: an increase missed, or a stitch skipped, or the marker not reached; a doubled one is
    unlikely."""
    found = only(locate(asked(STAR, 23)), Mistake.MISSED_INCREASE)
    assert (found.others, found.beside) == ((Mistake.SKIPPED, Mistake.DRIFT), "last")
    assert only(locate(asked(STAR, 23)), Mistake.MISCOUNT).others == ()


def test_a_place_is_as_many_whole_repeats_as_are_seen_at_a_glance() -> None:
    """Twelve stitches are three repeats of four; the two places are the halves of the round."""
    places = [each for each in locate(asked(STAR, 23)) if each.mistake is Mistake.MISSED_INCREASE]
    assert [(each.stretch, each.width, each.beside) for each in places] == [((12, 24), 12, "last"), ((0, 12), 12, "")]
    assert all(each.like_changes == 6 and each.is_narrow_in(24) for each in places)


@settings(max_examples=60, deadline=None)
@given(toy_rounds(), st.integers(-3, 3).filter(bool))
def test_places_in_a_round_are_narrow_and_apart(plan: Plan, by: int) -> None:
    """No wider than twelve stitches or a fifth of the round, unless a single act is wider."""
    found = locate(asked(plan, max(0, plan.leaves + by)))
    whole = {Mistake.REPEAT_MISSED, Mistake.REPEAT_EXTRA, Mistake.EVERY_REPEAT, Mistake.SPACING}
    places = [each for each in found if each.mistake.is_in_fabric and each.mistake not in whole]
    moves: set[int] = set()
    for each in (each for each in places if not each.edge):
        inside = set(range(*each.stretch))
        assert each.width <= max(12, plan.leaves // 5) or len({plan.spot(move).act for move in inside}) == 1
        assert not moves & inside
        moves |= inside


def test_an_edge_is_named_as_it_is_and_not_with_its_stretch() -> None:
    joined = round_of(step("ch 1"), group(6, plain(2), inc()), step("join"))
    edges = [
        each for plan, counted in ((joined, 25), (STAR, 21)) for each in locate(asked(plan, counted)) if each.edge
    ]
    assert len(edges) == 2
    assert all(suspect.stretch == (suspect.move, suspect.until) for suspect in edges)


def test_the_two_ends_of_a_row_are_two_places_and_those_of_a_round_are_one() -> None:
    row = round_of(plain(20), step("turn"))
    spiral = round_of(plain(20))
    ends_of_row = {suspect.edge for suspect in locate(asked(row, 19)) if suspect.edge}
    ends_of_round = [suspect.edge for suspect in locate(asked(spiral, 19)) if suspect.edge]
    assert ends_of_row == {"first", "last"}
    assert len(ends_of_round) <= 1


def test_a_count_and_a_place_lie_at_the_hook() -> None:
    for suspect in locate(asked(STAR, 17, done=16)):
        if suspect.mistake in (Mistake.MISCOUNT, Mistake.PLACE):
            assert suspect.back == 0


def test_one_too_many_in_decreases_is_one_more() -> None:
    found = only(locate(asked(round_of(group(6, plain(2), dec())), 19)), Mistake.MISSED_DECREASE)
    assert (found.effect, found.stretch) == (1, (6, 18))
