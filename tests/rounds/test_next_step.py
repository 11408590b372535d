"""What comes next in a round, held against a walk over its moves; and how much of it is one breath, by hand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from support.building import ch, sk, st
from support.round_shapes import bodies, dec, group, inc, plain, round_of, step

from tracker.rounds.next_step import (
    MOST_PHRASES,
    Stretch,
    between,
    blocks,
    breath_end,
    coming_now,
    is_making,
    merged,
)
from tracker.rounds.plan import Act, Made, Plan, Repeat, Role, Run

laws = settings(deadline=None, max_examples=30)


def made_in(plan: Plan, start: int, until: int) -> list[str]:
    """What each of these moves makes; "" where it makes nothing."""
    spots = (spot for spot, _ in zip(plan.walk(start), range(until - start), strict=False))
    return [spot.made.kind if spot.made else "" for spot in spots]


@laws
@given(bodies(), some.data())
def test_what_lies_between_two_moves_is_what_a_walk_makes_there(body, data):
    plan = Plan(body)
    start = data.draw(some.integers(0, min(plan.moves, 200)))
    until = data.draw(some.integers(start, min(plan.moves, 200)))
    stretch = between(plan, start, until)
    assert stretch.moves == until - start
    assert stretch.stitches == plan.stitches_before(until) - plan.stitches_before(start)
    nodes = Plan(stretch.nodes)
    assert made_in(nodes, stretch.inside, nodes.moves) == made_in(plan, start, until)


def test_half_an_increase_is_the_stitch_that_is_made_of_it():
    plan = round_of(plain(2), inc(2), group(2, st("shell", 1)))
    assert between(plan, 1, 3) == Stretch((plain(1), plain(1)))
    assert between(plan, 3, 6) == Stretch((inc(2),), 1)
    assert between(plan, 2, 6) == Stretch((inc(2),))
    assert between(round_of(ch(3), inc(1, "sc", 3)), 0, 3).nodes[1].act.makes[0].count == 2


def test_groups_between_two_moves_stay_groups_with_what_is_begun_of_them_beside():
    plan = round_of(group(6, plain(2), inc()))
    assert between(plan, 0, 24) == Stretch((group(6, plain(2), inc()),))
    assert between(plan, 4, 8) == Stretch((plain(2), inc()))
    assert between(plan, 3, 13) == Stretch((inc(), group(2, plain(2), inc()), plain(1)), 1)
    assert between(plan, 4, 6) == Stretch((plain(2),))


@laws
@given(bodies(), some.data(), some.booleans())
def test_the_rest_of_a_round_in_blocks_is_the_rest_of_the_walk(body, data, whole):
    plan = Plan(body)
    move = data.draw(some.integers(0, min(plan.moves, 200)))
    at = move
    for block in blocks(plan, move, lambda repeat: whole):
        nodes = Plan(block.nodes)
        if whole or at == move:
            until = min(at + block.moves, at + 60)
            assert made_in(nodes, block.inside, block.inside + until - at) == made_in(plan, at, until)
        at += block.moves
    assert at == plan.moves if whole else at <= plan.moves


def test_a_repeat_is_one_block_or_the_times_in_hand_and_one_more():
    plan = round_of(plain(3), group(6, plain(2), inc()), step("join"))
    join, star = Stretch((step("join"),)), (plain(2), inc())
    one_by_one = [Stretch((plain(2),)), Stretch((inc(),))]

    def from_move(move: int, whole: bool) -> list[Stretch]:
        return list(blocks(plan, move, lambda repeat: whole))

    assert from_move(0, True) == [Stretch((plain(3),)), Stretch((Repeat(star, 6),)), join]
    assert from_move(3, True) == [Stretch((Repeat(star, 6),)), join]
    assert from_move(4, True) == [Stretch((plain(1),)), Stretch((inc(),)), Stretch((Repeat(star, 5),)), join]
    assert from_move(7, False) == [*one_by_one, join]
    assert from_move(6, False) == [Stretch((inc(),), 1), *one_by_one, join]
    assert from_move(24, True) == [Stretch((plain(1),)), Stretch((inc(),)), join]
    assert from_move(27, True) == [join]
    assert from_move(28, True) == []


LONG = group(3, plain(2), ch(2), sk(1), plain(3))

BREATHS = {
    "a chain goes along with the first time of its group": (round_of(step("ch 1"), group(6, plain(2), inc())), 0, 5),
    "short neighbours": (round_of(plain(3), inc(), plain(2)), 0, 5),
    "one stitch behind them": (round_of(plain(3), inc(), plain(1)), 0, 6),
    "from the middle of a run": (round_of(plain(4), inc(), plain(2)), 1, 6),
    "from its last stitch": (round_of(plain(3), inc(), plain(2)), 2, 7),
    "no more than three phrases": (round_of(plain(), st("hdc", 1), st("dc", 1), st("tr", 1)), 0, 3),
    "a long run alone": (round_of(plain(5), inc()), 0, 5),
    "six together": (round_of(plain(4), inc()), 0, 6),
    "a group is no neighbour": (round_of(plain(3), group(3, plain(), inc())), 0, 3),
    "a step is no neighbour": (round_of(plain(3), step("join")), 0, 3),
    "a step at the end alone": (round_of(plain(3), step("join")), 3, 4),
    "the end of the round": (round_of(plain(3)), 3, 3),
    "a group once": (round_of(group(6, plain(2), inc())), 4, 8),
    "the rest of a group": (round_of(group(6, plain(2), inc())), 5, 8),
    "a long group is broken after its first stitches": (round_of(LONG), 0, 2),
    "and then told to its end": (round_of(LONG), 2, 7),
    "runs of one stitch are one": (round_of(group(2, ch(1), plain(2), plain(2), ch(1), inc(), dec())), 0, 5),
    "a stitch that is half made": (round_of(inc(), plain(2)), 1, 4),
}


@pytest.mark.parametrize(("plan", "move", "end"), BREATHS.values(), ids=BREATHS)
def test_a_breath_ends_where_three_phrases_or_six_stitches_are_full(plan, move, end):
    assert breath_end(plan, move) == end


def test_what_no_stitch_follows_is_told_for_itself_and_never_more_than_is_taken_in():
    assert coming_now(round_of(plain(3), step("join"), step("turn")), 3).moves == 2
    lace = round_of(*[ch(2), sk(1)] * 5, plain())
    assert len(coming_now(lace, 0).nodes) == MOST_PHRASES


def test_a_skip_or_a_step_works_no_yarn_up():
    making = [is_making(run.act) for run in (plain(), ch(2), sk(1), step("join"))]
    assert making == [True, True, False, False]


def test_runs_of_one_act_side_by_side_are_one_wherever_they_were_read():
    assert merged((plain(2), plain(3), inc(), inc(2), plain())) == (plain(5), inc(3), plain())
    assert merged((group(2, plain()), group(2, plain()))) == (group(2, plain()), group(2, plain()))


def test_what_is_begun_of_an_act_is_made_up_to_the_move():
    """An act of three stitches, a chain and two: six moves, the chain being one."""
    around = Run(Act("in one", Role.WORK, (Made("dc", 3), Made("ch", 2), Made("dc", 2)), 1))
    begun = [between(round_of(around), 0, moves).nodes[0] for moves in range(1, 6)]
    assert [tuple((made.kind, made.count) for made in run.act.makes) for run in begun if isinstance(run, Run)] == [
        (("dc", 1),),
        (("dc", 2),),
        (("dc", 3),),
        (("dc", 3), ("ch", 2)),
        (("dc", 3), ("ch", 2), ("dc", 1)),
    ]
    assert [run.act.name for run in begun if isinstance(run, Run)] == ["dc", "dc", "dc", "in one", "in one"]


def test_chains_and_skips_alone_are_told_to_the_end_of_their_group():
    plan = round_of(group(2, ch(2), sk(1), ch(3), sk(2), ch(4), sk(1)))  # seven moves a time
    assert breath_end(plan, 0) == 7
