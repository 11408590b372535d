"""Rounds rewritten over another number of stitches: right in number, evenly spread, not stacked if that can be.

Even spacing is held against Bjorklund's algorithm (E. Bjorklund, "The theory of rep-rate pattern generation in the
SNS timing system", 2003) as told by G. Toussaint, "The Euclidean algorithm generates traditional musical rhythms",
2005; both give the same gaps up to rotation. The implementation here is independent of the one under test.
"""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from support.round_shapes import dec, group, inc, plain, round_of, step, toy_rounds

from tracker.rounds.formatter import folded, notate
from tracker.rounds.plan import Act, Made, Plan, Role, Run
from tracker.session.miscount.rewriting import (
    bumps_of,
    even_round,
    is_even,
    over_more_bases,
    with_more_stitches,
)


def bjorklund(ones: int, length: int) -> str:
    """A string of "x" and ".", spread by pairing off what is left over, as Euclid's algorithm does."""
    groups, rest = ["x"] * ones, ["."] * (length - ones)
    while len(rest) > 1:
        paired = min(len(groups), len(rest))
        both = [groups[i] + rest[i] for i in range(paired)]
        groups, rest = both, groups[paired:] or rest[paired:]
    return "".join(groups + rest)


def rotations(text: str) -> set[str]:
    return {text[i:] + text[:i] for i in range(len(text))}


def changes_in(body: tuple) -> str:
    """Act by act: "x" for an increase or decrease, "." for a plain stitch; steps and chains left out."""
    acts = [spot.act for spot in Plan(body).walk() if spot.in_act == 0 and spot.act.role is Role.WORK]
    return "".join("." if act.takes == act.stitches else "x" for act in acts)


@pytest.mark.parametrize(
    ("ones", "length", "pattern"), [(3, 8, "x..x..x."), (5, 8, "x.xx.xx."), (5, 13, "x..x.x..x.x..")]
)
def test_the_reference_gives_the_published_patterns(ones, length, pattern):
    """Toussaint 2005, table of rhythms."""
    assert pattern in rotations(bjorklund(ones, length))


@settings(deadline=None, max_examples=60)
@given(st.integers(3, 90), st.data())
def test_changes_are_spread_as_bjorklund_spreads_them(bases, data):
    target = data.draw(st.integers(-(-bases // 2), 2 * bases))
    assume(target != bases)
    body = even_round((plain(bases),), bases, target)
    assert body is not None
    seen = changes_in(body)
    assert seen in rotations(bjorklund(abs(target - bases), len(seen)))


@settings(deadline=None, max_examples=60)
@given(toy_rounds(), toy_rounds(), st.integers(-4, 4), st.integers(-4, 4))
def test_a_rewritten_round_uses_and_leaves_what_was_asked(plan, below, more_bases, more_stitches):
    bases, target = plan.uses + more_bases, plan.leaves + more_stitches
    body = even_round(plan.body, bases, target, bumps_of(below))
    if body is None:
        assert bases < 1 or target < 1 or target > 2 * bases or bases > 2 * target
        return
    assert (Plan(body).uses, Plan(body).leaves) == (bases, target)


@settings(deadline=None, max_examples=60)
@given(st.integers(4, 400), st.integers(1, 100))
def test_gaps_around_the_round_differ_by_at_most_one(bases, more):
    assume(more <= bases)
    body = even_round((plain(bases),), bases, bases + more)
    assert body is not None
    seen = changes_in(body)
    around = seen[seen.index("x") + 1 :] + seen[: seen.index("x") + 1]
    gaps = [len(gap) for gap in around.split("x")[:-1]]
    assert max(gaps) - min(gaps) <= 1


def test_increases_do_not_lie_over_those_of_the_round_below():
    below = round_of(group(6, plain(2), inc()))
    body = even_round((group(6, plain(3), inc()),), 24, 30, bumps_of(below))
    assert body is not None
    over = {stitch for first, last in bumps_of(below) for stitch in (first, last)}
    plan, bases = Plan(body), []
    for move, spot in enumerate(plan.walk()):
        if spot.act.is_increase and spot.in_act == 0:
            bases.append(plan.spot(move).takes_done)
    assert not over & set(bases)


def test_a_single_change_stays_away_from_the_ends():
    assert notate(Plan(even_round((plain(24),), 23, 24))) == "11 sc, inc, 11 sc"


def test_what_opens_and_closes_a_round_stays():
    body = (step("ch 1"), plain(24, "hdc"), step("join"))
    assert notate(Plan(even_round(body, 24, 26))) == "ch 1, (11 hdc, 2 hdc in next st) x 2, join"


def test_a_round_of_several_stitches_is_not_written_anew():
    assert even_round((plain(3), plain(3, "dc")), 6, 7) is None


EVEN = {
    "plain": (round_of(plain(30)), True),
    "a group": (round_of(group(6, plain(4), inc())), True),
    "staggered": (round_of(plain(2), inc(), group(5, plain(4), inc()), plain(2)), True),
    "increases only": (round_of(inc(6)), True),
    "joined": (round_of(step("ch 1"), group(6, plain(4), dec()), step("join")), True),
    "shaped on two sides": (round_of(plain(5), inc(3), plain(10), inc(3), plain(5)), False),
    "shaped at the edges of a row": (round_of(dec(), plain(12), dec()), False),
    "increases and decreases": (round_of(group(3, plain(4), inc(), plain(4), dec())), False),
    "two stitches": (round_of(group(6, plain(4), plain(1, "dc"))), False),
    "without end": (round_of(group(10**9, plain(4), inc())), False),
}


@pytest.mark.parametrize(("plan", "even"), EVEN.values(), ids=EVEN)
def test_only_an_even_round_may_be_spread_anew(plan, even):
    """Elsewhere the places of the changes are the shape of the piece."""
    assert is_even(plan.body) is even


@given(toy_rounds(), st.integers(-3, 3))
@settings(deadline=None, max_examples=60)
def test_single_corrections_change_only_what_they_should(plan, by):
    over = over_more_bases(plan.body, by)
    if over is not None:
        assert (Plan(over).uses, Plan(over).leaves) == (plan.uses + by, plan.leaves)
    more = with_more_stitches(plan.body, by)
    if more is not None:
        assert (Plan(more).uses, Plan(more).leaves) == (plan.uses, plan.leaves + by)


def test_a_correction_keeps_the_colours():
    def of(colour: str, times: int) -> Run:
        return Run(Act("sc", Role.WORK, (Made("sc"),), 1, colour=colour), times)

    body = over_more_bases((of("A", 9), of("B", 9)), -1)
    assert body is not None
    assert notate(Plan(body)) == "(A) 9 sc, (B) 1 sc, inc, 6 sc"


def test_there_is_room_for_a_correction_in_a_round_without_end():
    body = over_more_bases((group(500_000_000, plain(3), inc()),), -2)
    assert body is not None
    assert Plan(body).uses == 2_000_000_000 - 2
    assert Plan(body).leaves == 2_500_000_000


@settings(deadline=None, max_examples=60)
@given(st.lists(st.sampled_from([plain(1), plain(2), inc(), dec(), plain(1, "dc")]), min_size=1, max_size=40))
def test_folding_changes_the_words_and_not_the_work(nodes):
    before = [spot.act.name for spot in Plan(tuple(nodes)).walk()]
    assert [spot.act.name for spot in Plan(folded(nodes)).walk()] == before


def test_folding_finds_groups_in_groups():
    nodes = [plain(2), inc(), plain(2), inc(), plain(1, "dc")] * 3
    assert notate(Plan(folded(nodes))) == "[(2 sc, 2 sc in next st) x 2, 1 dc] x 3"


def test_two_stitches_that_repeat_are_a_group():
    assert notate(Plan(folded([plain(1), inc(), plain(1), inc()]))) == "(1 sc, inc) x 2"
