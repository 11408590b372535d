"""Rounds that go from corner to corner over a number of stitches alone: how many corners there are, and the sums.

By arithmetic: of so many stitches those at the corners take one each, or none where the corners are spaces, and the
rest is worked one by one.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.rounds.bases import Base
from tracker.rounds.line_report import read_line

SIDE = "dc in each st to"
TURN = "(2 dc, ch 2, 2 dc) in"

ROWS = [
    (20, "*sc in each st to corner, 3 sc in corner; rep from * around, join", 16 + 4 * 3, 0),
    (20, "*sc in each st to corner, (sc, ch 2, sc) in corner; rep from * around, join", 16 + 4 * 2, 4),
    (20, "*sc in each st to corner, (sc, ch 2, sc) in corner; rep from * 2 more times, join", 17 + 3 * 2, 3),
    (20, f"{TURN} first corner, *{SIDE} corner, {TURN} corner; rep from * around, dc to end, join", 16 + 4 * 4, 4),
    (20, f"{TURN} first corner sp, *{SIDE} corner, {TURN} corner sp; rep from * twice more, dc to end", 36, 4),
    (20, f"{TURN} first corner sp, *{SIDE} corner, {TURN} corner sp; rep from * around, dc to end, join", 36, 4),
    (20, "3 sc in corner, sc in each st around, 3 sc in each remaining corner, join", 16 + 4 * 3, 0),
    (20, "sc in each st around, 3 sc in each corner, join", 16 + 4 * 3, 0),
    (20, "ch 1, sc in each st around, (sc, ch 2, sc) in each corner sp, join (28)", 20 + 4 * 2, 4),
    (18, "ch 1, sc in each st around, 3 sc in each corner, join (30)", 18 + 4 * 3, 0),
    (None, "ch 1, sc in each st around, 3 sc in each corner, join (32)", 32, 0),
    (20, "ch 1, 5 sc on each side, 3 sc in each corner, join (32)", 4 * 5 + 4 * 3, 0),
    (20, f"ch 3, *{SIDE} corner, {TURN} corner; rep from * 3 more times, dc in each st to end, join", 16 + 4 * 4, 4),
    (20, f"ch 3, {SIDE} ch-2 sp, *{TURN} ch-2 sp, {SIDE} next ch-2 sp; rep from * around, join", 20 + 4 * 4, 4),
    (
        20,
        f"sl st to corner sp, ch 3, (dc, ch 2, 2 dc) in same sp, *{SIDE} next corner, {TURN} corner sp; "
        f"rep from * around, dc to end, join",
        20 + 4 * 4,
        4,
    ),
    (
        20,
        f"sl st to ch-2 sp, ch 3, (dc, ch 2, 2 dc) in same sp, *{SIDE} next ch-2 sp, {TURN} ch-2 sp; "
        f"rep from * 2 more times, {SIDE} end, join",
        20 + 4 * 4,
        4,
    ),
    (
        20,
        "3 sc in first corner, sc in each st to next corner, 3 sc in corner, sc in each st to next corner, 3 sc in "
        "corner, sc in each st to next corner, 3 sc in corner, sc in each st to end, join",
        16 + 4 * 3,
        0,
    ),
]


@pytest.mark.parametrize(("before", "line", "leaves", "spaces"), ROWS)
def test_corners_are_counted_and_the_rest_goes_along_the_sides(
    before: int | None, line: str, leaves: int, spaces: int
) -> None:
    report = read_line(f"Rnd 4: {line}", before)
    assert report.plan is not None
    assert (report.verdict, report.leaves, report.plan.tally.spaces) == ("ok", leaves, spaces)
    assert report.uses == before or before is None or "each side" in line


@pytest.mark.parametrize(
    ("line", "corners"),
    [
        ("ch 1, sc in each st around, 3 sc in each corner, join (26)", 3),
        ("ch 1, sc in each st around, (sc, ch 2, sc) in each corner sp, join (26)", 3),
        ("ch 1, sc in each st around, 3 sc in each corner, join (36)", 8),
    ],
)
def test_another_number_of_corners_is_asked_about(line: str, corners: int) -> None:
    report = read_line(f"Rnd 4: {line}", 20)
    assert report.verdict == "warning"
    assert report.messages[0].startswith(f"read it with {corners} corners; then it makes the total: right?")


@pytest.mark.parametrize(
    ("base", "onto", "number"),
    [
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "corner", 4),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "corner sp", 4),
        (Base(24, 16, (("ch-1", 12), ("ch-3", 4))), "corner sp", 4),
        (Base(12, 12, (("ch-2", 12),)), "corner sp", 12),
        (Base(13, 13, (("ch-2", 13),)), "corner sp", None),
        (Base(6, 3, (("ch-2", 3),)), "corner sp", 3),
        (Base(6, 2, (("ch-2", 2),)), "corner sp", None),
        (Base(20, 0, (("sc", 16), ("corner", 4))), "corner", None),
        (Base(20, 4), "corner", None),
        (Base(20), "corner", None),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "ch-1", 4),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "ch-1 of shell", 0),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "ch-3", 0),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "", 8),
        (Base(24, 8), "ch-1", 8),
        (Base(24), "ch-1", None),
        (Base(24, 0, (("dc", 24),)), "shell", 0),
        (Base(24, 0, (("dc", 24),)), "5-group", None),
    ],
)
def test_how_many_places_of_a_name_there_are(base: Base, onto: str, number: int | None) -> None:
    assert base.count(onto) == number


def test_corners_that_a_round_was_told_to_have_are_counted_without_chains() -> None:
    assert Base(20, 0, (("sc", 16), ("corner", 4))).corners == 4
    assert Base(20, 0, (("sc", 16), ("corner", 13))).corners is None


@pytest.mark.parametrize(
    ("base", "onto", "number"),
    [
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "ch", 4 * 1 + 4 * 2),
        (Base(24, 8, (("ch-1", 4), ("ch-2", 4))), "ch-2", 4),
        (Base(24, 8, (("dc", 24), ("ch-3", 8))), "ch", 24),
        (Base(24, 8), "ch", None),
        (Base(24, 0), "ch", 0),
    ],
)
def test_how_many_bases_chains_add(base: Base, onto: str, number: int | None) -> None:
    assert base.besides(onto) == number


def test_chains_over_an_opening_are_a_space_where_the_next_round_goes_into_them() -> None:
    base = Base(28, 1, (("ch-2", 1),), ((6, 2), (4, 1)))
    opened = base.opened(["ch-6"])
    assert (opened.stitches, opened.spaces, dict(opened.named)) == (16, 3, {"ch-2": 1, "ch-6": 2})
    assert base.opened(["ch-5"]) == base
    both = base.opened(["ch-6", "ch-4"])
    assert (both.stitches, both.spaces, dict(both.named)) == (12, 4, {"ch-2": 1, "ch-6": 2, "ch-4": 1})


def test_the_middle_of_a_corner_told_once_is_at_a_corner_the_next_time() -> None:
    # 4 x (3 + 9) = 48; then four corners take 4 and make 16, and 44 are worked one by one
    text = "\n".join(
        (
            "Rnd 1: Ch 1, *3 sc in corner, 9 sc evenly along edge; rep from * 3 times more, join. (48 sc)",
            "Rnd 2: Ch 3 (= 1 dc), (2 dc, ch 2, 2 dc) in next sc, *dc in each sc to center sc of next corner, "
            "(2 dc, ch 2, 2 dc) in center sc; rep from * twice more, dc in each sc to end, join. (60 dc)",
        )
    )
    rounds = (
        loads(f'[[piece]]\nname = "Edge"\nstart = "joined"\nrounds = """\n{text}\n"""\n', "Edge").pieces[0].rounds
    )
    assert [(round_.leaves, round_.verdict) for round_ in rounds] == [(48, "ok"), (60, "ok")]
