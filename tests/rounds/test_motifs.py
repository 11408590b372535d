"""Motifs of lace, round over round: what each leaves, and that a line which does not fit the round below is told.

The numbers stand in `motifs.txt`, counted on paper; those of the laws below follow from the shape: a square has four
corners and gains one group a side and round, whatever stands between the groups.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Round
from tracker.rounds.plan import unrolled

MOTIFS = Path(__file__).with_name("motifs.txt")


class Expected(NamedTuple):
    """One line of a motif: the stitches and spaces that it leaves (spaces None: not counted), None for a misprint. A
    line that tells what a word means leaves (0, None)."""

    leaves: tuple[int, int | None] | None
    line: str


DEFINED = (0, None)


def motifs() -> dict[str, tuple[str, list[Expected]]]:
    """By name: the terms and the lines."""
    found: dict[str, tuple[str, list[Expected]]] = {}
    lines: list[Expected] = []
    for text in MOTIFS.read_text().splitlines():
        if text.startswith("## "):
            name, _, terms = text[3:].partition("; ")
            lines = []
            found[name] = terms or "US", lines
        elif text and not text.startswith("#"):
            count, line = text.split(" | ", 1)
            stitches, _, spaces = count.partition(" ")
            counted = None if spaces == "-" else int(spaces or 0)
            lines.append(
                Expected(None if count == "!" else DEFINED if count == "=" else (int(stitches), counted), line)
            )
    return found


def last_round(lines: list[str], terms: str = "US") -> Round:
    rounds = "\n".join(lines)
    return (
        loads(f'title = "T"\nterms = "{terms}"\n[[piece]]\nname = "T"\nrounds = """\n{rounds}\n"""\n')
        .pieces[0]
        .rounds[-1]
    )


@pytest.mark.parametrize("name", motifs())
def test_each_round_leaves_what_was_counted_on_paper(name: str) -> None:
    terms, lines = motifs()[name]
    done: list[str] = []
    for expected in lines:
        if expected.leaves == DEFINED:
            done.append(expected.line)
            continue
        read = last_round([*done, expected.line], terms)
        if expected.leaves is None:
            assert read.verdict != "ok", expected.line
            continue
        done.append(expected.line)
        stitches, spaces = expected.leaves
        assert (read.verdict, read.leaves) == ("ok", stitches), expected.line
        assert read.plan is not None
        assert spaces in (None, read.plan.tally.spaces), expected.line


JOINED = "Sl st to corner sp, (ch 3, 2 dc, ch 2, 3 dc) in same sp, "


def granny(corners: int, rounds: int, between: str, side: str) -> list[str]:
    """The text of a granny with so many corners, told the same way in each of its rounds."""
    first = (
        f"Rnd 1: Magic ring, ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) {corners - 1} times, join."
    )
    repeated = f"{side}{between}".removesuffix(", ")
    onward = (
        f"{JOINED}*{between}({repeated}) to corner, (3 dc, ch 2, 3 dc) in corner sp; "
        f"rep from * {corners - 2} more times, {between}({repeated}) to end, join."
    )
    return [first, *(f"Rnd {number}: {onward}" for number in range(2, rounds + 1))]


@pytest.mark.parametrize("corners", [3, 4, 6, 8])
@pytest.mark.parametrize(
    ("between", "side"), [("ch 1, ", "3 dc in next ch-1 sp, "), ("", "3 dc in next sp between groups, ")]
)
def test_a_granny_gains_a_group_on_each_side_in_every_round(corners: int, between: str, side: str) -> None:
    for rounds in range(2, 6):
        read = last_round(granny(corners, rounds, between, side))
        assert (read.verdict, read.leaves) == ("ok", 3 * corners * rounds)
        assert read.plan is not None
        assert read.plan.tally.spaces == corners + (corners * rounds - corners if between else 0)


@pytest.mark.parametrize("missed", [1, 2])
def test_a_side_that_is_told_with_too_few_groups_is_told(missed: int) -> None:
    below = granny(4, 4, "ch 1, ", "3 dc in next ch-1 sp, ")
    side = f"(3 dc in next ch-1 sp, ch 1) {3 - missed} times"
    line = (
        f"Rnd 5: {JOINED}*ch 1, {side}, (3 dc, ch 2, 3 dc) in corner sp; rep from * 2 more times, ch 1, {side}, join."
    )
    assert last_round([*below, line]).verdict != "ok"


def test_the_sides_of_an_oblong_differ() -> None:
    """Two sides of two spaces and two of one, as of a rectangle: 4 corners of 6 dc, and 3 dc in each of 6 spaces."""
    below = "Rnd 1: " + ", ".join(
        f"(3 dc, ch 2, 3 dc) in ring, ch 1{', 3 dc in ring, ch 1' if number % 2 else ''}" for number in range(4)
    )
    below += ", join."
    line = (
        f"Rnd 2: {JOINED}*ch 1, (3 dc in next ch-1 sp, ch 1) to corner, (3 dc, ch 2, 3 dc) in corner sp; rep from * "
        "2 more times, ch 1, (3 dc in next ch-1 sp, ch 1) to end, join."
    )
    assert last_round([below, line]).leaves == 4 * 6 + 6 * 3


FANS = [
    "Rnd 1: Magic ring, ch 1, 12 sc in ring, join.",
    "Rnd 2: Ch 1, *sc in next st, skip next st, 5 dc in next st, skip next st; rep from * around, join.",
]
LOOPS = [
    "Rnd 1: Magic ring, ch 1, 12 sc in ring, join.",
    "Rnd 2: Ch 1, sc in same st, *ch 5, sk next st, sc in next st; rep from * 4 more times, ch 5, sk last st, join.",
]
WHOLE = {
    "the chains of a space, of a length": (
        LOOPS,
        "Ch 1, *sc in next sc, sc in each ch of next ch-5 sp; rep from * around, join.",
        36,
    ),
    "of no length": (LOOPS, "Ch 1, *sc in next sc, sc in each ch of next loop; rep from * around, join.", 36),
    "some of them": (LOOPS, "Ch 1, *sc in next sc, sc in next 3 ch of loop; rep from * around, join.", 24),
    "of all spaces": (LOOPS, "Ch 1, sc in each ch of each ch-5 sp around, join.", 30),
    "the stitches of a shell": (
        FANS,
        "Ch 1, *sc in next sc, ch 1, hdc in each dc of next shell, ch 1; rep from * around, join.",
        18,
    ),
    "so many of them": (
        FANS,
        "Ch 1, *sc in next sc, ch 1, hdc in next 5 dc of next shell, ch 1; rep from * around, join.",
        18,
    ),
    "of all shells": (FANS, "Ch 1, hdc in each dc of each shell around, join.", 15),
    "three in each of three": (LOOPS, "Ch 1, 3 sc in next 3 ch-5 sps, 3 hdc in next 3 ch-5 sps, join.", 18),
}


@pytest.mark.parametrize(("below", "line", "leaves"), [pytest.param(*case, id=name) for name, case in WHOLE.items()])
def test_what_is_gone_along_is_counted_whole(below: list[str], line: str, leaves: int) -> None:
    read = last_round([*below, f"Rnd 3: {line}"])
    assert (read.verdict, read.leaves) == ("ok", leaves)


@pytest.mark.parametrize(
    "end",
    [
        "*ch 7, sc in next ch-5 sp; rep from * around. Join last ch 7 to first sc.",
        "*ch 7, sc in next ch-5 sp; rep from * around, ch 7, join last ch 7 to first sc.",
        "*ch 7, sc in next ch-5 sp; rep from * around, ch 7, join to first sc with sl st.",
        "*ch 7, sc in next ch-5 sp; rep from * around, ch 4, join with dc to first sc.",
    ],
)
def test_the_last_loop_is_closed_once(end: str) -> None:
    read = last_round([*LOOPS, f"Rnd 3: Sl st to first ch-5 sp, ch 1, sc in same sp, {end}"])
    assert read.plan is not None
    assert (read.verdict, read.leaves, read.plan.tally.spaces) == ("ok", 6, 6)


def test_a_round_that_only_leads_to_where_it_begins_is_told() -> None:
    assert last_round([*LOOPS, "Rnd 3: Sl st to first ch-5 sp, ch 1"]).verdict != "ok"


def test_sides_and_corners_of_two_kinds_of_spaces_are_worked_in_their_order() -> None:
    """A side of 3 dc, the corner, 3 dc and a chain, four times."""
    corners = "*(3 dc, ch 2, 3 dc) in next corner sp, ch 1; rep from * around, join."
    below = ["Rnd 1: Magic ring, ch 1, (2 sc in ring, ch 2) 4 times, join.", f"Rnd 2: Ch 1, {corners}"]
    line = "Ch 1, sc in each dc around, sc in each ch-1 sp around, (sc, ch 2, sc) in each ch-2 sp around, join."
    plan = last_round([*below, f"Rnd 3: {line}"]).plan
    assert plan is not None
    order = "".join(str(run.act.stitches) * run.times for run in unrolled(plan.body) if run.act.stitches)
    assert order == "11121111" * 4


@pytest.mark.parametrize("line", ["sc in each group around", "(sc in next group, ch 3) around"])
def test_the_stitches_of_a_whole_round_are_no_group(line: str) -> None:
    ring = "Rnd 1: Magic ring, ch 1, 12 sc in ring, join."
    assert last_round([ring, f"Rnd 2: Ch 1, {line}, join."]).verdict != "ok"
    assert last_round([ring, "Rnd 2: Ch 1, sc around, join.", f"Rnd 3: Ch 1, {line}, join."]).verdict != "ok"


@pytest.mark.parametrize("times", [9, 10**9])
def test_a_slip_of_the_keyboard_costs_no_more_than_what_is_there(times: int) -> None:
    nested = f"((sc in next ch-5 sp, ch 1) {times} times, sc in next sc) {times} times"
    assert last_round([*LOOPS, f"Rnd 3: Ch 1, {nested}, join."]).verdict == "error"


@pytest.mark.parametrize(
    ("line", "order"),
    [
        ("Ch 1, sc in each dc around, 3 sc in each corner sp, join.", "1113" * 4),
        ("Ch 1, sc in each dc around, working 3 sc in each corner sp, join.", "1113" * 4),
        ("Ch 1, sc in each dc and 2 sc in each ch-2 sp around, join.", "1112" * 4),
        ("Ch 3 (counts as dc), dc in each st around with (2 dc, ch 2, 2 dc) in each corner sp, join.", "1114" * 4),
        ("Ch 1, sc3tog around, 3 sc in each corner sp, join.", "13" * 4),
        ("Ch 3 (counts as dc), 5 dc in each corner sp around, 2 dc in each dc around, join.", "1225" + "2225" * 3),
        (
            "Sl st to corner sp, ch 3, 4 dc in same sp, dc in each dc around, 3 dc in each corner sp around, join.",
            "14" + "1113" * 3 + "111",
        ),
        ("Ch 1, 2 sc in first st, sc in each dc around, 3 sc in each corner sp, join.", "2113" + "1113" * 3),
    ],
)
def test_what_goes_round_at_once_is_worked_place_by_place(line: str, order: str) -> None:
    """A square of four groups of three with a space at each corner: a side of three, then its corner."""
    ring = "Rnd 1: Ch 4, join to form a ring. "
    square = f"{ring}Ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) 3 times, join."
    plan = last_round([square, f"Rnd 2: {line}"]).plan
    assert plan is not None
    assert "".join(str(run.act.stitches) * run.times for run in unrolled(plan.body) if run.act.stitches) == order
