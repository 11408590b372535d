"""Sizes against geometry, and the surface of generated outlines against a general geometry library (trimesh).

Geometry used: a disk grows by 2 pi h / w stitches a round; a cone with k more a round has sin(half angle) =
k w / (2 pi h); a ball of R rounds has C sin(pi (k - 0.5) / R) stitches in round k with C = 2 R h / w; area of a ball
4 pi r^2, of a cone pi r l, of a disk pi r^2.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np
import pytest
import trimesh
from measure.by_hand import plain_piece

from tracker.measure.profile import ProfilePoint
from tracker.measure.size import PieceSize, SolidKind, measure_piece
from tracker.measure.stitch_sizes import StitchSize, from_gauge
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge, Piece

FLAT = 6 / (2 * math.pi)
"""Height over width of a stitch of which 6 more a round lie flat."""


def size_with(rise: float, width_cm: float = 0.5) -> StitchSize:
    """Stitches of this width and `rise` times as tall."""
    across = 10 / width_cm
    return from_gauge(Gauge("sc", across, across / rise))


def ball(rounds: int, rise: float) -> list[int]:
    """The published count of each round, rounded."""
    equator = 2 * rounds * rise
    return [max(1, round(equator * math.sin(math.pi * (k - 0.5) / rounds))) for k in range(1, rounds + 1)]


def measured(counts: Sequence[int], rise: float, first: int = 0) -> PieceSize:
    return measure_piece(plain_piece(counts, first=first), size_with(rise))


def mesh_of(points: Sequence[ProfilePoint]) -> trimesh.Trimesh:
    """The outline turned about its axis by a library that knows nothing of crochet."""
    line = np.array([[point.radius, point.level] for point in points])
    return trimesh.creation.revolve(line, sections=256)


@pytest.mark.parametrize("rounds", [2, 5, 12, 40])
def test_a_disk_is_flat_and_as_wide_as_its_rounds_are_tall(rounds: int) -> None:
    size = measured([6 * k for k in range(1, rounds + 1)], FLAT)
    assert size.shape is SolidKind.DISK
    assert size.tall.high == pytest.approx(0, abs=1e-9)
    assert size.across.middle == pytest.approx(2 * rounds * FLAT * 0.5)
    assert size.fabric.middle == pytest.approx(math.pi * (rounds * FLAT * 0.5) ** 2)


@pytest.mark.parametrize("flat", [5.6, 5.8, 6.3, 6.7])
def test_a_disk_stays_flat_where_the_growth_is_rounded(flat: float) -> None:
    rounds = 15
    size = measured([round(flat * k) for k in range(1, rounds + 1)], flat / (2 * math.pi))
    assert size.shape is SolidKind.DISK
    assert size.across.middle == pytest.approx(2 * rounds * flat / (2 * math.pi) * 0.5, rel=0.01)


@pytest.mark.parametrize(("growth", "first"), [(3, 3), (3, 6), (4, 4), (2, 6), (1, 6), (5, 5)])
def test_a_cone_opens_by_its_rate_of_increase(growth: int, first: int) -> None:
    """3 more a round where 6 lie flat: half angle 30 degrees."""
    size = measured([first + growth * k for k in range(24)], FLAT)
    cone = size.outline[1:]
    across, up = cone[-1].radius - cone[0].radius, cone[-1].level - cone[0].level
    assert math.degrees(math.atan2(across, up)) == pytest.approx(math.degrees(math.asin(growth / 6)), abs=1e-6)
    grown = size.rounds[5].growth
    assert grown is not None
    assert grown.half_angle == pytest.approx(math.degrees(math.asin(growth / 6)))


@pytest.mark.parametrize("growth", [3, 4])
def test_the_surface_of_a_cone_is_pi_r_l(growth: int) -> None:
    size = measured([growth * k for k in range(1, 25)], FLAT)
    radius, slant = 24 * growth / (2 * math.pi), 24 * FLAT
    assert size.fabric.middle == pytest.approx(math.pi * radius * slant * 0.25, rel=1e-9)


@pytest.mark.parametrize("turn", [(6, 0), (6, 0, 0), (0, 6), (6, 3, 0), (12, 0, 0, 0)])
def test_a_cone_increased_by_turns_opens_by_the_mean(turn: tuple[int, ...]) -> None:
    counts, count = [], 12
    for round_ in range(12 * len(turn)):
        count += turn[round_ % len(turn)]
        counts.append(count)
    size = measured(counts, FLAT, first=12)
    start, end = size.outline[0], size.outline[-1]
    mean = sum(turn) / len(turn)
    angle = math.degrees(math.atan2(end.radius - start.radius, end.level - start.level))
    assert angle == pytest.approx(math.degrees(math.asin(mean / 6)), abs=0.01)


@pytest.mark.parametrize("rise", [0.8, FLAT, 1.1])
def test_a_cylinder_is_as_tall_as_its_rounds(rise: float) -> None:
    size = measured([36] * 20, rise, first=36)
    assert size.across.middle == pytest.approx(36 * 0.5 / math.pi)
    assert size.tall.middle == pytest.approx(20 * rise * 0.5)
    assert size.rounds[3].around.middle == pytest.approx(36 * 0.5)
    assert size.rounds[3].level.middle == pytest.approx(4 * rise * 0.5)


def test_a_pot_keeps_its_sharp_corner() -> None:
    size = measured([*range(6, 49, 6), *[48] * 10], FLAT)
    assert size.tall.middle == pytest.approx(10 * FLAT * 0.5)


@pytest.mark.parametrize("rise", [0.9, FLAT, 1.0])
@pytest.mark.parametrize("rounds", [12, 16, 20, 24, 30, 40, 60])
def test_a_ball_by_the_published_formula_is_round(rounds: int, rise: float) -> None:
    """Diameter to 2% or half a stitch; surface to 2%; height to 7%: whole stitches tilt the nearly flat poles."""
    size = measured(ball(rounds, rise), rise)
    radius = rounds * rise / math.pi
    closed = math.pi * size.outline[-1].radius ** 2
    assert size.across.middle == pytest.approx(2 * radius * 0.5, rel=max(0.02, 0.65 / (2 * rounds * rise)))
    assert size.fabric.middle + closed * 0.25 == pytest.approx(math.pi * radius**2, rel=0.03)
    assert size.tall.middle == pytest.approx(2 * radius * 0.5, rel=0.07)


def test_balls_are_as_tall_as_wide_on_the_whole() -> None:
    """The errors of single balls are those of rounding: their mean over many sizes is under 2%."""
    ratios = [measured(ball(rounds, 1.0), 1.0) for rounds in range(10, 61)]
    mean = sum(size.tall.middle / size.across.middle for size in ratios) / len(ratios)
    assert mean == pytest.approx(1, abs=0.02)


SOLIDS: dict[str, tuple[list[int], int]] = {
    "disk": ([6 * k for k in range(1, 20)], 0),
    "cone": ([3 * k for k in range(1, 30)], 0),
    "cylinder": ([40] * 15, 40),
    "ball": (ball(24, FLAT), 0),
    "small ball": ([6, 12, 18, 24, 24, 24, 24, 18, 12, 6], 0),
    "half ball": (ball(24, FLAT)[:12], 0),
    "oval cone": ([12 + 3 * k for k in range(1, 18)], 12),
    "vase": ([6, 12, 18, 24, 30, 33, 36, 36, 33, 30, 24, 18, 18, 21, 24, 30], 0),
}


@pytest.mark.parametrize("name", SOLIDS)
def test_surface_of_the_outline_agrees_with_a_geometry_library(name: str) -> None:
    """To 3%: the fabric, stitch by stitch, against the outline turned about its axis."""
    counts, first = SOLIDS[name]
    size = measured(counts, FLAT, first)
    assert size.fabric.middle == pytest.approx(mesh_of(size.outline).area * 0.25, rel=0.03)


def test_an_oval_is_a_straight_middle_with_round_ends() -> None:
    """Counts 24 + 6 k around a straight middle: as wide as 2 k rounds, longer by the middle (geometry)."""
    from measure.by_hand import plain_round
    from support.building import step_act

    from tracker.notation.ast import Into, Made, Role
    from tracker.pattern.model import Round
    from tracker.rounds.plan import Act, Plan, Run

    foundation = Run(step_act("ch 12"))
    around = Run(Act("sc", Role.WORK, (Made("sc"),), 1, into=Into.CHAIN), 24)
    first = Round(1, "Rnd 1", "", Plan((foundation, around)))
    rest = tuple(plain_round(k, 18 + 6 * (k - 1), 18 + 6 * k) for k in range(2, 6))
    size = measure_piece(Piece("Oval", (first, *rest)), size_with(FLAT))
    assert size.shape is SolidKind.OVAL
    assert size.along is not None
    assert size.across.middle == pytest.approx(2 * 5 * FLAT * 0.5)
    assert size.along.middle - size.across.middle == pytest.approx(9 * 0.5)
    assert size.tall.middle == pytest.approx(0, abs=1e-9)


def test_the_surface_of_a_ruffle_agrees_with_a_geometry_library() -> None:
    """An increase in every third stitch makes each round 4/3 of the one before (Henderson and Taimina, read about).

    In waves its fabric is as large as the rings of its rounds, each laid flat by itself."""
    counts = [round(12 * (4 / 3) ** k) for k in range(8)]
    size = measured(counts, FLAT, first=9)
    assert size.shape is SolidKind.RUFFLE
    rings = 0.0
    for before, after in itertools.pairwise([9, *counts]):
        # A strip as high as a round, as long as its edges: a frustum of that slant, whatever its slope.
        low, high = before / (2 * math.pi), after / (2 * math.pi)
        lean = math.sqrt(max(0.0, FLAT**2 - (high - low) ** 2)) if high - low < FLAT else 0.0
        line = np.array([[low, 0.0], [high, lean]])
        area = trimesh.creation.revolve(line, sections=512).area
        slant = math.hypot(high - low, lean)
        rings += area * FLAT / slant
    assert size.fabric.middle == pytest.approx(rings * 0.25, rel=0.03)


def test_the_surface_of_a_granny_square_is_that_of_a_square() -> None:
    """Rounds of a square of side s are laid side by side: s squared, by a box of the geometry library."""
    square = """
Rnd 1: ch 4, join, ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) x 3, join (12 dc, 4 ch-2 sps)
Rnd 2: *dc in next 3 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp; rep from * around, join (28 dc, 4 ch-2 sps)
Rnd 3: *dc in next 5 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 2 dc; rep from * around, join (44 dc)
Rnd 4: *dc in next 7 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 4 dc; rep from * around, join (60 dc)
Rnd 5: *dc in next 9 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 6 dc; rep from * around, join (76 dc)
Rnd 6: *dc in next 11 dc, (2 dc, ch 2, 2 dc) in next ch-2 sp, dc in next 8 dc; rep from * around, join (92 dc)
"""
    pattern = loads(
        f'[gauge]\nstitch = "dc"\nstitches = 16\nrounds = 8\n[[piece]]\nname = "S"\nstart = "joined"\n'
        f'rounds = """{square}"""\n'
    )
    size = measure_piece(pattern.pieces[0], from_gauge(pattern.gauge)) if pattern.gauge else None
    assert size is not None and size.corners == 4
    side = size.across.middle
    thin = 1e-6
    face = trimesh.creation.box((side, side, thin)).area / 2
    assert size.fabric.middle == pytest.approx(face, rel=0.03)
