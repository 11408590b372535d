"""A chart as geometry: what is drawn where, before anybody decides how it looks."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from tracker.notation.ast import Loop, Made
from tracker.pictures.symbols import Form, Symbol
from tracker.pictures.tracks import Foot, Point, Track


class Shape(Enum):
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

    @property
    def space(self) -> bool:
        """A length of chain that the next round can go under."""
        return bool(self.chains) and not self.standing and self.symbol.form is not Form.PICOT

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
class Stretch:
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
    stretches: tuple[Stretch, ...] = ()
    join_at: Foot | None = None
    joined: bool = False
    backward: bool = False
    ghost: bool = False
    undrawn: int = 0

    def at_level(self, distance: float, level: float) -> Foot:
        """At a level of the band, `distance` from where the round begins."""
        there = self.track.at(self.track.length - distance if self.backward else distance)
        return Foot(there.raised(level - self.track.radius), there.outward)


@dataclass(frozen=True, slots=True)
class Start:
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

    shape: Shape
    start: Start
    rounds: tuple[DrawnRound, ...]
    remarks: tuple[str, ...] = ()

    @property
    def drawn(self) -> tuple[DrawnRound, ...]:
        """The rounds that the picture is about."""
        return tuple(each for each in self.rounds if not each.ghost)

    @property
    def shows_start(self) -> bool:
        """Whether the picture begins where the piece does."""
        return bool(self.rounds) and not self.rounds[0].ghost
