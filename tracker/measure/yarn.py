"""How much yarn: per colour, from the maker's own swatch or from weighing the ball; whether a ball will last.

grams = grams per stitch * stitches; metres = grams * label metres / label grams. What one kind of stitch
takes beside another is from `stitches.YARN_PER_STITCH`. Without anything measured only proportions can be
told.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

from tracker.lazy_dataclass import dataclass
from tracker.measure.ranges import Range, exactly
from tracker.measure.stitch_counts import NO_WORK, StitchWork, work_of_pattern, work_of_piece
from tracker.measure.stitch_sizes import StitchSize, Unit
from tracker.pattern.model import Pattern, Yarn
from tracker.plural import number_of

MARGIN = 0.10
"""Added on top, for tails, joins and a looser day: common practice, no source."""

SCALE_STEP = 1.0
"""Grams between two readings of a kitchen scale; a reading is right to half of it."""

RATIO_SPREAD = 0.15
"""How far the proportion between two kinds of stitch may be off, either way: from memory, rough."""

TAIL_METRES = 0.15
"""A tail left to weave in; one at each end of a yarn in each copy of a piece at least (common practice, no
source)."""


YARN_WIDTHS = Range(9.0, 11.0)
"""Length of yarn in one single crochet, in widths of the stitch.

Source: yarn measured for rows of single crochet gives 10 to 11; three published projects give 9 to 10 (the tests).
"""


@dataclass(frozen=True, slots=True)
class YarnRate:
    """Grams that one single crochet takes, and the kind of stitch that this was measured on ("" for a
    mixture)."""

    grams: Range
    kind: str
    source: str


@dataclass(frozen=True, slots=True)
class Weighing:
    """The ball before and after a stretch of work, in grams."""

    before: float
    after: float
    work: StitchWork


def rate_from_swatch(grams: float, stitches: int, kind: str = "sc", step: float = SCALE_STEP) -> YarnRate:
    """From a swatch of so many stitches of one kind. Raises ValueError for figures of 0 or less."""
    if grams <= 0 or stitches <= 0:
        raise ValueError("a swatch needs grams and stitches above 0")
    units = StitchWork({kind: stitches}).units
    source = f"from a swatch: {grams:g} g for {stitches} {kind}"
    return YarnRate(_reading(grams, step / 2) / units, kind, source)


def rate_from_weighings(weighings: Sequence[Weighing], step: float = SCALE_STEP) -> YarnRate | None:
    """From weighing before and after; None while nothing that can be seen on the scale was used.

    Each difference of two readings is right to one step of the scale; separate errors add up as the root of
    their squares.
    """
    used = sum(weighing.before - weighing.after for weighing in weighings)
    work = sum((weighing.work for weighing in weighings), NO_WORK)
    if used <= 0 or work.units <= 0:
        return None
    kinds = {kind for kind, count in work.kinds.items() if count}
    source = f"from weighing the ball {number_of(len(weighings), 'time')}: {used:g} g for {work.stitches} stitches"
    kind = next(iter(kinds)) if len(kinds) == 1 else ""
    return YarnRate(_reading(used, step * math.sqrt(len(weighings))) / work.units, kind, source)


def _reading(grams: float, error: float) -> Range:
    return Range(max(0.0, grams - error), grams + error)


def grams_for(work: StitchWork, rate: YarnRate) -> Range:
    """Grams that this work takes, margin not included; wider the more of it is in kinds that were not
    measured."""
    unsure = RATIO_SPREAD * work.share_of_others(rate.kind) if rate.kind else 0.0
    grams = rate.grams * work.units
    return Range(grams.low * (1 - unsure), grams.high * (1 + unsure))


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """What one yarn of the pattern comes to.

    `share` is its part of all the yarn, 0 to 1. `grams` is None where nothing was measured; `metres` then comes from
    the gauge, and is None without one or where the label does not tell. `buy_grams` is the upper bound with `MARGIN`,
    `balls` that in whole balls. `tails` are the ends to weave in that there will be at least, `TAIL_METRES` each, not
    part of the other figures.
    """

    key: str
    name: str
    work: StitchWork
    share: float
    grams: Range | None
    metres: Range | None
    buy_grams: float | None
    balls: int | None
    tails: int


def yarn_needs(
    pattern: Pattern, rate: YarnRate | None = None, stitch: StitchSize | None = None
) -> tuple[YarnNeed, ...]:
    """What each yarn comes to, in the order of the pattern's list, then yarns that the rounds name beside
    it."""
    works = work_of_pattern(pattern)
    listed = [yarn.key for yarn in pattern.yarns if yarn.key in works]
    keys = [*listed, *(key for key in works if key not in listed)]
    whole = sum(work.units for work in works.values())
    length = stitch if rate is None else None
    return tuple(_need(pattern, key, works[key], whole, rate, length) for key in keys)


def _need(
    pattern: Pattern, key: str, work: StitchWork, whole: float, rate: YarnRate | None, stitch: StitchSize | None
) -> YarnNeed:
    yarn = pattern.yarn(key)
    grams = grams_for(work, rate) if rate else None
    buy = grams.high * (1 + MARGIN) if grams else None
    balls = math.ceil(buy / yarn.ball_grams) if buy and yarn and yarn.ball_grams else None
    return YarnNeed(
        key=key,
        name=pattern.yarn_name(key) or "the yarn",
        work=work,
        share=work.units / whole if whole else 0.0,
        grams=grams,
        metres=metres_of(grams, yarn) if grams else length_of(work, stitch) if stitch else None,
        buy_grams=buy,
        balls=balls,
        tails=_tails(pattern, key),
    )


def length_of(work: StitchWork, stitch: StitchSize) -> Range | None:
    """Metres of yarn by the width of a stitch, where nothing was weighed; None where that width is not known."""
    if stitch.unit is not Unit.CM or stitch.width.is_open:
        return None
    return stitch.width.times(YARN_WIDTHS) * (work.units / 100)


def metres_of(grams: Range, yarn: Yarn | None) -> Range | None:
    """By the label; None where the label does not tell."""
    if yarn is None or not yarn.ball_grams or not yarn.ball_metres:
        return None
    return grams * (yarn.ball_metres / yarn.ball_grams)


def _tails(pattern: Pattern, key: str) -> int:
    return 2 * sum(piece.make for piece in pattern.pieces if key in work_of_piece(piece))


class Lasts(Enum):
    """Whether a ball is enough."""

    YES = "yes"
    JUST = "it will be close"
    NO = "no"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Lasting:
    """The answer to "will this ball last?". `left` is what is on the ball, `need` what the rest takes, in
    grams.

    `need` is None where nothing was measured. The answer is yes only if the ball is enough with `MARGIN` on
    top.
    """

    verdict: Lasts
    left: Range
    need: Range | None

    @property
    def short(self) -> Range | None:
        """Grams that may be missing, where some are."""
        if self.need is None or self.verdict is Lasts.YES:
            return None
        return Range(max(0.0, self.need.low - self.left.high), max(0.0, self.need.high - self.left.low))


def will_it_last(work: StitchWork, grams_left: float, rate: YarnRate | None, step: float = SCALE_STEP) -> Lasting:
    """Whether a ball that weighs so much now is enough for this work."""
    grams = _reading(grams_left, step / 2)
    if not work.units:
        return Lasting(Lasts.YES, grams, exactly(0.0))
    if rate is None:
        return Lasting(Lasts.UNKNOWN, grams, None)
    need = grams_for(work, rate)
    if grams.low >= need.high * (1 + MARGIN):
        return Lasting(Lasts.YES, grams, need)
    return Lasting(Lasts.NO if grams.high < need.low else Lasts.JUST, grams, need)
