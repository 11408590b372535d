"""Pieces with corners, worked from their middle: which figure a piece is, and how wide a figure of that edge lies.

A round of a square has four places where the work turns (`is_corner` in `rounds/plan.py`). Rounds that do so equally
often, one after the other, make a figure with so many corners.
"""

from __future__ import annotations

import math
from collections import Counter

from tracker.pattern.model import Piece, Round

FIGURES = {3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon", 8: "octagon"}
"""Figures by their corners. More corners than eight, or seven, lie like a disk and are not made for their corners."""

MOSTLY = 2 / 3
"""Share of the rounds behind the first that turn at every corner: some patterns put plain rounds between."""


def corners_of(piece: Piece) -> int:
    """How many corners the figure has that a piece makes, 0 where it makes none."""
    rounds = [round_ for round_ in piece.rounds if round_.plan and round_.leaves]
    later = [turns_of(round_) for round_ in rounds[1:]]
    if len(later) < 2:  # one round with turns is an edging as well as a corner
        return 0
    corners, rounds_with = Counter(later).most_common(1)[0]
    has_figure = corners in FIGURES and rounds_with >= MOSTLY * len(later)
    return corners if has_figure else 0


def turns_of(round_: Round) -> int:
    """How often the work turns in a round."""
    assert round_.plan is not None
    return sum(times for run, times in round_.plan.runs() if run.act.is_corner)


def width_across(corners: int, side: float) -> float:
    """How wide a regular figure lies from a side to what is opposite, a corner or a side (geometry)."""
    apothem = side / (2 * math.tan(math.pi / corners))
    circumradius = side / (2 * math.sin(math.pi / corners))
    return 2 * apothem if corners % 2 == 0 else apothem + circumradius
