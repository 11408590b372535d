"""The outline of a piece in the round: its side view as points, and the surface of the body it encloses.

Used by the measuring table and by whoever draws the piece. Lengths are in the unit that the points are in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from tracker.measure.meridian import Point
from tracker.measure.size import PieceSize


def side_view(size: PieceSize, scale: float = 1.0) -> list[Point]:
    """The right half of the side view, start first: how far out and how high each round ends.

    `scale` turns stitch widths into another unit: the width of a stitch in centimetres, say.
    """
    return [Point(point.radius * scale, point.level * scale) for point in size.outline]


def surface(points: Sequence[Point], core: float = 0.0) -> float:
    """Area of the fabric that the outline sweeps out around its axis, open ends left open.

    Between two rounds lies a frustum, pi (r1 + r2) l, or where an oval has a straight middle also two strips
    `core` wide (geometry).
    """
    return sum(
        (math.pi * (low.radius + high.radius) + 2 * core)
        * math.hypot(high.radius - low.radius, high.level - low.level)
        for low, high in pairwise(points)
    )
