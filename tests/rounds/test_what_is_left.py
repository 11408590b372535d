"""What a round leaves to be worked into, by name, and which of its acts turn a corner. Counted on paper."""

from __future__ import annotations

import pytest

from tracker.notation.ast import Into, Technique
from tracker.rounds.bases import left_by
from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Act, Made, Role

FANS = ("shell", "fan", "petal")


def named(line: str, before: int | None = 12) -> dict[str, int]:
    report = read_line(f"Rnd 2: {line}", before)
    assert report.plan is not None
    return dict(left_by(report.plan).named)


def of_fans(number: int) -> dict[str, int]:
    return dict.fromkeys(FANS, number)


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("sc around", {"sc": 12}),
        ("2 sc in each st around", {"inc": 12, "group": 12, "2-group": 12}),
        ("(2 dc in next st, ch 1) around", {"inc": 12, "ch-1": 12, "group": 12, "2-group": 12}),
        ("(5 dc in next st, sk 1) around", {"in one": 6, "group": 6, "5-group": 6, **of_fans(6)}),
        ("[(dc, ch 1, dc) in next st, sk 1] around", {"in one": 6, "ch-1": 6, "v-st": 6}),
        ("[(dc, hdc) in next st, sk 1] around", {"in one": 6, "group": 6, "2-group": 6, **of_fans(6)}),
        ("[(dc, ch 1, dc, ch 1, dc) in next st, sk 1] around", {"in one": 6, "ch-1": 12, **of_fans(6)}),
        (
            "[(2 dc, ch 2, 2 dc) in next st, sk 1] around",
            {"in one": 6, "ch-2": 6, "group": 12, "2-group": 12, **of_fans(6)},
        ),
        (
            "[(2 dc, ch 2, 3 dc) in next st, sk 1] around",
            {"in one": 6, "ch-2": 6, "group": 12, "2-group": 6, "3-group": 6, **of_fans(6)},
        ),
        ("ch 3 (counts as dc), dc in next 11 sts, join", {"dc": 11}),
        ("ch 4 (counts as dc and ch 1), (dc in next st, ch 1) around, join", {"ch-1": 12, "dc": 11}),
        (
            "ch 3 (counts as dc), dc in same st, 2 dc in next 11 sts, join",
            {"dc": 1, "inc": 11, "group": 12, "2-group": 12},
        ),
        (
            "ch 3 (counts as dc), dc in same st, dc in next 11 sts, join",
            {"dc": 12, "group": 1, "2-group": 1},
        ),
        (
            "(sc in next 3 sts, 5 dc in next st) 3 times",
            {"sc": 9, "in one": 3, "group": 3, "5-group": 3, **of_fans(3)},
        ),
        ("(dc, ch 3, sk 1) 6 times", {"dc": 6, "ch-3": 6}),
        ("dec around", {"dec": 6}),
    ],
)
def test_places_by_name(line: str, left: dict[str, int]) -> None:
    assert named(line) == left


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ("12 sc in ring", {"sc": 12}),
        ("(3 dc in ring, ch 2) 4 times", {"dc": 12, "ch-2": 4, "group": 4, "3-group": 4}),
        ("(ch 3, 3 dc in ring) 4 times, join", {"dc": 12, "ch-3": 4, "group": 4, "3-group": 4}),
        (
            "ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join",
            {"dc": 11, "ch-2": 4, "group": 4, "3-group": 4},
        ),
        (
            "ch 3 (counts as dc), dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join",
            {"dc": 10, "ch-2": 4, "group": 4, "2-group": 1, "3-group": 3},
        ),
        ("(dc in ring, ch 1) 6 times", {"dc": 6, "ch-1": 6}),
    ],
)
def test_what_stands_together_in_the_ring(line: str, left: dict[str, int]) -> None:
    assert named(f"magic ring, {line}", None) == left


@pytest.mark.parametrize(
    ("line", "corners"),
    [
        ("*sc in each st to corner, 3 sc in corner; rep from * around", 4),
        ("sc in next 8 sts, 3 sc in corner, sc in next 3 sts", 1),
        ("sc around", None),
    ],
)
def test_a_corner_that_is_named_is_there_for_the_next_round(line: str, corners: int | None) -> None:
    assert named(line).get("corner") == corners


@pytest.mark.parametrize(
    ("text", "bridges"),
    [
        ("sc in next 10 sts, ch 8, sk 8, sc in next 10 sts (28)", ((8, 1),)),
        ("(sc in next 5 sts, ch 4, sk 4) 2 times, ch 6, sk 6, sc in next 4 sts (28)", ((6, 1),)),
        ("sc around", ()),
    ],
)
def test_chains_over_an_opening(text: str, bridges: tuple[tuple[int, int], ...]) -> None:
    plan = read_line(f"Rnd 8: {text}", 28).plan
    assert plan is not None
    assert left_by(plan).bridges == bridges


DC, CHAIN = Made("dc"), Made("ch", 2)


@pytest.mark.parametrize(
    ("makes", "into", "is_corner"),
    [
        ((DC, CHAIN, DC), Into.STITCH, True),
        ((DC, CHAIN, DC), Into.SPACE, True),
        ((DC, CHAIN, DC), Into.RING, False),
        ((DC, CHAIN, Made("dc", 3)), Into.SPACE, True),
        ((DC, CHAIN, DC, DC), Into.SPACE, True),
        ((DC, DC, CHAIN, DC), Into.SPACE, True),
        ((CHAIN, DC, CHAIN, DC), Into.STITCH, False),
        ((DC, CHAIN, DC, CHAIN), Into.STITCH, False),
        ((CHAIN, Made("dc", 3), CHAIN), Into.STITCH, False),
        ((Made("dc", 3), CHAIN), Into.STITCH, False),
        ((Made("sc", 3),), Into.STITCH, True),
        ((Made("sc", 3),), Into.SAME, True),
        ((Made("sc", 3),), Into.SPACE, False),
        ((Made("sc", 3),), Into.RING, False),
        ((Made("sc", 2),), Into.STITCH, False),
        ((Made("sc"), Made("dc"), Made("sc")), Into.STITCH, True),
    ],
)
def test_the_work_turns_about_a_chain_between_stitches_or_three_in_one_stitch(
    makes: tuple[Made, ...], into: Into, is_corner: bool
) -> None:
    """Common practice, no source: chains at an end belong to a petal, and three in a space are a side's group."""
    assert Act("in one", Role.WORK, makes, 1, into, technique=Technique.IN_ONE).is_corner == is_corner


@pytest.mark.parametrize("total", ["(15)", "(15 sc)"])
def test_slip_stitches_that_the_total_leaves_out_are_not_there_for_the_next_round(total: str) -> None:
    plan = read_line(f"Rnd 3: (5 sc, sl st) x 3 {total}", 18).plan
    assert plan is not None
    assert (plan.uses, plan.leaves, plan.moves, left_by(plan).stitches) == (18, 15, 18, 15)
