"""A chart as geometry: what is drawn where, before anybody decides how it looks."""

from __future__ import annotations

from enum import Enum
from itertools import pairwise
from math import atan2, cos, pi, sin, tau

from tracker.drawing.geometry import Foot, Point, Track, at_level, unit
from tracker.drawing.symbols import Symbol, SymbolForm
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Loop, Made


class Layout(Enum):
    """How the rounds of a piece lie on the paper."""

    ROUND = "round"
    OVAL = "oval"
    ROWS = "rows"


class Middle(Enum):
    """What the first round drawn is worked into."""

    RING = "magic ring"
    CHAIN_RING = "ring of chains"
    CHAIN = "foundation chain"
    BASES = "stitches below"


SEEN_FROM_BEHIND = {
    Loop.BOTH: Loop.BOTH,
    Loop.BACK: Loop.FRONT,
    Loop.FRONT: Loop.BACK,
    Loop.BACK_POST: Loop.FRONT_POST,
    Loop.FRONT_POST: Loop.BACK_POST,
}
"""What a loop or post taken up on one side of the fabric looks like from the other. Source: JIS L 0201-1995, whose
symbols picture the fabric from its right side and not the hands (read about, not read)."""


@dataclass(frozen=True, slots=True)
class Oval:
    """One chain stitch: where it lies and along which direction."""

    centre: Point
    along: float


@dataclass(frozen=True, slots=True)
class Mark:
    """One symbol: one stitch, one group closed into one, or one length of chain.

    `top` is where the next round would be worked into; `feet` are where it stands, one for each of `bases`, which
    are numbers of places in the round below. `outward` is the direction away from the middle. `fan` is how many
    stitches share its one base, `company` all that is worked there. `chains` is the length of a chain, `ovals` those
    of it that are drawn. `standing` is a chain at the start of a round; `counted` says that it stands for a stitch.
    `legs` are the stitch and the number that a bobble or the like is made of, None where the pattern does not tell.
    `in_space` stitches go under a chain and not into it. `loop` is what is worked, on the `wrong_side` the other of
    what the right side shows.
    """

    kind: str
    symbol: Symbol
    name: str
    top: Point
    outward: float
    feet: tuple[Point, ...]
    bases: tuple[int, ...]
    distance: float
    width: float
    colour: str = ""
    loop: Loop = Loop.BOTH
    fan: int = 1
    company: tuple[Made, ...] = ()
    chains: int = 0
    ovals: tuple[Oval, ...] = ()
    standing: bool = False
    counted: bool = True
    between: bool = False
    wrong_side: bool = False
    in_space: bool = False
    legs: tuple[str, int] | None = None

    @property
    def loop_shown(self) -> Loop:
        """The loop or post as the right side of the fabric shows it, which is what a chart pictures."""
        return SEEN_FROM_BEHIND[self.loop] if self.wrong_side else self.loop

    @property
    def space(self) -> bool:
        """A length of chain that the next round can go under."""
        return bool(self.chains) and not self.standing and self.symbol.form is not SymbolForm.PICOT

    @property
    def is_stitch(self) -> bool:
        """A stitch that the next round can go into."""
        return self.counted if self.standing else not self.chains

    @property
    def is_increase(self) -> bool:
        """One of several stitches in one place."""
        return self.fan > 1 and not self.chains

    @property
    def is_decrease(self) -> bool:
        """Several places closed into one stitch."""
        return len(self.bases) > 1 and not self.between


@dataclass(frozen=True, slots=True)
class ColourArc:
    """A run of one colour along a round, between two distances from where the round begins; `stitches` are in it."""

    colour: str
    start: float
    end: float
    stitches: int = 0


@dataclass(frozen=True, slots=True)
class DrawnRound:
    """One round as drawn. `inner` and `outer` are the levels between which its band lies; distances are measured
    on `track`. `reach` is how far out anything of it goes.

    `number_at` is where its number stands. `joined` says that a slip stitch closes it, at `join_at`.
    `backward` says that it is worked against the usual direction, after a turn. `ghost` rounds are there only to
    show what the next one is worked into. `undrawn` stitches were left out.
    """

    number: int
    marks: tuple[Mark, ...]
    track: Track
    inner: float
    outer: float
    reach: float
    number_at: Point
    stretches: tuple[ColourArc, ...] = ()
    join_at: Foot | None = None
    joined: bool = False
    backward: bool = False
    ghost: bool = False
    undrawn: int = 0

    def at_level(self, distance: float, level: float) -> Foot:
        """At a level of the band, `distance` from where the round begins."""
        return at_level(self.track, self.track.length - distance if self.backward else distance, level)


@dataclass(frozen=True, slots=True)
class ChartStart:
    """What the first round is worked into.

    `places` are where its bases lie, in the order they are worked; `reach` is the level up to which it is drawn.
    """

    middle: Middle
    places: tuple[Foot, ...]
    ovals: tuple[Oval, ...] = ()
    reach: float = 0.0


@dataclass(frozen=True, slots=True)
class Chart:
    """A whole picture. `remarks` tell in sentences what is not drawn and what could be misread."""

    shape: Layout
    start: ChartStart
    rounds: tuple[DrawnRound, ...]
    remarks: tuple[str, ...] = ()
    unrolled: tuple[ChartStart, ...] = ()
    """What each stretch of rounds goes into that are drawn as rows above a disk."""

    @property
    def drawn(self) -> tuple[DrawnRound, ...]:
        """The rounds that the picture is about."""
        return tuple(each for each in self.rounds if not each.ghost)

    @property
    def shows_start(self) -> bool:
        """Whether the picture begins where the piece does."""
        return bool(self.rounds) and not self.rounds[0].ghost


# Lengths of chain as ovals: spanning a space in an arc, standing at the start of a round, closed in a picot.

OVAL_LENGTH = 0.56
"""The longer way through one oval, in stitch widths."""
# In stitch widths: a chain is drawn about three times as long as broad (published symbols).
OVAL_BREADTH = 0.3
CHAIN_LENGTH = 0.58
"""How much of a standing chain's height one chain takes."""
_PITCH = 0.62
"""From one oval of an arc to the next."""
_MOST_TURN = 1.1 * pi
"""An arc never turns further than this, so that it does not close on itself."""


def arc(start: Point, end: Point, outward: float, count: int) -> tuple[Oval, ...]:
    """`count` ovals from one place to another, in a bow away from the middle as high as their length needs."""
    chord = (end - start).size
    along = atan2(end.y - start.y, end.x - start.x)
    side = 1.0 if sin(along - outward) < 0 else -1.0
    turn = _turn(chord, count * _PITCH)
    # Radians: a smaller turn is not seen on paper.
    if turn < 0.05:
        return tuple(Oval(start.toward(end, (each + 0.5) / count), along) for each in range(count))
    radius = chord / (2 * sin(turn / 2))
    middle = start.toward(end, 0.5) + unit(along + side * pi / 2) * (-radius * cos(turn / 2))
    ovals = []
    for each in range(count):
        share = (each + 0.5) / count - 0.5
        from_centre = along + side * pi / 2 - side * turn * share
        ovals.append(Oval(middle + unit(from_centre) * radius, from_centre - side * pi / 2))
    return tuple(ovals)


def _turn(chord: float, length: float) -> float:
    """The angle through which an arc of this length over this chord turns; 0 when the chord is long enough."""
    if chord <= 0 or length <= chord:
        return 0.0 if chord > 0 else _MOST_TURN
    low, high = 0.0, _MOST_TURN
    for _ in range(30):
        middle = (low + high) / 2
        if sin(middle / 2) / (middle / 2) > chord / length:
            low = middle
        else:
            high = middle
    return low


def column(foot: Point, top: Point, count: int) -> tuple[Oval, ...]:
    """`count` ovals one upon the other, from foot to top."""
    along = atan2(top.y - foot.y, top.x - foot.x)
    return tuple(Oval(foot.toward(top, (each + 0.5) / count), along) for each in range(count))


def loop(foot: Foot, count: int) -> tuple[Oval, ...]:
    """`count` ovals around a small loop that stands on a place, open at its foot."""
    radius = max(0.3, (count + 1) * 0.5 / tau)
    centre = foot.raised(radius)
    ovals = []
    for each in range(count):
        angle = foot.outward + pi - tau * (each + 1) / (count + 1)
        ovals.append(Oval(centre + unit(angle) * radius, angle + pi / 2))
    return tuple(ovals)


def oval_length(ovals: tuple[Oval, ...]) -> float:
    """How long each oval may be so that it does not run into the next, in stitch widths."""
    gaps = [(second.centre - first.centre).size for first, second in pairwise(ovals)]
    return min([OVAL_LENGTH, *(gap * 0.94 for gap in gaps)])
