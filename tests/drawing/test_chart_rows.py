"""Rounds that no longer lie flat are rows: nothing drifts apart, legs of decreases cross nothing (geometry)."""

from __future__ import annotations

from itertools import combinations, pairwise
from pathlib import Path

import pytest
from drawing import by_hand as made
from drawing.ink import collisions
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.drawing.chart import chart_of_piece
from tracker.drawing.chart_layout import _in_order
from tracker.drawing.chart_model import Chart, DrawnRound, Mark
from tracker.drawing.chart_rows import DRIFT
from tracker.drawing.geometry import Point
from tracker.drawing.strokes import Polyline, strokes_of
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Piece

SHIPPED = [
    piece
    for path in sorted((Path(__file__).parents[2] / "patterns").glob("*.toml"))
    for piece in load(path).pieces
    if len(piece.rounds) > 1
]
CLOSED = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-9: sc around (24)
Rnd 10: (2 sc, dec) x 6 (18)
Rnd 11: (1 sc, dec) x 6 (12)
Rnd 12: dec x 6 (6)
"""
WAISTED = """
Rnd 1: 8 sc in magic ring (8)
Rnd 2: inc x 8 (16)
Rnds 3-8: sc around (16)
Rnd 9: (sc, inc) x 8 (24)
Rnds 10-12: sc around (24)
Rnd 13: (sc2tog) x 12 (12)
"""


def piece_of(rounds: str, start: str = "spiral") -> Piece:
    return loads(f'[[piece]]\nname = "P"\nstart = "{start}"\nrounds = """{rounds}"""\n').pieces[0]


PIECES = {piece.name: piece for piece in (*SHIPPED, made.ball())} | {
    "closed": piece_of(CLOSED),
    "waisted": piece_of(WAISTED),
}


def rows(chart: Chart) -> list[DrawnRound]:
    return [each for each in chart.rounds if not each.track.closed]


@pytest.mark.parametrize("name", PIECES)
def test_no_round_that_does_not_grow_stands_far_apart(name: str) -> None:
    for each in chart_of_piece(PIECES[name]).rounds:
        if each.track.closed and not any(mark.is_increase for mark in each.marks) and each.number > 2:
            assert each.track.length <= DRIFT * sum(mark.width for mark in each.marks) + 1e-9, each.number


@pytest.mark.parametrize("name", PIECES)
def test_in_rows_a_stitch_stands_straight_over_its_own(name: str) -> None:
    """But where it shares its place with others, and the neighbours of those."""
    for each in rows(chart_of_piece(PIECES[name])):
        if any(mark.is_increase for mark in each.marks):
            continue
        for mark in each.marks:
            if mark.is_stitch and len(mark.bases) == 1 and not mark.in_space and not mark.between:
                assert abs(mark.top.x - mark.feet[0].x) < 0.01, (each.number, mark.name)


@pytest.mark.parametrize("name", PIECES)
def test_the_legs_of_a_decrease_cross_nothing(name: str) -> None:
    for each in chart_of_piece(PIECES[name]).rounds:
        for one, other in combinations(each.marks, 2):
            if one.is_decrease or other.is_decrease:
                assert not any(crosses(a, b) for a in segments(one) for b in segments(other)), each.number


@pytest.mark.parametrize("name", ["closed", "waisted", "Cap", "Base and tower"])
def test_rows_run_into_each_other_nowhere(name: str) -> None:
    for each in rows(chart_of_piece(PIECES[name])):
        assert collisions(list(each.marks)) == [], each.number


def segments(mark: Mark) -> list[tuple[Point, Point]]:
    lines = [stroke for stroke in strokes_of(mark) if isinstance(stroke, Polyline)]
    return [pair for line in lines for pair in pairwise(line.points)]


def crosses(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two lines cut each other, by the side on which their ends lie (geometry)."""

    def side(line: tuple[Point, Point], point: Point) -> float:
        a, b = line
        return (b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x)

    return side(one, other[0]) * side(one, other[1]) < -1e-9 and side(other, one[0]) * side(other, one[1]) < -1e-9


def test_a_round_into_an_earlier_one_is_a_row_of_its_own_over_those_stitches() -> None:
    chart = chart_of_piece(PIECES["Stem"])
    assert len(chart.unrolled) == 2
    frill = chart.rounds[-1]
    assert [mark.bases for mark in frill.marks] == [(k // 2,) for k in range(48)]
    assert len(chart.unrolled[1].ovals) == 24
    assert "round 17 goes into an earlier one of 24 stitches, not the one below it" in chart.remarks


@given(st.lists(st.tuples(st.one_of(st.none(), st.floats(-20, 20)), st.floats(0.3, 3.0)), min_size=1, max_size=12))
@settings(max_examples=60)
def test_places_in_order_have_their_room_and_are_the_nearest(wanted: list[tuple[float | None, float]]) -> None:
    """Nearest in squares: no move of one run of neighbours together, to either side, comes nearer."""
    places = _in_order([place for place, _ in wanted], [width for _, width in wanted])
    room = [(one + other) / 2 for (_, one), (_, other) in pairwise(wanted)]
    assert all(b - a >= gap - 1e-6 for (a, b), gap in zip(pairwise(places), room, strict=True))

    def off(here: list[float]) -> float:
        return sum((at - place) ** 2 for at, (place, _) in zip(here, wanted, strict=True) if place is not None)

    for start in range(len(places)):
        for end in range(start + 1, len(places) + 1):
            for step in (-0.01, 0.01):
                moved = [at + step * (start <= index < end) for index, at in enumerate(places)]
                if all(b - a >= gap - 1e-9 for (a, b), gap in zip(pairwise(moved), room, strict=True)):
                    assert off(moved) >= off(places) - 1e-6
