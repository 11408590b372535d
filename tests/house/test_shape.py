"""Patterns whose counts geometry gives, read through the loader (source: geometry, derived below)."""

from __future__ import annotations

from math import pi, sin
from pathlib import Path

import pytest

from tracker.pattern.loader import load
from tracker.pattern.model import Pattern

PATTERN = '''
title = "Geometry"
hook = "4 mm"

[gauge]
stitch = "{stitch}"
stitches = {stitches}
rounds = {rounds}
over = "10 cm"

[[piece]]
name = "Solid"
start = "spiral"
rounds = """
{text}
"""
'''

BALL = """
Rnd 1: 3 sc in magic ring
Rnd 2: 3 sc in each st around
Rnd 3: (1 sc, inc x 2) x 3
Rnd 4: (2 sc, inc) x 4, 3 sc
Rnd 5: (5 sc, inc) x 3, 1 sc
Rnd 6: (10 sc, inc) x 2
Rnd 7: sc around
Rnd 8: (10 sc, dec) x 2
Rnd 9: (5 sc, dec) x 3, 1 sc
Rnd 10: (2 sc, dec) x 4, 3 sc
Rnd 11: (1 sc, dec x 2) x 3
Rnd 12: sc3tog x 3
"""


def written(folder: Path, text: str, stitch: str = "sc", stitches: int = 20, rounds: int = 20) -> Pattern:
    path = folder / "solid.toml"
    path.write_text(PATTERN.format(stitch=stitch, stitches=stitches, rounds=rounds, text=text.strip()), "utf-8")
    return load(path)


def counts(pattern: Pattern) -> list[int]:
    assert [item.verdict for item in pattern.pieces[0].rounds if item.verdict != "ok"] == []
    return [item.leaves or 0 for item in pattern.pieces[0].rounds]


def height_over_width(pattern: Pattern) -> float:
    assert pattern.gauge is not None
    return pattern.gauge.stitches / pattern.gauge.rounds


def disk(stitch: str, start: int, rounds: int) -> str:
    """A flat disk as the trade writes it: `start` increases a round, each time one stitch further apart."""
    first = [f"Rnd 1: {start} {stitch} in magic ring", f"Rnd 2: {stitch} inc x {start}"]
    rest = [f"Rnd {n}: ({n - 2} {stitch}, {stitch} inc) x {start}" for n in range(3, rounds + 1)]
    return "\n".join(first + rest)


@pytest.mark.parametrize(
    ("stitch", "start", "stitches", "rounds"),
    [("sc", 6, 21, 22), ("hdc", 8, 14, 11), ("dc", 12, 21, 11)],
)
def test_a_disk_lies_flat_as_the_circle_asks(
    stitch: str, start: int, stitches: int, rounds: int, tmp_path: Path
) -> None:
    """A circle of radius k rounds of height h has 2*pi*k*h around, or 2*pi*k*h/w stitches of width w."""
    pattern = written(tmp_path, disk(stitch, start, 10), stitch, stitches, rounds)
    growth = 2 * pi * height_over_width(pattern)
    assert counts(pattern) == [round(growth * k) for k in range(1, 11)]


def test_a_ball_has_the_counts_of_its_circles_of_latitude(tmp_path: Path) -> None:
    """R rounds of height h run half around a ball of circumference 2*R*h, which is C = 2*R*h/w stitches.

    The middle of round k lies at the angle pi*(k - 1/2)/R from the pole; the circle there is C*sin of it.
    """
    pattern = written(tmp_path, BALL)
    rounds = 12
    equator = 2 * rounds * height_over_width(pattern)
    circles = [equator * sin(pi * (k - 0.5) / rounds) for k in range(1, rounds + 1)]
    assert counts(pattern) == [round(circle) for circle in circles]


def test_the_stitches_of_a_ball_cover_its_surface(tmp_path: Path) -> None:
    """Each stitch covers w*h; a ball of circumference C*w has the surface (C*w)^2/pi. Within 2 per cent."""
    pattern = written(tmp_path, BALL)
    made = counts(pattern)
    height = 1 / height_over_width(pattern)
    assert sum(made) * height == pytest.approx(max(made) ** 2 / pi, rel=0.02)


def test_a_round_too_many_increases_is_no_circle(tmp_path: Path) -> None:
    """The rule above can fail: seven increases where the circle asks for six show by the third round."""
    pattern = written(tmp_path, disk("sc", 7, 4), "sc", 21, 22)
    growth = 2 * pi * height_over_width(pattern)
    assert counts(pattern)[2] > round(growth * 3)
