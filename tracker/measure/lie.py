"""How a round lies against the one before: flat, in waves, cupped, straight up, drawn in.

A round of height h and stitch width w lies flat when it grows by 2 pi h / w stitches (geometry); with more it
ruffles, with less it cups. One round that grew too little leaves room that the next may use up.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from tracker.measure.meridian import FLAT_FROM, RUFFLES_FROM

RING_ROOM = 0.5
"""Share of a flat growth that a magic ring gives by staying a little open: disks of sc begin with 6, 7 or 8
(common practice, no source)."""


class Lie(Enum):
    """How a round lies; the words are what the maker is told."""

    RUFFLES = "ruffles"
    FLAT = "flat"
    CUPS = "cups"
    STRAIGHT = "straight"
    NARROWS = "narrows"
    GATHERS = "gathers"


@dataclass(frozen=True, slots=True)
class Growth:
    """Stitches added by a round (fewer: negative), the number that would lie flat, and how it lies."""

    stitches: float
    flat: float
    lie: Lie

    @property
    def ratio(self) -> float:
        return self.stitches / self.flat if self.flat else 0.0

    @property
    def half_angle(self) -> float | None:
        """Degrees between the side and the axis of the cone that this growth makes; None where it lies flat
        or waves.

        sin(half angle) = growth / flat growth (geometry).
        """
        return math.degrees(math.asin(abs(self.ratio))) if abs(self.ratio) < 1 else None


def growths(first_edge: float, edges: list[tuple[float, float]]) -> list[Growth]:
    """The growth of each round, from (edge, flat growth) of each; all in stitches."""
    found = []
    before = first_edge
    room = RING_ROOM * edges[0][1] if edges and first_edge == 0 else 0.0
    for edge, flat in edges:
        grown = edge - before
        found.append(Growth(grown, flat, _lie(grown, flat, room)))
        room = min(flat, max(0.0, room + flat - abs(grown)))
        before = edge
    return found


def _lie(grown: float, flat: float, room: float) -> Lie:
    if grown > RUFFLES_FROM * flat + room:
        return Lie.RUFFLES
    if -grown > RUFFLES_FROM * flat:
        return Lie.GATHERS
    if grown >= FLAT_FROM * flat:
        return Lie.FLAT
    if grown > 0:
        return Lie.CUPS
    return Lie.NARROWS if grown < 0 else Lie.STRAIGHT
