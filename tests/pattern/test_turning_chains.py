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
