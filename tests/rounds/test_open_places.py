"""Changes that a pattern only counts are set evenly: gaps that differ by one at the most.

That this is as even as can be is the definition of a Euclidean rhythm: G. T. Toussaint, "The Euclidean algorithm
generates traditional musical rhythms", BRIDGES 2005 (from memory).
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Plan, Repeat, Run


def unrolled(plan: Plan) -> list[str]:
    """The name of every act, one after the other."""
    names: list[str] = []
    for node in plan.body:
        if isinstance(node, Repeat):
            names += unrolled(Plan(node.body)) * node.times
        else:
            assert isinstance(node, Run)
            names += [node.act.name] * node.times
    return names


def gaps(names: list[str], change: str) -> list[int]:
    """Plain stitches before each change, those behind the last one counted to the first."""
    places = [index for index, name in enumerate(names) if name == change]
    around = [places[0] + len(names) - 1 - places[-1]]
    return around + [after - before - 1 for before, after in pairwise(places)]


@given(changes=st.integers(2, 40), more=st.integers(0, 200), words=st.sampled_from(["inc", "dec"]))
@settings(deadline=None)
def test_changes_said_to_be_even_are_even(changes: int, more: int, words: str) -> None:
    takes = 1 if words == "inc" else 2
    before = changes * takes + more
    report = read_line(f"Rnd 4: {words} {changes} sts evenly around", before)
    assert report.plan is not None and report.verdict == "ok"
    assert (report.uses, report.leaves) == (before, before + changes if words == "inc" else before - changes)
    between = gaps(unrolled(report.plan), words)
    assert max(between) - min(between) <= 1


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Row 4: inc 1 st at each end", ["inc", *["sc"] * 6, "inc"]),
        ("Row 4: dec at both ends", ["dec", *["sc"] * 4, "dec"]),
        ("Row 4: sc across, increasing at the beginning and end of the row", ["inc", *["sc"] * 6, "inc"]),
        ("Row 4: 2 sc in the first and last st, sc in the others", ["inc", *["sc"] * 6, "inc"]),
        ("Rnd 4: sc around, inc 2 evenly", ["sc", "sc", "sc", "inc", "sc", "sc", "sc", "inc"]),
    ],
)
def test_where_changes_go(text: str, names: list[str]) -> None:
    report = read_line(text, 8)
    assert report.plan is not None
    assert unrolled(report.plan) == names


def test_a_round_of_thousands_of_millions_is_spread_by_arithmetic() -> None:
    report = read_line("Rnd 4: inc 7000 sts evenly around", 9_000_000_000)
    assert report.leaves == 9_000_007_000


def test_thousands_of_millions_in_one_place_take_no_memory() -> None:
    report = read_line("Rnd 4: 90000000 dc2tog in same st, sc in next 7 sts", 8)
    assert report.leaves == 90_000_007
