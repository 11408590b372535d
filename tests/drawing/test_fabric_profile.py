"""The line up the side of a piece against solids of known shape. Sources are named beside the checks."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.drawing.fabric_profile import Line, bent, filled, is_closed
from tracker.pattern.loader import load
from tracker.reports.pictures import OutlinePicture


def ball(radius: float, rounds: int = 18) -> Line:
    steps = (pi * step / rounds for step in range(rounds + 1))
    return tuple((radius * sin(angle), radius * (1 - cos(angle))) for angle in steps)


def can(radius: int, high: int) -> Line:
    """A closed tube: a flat bottom, straight walls, a flat top."""
    bottom = [(float(step), 0.0) for step in range(radius + 1)]
    walls = [(float(radius), float(step)) for step in range(1, high + 1)]
    return (*bottom, *walls, *((float(radius - step), float(high)) for step in range(1, radius + 1)))


def sack(radius: int) -> Line:
    """Two flat disks, one upon the other."""
    return can(radius, 0)


def dome(radius: int, high: int) -> Line:
    return can(radius, high)[: radius + high + 1]


def meridian(line: Line) -> float:
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))


def surface(line: Line) -> float:
    """By the theorem of Pappus and Guldin (geometry): each slope times the way of its middle."""
    return sum(pi * (a[0] + b[0]) * hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))


def sharpest(line: Line) -> float:
    """The largest turn from one round to the next, as the cosine of the angle between them."""
    ways = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line)]
    return min((a[0] * b[0] + a[1] * b[1]) / hypot(*a) / hypot(*b) for a, b in pairwise(ways))


OPEN = {
    "dome": dome(12, 10),
    "bowl": dome(9, 14),
    "ball": ball(6.0),
    "tube": tuple((5.0, float(k)) for k in range(20)),
}


@pytest.mark.parametrize("name", OPEN)
def test_a_bent_line_keeps_the_fabric(name: str) -> None:
    line = OPEN[name]
    assert meridian(bent(line)) == pytest.approx(meridian(line), rel=0.01)
    assert surface(bent(line)) == pytest.approx(surface(line), rel=0.02)


@pytest.mark.parametrize("name", ["dome", "bowl"])
def test_a_dome_has_no_step(name: str) -> None:
    """Where the counts go from flat to upright at once the line turns by less than 65 degrees from round to round."""
    assert sharpest(OPEN[name]) == pytest.approx(0.0), "as counted, a right angle"
    assert sharpest(bent(OPEN[name])) > cos(65 * pi / 180)


def test_a_straight_line_is_left_straight() -> None:
    flat = tuple((float(k), 0.0) for k in range(9))
    for line in (OPEN["tube"], flat):
        for place, here in zip(line, bent(line), strict=True):
            assert here == pytest.approx(place)


@pytest.mark.parametrize("rounds", [10, 18, 40])
def test_a_filled_ball_is_a_ball(rounds: int) -> None:
    """A sphere holds the most that its fabric can (geometry: isoperimetric), so filling does not change it."""
    blown = filled(ball(6.0, rounds))
    middle = blown[-1][1] / 2
    assert meridian(blown) == pytest.approx(6 * pi, rel=0.01)
    assert surface(blown) == pytest.approx(4 * pi * 36, rel=0.02)
    for radius, level in blown:
        assert hypot(radius, level - middle) == pytest.approx(6.0, rel=0.02)


def test_two_disks_blown_up_are_as_wide_and_thick_as_published() -> None:
    """W. H. Paulsen, "What is the shape of a Mylar balloon?", 1994, from memory: two disks of radius 1 blow up to a
    radius of 0.7627, and the thickness is 0.5991 of the width."""
    blown = filled(sack(12))
    widest = max(radius for radius, _ in blown)
    assert widest == pytest.approx(12 * 0.7627, rel=0.01)
    assert blown[-1][1] - blown[0][1] == pytest.approx(2 * widest * 0.5991, rel=0.01)


@settings(max_examples=15, deadline=None)
@given(radius=st.integers(3, 12), high=st.integers(0, 20))
def test_filling_stretches_nothing(radius: int, high: int) -> None:
    line = can(radius, high)
    blown = filled(line)
    assert len(blown) == len(line)
    assert meridian(blown) == pytest.approx(meridian(line), rel=0.02)
    assert max(place for place, _ in blown) <= radius + 1e-9
    assert blown[-1][1] - blown[0][1] >= high, "it bows out at both ends"


def test_what_is_closed_can_be_filled() -> None:
    assert is_closed(ball(6.0))
    assert not is_closed(dome(6, 6))
    neck = ball(6.0)[:-3]
    assert not is_closed(neck)
    assert is_closed(neck, stuffed=True)
    assert not is_closed(OPEN["tube"], stuffed=True)


def read(folder: Path, rounds: list[str], extra: str = "") -> OutlinePicture:
    path = folder / "piece.toml"
    path.write_text(
        'title = "A"\n' + extra + '[[piece]]\nname = "A"\nrounds = """\n' + "\n".join(rounds) + '\n"""\n', "utf-8"
    )
    pattern = load(path)
    seen = OutlinePicture.of(pattern, pattern.pieces[0], None)
    assert seen is not None
    return seen


def test_a_ball_counted_by_the_sine_is_drawn_as_a_ball(tmp_path: Path) -> None:
    """Stitches around are 2 pi r sin(k pi / n), a page on the mathematics of the sphere (read about); n rounds of
    sc are half as long as the way around, sc being 0.91 as high as wide (published measure, seen on a page)."""
    high, rounds = 0.91, 14
    counts = [round(2 * rounds * high * sin(pi * k / rounds)) for k in range(1, rounds)]
    lines = [f"Rnd 1: {counts[0]} sc in magic ring ({counts[0]})"]
    for number, (before, now) in enumerate(pairwise(counts), 2):
        more, fewer = max(0, now - before), max(0, before - now)
        parts = [f"2 sc in each of next {more} sts"] * bool(more) + [f"(sc2tog) {fewer} times"] * bool(fewer)
        plain = before - more - 2 * fewer
        parts += [f"sc in next {plain} sts"] * bool(plain)
        lines.append(f"Rnd {number}: {', '.join(parts)} ({now})")
    seen = read(tmp_path, lines, 'notions = ["stuffing"]\n').outline
    edges = [seen.bands[0].low, *(band.high for band in seen.bands)]
    line = tuple((edge.radius, edge.level) for edge in edges)
    radius = rounds * high / pi
    assert seen.width == pytest.approx(2 * radius, rel=0.05)
    for place, level in line:
        assert hypot(place, level - radius) == pytest.approx(radius, rel=0.08)
