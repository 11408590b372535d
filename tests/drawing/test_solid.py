"""Pieces seen in the room, and put together: what hides what, what is lit, where things sit.

Checked against the same surfaces sampled point by point, nearest first, and against geometry named beside each check.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, pi, sin

import pytest
from drawing import by_hand as made

from tracker.drawing.assembly import ObjectPart, assemble
from tracker.drawing.geometry import Point
from tracker.drawing.outline import PieceOutline, outline
from tracker.drawing.outline_svg import waving
from tracker.drawing.solid import LOOK_DOWN, Stance, corners_at, hull, light_at, slices, within
from tracker.pattern.model import Round, Seat, Side
from tracker.rounds.plan import Run


def solid(points: list[tuple[float, float]], **more: int) -> PieceOutline:
    """Each round in a yarn of its own, called by its number."""
    plan = made.plan(Run(made.stitch(), 24))
    rounds = [Round(index, f"Rnd {index}", "", plan, colour=str(index)) for index in range(1, len(points))]
    return outline(rounds, points, **more)  # type: ignore[arg-type]


def ball(rounds: int = 12, radius: float = 1.0) -> list[tuple[float, float]]:
    return [(radius * sin(pi * k / rounds), radius * (1 - cos(pi * k / rounds))) for k in range(rounds + 1)]


def area(points: tuple[Point, ...]) -> float:
    """By the shoelace formula (geometry)."""
    ends = [*points[1:], points[0]]
    return sum(a.x * b.y - b.x * a.y for a, b in zip(points, ends, strict=True)) / 2


def is_in(place: Point, shape: tuple[Point, ...]) -> bool:
    ends = [*shape[1:], shape[0]]
    return all(
        (b.x - a.x) * (place.y - a.y) >= (b.y - a.y) * (place.x - a.x) for a, b in zip(shape, ends, strict=True)
    )


@pytest.mark.parametrize("up", [(0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.6, 0.0, 0.8), (-0.48, 0.64, 0.6)])
def test_a_ball_is_round_from_wherever_it_is_seen(up: tuple[float, float, float]) -> None:
    """A sphere is seen as a circle of its own radius (geometry)."""
    points = [point for each in slices(solid(ball()), Stance(up=up)) for point in each.whole]
    assert area(hull(points)) == pytest.approx(pi, rel=0.02)


SHAPES = {
    "ball": ball(),
    "vase": [(0.0, 0.0), (2.0, 0.1), (2.6, 1.0), (1.4, 2.4), (1.1, 3.2), (1.9, 4.0), (2.2, 4.1)],
    "mushroom": [(0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (3.0, 2.1), (2.5, 3.2), (1.2, 3.9), (0.0, 4.0)],
    "spool": [(0.0, 0.0), (2.0, 0.0), (2.0, 0.6), (0.8, 0.8), (0.8, 2.2), (2.0, 2.4), (2.0, 3.0), (0.0, 3.0)],
    "dish": [(0.0, 0.0), (1.0, 0.05), (2.0, 0.2), (2.6, 0.9)],
}


@pytest.mark.parametrize("name", SHAPES)
def test_the_painter_shows_what_is_nearest(name: str) -> None:
    """Points of all surfaces, of which the nearest to the eye is seen; edges are left out, where rounds meet."""
    seen = solid(SHAPES[name])
    upright = (1 - LOOK_DOWN**2) ** 0.5
    nearest: dict[tuple[int, int], tuple[float, str, float]] = {}
    chance = random.Random(7)
    for band in seen.bands:
        for _ in range(6000):
            share, angle = chance.random(), chance.uniform(0, 2 * pi)
            radius = band.low.radius + (band.high.radius - band.low.radius) * share
            level = band.low.level + (band.high.level - band.low.level) * share
            x, z = radius * cos(angle), radius * sin(angle)
            y, toward = upright * level - LOOK_DOWN * z, upright * z + LOOK_DOWN * level
            cell = (int(x * 8 // 1), int(y * 8 // 1))
            if cell not in nearest or toward > nearest[cell][0]:
                nearest[cell] = (toward, band.patches[0].colour, share)
    painted = slices(seen)
    wrong = looked_at = 0
    for (column, row), (_, colour, share) in nearest.items():
        place = Point((column + 0.5) / 8, (row + 0.5) / 8)
        shown = [each.shapes[0].colour for each in painted if is_in(place, each.whole)]
        if 0.25 < share < 0.75 and shown:
            looked_at += 1
            wrong += shown[-1] != colour
    assert looked_at > 60
    assert wrong <= 0.06 * looked_at, "cells through which a border goes"


def test_light_falls_from_the_upper_left() -> None:
    """Lambert's law: light by the cosine of the angle to where it comes from."""
    tube = slices(solid([(1.0, float(k)) for k in range(4)]))[0]
    assert light_at(tube.light, 0.25) > light_at(tube.light, 0.5) > light_at(tube.light, 0.9)
    dome = {each.shapes[0].colour: each for each in slices(solid([(r, -y) for r, y in ball()]))}
    lights = [max(dome[str(number)].light) for number in range(4, 12)]
    assert lights == sorted(lights, reverse=True), "the first round is at the top"


@pytest.mark.parametrize("corners", [3, 4, 6])
def test_a_figure_has_an_edge_as_long_as_its_stitches(corners: int) -> None:
    places = corners_at(corners, 2.0)
    edge = sum(hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(places, [*places[1:], places[0]], strict=True))
    assert edge == pytest.approx(2 * pi * 2.0)
    assert min(y for _, y in places) == pytest.approx(sorted(y for _, y in places)[1]), "it stands on a side"


def test_an_area_is_cut_off_at_a_frame() -> None:
    square = (Point(0, 0), Point(2, 0), Point(2, 2), Point(0, 2))
    moved = tuple(point + Point(1, 1) for point in square)
    assert area(within(moved, square)) == pytest.approx(1.0)
    assert within(tuple(point + Point(5, 0) for point in square), square) == ()


# Put together.

STEM = [(0.0, 0.0), (2.0, 0.0), (1.5, 3.0)]
CAP = [(0.0, 0.0), (3.0, -1.0), (3.0, -2.0), (1.5, -2.2)]
SPOT = [(0.0, 0.0), (0.4, 0.0)]


def tops(label: str, parts: list[ObjectPart]) -> dict[str, tuple[float, float]]:
    """The lowest and highest place of each yarn in the room, of the thing so labelled."""
    (thing,) = [thing for thing in assemble(parts, "Thing") if thing.label == label]
    return {each.shapes[0].colour: each.levels for each in thing.slices}


def named(points: list[tuple[float, float]], yarn: str) -> PieceOutline:
    seen = solid(points)
    bands = [
        replace(band, patches=tuple(replace(patch, colour=f"{yarn}{band.number}") for patch in band.patches))
        for band in seen.bands
    ]
    return replace(seen, bands=tuple(bands))


def test_a_piece_sewn_on_top_rests_on_the_rim_below_it() -> None:
    parts = [ObjectPart("Cap", (named(CAP, "c"),), Seat("Stem")), ObjectPart("Stem", (named(STEM, "s"),))]
    levels = tops("Thing", parts)
    assert levels["s2"][1] == pytest.approx(3.0)
    assert levels["c3"][0] == pytest.approx(3.0), "its lower end is as wide as the rim"
    assert levels["c1"][1] == pytest.approx(3.0 + 2.2)


def test_a_closed_piece_sinks_into_the_rim_until_it_is_as_wide() -> None:
    """A ball of radius 2 is 1.5 wide to each side where its middle is sqrt(4 - 2.25) away (Pythagoras)."""
    parts = [
        ObjectPart("Head", (named(ball(40, 2.0), "h"),), Seat("Body")),
        ObjectPart("Body", (named(STEM, "b"),)),
    ]
    levels = tops("Thing", parts)
    assert levels["h40"][1] == pytest.approx(3.0 + (4 - 1.5**2) ** 0.5 + 2.0, abs=0.03)


@pytest.mark.parametrize("count", [1, 2, 5])
def test_copies_on_a_round_stand_evenly_around_it(count: int) -> None:
    spot = named(SPOT, "o")
    seat = Seat("Stem", (2, 2), Side.ALL_ROUND)
    (thing,) = assemble([ObjectPart("Spot", (spot,) * count, seat), ObjectPart("Stem", (named(STEM, "s"),))], "Thing")
    spots = [each for each in thing.slices if each.shapes[0].colour == "o1"]
    assert len(spots) == count
    middles = [sum(point.x for point in each.whole) / len(each.whole) for each in spots]
    (stem,) = [each for each in thing.slices if each.shapes[0].colour == "s1"]
    axis = sum(point.x for point in stem.whole) / len(stem.whole)
    if count > 1:
        assert sum(middles) / count == pytest.approx(axis, abs=0.05), "as far to one side as to the other"
    assert all(each.levels[0] > 0.9 and each.levels[1] < 2.1 for each in spots), "half way up round 2"


def test_what_is_behind_is_painted_first() -> None:
    spot = named(SPOT, "o")
    parts = [
        ObjectPart("Spot", (spot,) * 2, Seat("Stem", (2, 2), Side.FRONT)),
        ObjectPart("Stem", (named(STEM, "s"),)),
    ]
    parts.append(ObjectPart("Tail", (named(SPOT, "t"),), Seat("Stem", (2, 2), Side.BACK)))
    (thing,) = assemble(parts, "Thing")
    order = [each.shapes[0].colour for each in thing.slices]
    assert order.index("t1") < order.index("s1") < order.index("o1")


def test_what_is_sewn_nowhere_stands_beside_at_the_same_scale_and_in_all_copies() -> None:
    parts = [ObjectPart("Ball", (named(ball(), "b"),) * 3), ObjectPart("Stem", (named(STEM, "s"),))]
    shown = assemble(parts, "Thing")
    assert [thing.label for thing in shown] == ["Ball 1 of 3", "Ball 2 of 3", "Ball 3 of 3", "Stem"]
    boxes = [thing.box() for thing in shown]
    assert all(one[2] < other[0] for one, other in pairwise(boxes))
    assert {round(box[1], 6) for box in boxes} == {0.0}
    assert boxes[0][2] - boxes[0][0] == pytest.approx(2.0, rel=0.01)
    assert boxes[3][2] - boxes[3][0] == pytest.approx(4.0, rel=0.01)


def test_seats_in_a_circle_are_shown_beside_each_other() -> None:
    parts = [ObjectPart("A", (named(SPOT, "a"),), Seat("B")), ObjectPart("B", (named(SPOT, "b"),), Seat("A"))]
    assert [thing.label for thing in assemble(parts, "Thing")] == ["A", "B"]


@pytest.mark.parametrize("times", [1.0, 1.3, 1.8, 2.4])
def test_a_ruffled_edge_is_as_long_as_its_stitches(times: float) -> None:
    points = waving(5.0, times)
    walked = sum((a - b).size for a, b in pairwise([*points, points[0]]))
    assert walked == pytest.approx(times * 2 * pi * 5.0, rel=0.02)
