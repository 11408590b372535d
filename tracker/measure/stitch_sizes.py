"""How wide and how tall a stitch is, and how much yarn it takes beside a single crochet.

Lengths are in centimetres, or in widths of one stitch where nothing tells how wide that is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from tracker.measure.ranges import Range, around, exactly
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import BY_ID, stitch_words
from tracker.pattern.model import Gauge, Pattern

USUAL_RISE = 6 / (2 * math.pi)
"""Height of a single crochet over its width (0.955) that makes a flat disk grow by 6 a round, as the
trade's do.

Geometry, from the 6 that disks of single crochet are increased by (common practice, no source).
"""

TALL_PER_CHAIN = 2 / 3
"""Height of a tall stitch for each chain of its turning chain, single crochet = 1.

It gives hdc 1.33 and dc 2, the 8 and 12 stitches that flat disks of them grow by beside the 6 of sc (common
practice, no source); for tr and taller it is carried on from there.
"""

SLIP_HEIGHT = 0.3
"""Height of a round of slip stitches, sc = 1: from memory, rough."""

BUNCH_HEIGHT = 2.0
"""Clusters, bobbles, puffs and popcorns are mostly made of dc: common practice, no source."""

YARN_PER_STITCH: dict[str, float] = {
    "ch": 0.4,
    "sl st": 0.5,
    "sc": 1.0,
    "rsc": 1.1,
    "wst": 1.0,
    "esc": 1.3,
    "hdc": 1.3,
    "ehdc": 1.6,
    "dc": 1.7,
    "edc": 2.0,
    "tr": 2.3,
    "dtr": 2.9,
    "trtr": 3.5,
    "qtr": 4.1,
    "yusc": 0.9,
    "spike": 1.6,
    "ldc": 2.2,
    "lkdc": 1.7,
    "lktr": 2.3,
    "hhdc": 1.3,
    "loop st": 2.5,
    "bean": 2.5,
    "cluster": 5.0,
    "puff": 5.0,
    "bobble": 7.0,
    "popcorn": 8.5,
}
"""Yarn that one stitch takes, sc = 1: from memory, rough, no source. Bunches are reckoned as three to five
dc."""


def height_of(kind: str) -> float:
    """Height of a stitch of this US name, single crochet = 1."""
    if kind == "sl st":
        return SLIP_HEIGHT
    if kind in BUNCH_BY_ID:
        return BUNCH_HEIGHT
    stitch = BY_ID.get(kind)
    if stitch is None or stitch.height <= 1:
        return 1.0
    return stitch.height * TALL_PER_CHAIN


def yarn_of(kind: str) -> float:
    """Yarn that one stitch takes, single crochet = 1; an unknown one is taken for a single crochet."""
    return YARN_PER_STITCH.get(kind, 1.0)


class Unit(Enum):
    """What a length is in."""

    CM = "cm"
    WIDTHS = "stitch widths"


@dataclass(frozen=True, slots=True)
class StitchSize:
    """The size of a stitch. `width` is in `unit`; `rise` is the height of a single crochet over that width.

    `source` tells where the figures come from, as a sentence for the maker.
    """

    width: Range
    rise: float
    unit: Unit
    source: str

    def rise_of(self, kind: str) -> float:
        """Height of a stitch of this kind in stitch widths."""
        return self.rise * height_of(kind)

    def flat_growth(self, kind: str = "sc") -> float:
        """Stitches that a round of this kind must add to lie flat: 2 pi height / width (geometry)."""
        return 2 * math.pi * self.rise_of(kind)

    @property
    def is_measured(self) -> bool:
        return self.width.is_exact and self.unit is Unit.CM


def from_gauge(gauge: Gauge, terms: str = "US") -> StitchSize:
    """Width = over / stitches, height = over / rounds, of the stitch that the gauge was counted in.

    Its stitch is named in these terms, as the pattern has it.
    """
    kind = stitch_words(terms).get(gauge.stitch.lower(), gauge.stitch)
    rise = gauge.stitches / gauge.rounds / height_of(kind)
    counted = f"{gauge.stitches:g} {gauge.stitch} and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm"
    return StitchSize(exactly(gauge.over_cm / gauge.stitches), rise, Unit.CM, f"from the gauge: {counted}")


def from_weights(weights: list[YarnWeight]) -> StitchSize:
    """As a range, from what the categories usually give; the height from `USUAL_RISE`."""
    names = " and ".join(f"{weight.number} ({weight.name})" for weight in weights)
    source = (
        f"no gauge: from the usual range for yarn weight {names}, a guideline only; "
        "firm work comes out smaller; swatch for a true size"
    )
    return StitchSize(around(weight.width_cm for weight in weights), USUAL_RISE, Unit.CM, source)


def unknown_size() -> StitchSize:
    """Proportions only."""
    source = "no gauge and no yarn weight: lengths are in stitch widths; give a gauge for centimetres"
    return StitchSize(exactly(1.0), USUAL_RISE, Unit.WIDTHS, source)


def stitch_size(pattern: Pattern, gauge: Gauge | None = None) -> StitchSize:
    """The best that is known: the gauge given, the pattern's own, the yarn weights', or only proportions."""
    known = gauge or pattern.gauge
    if known is not None and known.stitches > 0 and known.rounds > 0:
        return from_gauge(known, pattern.terms)
    numbers = sorted({yarn.weight for yarn in pattern.yarns if yarn.weight is not None})
    weights = [BY_NUMBER[number] for number in numbers if number in BY_NUMBER]
    return from_weights(weights) if weights else unknown_size()


# The yarn weight categories and the gauge that each usually gives.

OVER_CM = 10.0
"""The published gauges are counted over 4 in, called 10 cm."""


@dataclass(frozen=True, slots=True)
class YarnWeight:
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


WEIGHTS: tuple[YarnWeight, ...] = (
    YarnWeight(0, "lace", Range(32, 42), Range(1.4, 2.25), stitch="dc"),
    YarnWeight(1, "super fine", Range(21, 32), Range(2.25, 3.5)),
    YarnWeight(2, "fine", Range(16, 20), Range(3.5, 4.5)),
    YarnWeight(3, "light", Range(12, 17), Range(4.5, 5.5)),
    YarnWeight(4, "medium", Range(11, 14), Range(5.5, 6.5)),
    YarnWeight(5, "bulky", Range(8, 11), Range(6.5, 9)),
    YarnWeight(6, "super bulky", Range(6, 9), Range(9, 16)),
    YarnWeight(7, "jumbo", Range(0, 5), Range(16, math.inf)),
)

BY_NUMBER: dict[int, YarnWeight] = {weight.number: weight for weight in WEIGHTS}
