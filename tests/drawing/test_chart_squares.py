"""Figures with corners are drawn as they lie: square, upright, each corner over the one below (geometry)."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, pi, remainder, tau

import pytest
from drawing.ink import collisions

from tracker.drawing.chart import chart_of_piece, chart_of_round
from tracker.drawing.chart_model import DrawnRound, Mark
from tracker.drawing.geometry import Point, Polygon, at_level
from tracker.pattern.loader import loads
from tracker.pattern.model import Piece

RING = "ch 4, sl st to first ch to form ring, ch 3 (counts as dc), "
SQUARE = f"""
Rnd 1: {RING}2 dc in ring, ch 2, (3 dc in ring, ch 2) x 3, sl st to top of ch-3 (12 dc, 4 ch-2 sps)
Rnd 2: *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * around, sl st to first dc (24 dc)
Rnd 3: *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1; rep from * around, sl st to first dc
Rnd 4: *(3 dc, ch 2, 3 dc) in next ch-2 sp, (ch 1, 3 dc in next ch-1 sp) x 2, ch 1; rep from * around, sl st to 1st dc
"""
SOLID = f"""
Rnd 1: {RING}2 dc in ring, ch 2, (3 dc in ring, ch 2) x 3, sl st to top of ch-3 (12 dc, 4 ch-2 sps)
Rnd 2: *dc in next 3 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp; rep from * around, sl st to first dc (28 dc)
Rnd 3: *dc in next 5 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 2 dc; rep from * around, sl st to first dc
"""
HEXAGON = f"""
Rnd 1: {RING}dc in ring, ch 1, (2 dc in ring, ch 1) x 5, sl st to top of ch-3 (12 dc, 6 ch-1 sps)
Rnd 2: *dc in next 2 dc, (dc, ch 1, dc) in next ch-1 sp; rep from * around, sl st to first dc (24 dc, 6 ch-1 sps)
Rnd 3: *dc in next 3 dc, (dc, ch 1, dc) in next ch-1 sp, dc in next dc; rep from * around, sl st to first dc
"""
TRIANGLE = f"""
Rnd 1: {RING}3 dc in ring, ch 3, (4 dc in ring, ch 3) x 2, sl st to top of ch-3 (12 dc, 3 ch-3 sps)
Rnd 2: *dc in next 4 dc, (3 dc, ch 3, 3 dc) in next ch-3 sp; rep from * around, sl st to first dc (30 dc, 3 ch-3 sps)
Rnd 3: *dc in next 7 dc, (3 dc, ch 3, 3 dc) in next ch-3 sp, dc in next 3 dc; rep from * around, sl st to first dc
"""
FIGURES = {"square": (SQUARE, 4), "solid": (SOLID, 4), "hexagon": (HEXAGON, 6), "triangle": (TRIANGLE, 3)}


def figure(name: str) -> tuple[Piece, int]:
    rounds, corners = FIGURES[name]
    return loads(f'[[piece]]\nname = "F"\nstart = "joined"\nrounds = """{rounds}"""\n').pieces[0], corners


def rounds_of(name: str) -> list[DrawnRound]:
    piece, corners = figure(name)
    return list(chart_of_piece(piece, corners).rounds)


def corner_marks(each: DrawnRound) -> list[Mark]:
    """The chain in the middle of what is worked in one place."""
    found = []
    for before, mark, after in zip(each.marks, each.marks[1:], each.marks[2:], strict=False):
        if mark.space and before.bases == after.bases and before.bases:
            found.append(mark)
    return found


def direction(point: Point) -> float:
    return atan2(point.y, point.x)


@pytest.mark.parametrize("name", FIGURES)
def test_the_corners_of_a_figure_are_its_corners(name: str) -> None:
    _, corners = figure(name)
    for each in rounds_of(name)[1:]:
        assert isinstance(each.track, Polygon)
        wanted = sorted(each.track.corner_angle(corner) % tau for corner in range(corners))
        found = sorted(direction(mark.top) % tau for mark in corner_marks(each))
        assert len(found) == corners
        for one, other in zip(found, wanted, strict=True):
            assert abs(remainder(one - other, tau)) < 0.12, each.number


@pytest.mark.parametrize("name", FIGURES)
def test_a_figure_stands_upright_on_a_side_of_equal_ones(name: str) -> None:
    """The top of every stitch lies on one of its sides: as far from the middle along the way that side faces."""
    _, corners = figure(name)
    for each in rounds_of(name)[1:]:
        assert isinstance(each.track, Polygon)
        for mark in each.marks:
            if mark.is_stitch and not mark.is_increase:
                assert each.track.level_of(mark.top) == pytest.approx(each.outer, abs=0.01)
        ends = [
            at_level(each.track, each.track.side * (k - each.track.begin * corners), each.outer)
            for k in range(corners)
        ]
        sides = [(one.point - other.point).size for one, other in pairwise([*ends, ends[0]])]
        assert max(sides) == pytest.approx(min(sides))


@pytest.mark.parametrize("name", FIGURES)
def test_each_corner_stands_over_the_one_below_it(name: str) -> None:
    rounds = rounds_of(name)
    for below, each in pairwise(rounds[1:]):
        before = [direction(mark.top) for mark in corner_marks(below)]
        for mark in corner_marks(each):
            assert min(abs(remainder(direction(mark.top) - way, tau)) for way in before) < 0.15


@pytest.mark.parametrize("name", FIGURES)
def test_symbols_of_a_figure_do_not_run_into_each_other(name: str) -> None:
    for each in rounds_of(name):
        assert collisions(list(each.marks)) == [], each.number


def test_one_round_of_a_square_is_square_too() -> None:
    piece, corners = figure("square")
    chart = chart_of_round(piece, 2, corners)
    assert [each.ghost for each in chart.rounds] == [True, False]
    assert all(isinstance(each.track, Polygon) for each in chart.rounds)


@pytest.mark.parametrize("corners", [3, 4, 5, 6, 8])
def test_a_polygon_closes_and_has_its_length(corners: int) -> None:
    """Side 2 r tan(pi / n) of a regular figure around a circle of radius r (geometry)."""
    track = Polygon(corners, 3.0, 0.3)
    points = [track.at(track.length * step / 600).point for step in range(601)]
    walked = sum((b - a).size for a, b in pairwise(points))
    assert walked == pytest.approx(track.length, rel=0.01)
    assert track.level_for(track.length) == pytest.approx(3.0)
    assert all(track.level_of(point) == pytest.approx(3.0) for point in points)
    turned = sum(remainder(direction(b) - direction(a), tau) for a, b in pairwise(points))
    assert turned == pytest.approx(2 * pi)
