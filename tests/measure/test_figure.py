"""Figures with corners and ruffles: named, and measured as geometry has them.

A granny square: four corners of 3 dc, ch 2, 3 dc; its side is a fourth of its edge (published). A regular figure of
side s lies s / tan(pi / n) from side to side (geometry), checked by a prism of another library.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh
from measure.by_hand import plain_piece

from tracker.measure.figure import FIGURES, corners_of, width_across
from tracker.measure.size import PieceSize, SolidKind, measure_pattern, measure_piece
from tracker.measure.stitch_sizes import from_gauge
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge
from tracker.reports.measure_words import lie_words, piece_words

GAUGE = '[gauge]\nstitch = "{}"\nstitches = 20\nrounds = {}\nover = "10 cm"\n'
CORNER = "(3 dc, ch 2, 3 dc) in next ch-2 sp"
BEGIN = "Sl st to corner sp, ch 3, (2 dc, ch 2, 3 dc) in same sp"
GROUP = "3 dc in next ch-1 sp"
GRANNY = f"""
Rnd 1: Ch 4, join to form a ring. Ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc, ch 2) 3 times in ring, join (12 dc)
Rnd 2: {BEGIN}, *ch 1, {CORNER}; rep from * 2 more times, ch 1, join (24 dc)
Rnd 3: {BEGIN}, *ch 1, {GROUP}, ch 1, {CORNER}; rep from * 2 more times, ch 1, {GROUP}, ch 1, join (36 dc)
"""


def size_of(text: str, stitch: str = "sc", rounds: int = 20) -> PieceSize:
    piece = f'[[piece]]\nname = "P"\nstart = "joined"\nrounds = """\n{text.strip()}\n"""\n'
    pattern = loads(GAUGE.format(stitch, rounds) + piece)
    assert [round_.verdict for round_ in pattern.pieces[0].rounds] == ["ok"] * len(pattern.pieces[0].rounds)
    return measure_pattern(pattern).pieces[0]


def solid(corners: int, rounds: int) -> str:
    """Sides of sc with three in each corner."""
    first = f"Rnd 1: {2 * corners} sc in magic ring ({2 * corners})"
    later = (
        f"Rnd {k}: ({2 * k - 3} sc, 3 sc in next st) x {corners} ({2 * k * corners})" for k in range(2, rounds + 1)
    )
    return "\n".join([first, *later])


@pytest.mark.parametrize("corners", FIGURES)
def test_a_solid_figure_is_named_and_its_side_is_its_part_of_the_edge(corners: int) -> None:
    size = size_of(solid(corners, 9))
    assert (size.shape, size.corners) == (SolidKind.FIGURE, corners)
    assert size.across.middle == pytest.approx(2 * 9 * 0.5)
    assert piece_words(size, "cm").startswith(f"{FIGURES[corners]}, 9.0 cm each side")


def test_a_granny_square_is_a_square_with_a_fourth_of_its_edge_as_side() -> None:
    """36 dc, 4 corner spaces of 2 chains and 8 spaces of 1: chains hang, each half as wide as a stitch."""
    size = size_of(GRANNY, "dc", 11)
    assert (size.shape, size.corners) == (SolidKind.FIGURE, 4)
    assert size.across.middle == pytest.approx((36 + (4 * 2 + 8) / 2) * 0.5 / 4)
    assert size.remarks == ()


@pytest.mark.parametrize("corners", FIGURES)
def test_a_figure_lies_as_wide_as_a_prism_of_its_corners(corners: int) -> None:
    """Its least width, by turning it: trimesh knows nothing of crochet."""
    prism = trimesh.creation.cylinder(radius=5 / (2 * math.sin(math.pi / corners)), height=1, sections=corners)
    turns, (x, y, _) = np.linspace(0, math.pi, 1441), prism.vertices.T
    widths = np.ptp(np.outer(np.cos(turns), x) + np.outer(np.sin(turns), y), axis=1)
    assert width_across(corners, 5) == pytest.approx(float(widths.min()), rel=1e-4)


def test_a_disk_has_no_corners() -> None:
    assert corners_of(plain_piece([6, 12, 18, 24])) == 0


def test_a_hyperbolic_piece_is_ruffled_and_told_by_its_edge_and_fabric() -> None:
    """An increase in every second stitch: each round half as long again. Its fabric is that of its bands."""
    counts = [8, 12, 18, 27, 41, 62, 93]
    size = measure_piece(plain_piece(counts), from_gauge(Gauge("sc", 20, 20)))
    assert size.shape is SolidKind.RUFFLE
    assert size.edge.middle == pytest.approx(93 * 0.5)
    mean = [(low + high) / 2 for low, high in zip([0, *counts], counts, strict=False)]
    assert size.fabric.middle == pytest.approx(sum(mean) * 0.25)
    assert piece_words(size, "cm") == "ruffled, 46.5 cm along its edge, 53.6 cm² of fabric"


def test_no_raw_number_reaches_the_maker() -> None:
    size = measure_piece(plain_piece([8, 12, 18, 27, 41, 62, 93, 30]), from_gauge(Gauge("sc", 20, 21.3)))
    words = [lie_words(round_.growth) for round_ in size.rounds if round_.growth]
    assert "ruffles: 31 more, about 6 lie flat" in words and "gathers: 63 fewer, about 6 lie flat" in words
    assert not any("." in word or "-" in word for word in words)


def test_a_frilled_edge_makes_no_ruffle_of_the_whole() -> None:
    counts = [*(6 * k for k in range(1, 11)), 120]
    assert measure_piece(plain_piece(counts), from_gauge(Gauge("sc", 20, 21))).shape is not SolidKind.RUFFLE
