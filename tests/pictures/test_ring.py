"""The round being worked, as a grid of cells."""

from __future__ import annotations

import itertools
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pictures import by_hand as made
from pictures.test_chart_geometry import PLANS

from tracker.pattern.plan import Plan, Repeat, Run
from tracker.pictures.cells import around
from tracker.pictures.ring import PLAIN, Cell, Drawing, Sign, ring

GIANT = made.plan(Repeat((Run(made.stitch()), Run(made.inc(colour="B"))), 3 * 10**9))


def fourth() -> Plan:
    plan = made.disk(4).rounds[3].plan
    assert plan is not None
    return plan


def cells(drawing: Drawing) -> list[Cell]:
    return [cell for row in drawing.rows for cell in row if cell is not None]


def signs(drawing: Drawing) -> Counter[Sign]:
    return Counter(cell.sign for cell in cells(drawing))


def text(drawing: Drawing) -> list[str]:
    return ["".join(cell.character if cell else " " for cell in row).rstrip() for row in drawing.rows]


def test_a_ring_has_a_cell_for_each_move() -> None:
    drawing = ring(fourth(), 9, 40, 13)
    assert drawing.is_ring
    assert signs(drawing) == {Sign.DONE: 9, Sign.NOW: 1, Sign.AHEAD: 6, Sign.INCREASE: 8, Sign.MARKER: 1}


def test_what_a_cell_is_can_be_told_without_colour() -> None:
    """Done, now and ahead, and increases and decreases in each, have characters of their own."""
    plan = made.plan(made.stitch(), made.inc(), made.dec(), made.stitch(), made.stitch(), made.inc(), made.dec())
    for glyphs in (PLAIN, None):
        drawing = ring(plan, 4, 40, 2, **({"glyphs": glyphs} if glyphs else {}))
        done, ahead = text(drawing)[0][:4], text(drawing)[0][5:]
        assert not set(done) & set(ahead)
        assert len(set(done)) == len(set(ahead)) == 3


def test_cells_know_their_yarn_and_a_letter_stands_where_it_begins() -> None:
    plan = made.plan(
        Run(made.stitch(colour="W"), 13), Run(made.stitch(colour="N"), 4), Run(made.stitch(colour="W"), 13)
    )
    drawing = ring(plan, 0, 50, 17, colour="W")
    assert Counter(cell.colour for cell in cells(drawing) if cell.sign is Sign.AHEAD) == {"W": 25, "N": 4}
    assert [cell.character for cell in cells(drawing) if cell.sign is Sign.LETTER].count("N") == 1


def test_a_finished_round_has_nothing_ahead() -> None:
    drawing = ring(fourth(), 24, 40, 13)
    assert signs(drawing) == {Sign.DONE: 24, Sign.MARKER: 1}


def test_without_room_for_a_ring_repeats_stand_in_columns() -> None:
    assert text(ring(fourth(), 5, 15, 3, glyphs=PLAIN)) == ["##VV#@vvoovv", "oovvoovv" + "oovv"]


def test_a_giant_round_is_a_bar_and_the_moves_around_the_place() -> None:
    drawing = ring(GIANT, GIANT.moves // 2, 40, 12, glyphs=PLAIN)
    assert not drawing.is_ring
    whole, near = text(drawing)
    assert whole == "#" * 20 + "@" + "." * 19
    assert len(near) == 40
    assert near.count("@") == 1
    assert text(ring(GIANT, 0, 10, 1, glyphs=PLAIN)) == ["@........."]
    assert text(ring(GIANT, GIANT.moves, 10, 1, glyphs=PLAIN)) == ["##########"]


def test_the_yarn_far_into_a_giant_round_is_known() -> None:
    near = ring(GIANT, GIANT.moves // 2, 40, 2, colour="A").rows[1]
    assert {cell.colour for cell in near if cell} == {"B"}, "a yarn named in the group stays in use"
    start = ring(GIANT, 0, 40, 2, colour="A").rows[1]
    assert [cell.colour for cell in start[:3] if cell] == ["A", "B", "B"]


@pytest.mark.parametrize("size", [(0, 5), (5, 0), (1, 1), (3, 1), (1, 9), (7, 7)])
def test_any_size_is_filled_and_never_exceeded(size: tuple[int, int]) -> None:
    columns, rows = size
    for plan in (fourth(), GIANT):
        drawing = ring(plan, 7, columns, rows)
        assert len(drawing.rows) <= rows
        assert all(len(row) == columns for row in drawing.rows)


def test_an_empty_round_draws_nothing() -> None:
    assert ring(Plan(()), 0, 40, 13).rows == ()


@settings(max_examples=60, deadline=None)
@given(PLANS, st.floats(0, 1), st.integers(1, 80), st.integers(1, 24))
def test_no_move_is_lost_or_doubled(plan: Plan, share: float, columns: int, rows: int) -> None:
    """In a ring or in lines each move has one cell; done and ahead are as many as the place says."""
    done = int(plan.moves * share)
    drawing = ring(plan, done, columns, rows)
    shown = signs(drawing)
    if drawing.is_ring or plan.moves <= columns:
        count = sum(shown[sign] for sign in (Sign.DONE, Sign.NOW, Sign.AHEAD, Sign.INCREASE, Sign.DECREASE))
        assert count == plan.moves
        assert shown[Sign.DONE] == done
        assert shown[Sign.NOW] == (done < plan.moves)


@given(st.integers(1, 70), st.integers(20, 120), st.integers(10, 60))
def test_places_on_a_ring_are_even(count: int, columns: int, rows: int) -> None:
    """No two share a cell, all are inside, and steps between neighbours differ by less than the grid is coarse."""
    places = around(count, columns, rows)
    if places is None:
        return
    assert len(set(places)) == count
    assert all(0 <= x < columns and 0 <= y < rows for x, y in places)
    steps = [((b[0] - a[0]) ** 2 / 4 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in itertools.pairwise(places)]
    assert not steps or max(steps) - min(steps) < 2 * 2**0.5
