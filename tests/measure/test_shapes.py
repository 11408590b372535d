"""Patterns from shapes, against geometry and against another library's surfaces."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import trimesh

from tracker.measure.shapes import CannotShape, Shape, Shaped, shaped, stitches_of
from tracker.measure.size import Lie, measure_pattern
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.model import Gauge, Pattern
from tracker.pattern.toml_writer import as_toml

GAUGES = [Gauge("sc", 22, 24), Gauge("sc", 14, 15), Gauge("sc", 30, 28)]
SIZES = [5.0, 8.0, 13.0]


def made(shape: Shape, across: float, gauge: Gauge | None) -> tuple[Shaped, Pattern]:
    found = shaped(shape, across, stitches_of(gauge, None))
    return found, loads(as_toml(found.draft))


def counts(pattern: Pattern) -> list[int]:
    return [item.leaves or 0 for item in pattern.pieces[0].rounds]


@pytest.mark.parametrize("shape", Shape)
@pytest.mark.parametrize("across", SIZES)
@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_every_shape_reads_back_clean_with_its_totals(shape: Shape, across: float, gauge: Gauge) -> None:
    found, pattern = made(shape, across, gauge)
    assert all_problems(pattern) == []
    assert all(item.stated is not None and item.stated.stitches == item.leaves for item in pattern.pieces[0].rounds)
    assert found.across == pytest.approx(across, rel=0.12)


@pytest.mark.parametrize("across", [6.0, 10.0])
@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_a_ball_has_the_rounds_of_the_sphere(across: float, gauge: Gauge) -> None:
    """Round k of R has C sin(pi k / R) stitches, C = 2 R h / w (geometry; published for the middle of a round)."""
    _, pattern = made(Shape.BALL, across, gauge)
    rounds = counts(pattern)
    total = len(rounds) + 1
    widest = math.pi * across / (gauge.over_cm / gauge.stitches)
    for number, count in enumerate(rounds, 1):
        assert count == pytest.approx(widest * math.sin(math.pi * number / total), abs=1.0)


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_the_fabric_of_a_ball_is_the_surface_of_a_sphere(gauge: Gauge) -> None:
    """Stitches times the area of one, against the area of a fine mesh of a sphere from trimesh."""
    across = 12.0
    _, pattern = made(Shape.BALL, across, gauge)
    stitch = (gauge.over_cm / gauge.stitches) * (gauge.over_cm / gauge.rounds)
    sphere = trimesh.creation.icosphere(subdivisions=4, radius=across / 2)
    assert sum(counts(pattern)) * stitch == pytest.approx(sphere.area, rel=0.05)


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_a_cone_has_the_surface_of_one(gauge: Gauge) -> None:
    """Against a cone of trimesh without its base; the side is as long as the base is wide."""
    across = 14.0
    _, pattern = made(Shape.CONE, across, gauge)
    stitch = (gauge.over_cm / gauge.stitches) * (gauge.over_cm / gauge.rounds)
    cone = trimesh.creation.cone(radius=across / 2, height=across * math.cos(math.pi / 6), sections=256)
    side = cone.area - math.pi * (across / 2) ** 2
    assert sum(counts(pattern)) * stitch == pytest.approx(side, rel=0.08)


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_a_disk_lies_flat(gauge: Gauge) -> None:
    _, pattern = made(Shape.DISK, 12.0, gauge)
    size = measure_pattern(pattern).pieces[0]
    assert all(item.growth is not None and item.growth.lie is Lie.FLAT for item in size.rounds[2:])
    assert size.across.middle == pytest.approx(12.0, rel=0.1)


def test_a_disk_of_usual_stitches_grows_by_the_six_of_the_trade() -> None:
    """Makers' pages give 6 to 8 more single crochets a round; geometry with a height of 0.91 widths asks for 5.7."""
    _, pattern = made(Shape.DISK, 10.0, None)
    grown = [later - earlier for earlier, later in pairwise(counts(pattern))]
    assert sum(grown) / len(grown) == pytest.approx(2 * math.pi * 0.91, abs=0.3)


def test_an_oval_grows_by_half_a_disk_at_each_end() -> None:
    _, pattern = made(Shape.OVAL, 8.0, GAUGES[0])
    assert {later - earlier for earlier, later in pairwise(counts(pattern))} == {6}


def test_increases_do_not_stand_over_those_of_the_round_before() -> None:
    _, pattern = made(Shape.DISK, 12.0, GAUGES[0])
    places: list[set[float]] = []
    for item in pattern.pieces[0].rounds[3:]:
        assert item.plan is not None
        found, taken = set(), 0
        for act in item.plan.acts():
            taken += act.takes
            if act.is_increase:
                found.add(round(taken / item.plan.uses, 3))
        places.append(found)
    for one, other in pairwise(places):
        assert len(one & other) <= max(len(one), len(other)) // 2


@pytest.mark.parametrize(
    ("weight", "said"),
    [(None, "neither gauge nor yarn weight was given"), (3, "for yarn weight 3 (light)")],
)
def test_what_the_stitches_are_taken_from_is_said(weight: int | None, said: str) -> None:
    """The ranges are those of the published yarn standards: weight 3 has 12 to 17, weight 4 has 11 to 14 sc."""
    stitches = stitches_of(None, weight)
    assert said in stitches.source
    assert 10 / stitches.width == pytest.approx(14.5 if weight == 3 else 12.5, abs=0.1)


@pytest.mark.parametrize("weight", [0, 7, 9])
def test_a_weight_without_a_gauge_of_single_crochet_is_refused(weight: int) -> None:
    with pytest.raises(CannotShape, match="swatch"):
        stitches_of(None, weight)


@pytest.mark.parametrize("across", [0.0, -1.0, 0.4, 1e9, float("nan")])
def test_sizes_that_nobody_makes_are_refused(across: float) -> None:
    for shape in Shape:
        with pytest.raises(CannotShape):
            shaped(shape, across, stitches_of(Gauge("sc", 10, 10), None))
