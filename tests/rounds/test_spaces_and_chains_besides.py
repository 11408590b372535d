"""Stitches into "each st and each ch", "each dc and ch-1 sp", groups: which places of the round below they use.

Worked out by hand: every chain over the skipped stitches is one base, a space of another length is none.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads

HANDLES = "Rnd 1: 16 sc\nRnd 2: sc 2, ch 4, sk 4, sc 4, ch 4, sk 4, sc 2\n"
MESH = (
    "Rnd 1: 9 sc in ring\nRnd 2: ch 1, sc in first st, (ch 4, sc in next st) x 8. Join with ch 1 + dc to first sc.\n"
)
SQUARE = (
    "Rnd 1: (3 dc in ring, ch 2) 4 times, join\n"
    "Rnd 2: sl st to first ch-2 sp, *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * around\n"
)

TUFTS = "Rnd 1: 3 dc in ring, ch 2, *3 dc in ring, ch 2; rep from * 4 more times, join\n"
PAIRS = "Rnd 1: 9 sc in ring\nRnd 2: ch 3, dc in same st, 2 dc in each st around, join (18)\n"

CASES = {
    "the middle of groups told by their number": (
        TUFTS,
        "Rnd 2: sl st in next dc, ch 1, sc in same st, *ch 6, sc in centre dc of next 3-dc group; rep from * around",
        6,
    ),
    "of groups in a row of words": (TUFTS, "Rnd 2: *sc in middle of next group of 3 dc, ch 6; rep from * around", 6),
    "between groups": (TUFTS, "Rnd 2: *2 hdc between next two groups, rep from * around", 12),
    "between pairs": (
        PAIRS,
        "Rnd 3: sl st in first space between pairs, ch 3, 2 dc in same space, 3 dc in each space between pairs",
        27,
    ),
    "each chain of a handle": (HANDLES, "Rnd 3: sc in each sc and in each ch around", 16),
    "in either order": (HANDLES, "Rnd 3: sc in each ch and each st around", 16),
    "each chain in brackets": (HANDLES, "Rnd 3: sc in each st (and in each ch) around", 16),
    "each chain the first time": (HANDLES, "Rnd 3: sc in each st (and each ch the first time), join", 16),
    "chains that are counted in": (HANDLES, "Rnd 3: sc in each st, including the chs on rnd 2", 16),
    "both chains": (HANDLES.replace("ch 4", "ch 1"), "Rnd 3: sc in each st and in both chains", 10),
    "a space is one place": (HANDLES, "Rnd 3: sc in each st and in each ch-4 sp around", 10),
    "spaces of a side to the next corner": (
        SQUARE,
        "Rnd 3: sl st to corner sp, (ch 3, 2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 1) in each ch-1 sp to "
        "corner, (3 dc, ch 2, 3 dc) in corner sp, ch 1; rep from * 2 more times, (3 dc, ch 1) in each ch-1 sp, join",
        36,
    ),
    "stitches to the next corner": (
        SQUARE,
        "Rnd 3: *dc in each dc to corner, (2 dc, ch 2, 2 dc) in corner; rep from * around",
        40,
    ),
    "stitches to a corner without chains": (
        SQUARE,
        "Rnd 3: *sc in each dc to corner, 3 sc in corner; rep from * around",
        36,
    ),
    "stitches to a corner that only its chains tell": (
        SQUARE,
        "Rnd 3: *(2 dc, ch 2, 2 dc) in ch-2 sp, dc in each dc to next corner; rep from * around",
        40,
    ),
    "spaces of one length": (SQUARE, "Rnd 3: sc in each dc and in each ch-1 sp around", 28),
    "corners besides": (
        SQUARE,
        "Rnd 3: ch 1, sc in each dc and in each ch-1 sp around, working 3 sc in each ch-2 corner sp",
        40,
    ),
    "all spaces": (SQUARE, "Rnd 3: sc in each dc and in each sp around", 32),
    "the space of a joining": (
        MESH,
        "Rnd 3: ch 1, sc in that (ch 1 + 1 dc) space of the previous rnd, (ch 5, sc in next ch-4 sp) x 8, ch 5, join",
        9,
    ),
    "it is called as the others are": (MESH, "Rnd 3: (2 sc in next ch-4 sp, ch 2) x 9, sl st to first sc", 18),
    "two in each": (HANDLES, "Rnd 3: 2 sc in each st and in each ch around", 32),
}


@pytest.mark.parametrize(("below", "line", "leaves"), [pytest.param(*case, id=name) for name, case in CASES.items()])
def test_what_is_named_is_worked_into(below: str, line: str, leaves: int) -> None:
    (piece,) = loads(f'title = "T"\nterms = "US"\n[[piece]]\nname = "T"\nrounds = """\n{below}{line}\n"""\n').pieces
    assert piece.rounds[-1].leaves == leaves
    assert piece.rounds[-1].verdict == "ok"


SHAWL = (
    "Row 1: ch 4, (2 dc, ch 2, 3 dc) in 4th ch from hook (ch 3 counts as dc). (6 dc)\n"
    "Row 2: Ch 3, turn, dc in first dc, dc in next 2 dc, (2 dc, ch 2, 2 dc) in ch-2 sp, dc in next 2 dc, "
    "2 dc in last st. (12)\n"
)


@pytest.mark.parametrize(
    "edging",
    [
        "sc in each dc and 3 sc in the ch-2 space.",
        "sc in each dc across, 3 sc in ch-2 sp",
        "sc in each st, with 3 sc in the ch-2 space",
    ],
)
def test_a_space_behind_each_stitch_may_lie_between_them(edging: str) -> None:
    """Twelve stitches and the space in the middle of them: 12 + 3. Without a total it is asked about."""
    for total, expected in (("(15 sc)", (15, "ok")), ("", (15, "warning")), ("(9 sc)", (9, "warning"))):
        rows = f"{SHAWL}Row 3: ch 1, turn, {edging} {total}"
        last = loads(f'[[piece]]\nname = "Shawl"\nrounds = """\n{rows}\n"""\n').pieces[0].rounds[-1]
        assert (last.leaves, last.verdict) == expected, last.problems


def test_the_space_of_a_joining_is_as_long_as_its_chains_and_its_stitch_are_high() -> None:
    """A dc stands for three chains: with the ch 1 the ninth space is one of four like the others."""
    piece = loads(f'[[piece]]\nname = "Mesh"\nrounds = """\n{MESH}"""\n').pieces[0]
    plan = piece.rounds[1].plan
    assert plan is not None
    assert (plan.tally.spaces, plan.tally.chains) == (9, 9 * 4)
