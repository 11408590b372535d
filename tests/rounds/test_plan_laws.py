"""Sums over the tree of a round equal what a walk over every stitch finds; a round of any size is answered at once.

The walk below is written from the meaning of the words alone (move, stitch, base in `plan.py`) and shares nothing
with the arithmetic that it is held against.
"""

from __future__ import annotations

import tracemalloc
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.building import ch, dec, inc, join, sc, shell, sk, times

from tracker.notation.reader import read_line as read_notation
from tracker.rounds.line_report import read_line
from tracker.rounds.next_step import up_to_boundary
from tracker.rounds.plan import (
    MAX_STITCHES,
    Act,
    Into,
    Made,
    Node,
    Plan,
    Repeat,
    Role,
    Run,
    Turn,
)


@dataclass(frozen=True)
class Step:
    """One move, found by walking. `group_ends` is the number of moves at the end of the innermost group around it."""

    act: Act
    in_run: int
    in_act: int
    turns: tuple[Turn, ...]
    group_ends: int
    made: Made | None


def walked(body: tuple[Node, ...], start: int = 0, turns: tuple[Turn, ...] = ()) -> list[Step]:
    """Every move of these nodes, one by one, the first of them being number `start`."""
    steps: list[Step] = []
    for node in body:
        if isinstance(node, Run):
            first = len(steps)
            for index in range(node.times):
                steps += [Step(node.act, index, at, turns, 0, made) for at, made in enumerate(moves_of(node.act))]
            if not turns:
                steps[first:] = [ending(step, start + len(steps)) for step in steps[first:]]
            continue
        for number in range(1, node.times + 1):
            inner = walked(node.body, start + len(steps), (*turns, Turn(number, node.times)))
            end = start + len(steps) + len(inner)
            steps += [step if step.group_ends else ending(step, end) for step in inner]
    return steps


def ending(step: Step, end: int) -> Step:
    return Step(step.act, step.in_run, step.in_act, step.turns, end, step.made)


def moves_of(act: Act) -> list[Made | None]:
    """What each move of an act makes: a chain of any length is one move, and so is what makes nothing."""
    moves: list[Made | None] = []
    for made in act.makes:
        moves += [made] if made.kind == "ch" else [made] * made.count
    return moves or [None]


def stitch_made(step: Step) -> str:
    """The kind of stitch that a move leaves to be counted; "" if it leaves none."""
    if step.made is None:
        return ""
    return step.made.counts_as if step.made.kind == "ch" else step.made.kind


kinds = st.sampled_from(["sc", "hdc", "dc", "tr", "sl st", "bobble"])
made = st.one_of(
    st.builds(Made, kinds, st.integers(1, 5)),
    st.builds(Made, st.just("ch"), st.integers(1, 6), st.sampled_from(["", "", "dc"])),
)
acts = st.builds(
    Act,
    st.sampled_from(["sc", "inc", "dec", "shell", "in one", "ch", "sk", "join"]),
    st.sampled_from(Role),
    st.lists(made, max_size=4).map(tuple),
    st.integers(0, 3),
    st.sampled_from(Into),
)
runs = st.builds(Run, acts, st.integers(1, 3))


def repeats(nodes: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return st.builds(Repeat, st.lists(nodes, min_size=1, max_size=3).map(tuple), st.integers(1, 3))


nodes: st.SearchStrategy[Node] = st.recursive(runs, repeats, max_leaves=6)
plans = st.lists(nodes, max_size=4).map(lambda body: Plan(tuple(body)))
laws = settings(max_examples=60, deadline=None)


@laws
@given(plans)
def test_totals_by_arithmetic_are_totals_by_walking(plan: Plan) -> None:
    steps = walked(plan.body)
    stitches = Counter(filter(None, map(stitch_made, steps)))
    spaces = [s.made for s in steps if s.made is not None and s.made.kind == "ch" and not s.made.counts_as]
    begun = [step.act for step in steps if step.in_act == 0]
    assert plan.moves == len(steps)
    assert plan.leaves == sum(stitches.values())
    assert dict(plan.tally.kinds) == stitches
    assert plan.uses == sum(act.takes for act in begun)
    assert (plan.tally.spaces, plan.tally.chains) == (len(spaces), sum(space.count for space in spaces))
    assert dict(plan.tally.names) == Counter(act.name for act in begun)


@laws
@given(plans)
def test_the_spot_of_every_move_is_where_the_walk_is(plan: Plan) -> None:
    stitches = takes = 0
    for move, step in enumerate(walked(plan.body)):
        spot = plan.spot(move)
        assert spot is not None
        assert (spot.act, spot.in_run, spot.in_act, spot.turns) == (step.act, step.in_run, step.in_act, step.turns)
        assert spot.made == step.made
        assert spot.stitches_done == plan.stitches_before(move) == stitches
        takes += step.act.takes if step.in_act == 0 else 0
        stitches += bool(stitch_made(step))
        assert spot.takes_done == takes - (step.act.takes if step.in_act == 0 else 0)
    assert plan.stitches_before(plan.moves) == stitches


@laws
@given(plans)
def test_a_walk_of_the_plan_is_its_spots_in_order_from_anywhere(plan: Plan) -> None:
    spots = [plan.spot(move) for move in range(plan.moves)]
    assert list(plan.walk()) == spots
    assert list(plan.walk(plan.moves // 2)) == spots[plan.moves // 2 :]


@laws
@given(plans, st.integers(-3, 3))
def test_outside_the_round_there_is_no_spot(plan: Plan, beyond: int) -> None:
    if beyond < 0:
        assert plan.spot(beyond) is None
    else:
        assert plan.spot(plan.moves + beyond) is None
        assert plan.stitches_before(plan.moves + beyond) == plan.leaves


@laws
@given(plans)
def test_as_many_stitches_are_made_after_the_fewest_moves_that_make_them(plan: Plan) -> None:
    """`move_after_stitches` and `stitches_before` are inverse wherever a stitch ends."""
    before = [plan.stitches_before(move) for move in range(plan.moves + 1)]
    for stitches in range(plan.leaves + 1):
        move = plan.move_after_stitches(stitches)
        assert before[move] == stitches
        assert move == before.index(stitches)


@laws
@given(plans, st.integers(1, 10**12))
def test_counts_outside_the_round_give_its_ends(plan: Plan, beyond: int) -> None:
    assert plan.move_after_stitches(-beyond) == 0
    assert plan.move_after_stitches(plan.leaves + beyond) == plan.moves


def boundary_after(plan: Plan, move: int) -> int:
    """The move that a tap goes to."""
    return move + up_to_boundary(plan, move).moves


@laws
@given(plans)
def test_the_boundary_is_the_end_of_the_group_or_outside_one_of_the_run(plan: Plan) -> None:
    for move, step in enumerate(walked(plan.body)):
        assert boundary_after(plan, move) == step.group_ends > move
    assert boundary_after(plan, plan.moves) == plan.moves


ROUND = Plan((ch(1), times(6, sc(2), inc()), dec(), sk(1), times(2, times(3, shell(), ch(2)), sc()), join()))


@pytest.mark.parametrize(
    ("move", "boundary"),
    [
        pytest.param(0, 1, id="the chain is a run of one"),
        pytest.param(1, 5, id="at the start of a group its first time through"),
        pytest.param(4, 5, id="inside an increase the end of its group"),
        pytest.param(5, 9, id="the second time through"),
        pytest.param(24, 25, id="the last stitch of the last time"),
        pytest.param(25, 26, id="a decrease outside"),
        pytest.param(26, 27, id="a skip"),
        pytest.param(27, 33, id="a group inside a group: five stitches of a shell and a chain"),
        pytest.param(45, 46, id="behind the inner groups the end of the outer one"),
        pytest.param(65, 66, id="the join"),
    ],
)
def test_the_space_bar_goes_to_the_next_natural_end(move: int, boundary: int) -> None:
    assert boundary_after(ROUND, move) == boundary


def peak_of(work: Callable[[], object]) -> int:
    """The most bytes that were in use at once while `work` was done."""
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


SMALL = 200_000
"""Bytes: a list of a thousand million of anything has more than four thousand million."""


@pytest.mark.parametrize("groups", [10**9 // 2, MAX_STITCHES // 2], ids=["10^9", "10^10"])
def test_a_round_of_any_size_is_answered_without_a_list_of_stitches(groups: int) -> None:
    plan = Plan((times(groups, sc(), dec()), join()))

    def ask() -> None:
        assert (plan.moves, plan.leaves, plan.uses) == (2 * groups + 1, 2 * groups, 3 * groups)
        assert plan.stitches_before(groups + 1) == groups + 1
        assert plan.move_after_stitches(2 * groups - 1) == 2 * groups - 1
        assert boundary_after(plan, groups) == groups + 2 - groups % 2
        spot = plan.spot(2 * groups - 1)
        assert spot is not None and spot.turns == (Turn(groups, groups),)
        assert spot.takes_done == 3 * groups - 2
        assert next(plan.walk(groups)).turns[0].number == groups // 2 + 1

    assert peak_of(ask) < SMALL


def test_a_run_of_ten_thousand_million_single_stitches_too() -> None:
    plan = Plan((sc(MAX_STITCHES),))
    assert plan.spot(MAX_STITCHES - 1) is not None
    assert plan.spot(MAX_STITCHES) is None
    assert boundary_after(plan, 17) == MAX_STITCHES
    assert plan.move_after_stitches(4711) == 4711


def test_the_reader_answers_for_a_thousand_million_stitches_from_a_line_of_text() -> None:
    read_notation("Rnd 3: sc")  # what is built once for all lines is not this line's

    def ask() -> None:
        report = read_line("Rnd 3: (1 sc, inc) x 500000000", 10**9)
        assert (report.leaves, report.uses, report.verdict) == (1_500_000_000, 10**9, "ok")

    assert peak_of(ask) < SMALL


def test_groups_in_groups_multiply() -> None:
    body: Node = sc()
    for _ in range(10):
        body = times(10, body)
    plan = Plan((body,))
    assert plan.leaves == MAX_STITCHES
    spot = plan.spot(9_876_543_210)
    assert spot is not None
    assert "".join(str(turn.number - 1) for turn in spot.turns) == "9876543210"
