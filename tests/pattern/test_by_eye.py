"""Rounds along an edge: how many they make is left to the maker, and the rounds behind them go on."""

from __future__ import annotations

import pytest

from tracker.notation.by_eye import is_by_eye, leaves_number_open
from tracker.pattern.loader import all_problems, loads

CLOTH = '''
title = "Cloth"
[[piece]]
name = "Cloth"
start = "rows"
rounds = """
Row 1: ch 21, sc in 2nd ch from hook and in each ch across, turn (20)
Rows 2-20: ch 1, sc in each st across, turn (20)
Row 21: ch 1, sc evenly down the side, 3 sc in corner, sc across bottom, 3 sc in corner, sc up the other side, join
Row 22: ch 1, sc in each st around, join
"""
'''


def test_a_round_along_the_edge_is_worked_by_eye() -> None:
    pattern = loads(CLOTH)
    edge, behind = pattern.pieces[0].rounds[-2:]
    assert edge.is_by_eye and edge.plan is None and edge.leaves is None
    assert [problem.code for problem in edge.problems] == ["by-eye"]
    assert behind.verdict != "error" and behind.leaves is None
    assert not [problem for problem in all_problems(pattern) if problem.severity.value == "error"]


@pytest.mark.parametrize(
    ("text", "along"),
    [
        ("Rnd 1: sc evenly along the row ends", True),
        ("Rnd 1: dc down side edge, ch 2", True),
        ("Rnd 1: 24 sc evenly down the side", False),  # so many
        ("Rnd 1: sc in each st along the side", False),  # as many as there are
        ("Rnd 1: 3 sc in last ch, sc in next 6 ch along the bottom", False),
        ("Rnd 1: sc in 2nd ch from hook and in each ch, sc along the bottom", False),  # of a chain just made
        ("Rnd 4: sc evenly around with 3 sc in each corner", False),
        ("Rnd 4: inc at each side (26)", False),
        ("Rnd 6: Work as many hdc as will fit in each loop, I had 7 or 8", True),
        ("Rnd 6: As many sc as you need in each ch-sp so that it lies flat", True),
        ("Rnd 6: sc in as many sts as there are", False),  # as the round below left
    ],
)
def test_what_leaves_its_number_open(text: str, along: bool) -> None:
    assert leaves_number_open(text, "US") is along


def test_a_total_settles_how_many() -> None:
    assert not is_by_eye("Rnd 1: sc evenly down the side (30)", "US", has_total=True)
    assert is_by_eye("Rnd 1: sc evenly down the side", "US", has_total=False)
