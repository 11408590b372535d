"""The yarn weight categories and the gauge that each usually gives.

Craft Yarn Council, "Standards & Guidelines for Knitting and Crochet", Standard Yarn Weight System (2018). The
Council calls the figures guidelines: they are what most patterns in that weight use, not what a yarn must
give.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from tracker.measure.ranges import Range

OVER_CM = 10.0
"""The published gauges are counted over 4 in, called 10 cm."""


@dataclass(frozen=True, slots=True)
class Weight:
    """One category. `stitches` of `stitch` over 10 cm; `hook_mm` are the hooks suggested for it."""

    number: int
    name: str
    stitches: Range
    hook_mm: Range
    stitch: str = "sc"

    @property
    def width_cm(self) -> Range:
        """Width of one stitch; open above where the table says "so many and fewer"."""
        widest = OVER_CM / self.stitches.low if self.stitches.low else math.inf
        return Range(OVER_CM / self.stitches.high, widest)


WEIGHTS: tuple[Weight, ...] = (
    Weight(0, "lace", Range(32, 42), Range(1.4, 2.25), stitch="dc"),
    Weight(1, "super fine", Range(21, 32), Range(2.25, 3.5)),
    Weight(2, "fine", Range(16, 20), Range(3.5, 4.5)),
    Weight(3, "light", Range(12, 17), Range(4.5, 5.5)),
    Weight(4, "medium", Range(11, 14), Range(5.5, 6.5)),
    Weight(5, "bulky", Range(8, 11), Range(6.5, 9)),
    Weight(6, "super bulky", Range(6, 9), Range(9, 16)),
    Weight(7, "jumbo", Range(0, 5), Range(16, math.inf)),
)

BY_NUMBER: dict[int, Weight] = {weight.number: weight for weight in WEIGHTS}
