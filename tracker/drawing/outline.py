"""The outline of a piece: from the side, or from above where it lies flat, as bands of yarn colour round by round.

It is drawn from points that somebody else has measured: how far from the axis and how high each round ends. They
may be in any unit; only their proportions are used.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from math import acos, cos, pi

from tracker.drawing.acts import colour_at
from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Round

FLAT = 0.06
"""A piece lower than this share of its width is shown from above."""
ACROSS = 64
"""Places across the front of a round at which its colour is looked up."""
MOST_BANDS = 2000
"""Rounds that an outline shows; a longer piece is drawn up to there and says so."""


class Viewpoint(Enum):
    """From where a piece is seen."""

    SIDE = "from the side"
    ABOVE = "from above"
    FRONT = "flat, from the right side"


@dataclass(frozen=True, slots=True)
class BandEdge:
    """Where a round ends: how far out and how high, in the unit of the points."""

    radius: float
    level: float


@dataclass(frozen=True, slots=True)
class Patch:
    """One colour on the part of a round that is seen, from `start` to `end` along the fabric (0 left, 1 right)."""

    colour: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Band:
    """One round in the outline. `done` rounds are made, the others are still to come."""

    number: int
    low: BandEdge
    high: BandEdge
    patches: tuple[Patch, ...]
    done: bool

    @property
    def plain(self) -> str | None:
        """Its yarn, if it is all of one."""
        return self.patches[0].colour if len(self.patches) == 1 else None


@dataclass(frozen=True, slots=True)
class PieceOutline:
    """All bands, the first round first. `core` is the straight middle of an oval; a figure has `corners`."""

    view: Viewpoint
    bands: tuple[Band, ...]
    core: float = 0.0
    left_out: tuple[str, ...] = ()
    corners: int = 0
    waves: tuple[float, ...] = ()
    """How many times longer the edge of each round is than the circle that it lies in; empty where nothing waves."""

    @property
    def width(self) -> float:
        """From side to side at its widest."""
        radius = max((edge.radius for band in self.bands for edge in (band.low, band.high)), default=0.0)
        return 2 * radius + self.core

    @property
    def height(self) -> float:
        """From its lowest to its highest edge as it is seen."""
        if self.view is Viewpoint.ABOVE:
            return self.width - self.core
        levels = [edge.level for band in self.bands for edge in (band.low, band.high)]
        return max(levels, default=0.0) - min(levels, default=0.0)

    @property
    def bottom(self) -> float:
        """The lowest level."""
        return min((edge.level for band in self.bands for edge in (band.low, band.high)), default=0.0)

    @property
    def first_is(self) -> str:
        """Where in the picture the first round is, in words."""
        if self.view is Viewpoint.ABOVE:
            return "in the middle"
        return "at the bottom" if self.bands[0].low.level <= self.bands[-1].high.level else "at the top"

    def across(self, share: float) -> float:
        """Where from left (-1) to right (1) a share of what is seen lies; a round turns away at its sides."""
        return 2 * share - 1 if self.view is Viewpoint.FRONT else -cos(pi * share)

    def share(self, across: float) -> float:
        """The share of what is seen of a round at a place from left (-1) to right (1)."""
        inside = max(-1.0, min(1.0, across))
        return (inside + 1) / 2 if self.view is Viewpoint.FRONT else acos(-inside) / pi


def outline(
    rounds: Sequence[Round],
    points: Sequence[tuple[float, float]],
    done: int | None = None,
    core: float = 0.0,
    *,
    flat: bool = False,
    bases: Sequence[int] = (),
    corners: int = 0,
) -> PieceOutline:
    """The outline of these rounds, of which the first `done` are made (None: all of them).

    `points` are (radius, level), the start first and then the end of each round, so one more than there are rounds;
    of a piece in `flat` rows the radius is half the width. `bases` tells from which point each round starts, where it
    is not always the one before. Raises ValueError if their number is wrong.
    """
    if rounds and len(points) != len(rounds) + 1:
        raise ValueError(f"{len(rounds)} rounds need {len(rounds) + 1} points, not {len(points)}")
    made = len(rounds) if done is None else done
    bands = tuple(
        Band(
            each.number,
            BandEdge(*points[bases[index] if bases else index]),
            BandEdge(*points[index + 1]),
            _patches(each, index, flat),
            index < made,
        )
        for index, each in enumerate(rounds[:MOST_BANDS])
    )
    left_out = (f"only the first {MOST_BANDS:,} rounds are drawn",) if len(rounds) > MOST_BANDS else ()
    side = PieceOutline(Viewpoint.FRONT if flat else Viewpoint.SIDE, bands, core, left_out, corners)
    lies_flat = not flat and side.height < FLAT * side.width
    return replace(side, view=Viewpoint.ABOVE) if lies_flat else side


def _patches(each: Round, index: int, flat: bool) -> tuple[Patch, ...]:
    """The colours across the front: of a round the half away from where it begins, of a row all of it."""
    plan = each.plan
    if plan is None or not plan.moves or {act.colour for act in plan.acts()} <= {"", each.colour}:
        return (Patch(each.colour, 0.0, 1.0),)
    patches: list[Patch] = []
    for place in range(ACROSS):
        share = _worked_share((place + 0.5) / ACROSS, index, flat)
        colour = colour_at(plan, int(plan.moves * share), each.colour)
        if patches and patches[-1].colour == colour:
            patches[-1] = Patch(colour, patches[-1].start, (place + 1) / ACROSS)
        else:
            patches.append(Patch(colour, place / ACROSS, (place + 1) / ACROSS))
    return tuple(patches)


def _worked_share(share: float, index: int, flat: bool) -> float:
    """How far into a round the stitch is that is seen at this share from the left."""
    if not flat:
        return 0.75 - share / 2
    return share if index % 2 else 1 - share


@dataclass(frozen=True, slots=True)
class BandGroup:
    """Neighbouring rounds of one plain yarn, or one round of several; `first` and `last` are indexes of bands."""

    colour: str | None
    first: int
    last: int


def groups(bands: Sequence[Band]) -> list[BandGroup]:
    """The bands gathered by yarn, for labels."""
    band_groups: list[BandGroup] = []
    for index, band in enumerate(bands):
        if band_groups and band.plain is not None and band_groups[-1].colour == band.plain:
            band_groups[-1] = BandGroup(band.plain, band_groups[-1].first, index)
        elif band_groups and band.plain is None and band_groups[-1].colour is None:
            band_groups[-1] = BandGroup(None, band_groups[-1].first, index)
        else:
            band_groups.append(BandGroup(band.plain, index, index))
    return band_groups


def label(group: BandGroup, bands: Sequence[Band], letters: dict[str, str]) -> str:
    """A group in words: "R 1-12", "W, N 10-12"; only the numbers where no yarn is named."""
    inside = bands[group.first : group.last + 1]
    keys = dict.fromkeys(patch.colour for band in inside for patch in band.patches)
    yarns = ", ".join(letters[key] for key in keys if letters.get(key))
    first, last = inside[0].number, inside[-1].number
    numbers = str(first) if first == last else f"{first}-{last}"
    return f"{yarns} {numbers}".strip()
