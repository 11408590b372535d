"""A round over its bases: where one is taken, what is left over more or fewer of them, how it is counted by parts.

The numbers of the tables are worked out by hand, base by base; the laws are held against a walk.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from support.building import ch
from support.round_shapes import bodies, dec, group, inc, plain, round_of, step

from tracker.rounds.count_parts import MOST_WALKED, parts_to_count, spaced_parts
from tracker.rounds.formatter import folded, gaps_before
from tracker.rounds.other_bases import bases_before, leaves_over, move_at_base, other_spacings
from tracker.rounds.plan import Plan

STAR = round_of(group(6, plain(2), inc()))
"""24 stitches over 18."""


@settings(deadline=None, max_examples=30)
@given(bodies())
def test_a_base_is_taken_where_a_walk_takes_it(body):
    plan = Plan(body)
    taken: list[int] = []
    for move, spot in enumerate(plan.walk()):
        assert bases_before(plan, move) == spot.takes_done
        if spot.in_act == 0:
            taken += [move] * spot.act.takes
        if len(taken) > 200:
            break
    assert [move_at_base(plan, base) for base in range(len(taken))] == taken
    assert (move_at_base(plan, plan.uses), bases_before(plan, plan.moves)) == (plan.moves, plan.uses)


CLOSING = round_of(group(6, plain(), dec()))
"""12 stitches over 18."""


@pytest.mark.parametrize(
    ("plan", "bases", "left"),
    [
        (STAR, 0, ()),
        (round_of(ch(1)), 3, ()),
        (STAR, 18, (24,)),
        (STAR, 1, (1,)),
        (STAR, 17, (22,)),
        (STAR, 19, (25, 24)),
        (STAR, 21, (27, 28, 24)),
        (STAR, 36, (42, 48, 24)),
        (CLOSING, 17, (12,)),
        (CLOSING, 19, (13, 12)),
        (CLOSING, 20, (14, 12)),
        (CLOSING, 21, (15, 14, 12)),
        (round_of(step("ch 1"), plain(12), step("join")), 24, (24, 12)),
    ],
)
def test_what_is_left_over_another_number_of_bases(plan, bases, left):
    """Plain to the end, or begun again, or nothing more worked; half of a decrease is a plain stitch."""
    assert leaves_over(plan, bases) == left


@pytest.mark.parametrize(
    ("plan", "left"),
    [
        (STAR, (22, 27)),
        (round_of(plain(2), group(6, plain(2), inc())), (24, 29)),
        (round_of(group(6, plain(), inc())), (16, 24)),
        (round_of(group(6, inc())), ()),
        (round_of(group(6, inc(2), plain(3))), (40, 44)),
        (round_of(group(6, plain(), dec())), (14, 9)),
        (round_of(group(6, plain(2), plain(2, "dc"))), ()),
        (round_of(group(6, plain(2), ch(2))), ()),
        (round_of(group(6, inc(), dec())), ()),
        (round_of(group(6, group(2, plain(), inc()), plain(2))), ()),
        (round_of(plain(18)), ()),
    ],
)
def test_what_is_left_with_a_plain_stitch_more_or_fewer_before_each_change(plan, left):
    assert other_spacings(plan) == left


def bases_and_stitches(plan):
    return [(*part.bases, part.expected) for part in parts_to_count(plan)]


@pytest.mark.parametrize(
    ("plan", "kind", "parts"),
    [
        (round_of(plain(11)), "", []),
        (round_of(plain(12)), "quarter", [(0, 3, 3), (3, 6, 3), (6, 9, 3), (9, 12, 3)]),
        (round_of(plain(48)), "quarter", [(0, 12, 12), (12, 24, 12), (24, 36, 12), (36, 48, 12)]),
        (
            round_of(plain(49)),
            "sixth",
            [(0, 8, 8), (8, 16, 8), (16, 24, 8), (24, 32, 8), (32, 40, 8), (40, 49, 9)],
        ),
        (STAR, "repeat", [(at, at + 3, 4) for at in range(0, 18, 3)]),
        (round_of(group(8, plain(), inc())), "repeat", [(at, at + 2, 3) for at in range(0, 16, 2)]),
        (round_of(group(9, plain(), inc())), "quarter", [(0, 4, 6), (4, 9, 7), (9, 13, 6), (13, 18, 8)]),
        (round_of(group(3, plain(3), inc())), "repeat", [(0, 4, 5), (4, 8, 5), (8, 12, 5)]),
        (round_of(group(2, plain(5), inc())), "quarter", [(0, 3, 3), (3, 6, 4), (6, 9, 3), (9, 12, 4)]),
        (round_of(plain(2), group(3, plain(4), inc())), "repeat", [(0, 7, 8), (7, 12, 6), (12, 17, 6)]),
        (round_of(group(3, plain(4), inc()), plain(2)), "repeat", [(0, 5, 6), (5, 10, 6), (10, 17, 8)]),
        (
            round_of(plain(3), group(3, plain(4), inc())),
            "quarter",
            [(0, 4, 4), (4, 9, 6), (9, 13, 5), (13, 18, 6)],
        ),
        (
            round_of(group(3, plain(), inc()), group(3, plain(), inc())),
            "quarter",
            [(0, 3, 4), (3, 6, 5), (6, 9, 4), (9, 12, 5)],
        ),
        (
            round_of(step("ch 1"), group(3, plain(3), inc()), step("join")),
            "repeat",
            [(0, 4, 5), (4, 8, 5), (8, 12, 5)],
        ),
    ],
)
def test_a_round_is_counted_by_its_repeats_or_else_by_quarters_or_sixths(plan, kind, parts):
    assert bases_and_stitches(plan) == parts
    assert [part.name for part in parts_to_count(plan)] == [f"{kind} {n}" for n in range(1, len(parts) + 1)]


@settings(deadline=None, max_examples=30)
@given(bodies())
def test_the_parts_are_the_whole_round(body):
    plan = Plan(body)
    parts = parts_to_count(plan)
    assert (parts != ()) == (plan.uses >= 12)
    if parts:
        assert (parts[0].moves[0], parts[-1].moves[1]) == (0, plan.moves)
        assert all(part.moves[1] == following.moves[0] for part, following in pairwise(parts))
        assert sum(part.expected for part in parts) == plan.leaves


@pytest.mark.parametrize(
    ("plan", "spaced"),
    [
        (STAR, {(3, 4, 4, 4, 3, 4), (4, 5, 4, 5, 4, 5)}),
        (round_of(group(6, inc(), plain(2))), {(4, 4, 4, 3, 4, 3), (5, 4, 5, 4, 5, 4)}),
        (round_of(plain(2), group(3, plain(3), inc()), plain(2)), {(4, 5, 5, 4), (4, 6, 5, 5)}),
        (round_of(plain(), group(3, plain(3), inc()), plain()), {(5, 5, 6), (6, 5, 7)}),
        (round_of(group(6, plain(), inc(2))), {(4, 4, 5, 5, 4, 4), (6, 6, 6, 6, 6, 6)}),
        (round_of(group(6, plain(), dec())), {(3, 2, 2, 2, 3, 2), (2, 1, 2, 1, 2, 1)}),
        (round_of(plain(18)), set()),
        (round_of(plain(4)), set()),
    ],
)
def test_what_stands_over_each_part_with_another_spacing(plan, spaced):
    assert spaced_parts(plan, parts_to_count(plan)) == spaced


def test_no_round_is_walked_that_nobody_works_in_a_day():
    for plain_ones, is_walked in ((MOST_WALKED // 8 - 1, True), (MOST_WALKED // 8, False)):
        plan = round_of(group(8, plain(plain_ones), inc()))
        assert bool(spaced_parts(plan, parts_to_count(plan))) == is_walked


def test_what_repeats_is_put_in_one_bracket():
    pair, other = (plain(2), inc()), (plain(5), dec())
    assert folded(pair * 4) == (group(4, *pair),)
    assert folded((*pair, *other, *pair, *other)) == (group(2, *pair, *other),)
    assert folded((plain(7, "dc"), *pair * 3, plain(9, "dc"))) == (plain(7, "dc"), group(3, *pair), plain(9, "dc"))
    assert folded((plain(2), plain(3), inc())) == (plain(5), inc())
    trio = (plain(2), inc(), plain(3, "dc"))
    assert folded(trio * 4) == (group(4, *trio),)
    assert folded((plain(9, "dc"), *trio * 3)) == (plain(9, "dc"), group(3, *trio))
    assert folded((*pair, *pair, *other * 3)) == (group(2, *pair), group(3, *other))


@settings(deadline=None, max_examples=20)
@given(bodies())
def test_a_round_written_short_is_the_same_round(body):
    def moves(plan: Plan) -> list[tuple]:
        return [(spot.act, spot.in_act) for spot, _ in zip(plan.walk(), range(300), strict=False)]

    assert moves(Plan(folded(body))) == moves(Plan(body))


@pytest.mark.parametrize(
    ("places", "stitches", "gaps"),
    [((1, 4), 8, ([1, 2], 3)), ((0,), 1, ([0], 0)), ((0, 1, 5), 6, ([0, 0, 3], 0)), ((), 5, ([], 5))],
)
def test_the_plain_stitches_before_each_change(places, stitches, gaps):
    assert gaps_before(places, stitches) == gaps
