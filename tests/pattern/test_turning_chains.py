"""Rows behind one that ended with a chain, "ch 3, turn": that chain is the first stitch of the next row, or none (US
leaflets, common practice, no source)."""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.pattern.checker import check_rounds
from tracker.pattern.model import Round
from tracker.pattern.round_splitter import cut
from tracker.phrasing.stitches import act_words

FIRST = "Row 1: Ch 18, dc in 4th ch from hook and in each ch across (16 dc). Ch {}, turn.\n"


def rows_of(text: str) -> list[Round]:
    pieces = cut(text, Context())
    return check_rounds(pieces.entries, pieces.context)[0]


@pytest.mark.parametrize(
    ("chains", "row", "leaves"),
    [
        (3, "Row 2: Skip first dc, dc in each dc across, dc in top of turning ch. Ch 3, turn.", 16),
        (3, "Row 2: Dc in next dc and in each dc across, turn.", 16),
        (3, "Row 2: Dc in each dc across (16)", 16),
        (3, "Row 2: Dc in first dc and in each dc across (16)", 16),  # into the first: the chain is no stitch
        (3, "Row 2: 2 dc in next dc, dc in each dc across (17)", 17),
        (1, "Row 2: Sc in each dc across (16)", 16),
        (3, "Row 2: Sc in each dc across (16)", 16),  # too high for one of these
        (3, "Row 2: Ch 3, dc in next dc and in each dc across (16)", 16),  # it has a chain of its own
        (5, "Row 2: Skip first 3 dc, dc in next dc, *ch 2, skip next 2 dc, dc in next dc; rep from * across.", 6),
    ],
)
def test_a_row_begins_on_the_chain_that_the_row_below_ended_with(chains: int, row: str, leaves: int) -> None:
    last = rows_of(FIRST.format(chains) + row)[-1]
    assert (last.leaves, last.verdict) == (leaves, "ok"), last.problems


def test_a_filet_edging_counts_the_chain_as_a_stitch_and_a_space() -> None:
    """Three squares of a stitch and two chains, four posts; on squared paper one is filled, and emptied again."""
    text = """
Row 1: Ch 14, dc in 8th ch from hook, *ch 2, skip 2 ch, dc in next ch; rep from * once (3 sps). Ch 5, turn.
Row 2: Dc in next dc, 2 dc in next sp, dc in next dc, ch 2, dc in 3rd ch of turning ch. Ch 5, turn.
Row 3: Dc in next dc, ch 2, skip 2 dc, dc in next dc, ch 2, dc in 3rd ch of turning ch (3 sps). Ch 5, turn.
"""
    assert [(each.leaves, each.verdict) for each in rows_of(text)] == [(4, "ok"), (6, "ok"), (4, "ok")]


def test_what_the_pattern_says_of_such_chains_holds() -> None:
    context = Context(chain_counts=False)
    pieces = cut(FIRST.format(3) + "Row 2: 2 dc in each dc across.", context)
    assert check_rounds(pieces.entries, context)[0][-1].leaves == 32
    counted = Context(chain_counts=True)
    assert check_rounds(pieces.entries, counted)[0][-1].leaves == 31


def test_the_hands_are_not_told_to_make_the_chain_again() -> None:
    row = rows_of(FIRST.format(3) + "Row 2: Skip first dc, dc in each dc across.")[-1]
    assert row.plan is not None
    first = next(iter(row.plan.acts()))
    assert act_words(first) == "the turning chain (counts as a double crochet)"


def test_a_chain_behind_the_join_is_none_of_those_that_are_worked_into() -> None:
    text = """
Rnd 1: 24 sc in ring, ch 1. (24)
Rnd 2: sc in next 8 sts, ch 6, skip 6 sts, sc in next 10 sts, sl st to first sc, ch 1. (24)
Rnd 3: sc in each sc and in each ch around, sl st to first sc, ch 1. (24)
"""
    assert [(each.leaves, each.verdict) for each in rows_of(text)] == [(24, "ok")] * 3


CORNER = """Row 1: ch 4, 2 dc in 4th ch from hook. {} (3)
Row 2: Ch 3, turn, dc in first dc, dc in next dc, 2 dc in last dc. (5)
Row 3: Ch 3, turn, dc in first dc, dc in each dc to last st, 2 dc in last dc. (7)
"""


@pytest.mark.parametrize(
    ("rows", "leaves"),
    [
        ("Rows 4-6: As row 3.", [9, 11, 13]),
        ("Row 4: Repeat row 3.", [9]),
    ],
)
def test_a_first_chain_counts_as_those_of_the_rows_before_that_came_to_their_totals(
    rows: str, leaves: list[int]
) -> None:
    """A corner that grows by one stitch at each end of a row: 3, 5, 7, and so on."""
    worked = rows_of(CORNER.format("") + rows)[3:]
    assert [(each.leaves, each.verdict) for each in worked] == [(number, "ok") for number in leaves]
    assert any("as in Row 3" in problem.message for problem in worked[0].problems)


def test_rows_that_came_to_no_total_settle_nothing() -> None:
    unsaid = CORNER.format("").replace(" (5)", "").replace(" (7)", "")
    assert rows_of(unsaid + "Row 4: As row 3.")[-1].verdict == "warning"


@pytest.mark.parametrize(
    "said",
    [
        "The 3 skipped chs count as a dc.",
        "Skipped ch-3 counts as the first dc.",
        "The first 3 ch count as a dc.",
        "(the missed chains count as 1 dc)",
    ],
)
def test_what_is_said_of_skipped_chains_behind_the_stitches_is_no_work(said: str) -> None:
    assert [(each.leaves, each.problems) for each in rows_of(CORNER.format(said))[:1]] == [(3, ())]
    assert rows_of(CORNER.format(said).replace("(3)", "(2)"))[0].verdict == "disagrees"


def test_that_a_chain_does_not_count_leads_to_no_total() -> None:
    row = "Row 1: ch 12, dc in 4th ch from hook, dc in each ch across. The skipped chs do not count. {} dc"
    assert rows_of(row.format(9))[0].problems == ()  # 12 chains, three of them passed over
    assert rows_of(row.format(10))[0].verdict != "ok"
