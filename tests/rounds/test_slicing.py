"""A round is cut and summed by arithmetic, and that is the same as doing it stitch by stitch."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.building import ch, sk
from support.round_shapes import bodies, group, inc, plain, round_of

from tracker.rounds.plan import Act, Plan, Tally, summed
from tracker.rounds.slicing import Ledger, act_bounds, cut, falls_on_first, stretch_at


def walked(plan: Plan, moves: int) -> list[tuple[str, int]]:
    """The round move by move, as names of acts and the place inside them."""
    return [(spot.act.name, spot.in_act) for spot in plan.walk()][:moves]


def total(body: tuple) -> Tally:
    return summed(node.tally for node in body)


@settings(deadline=None, max_examples=60)
@given(bodies(), st.data())
def test_the_two_parts_of_a_cut_are_the_whole(body, data):
    plan = Plan(body)
    move, _ = act_bounds(plan, data.draw(st.integers(0, plan.moves - 1)))
    left, right = cut(body, move)
    assert total(left).moves == move
    assert walked(Plan((*left, *right)), 300) == walked(plan, 300)
    assert total(left).stitches + total(right).stitches == plan.leaves
    assert total(left).takes + total(right).takes == plan.uses


def test_a_cut_through_an_increase_is_refused():
    with pytest.raises(ValueError, match="inc"):
        cut((plain(2), inc()), 3)


def test_a_cut_unrolls_only_what_it_goes_through():
    left, right = cut((group(500_000_000, plain(), inc()),), 3_000_000)
    assert len(left) == len(right) == 1
    assert total(left).stitches + total(right).stitches == 1_500_000_000


@settings(deadline=None, max_examples=60)
@given(bodies(), st.data())
def test_sums_so_far_are_those_of_the_acts_walked(body, data):
    plan = Plan(body)
    move = data.draw(st.integers(0, min(plan.moves, 400)))
    counted: Counter[str] = Counter()
    for number, spot in enumerate(plan.walk()):
        if number >= move:
            break
        if spot.in_act == spot.act.moves - 1:
            counted[spot.act.name] += 1
    ledger = Ledger(body, lambda act: {act.name: 1.0})
    so_far = ledger.before(move)
    assert {name: n for name, n in so_far.sums.items() if n} == dict(counted)
    spot = plan.spot(move)
    assert so_far.inside == (spot.in_act if spot else 0)


def test_the_sums_of_a_half_made_act_are_left_out_and_told():
    ledger = Ledger((plain(2), inc()), lambda act: {"bases": float(act.takes)})
    so_far = ledger.before(3)
    assert so_far.sums["bases"] == 2
    assert isinstance(so_far.partial, Act)
    assert so_far.inside == 1


@pytest.mark.parametrize(
    ("plan", "move", "start", "until"),
    [
        (round_of(group(6, plain(2), inc())), 9, 8, 12),
        (round_of(plain(5), inc(), plain(5)), 6, 5, 7),
        (round_of(group(3, group(2, plain(), inc()), plain(2))), 4, 3, 6),
        (round_of(group(3, group(2, plain(), inc()), plain(2))), 7, 6, 8),
    ],
    ids=["a turn of a group", "a run outside", "a turn of an inner group", "a run beside an inner group"],
)
def test_a_stretch_is_the_smallest_part_with_a_name(plan, move, start, until):
    stretch = stretch_at(plan, move)
    assert (stretch.start, stretch.until) == (start, until)


def test_a_cut_behind_the_last_move_leaves_nothing() -> None:
    body = round_of(plain(3), inc(1)).body
    assert cut(body, 99) == (body, ())


@pytest.mark.parametrize("beyond", [0, 5])
def test_the_sums_at_the_end_are_those_of_the_whole_round(beyond: int) -> None:
    plan = round_of(plain(2), group(3, plain(), inc(2)))
    ledger = Ledger(plan.body, lambda act: {"stitches": float(act.stitches)})
    so_far = ledger.before(plan.moves + beyond)
    assert (so_far.sums, so_far.partial, so_far.inside) == ({"stitches": 17.0}, None, 0)


@pytest.mark.parametrize(
    ("body", "over", "begun_with", "node"),
    [
        ((ch(3), sk(1), plain()), 1, "sc", 2),
        ((ch(3), sk(1), plain()), 1, "dc", 0),
        ((ch(3), sk(1), plain()), 1, "", 0),
        ((ch(3), sk(2), plain()), 1, "sc", 0),
        ((ch(3), sk(2), plain()), 2, "sc", 2),
        ((ch(3), sk(1), plain(2)), 1, "sc", 0),
        ((ch(3), plain(), plain()), 1, "sc", 0),
        ((plain(), sk(1), plain()), 2, "sc", 2),
        ((sk(1), group(1, plain())), 1, "sc", 0),
        ((plain(),), 0, "sc", 0),
    ],
)
def test_the_last_stitch_of_a_repeat_falls_on_the_first_of_the_round(body, over, begun_with, node):
    """Where it stands behind what is skipped, is the same stitch, and as many are left as the rest takes."""
    assert falls_on_first(body, over, begun_with) == node
