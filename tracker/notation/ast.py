"""What a written round says, before arithmetic: acts, groups, and the places where it can be read in two ways."""

from __future__ import annotations

from enum import Enum

from tracker.diagnostics import NOWHERE, Span
from tracker.lazy_dataclass import dataclass


class Role(Enum):
    """What sort of thing an act is."""

    WORK = "work"
    CHAIN = "chain"
    SKIP = "skip"
    STEP = "step"


class Loop(Enum):
    """Which part of the base is taken up."""

    BOTH = ""
    BACK = "BLO"
    FRONT = "FLO"
    BACK_POST = "BP"
    FRONT_POST = "FP"


EVENLY = "evenly"
AT_BOTH_ENDS = "at both ends"
OPEN_PLACES = (EVENLY, AT_BOTH_ENDS)
"""The remarks of increases and decreases that the pattern tells the number of, and leaves to be set among the plain
stitches: "inc 6 evenly around", "dec 1 st at each end"."""


class Into(Enum):
    """What sort of place an act is worked into."""

    STITCH = "stitch"
    SPACE = "space"
    RING = "ring"
    CHAIN = "chain"
    SAME = "same"
    BETWEEN = "between"
    PART = "part"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Made:
    """Stitches of one kind made side by side, or one length of chain.

    `kind` is the US name. For a chain `count` is its length; `counts_as` is the stitch that a starting chain
    stands for, if it does.
    """

    kind: str
    count: int = 1
    counts_as: str = ""

    @property
    def is_chain(self) -> bool:
        return self.kind == "ch"

    @property
    def moves(self) -> int:
        return 1 if self.is_chain else self.count

    @property
    def stitches(self) -> int:
        if self.is_chain:
            return 1 if self.counts_as else 0
        return self.count


@dataclass(frozen=True, slots=True)
class Act:
    """The smallest instruction: what is made, over how many bases, and where.

    `name` is how a maker would call it: "sc", "inc", "dec", "shell", "ch", "sk", "join", "turn"...
    `span` points at the words it was read from, in the text of the round.
    """

    name: str
    role: Role
    makes: tuple[Made, ...] = ()
    takes: int = 0
    into: Into = Into.STITCH
    loop: Loop = Loop.BOTH
    colour: str = ""
    span: Span = NOWHERE
    remark: str = ""
    onto: str = ""
    """What the pattern calls the base, where that can be checked: "ch-3" for a space of three chains, "shell"."""

    @property
    def moves(self) -> int:
        return sum([made.moves for made in self.makes]) or 1

    @property
    def stitches(self) -> int:
        return sum([made.stitches for made in self.makes])

    @property
    def from_hook(self) -> int:
        """n for "nth chain from the hook"; 0 for any other place."""
        return int(self.remark.split()[1]) if self.remark.startswith("hook") else 0

    @property
    def is_increase(self) -> bool:
        return self.role is Role.WORK and 0 < self.takes < self.stitches

    @property
    def is_decrease(self) -> bool:
        return self.role is Role.WORK and self.takes > self.stitches


@dataclass(frozen=True, slots=True)
class Exactly:
    """A number of times."""

    count: int


@dataclass(frozen=True, slots=True)
class Rest:
    """As often as the bases that are there allow, leaving `leaving` of them ("to last 2 sts")."""

    leaving: int = 0


Times = Exactly | Rest


@dataclass(frozen=True, slots=True)
class Some:
    """One act, a number of times."""

    act: Act
    times: Times = Exactly(1)


@dataclass(frozen=True, slots=True)
class Group:
    """Items repeated together. `cut` is how many of the items at its end the last repeat leaves out."""

    body: tuple[Item, ...]
    times: Times
    span: Span = NOWHERE
    cut: int = 0


@dataclass(frozen=True, slots=True)
class Colour:
    """The yarn called `key` is in use from here on."""

    key: str
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True)
class Option:
    """One way to read some words. `why` tells it in a sentence when it is not the first that is taken.

    A `rescue` is considered only when nothing likelier agrees with the bases that are there.
    """

    body: tuple[Item, ...]
    why: str = ""
    rescue: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """Words with several readings, best first. The same words (`key`) are read the same way all through a line."""

    key: str
    options: tuple[Option, ...]


Item = Some | Group | Colour | Choice


@dataclass(frozen=True, slots=True)
class Stated:
    """The total that the pattern states for a round. Counts are None where it names none of that sort.

    `chains` is a number of chains named beside stitches ("23 tr + 3 ch"). `groups` holds totals of named things,
    as (name, count): (("shell", 7),). `sizes` are the stitch totals of several sizes, `stitches` the chosen one.
    """

    stitches: int | None = None
    spaces: int | None = None
    groups: tuple[tuple[str, int], ...] = ()
    span: Span = NOWHERE
    chains: int | None = None
    sizes: tuple[int, ...] = ()
    kinds: tuple[tuple[str, int], ...] = ()
    """The stitches by kind, where the total names kinds and no sum."""
    space_length: int = 0
    """The length of chain of the spaces that are counted, 0 if it is not told."""
    without_slips: bool = False
    """It says that slip stitches are not counted."""
