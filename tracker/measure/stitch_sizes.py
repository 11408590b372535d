"""How wide and how tall a stitch is, and how much yarn it takes beside a single crochet.

Lengths are in centimetres, or in widths of one stitch where nothing tells how wide that is.
"""

from __future__ import annotations

import math
from enum import Enum

from tracker.lazy_dataclass import dataclass
from tracker.measure.ranges import Range, around, exactly
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import BY_ID, stitch_words
from tracker.pattern.model import Gauge, Pattern

USUAL_RISE = 0.91
"""Height of a single crochet over its width.

Source: gauges that yarn makers print for single crochet: 13 stitches and 14 rows, 10 and 11, 7 and 8, 15.5 and 17,
which are 0.93, 0.91, 0.88 and 0.91.
"""

HEIGHTS: dict[str, Range] = {
    "sl st": exactly(0.3),
    "sc": exactly(1.0),
    "rsc": exactly(1.0),
    "esc": Range(1.1, 1.35),
    "hdc": Range(1.4, 1.5),
    "ehdc": Range(1.5, 1.75),
    "dc": Range(1.75, 1.9),
    "edc": Range(1.9, 2.5),
    "tr": Range(2.5, 2.9),
    "dtr": Range(3.3, 3.9),
    "trtr": Range(4.1, 4.9),
}
"""Height of a round of one kind of stitch, single crochet = 1.

Sources: hdc and dc from rows counted in a measured square of 5 inches (1.45 and 1.9), dc and tr from gauges of yarn
makers (1.75 to 1.9; tr 2.7). Extended stitches are taller than the plain one and lower than the next (published
makings), so they stand between the two. dtr and taller carry on by the step from dc to tr; slip stitches are from
memory.
"""

BUNCH_HEIGHT = HEIGHTS["dc"]
"""Clusters, bobbles, puffs and popcorns are mostly made of dc: common practice, no source."""

PLAIN_BY_CHAIN = {0: "sc", 1: "sc", 2: "hdc", 3: "dc", 4: "tr"}
"""The plain stitch with a turning chain of so many chains (published: sl st 0, sc 1, hdc 2, dc 3, tr 4)."""

TALLER_STEP = 0.9
"""What each further chain of a turning chain adds, sc = 1: the step from dc to tr."""

YARN_PER_STITCH: dict[str, float] = {
    "ch": 0.45,
    "sl st": 0.5,
    "sc": 1.0,
    "rsc": 1.1,
    "wst": 1.0,
    "esc": 1.25,
    "hdc": 1.4,
    "ehdc": 1.6,
    "dc": 1.8,
    "edc": 2.1,
    "tr": 2.5,
    "dtr": 3.1,
    "trtr": 3.7,
    "qtr": 4.3,
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
    "bullion": 5.0,
    "bobble": 7.0,
    "popcorn": 8.5,
}
"""Yarn that one stitch takes, sc = 1.

Source: yarn measured for rows of one length gives ch 0.45 to 0.48, hdc 1.48, dc 1.92; other tests find dc thriftier,
nearer 1.7, so hdc and dc stand between. Rough. sl st and tr and taller are from memory, extended ones stand between
their neighbours, bunches are reckoned as three to five dc.
"""


def height_range_of(kind: str) -> Range:
    """Height of a stitch of this US name, single crochet = 1, as far apart as the measured figures are."""
    if kind in BUNCH_BY_ID:
        return BUNCH_HEIGHT
    stitch = BY_ID.get(kind)
    if kind in HEIGHTS or stitch is None:
        return HEIGHTS.get(kind, HEIGHTS["sc"])
    # What nobody measured is as tall as the plain stitch with its turning chain; taller ones go on by the step.
    plain = HEIGHTS[PLAIN_BY_CHAIN[min(stitch.turning_chain, max(PLAIN_BY_CHAIN))]]
    beyond = TALLER_STEP * max(0, stitch.turning_chain - max(PLAIN_BY_CHAIN))
    return Range(plain.low + beyond, plain.high + beyond)


def height_of(kind: str) -> float:
    """The middle of `height_range_of`."""
    return height_range_of(kind).middle


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

    `source` tells where the figures come from, as a sentence for the maker. `counted` is the stitch that was counted,
    whose height needs no table; "" where none was. `in_pattern` says that rounds of the pattern were counted as they
    come, with all their stitches: then `rise` is the height of any of them.
    """

    width: Range
    rise: float
    unit: Unit
    source: str
    counted: str = ""
    in_pattern: bool = False

    def rise_of(self, kind: str) -> float:
        """Height of a stitch of this kind in stitch widths."""
        return self.rise if self.in_pattern else self.rise * height_of(kind)

    def spread_of(self, kind: str) -> Range:
        """How far the height of this kind may be off, as a factor around 1: exact for what was counted."""
        if self.in_pattern or kind == self.counted:
            return exactly(1.0)
        return height_range_of(kind) / height_of(kind)

    def flat_growth(self, kind: str = "sc") -> float:
        """Stitches that a round of this kind must add to lie flat: 2 pi height / width (geometry)."""
        return 2 * math.pi * self.rise_of(kind)

    @property
    def is_measured(self) -> bool:
        return self.width.is_exact and self.unit is Unit.CM


def from_gauge(gauge: Gauge, terms: str = "US") -> StitchSize:
    """Width = over / stitches, height = over / rounds, of the stitch that the gauge was counted in.

    Its stitch is named in these terms, as the pattern has it. A gauge over anything but a stitch ("in pattern") is
    taken as it is given, for the rounds that it describes.
    """
    kind = stitch_words(terms).get(gauge.stitch.lower(), "")
    counted = f"{gauge.stitches:g} {gauge.stitch} and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm"
    width, rise = exactly(gauge.over_cm / gauge.stitches), gauge.stitches / gauge.rounds
    if not kind:
        counted = f"{gauge.stitches:g} stitches and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm in pattern"
        return StitchSize(width, rise, Unit.CM, f"from the gauge: {counted}", in_pattern=True)
    return StitchSize(width, rise / height_of(kind), Unit.CM, f"from the gauge: {counted}", kind)


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
    gauge = gauge or pattern.gauge
    if gauge is not None and gauge.stitches > 0 and gauge.rounds > 0:
        return from_gauge(gauge, pattern.terms)
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
