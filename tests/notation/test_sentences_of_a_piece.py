"""Sentences over several rounds: their yarns, and how far they go on. Common practice, no source."""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.notation.reader import read_line
from tracker.notation.yarn_plan import ONWARD, YarnPlan
from tracker.notation.yarn_sentence import yarn_plan
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line as check

YARNS = Context(colours=frozenset("abc"))
TWO_AND_ONE = YarnPlan(turns=(("a", 2), ("b", 1)), again=True)

PLANS: dict[str, YarnPlan | None] = {
    "Rnds 1-3 in A, the rest in B": YarnPlan(((1, 3, "a"),), "b"),
    "Rounds 1, 3 and 5 in cream, all others in rust": YarnPlan(
        ((1, 1, "cream"), (3, 3, "cream"), (5, 5, "cream")), "rust"
    ),
    "Rnds 1-2 and 5-6 in A, 3-4 in B": YarnPlan(((1, 2, "a"), (5, 6, "a"), (3, 4, "b"))),
    "A for rounds 1-3, B from round 4": YarnPlan(((1, 3, "a"), (4, ONWARD, "b"))),
    "Rnds 13 to end in A": YarnPlan(((13, ONWARD, "a"),)),
    "From round 4 on in cream, rounds 1-3 in rust": YarnPlan(((4, ONWARD, "cream"), (1, 3, "rust"))),
    "Rows 1-4 in grey, rows 5-8 in light blue": YarnPlan(((1, 4, "grey"), (5, 8, "light blue"))),
    "Work Rnds 1-3 with A, 4-5 with B, then A to the end": YarnPlan(((1, 3, "a"), (4, 5, "b")), "a"),
    "Rnds 1-3 in A": YarnPlan(((1, 3, "a"),)),
    "Rnd 3: With A": None,
    "2 rnds A, 1 rnd B, repeat": TWO_AND_ONE,
    "Stripe pattern: 2 rnds A, 1 rnd B, repeat": TWO_AND_ONE,
    "2 rounds of A and one of B, repeat to the end": TWO_AND_ONE,
    "2 rnds A, 1 rnd B, 3 of C, repeat": YarnPlan(turns=(("a", 2), ("b", 1), ("c", 3)), again=True),
    "A x 2, B x 3, repeat": YarnPlan(turns=(("a", 2), ("b", 3)), again=True),
    "3 rounds A, 2 rounds B, then A to the end": YarnPlan(others="a", turns=(("a", 3), ("b", 2))),
    "2 rnds A": YarnPlan(turns=(("a", 2),)),
    "2 rnds A, repeat": None,
    "Rnds 1-3 in A, the rest in B, 2 rnds C": None,
    "Alternate A and B every 2 rounds": YarnPlan(turns=(("a", 2), ("b", 2)), again=True),
    "Alternate A, B and C every 3 rounds, beginning with B": YarnPlan(
        turns=(("b", 3), ("c", 3), ("a", 3)), again=True
    ),
    "2-round stripes of A and B": YarnPlan(turns=(("a", 2), ("b", 2)), again=True),
    "Change colour every round, in the order A, B, C": YarnPlan(turns=(("a", 1), ("b", 1), ("c", 1)), again=True),
    "Change colour every 2 rounds": YarnPlan(each=2),
    "Start with B and change colour every 4 rounds": YarnPlan(order=("b",), each=4, begins=True),
    "Alternate A and B": YarnPlan(order=("a", "b"), begins=True, alternates=True),
    "A, then B": YarnPlan(order=("a", "b"), begins=True),
    "A, B": YarnPlan(order=("a", "b")),
    "A is used unless noted": YarnPlan(usual="a"),
    "The dog is for A, B": None,
    "Sc around in A, B": None,
    "Leave 2 rounds of A for later": None,
    f"Rnds 1-3 in A, {' ' * 290} the rest in B": None,
}


@pytest.mark.parametrize(("said", "plan"), PLANS.items(), ids=[said[:60] for said in PLANS])
def test_a_sentence_on_yarns_is_a_plan_as_a_whole_or_not_at_all(said: str, plan: YarnPlan | None) -> None:
    assert yarn_plan(said, YARNS) == plan


@pytest.mark.parametrize(
    ("plan", "yarns"),
    [
        (YarnPlan(((1, 2, "a"), (4, ONWARD, "b")), "c"), "aacbbb"),
        (YarnPlan(((2, 3, "a"),)), "-aa---"),
        (TWO_AND_ONE, "aabaab"),
        (YarnPlan(turns=(("a", 2), ("b", 1)), others="c"), "aabccc"),
        (YarnPlan(turns=(("a", 2), ("b", 1))), "aab---"),
        (YarnPlan(order=("a", "b")), "------"),
    ],
)
def test_the_yarn_of_each_of_six_rounds(plan: YarnPlan, yarns: str) -> None:
    assert "".join(plan.yarn_of(number, number - 1) or "-" for number in range(1, 7)) == yarns
    assert plan.is_whole == (set(yarns) != {"-"})


def test_two_sentences_on_rounds_by_their_numbers_are_one_plan() -> None:
    first, second = YarnPlan(((1, 2, "a"),), "c"), YarnPlan(((3, 4, "b"),))
    assert first.beside(second) == YarnPlan(((1, 2, "a"), (3, 4, "b")), "c")
    assert first.beside(TWO_AND_ONE) == TWO_AND_ONE and TWO_AND_ONE.beside(first) == first
    assert first.beside(second).yarns == ("a", "b", "c")


@pytest.mark.parametrize(
    ("before", "text", "written"),
    [
        (12, "sc around, alternating A and B every 2 sts", "[(a) 2 sc, (b) 2 sc] x 3"),
        (12, "sc around, alternating A and B every other st", "[(a) 2 sc, (b) 2 sc] x 3"),
        (12, "sc around, alternating A and B every st", "[(a) 1 sc, (b) 1 sc] x 6"),
        (12, "sc around, alternating 2 sts A, 1 st B and 1 st C", "[(a) 2 sc, (b) 1 sc, (c) 1 sc] x 3"),
        (12, "alternating 1 st red and 1 st blue, sc around", "[(red) 1 sc, (blue) 1 sc] x 6"),
        (13, "13 sc, alternating 2 sts A and 1 st B", "[(a) 2 sc, (b) 1 sc] x 4, (a) 1 sc"),
        (14, "14 sc, alternating 2 sts A and 3 sts B", "[(a) 2 sc, (b) 3 sc] x 2, (a) 2 sc, (b) 2 sc"),
        (12, "4 sc, alternating A and B every st, sc in next 8 sts", "[(a) 1 sc, (b) 1 sc] x 2, 8 sc"),
        (12, "ch 1, alternating A and B every 2 sts, sc around, join", "ch 1, [(a) 2 sc, (b) 2 sc] x 3, join"),
        (12, "alternating 1 sc A and 1 sc B", "[(a) 1 sc, (b) 1 sc] x 6"),
        (12, "inc around, alternating A and B every st", "[(a) inc, (b) inc] x 6"),
    ],
)
def test_stitches_take_turns_between_yarns(before: int, text: str, written: str) -> None:
    plan = check(f"Rnd 4: {text}", before).plan
    assert plan is not None and notate(plan) == written


GOALS = {
    "Repeat Rnd 3 until 40 sts": ((3,), 0, 1, 40, 0, False, ""),
    "Repeat rnds 2-3 until 24 sts remain": ((2, 3), 0, 1, 24, 0, False, ""),
    "Rep last rnd until there are 24 sts": ((), 1, 1, 24, 0, False, ""),
    "Continue increasing in this way until 48": ((), 0, 1, 48, 0, True, ""),
    "Continue increasing in this way to 48 sts": ((), 0, 1, 48, 0, True, ""),
    "Continue increasing to 48.": ((), 0, 1, 48, 0, True, ""),
    "Keep decreasing until 6 sts are left": ((), 0, 1, 6, 0, True, ""),
    "keep adding 6 increases each round to 48 sts": ((), 0, 1, 48, 0, True, ""),
    "Continue in this way, with one more st between each inc, until 36 sts": ((), 0, 1, 36, 0, True, ""),
    "Continue in this way for 5 more rnds": ((), 0, 1, 0, 5, True, ""),
    "Then continue decreasing for 3 more rounds": ((), 0, 1, 0, 3, True, ""),
    "Rnds 4-6: increase by 6 each round": ((), 0, 1, 0, 0, True, ""),
    "Rnd 6: as rnd 4 but in back loops only": ((4,), 0, 1, 0, 0, False, "in back loops only"),
    "Rnd 5: as rnd 4 but with grey": ((4,), 0, 1, 0, 0, False, "with grey"),
    "Rnd 5: as rnd 4, 6 times": ((4,), 0, 6, 0, 0, False, ""),
}


@pytest.mark.parametrize(("said", "goes_on"), GOALS.items(), ids=list(GOALS))
def test_how_far_rounds_go_on(said: str, goes_on: tuple[object, ...]) -> None:
    named = read_line(said).reference
    assert named is not None
    found = (named.numbers, named.last, named.times, named.stitches, named.rounds, named.onward, named.change)
    assert found == goes_on


@pytest.mark.parametrize(
    "said", ["Work even until 6 sts remain", "Rnd 4: increase by 6 each round", "Rnd 4: sc to 48"]
)
def test_what_makes_something_is_no_going_on(said: str) -> None:
    assert read_line(said).reference is None
