"""What a written round says, before arithmetic: acts, groups, the places where it can be read in two ways; and the
line that says it, with its heading and its total.

Values only, so that whoever asks what a line says does not depend on how lines are read.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum

from tracker.diagnostics import NOWHERE, Lines, Problem, Severity, Span
from tracker.lazy_dataclass import dataclass, field, replace


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


class Technique(Enum):
    """What an act is in the words of the trade, whatever the pattern calls it."""

    # Stitches.
    STITCH = "stitch"
    INCREASE = "increase"
    DECREASE = "decrease"
    TOGETHER = "together"
    """A decrease that tells how many are closed as one: "sc3tog"."""
    GROUP = "group"
    """A named group: a shell, a bobble, what the pattern defines."""
    PICOT = "picot"
    IN_ONE = "in one"
    """Several stitches in one place, written out."""
    # Chains and what is passed over.
    CHAIN = "chain"
    """A length of chain; as a step it makes neither a stitch nor a space."""
    CHAIN_BELOW = "chain below"  # that the row below ended with, where it stands for the first stitch of this one
    FOUNDATION = "foundation"
    """A line that is nothing but a chain: each of its chains is there to be worked into."""
    BRIDGE = "bridge"  # a chain over an opening: each of its chains is there to be worked into
    SKIP = "skip"
    LEAVE = "leave"  # bases at the end of a round that are not worked
    SLIP_ACROSS = "slip across"  # slip stitches that only lead to where the round begins
    # Steps.
    JOIN = "join"
    JOIN_RING = "join ring"
    RING = "ring"
    TURN = "turn"
    TURN_AROUND = "turn around"  # the piece is turned about, which need not be the turn between two rows
    NO_TURN = "no turn"
    ROTATE = "rotate"
    OTHER_SIDE = "other side"
    FASTEN_OFF = "fasten off"
    MARK = "mark"  # a marker is put where the hands are
    OTHER = "other"

    __hash__ = object.__hash__  # there is one of each: what Enum computes from the name is slow in sets


@dataclass(frozen=True, slots=True)
class Counts:
    """Whether the pattern says of a chain that it counts as a stitch, which one ("" if it names none), and how many
    of its chains are a space besides: "counts as dc and ch 1"."""

    as_stitch: bool
    stitch: str = ""
    besides: int = 0


class SlipUse(Enum):
    """What a slip stitch goes into, from which the end of the line decides whether it only closes the round."""

    NOTHING_NAMED = "nothing named"
    INTO_FIRST = "into the first stitch"


class Spread(Enum):
    """How increases and decreases are set among the plain stitches, where the pattern tells only their number."""

    EVENLY = "evenly"
    AT_BOTH_ENDS = "at both ends"


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
    stands for, if it does. Of a bobble or the like `legs` tells what it is made of, as (stitch, how many), where that
    is written; it is one stitch all the same, and equal to one of which nothing is told.
    """

    kind: str
    count: int = 1
    counts_as: str = ""
    legs: tuple[str, int] | None = field(default=None, compare=False, repr=False)
    uncounted: bool = False
    """Nobody counts it, nor works into it: a slip stitch that the total leaves out."""

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
        return 0 if self.uncounted else self.count


@dataclass(frozen=True, slots=True)
class Instruction:
    """The smallest instruction as it is written: what is made, over how many bases, and where.

    `name` is how a maker would call it: "sc", "inc", "dec", "shell", "ch", "sk", "join", "turn"...
    `span` points at the words it was read from, in the text of the round. What follows `length` matters only until
    the whole line is known, and no plan holds it.
    """

    name: str
    role: Role
    makes: tuple[Made, ...] = ()
    takes: int = 0
    into: Into = Into.STITCH
    loop: Loop = Loop.BOTH
    technique: Technique = Technique.STITCH
    span: Span = NOWHERE
    onto: str = ""
    """What the pattern calls the base, where that can be checked: "ch-3" for a space of three chains, "shell"."""
    from_hook: int = 0
    """n for "nth chain from the hook"; 0 for any other place."""
    same_space: bool = False
    """The place just worked into is a space."""
    over_first: bool = False
    """It goes into the first stitch of the round, or passes over it."""
    length: int = 0
    """Of a chain that is a step: how many chains."""
    leads_over: int = 0
    """Of slip stitches as a step: over how many stitches they lead."""
    counts: Counts | None = None
    """What is said of this chain, or of the chains before this stitch."""
    slip_use: SlipUse | None = None
    spread: Spread | None = None
    also_spaces: bool = False
    """Spaces of the name `onto` are bases too."""
    to_the_end: bool = False
    """It names no count and no place, and is read as going to the end of the round."""

    @property
    def stitches(self) -> int:
        return sum([made.stitches for made in self.makes])

    @property
    def is_increase(self) -> bool:
        return self.role is Role.WORK and 0 < self.takes < self.stitches

    @property
    def is_decrease(self) -> bool:
        return self.role is Role.WORK and self.takes > self.stitches

    @property
    def is_slip_stitch(self) -> bool:
        return is_slip_stitch(self.makes, self.takes)

    @property
    def counts_as_stitch(self) -> bool | None:
        """Whether the pattern says of this chain, or of those before this stitch, that they count; None: nothing."""
        return self.counts.as_stitch if self.counts else None


SLIP_STITCH = "sl st"
CHAIN_BASE, LAYERS = "chain", "layers"
"""The kind of a chain that is there to be worked into like a stitch; what both halves of a flat round are called."""


def is_slip_stitch(makes: tuple[Made, ...], takes: int) -> bool:
    """Whether this is one slip stitch, and not several in one place or worked together."""
    return takes < 2 and len(makes) == 1 and makes[0].kind == SLIP_STITCH and makes[0].count == 1


@dataclass(frozen=True, slots=True)
class Exactly:
    """A number of times."""

    count: int


@dataclass(frozen=True, slots=True)
class ToEnd:
    """As often as the bases that are there allow, leaving `leaving` of them ("to last 2 sts"), which are called
    `onto` where they are no stitches; `to_corner` on one side of a piece with corners only, or up to a place `onto`,
    `in_one` in one group or space only ("in each dc of next shell")."""

    leaving: int = 0
    to_corner: bool = False
    in_one: bool = False
    onto: str = ""


Times = Exactly | ToEnd


@dataclass(frozen=True, slots=True)
class Some:
    """One act, a number of times."""

    act: Instruction
    times: Times = Exactly(1)


@dataclass(frozen=True, slots=True)
class Group:
    """Items repeated together. `cut` is how many of the items at its end the last repeat leaves out."""

    body: tuple[Item, ...]
    times: Times
    span: Span = NOWHERE
    cut: int = 0


NEXT_YARN = "next colour"
"""The key of a yarn that is said to come and not named: "change colour"."""


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


class ChoiceKind(Enum):
    """What it is that can be read in several ways."""

    OPENING = "opening"
    """Whether the chain at the start is a stitch."""
    CLOSING = "closing"
    """Whether the last slip stitch is one, or closes the round."""
    BRIDGE = "bridge"
    """Whether the chains over an opening count."""
    TRAVEL = "travel"
    """Whether the slip stitches at the start count."""
    START_MOVED = "start moved"
    """Whether the stitches before a marker are of the round, or lead to where it begins from now on."""
    BARE = "bare"
    """Whether a stitch without count and place is one, or goes to the end."""
    CHANGE_IN_LAST = "change in last"
    """Whether "change to B in last st" is one more stitch."""
    GROUP = "group"
    """How often a bracket with nothing behind it is worked."""
    STAR = "star"
    """How often what stands behind a star is worked."""
    REPEAT = "repeat"
    """Whether what is repeated was worked once already."""
    TIMES = "times"
    """What a number of times is about: the last item, or the line."""
    ENDING = "ending"
    """Whether an ending comes after the last repeat, or is how that ends."""
    ALONG_CHAIN = "along chain"
    """Whether what follows the first stitch on a chain of the round's own goes on along that chain."""
    EVERY = "every"
    """Whether the others are passed over in "every 4th"."""
    LAYERS = "layers"
    """Whether layers on top of each other are two halves of one round."""
    SPACE_BETWEEN = "space between"  # whether a space behind "in each st" is at the end, or between the stitches
    BEHIND = "behind"
    """Whether a skip behind a stitch that goes into a round below is of the place behind that one."""
    OTHERS = "others"
    """Whether "every other" is each second one, or all the others."""
    COUNT = "count"
    """What a count is about: "3 sc", "2 dec in next 4 sts"."""

    __hash__ = object.__hash__


@dataclass(frozen=True, slots=True)
class Choice:
    """Words with several readings, best first.

    `about` tells choices of one kind in a line from each other: where the words stand, or the words themselves if
    they are read the same way all through the line.
    """

    kind: ChoiceKind
    options: tuple[Option, ...]
    about: Span | str = NOWHERE

    @property
    def key(self) -> ChoiceKey:
        return self.kind, self.about


ChoiceKey = tuple[ChoiceKind, Span | str]


Item = Some | Group | Colour | Choice
Timed = Some | Group  # put together once, because that takes longer than to ask for both


@dataclass(frozen=True, slots=True)
class Stated:
    """The total that the pattern states for a round. Counts are None where it names none of that sort.

    `chains` is a number of chains named beside stitches ("23 tr + 3 ch"). `groups` holds totals of named things,
    as (name, count): (("shell", 7),). `sizes` are the stitch totals of several sizes, `stitches` the chosen one.
    `kinds` are those by kind, where no sum is named, `space_length` is the length of the spaces' chain (0: not told),
    `change` how many more stitches there are than before, `changes` are its increases and decreases as (name, count),
    `share` is what each side has and how many sides there are (0: not told), `without_slips` that no slip stitch is.
    """

    stitches: int | None = None
    spaces: int | None = None
    groups: tuple[tuple[str, int], ...] = ()
    span: Span = NOWHERE
    chains: int | None = None
    sizes: tuple[int, ...] = ()
    kinds: tuple[tuple[str, int], ...] = ()
    space_length: int = 0
    without_slips: bool = False
    change: int = 0
    changes: tuple[tuple[str, int], ...] = ()
    share: tuple[int, int] | None = None


def every_item(body: tuple[Item, ...]) -> Iterator[Item]:
    """All items, what groups hold and unlikely readings among them."""
    for item in body:
        yield item
        inner = [item] if isinstance(item, Group) else item.options if isinstance(item, Choice) else ()
        for each in inner:
            yield from every_item(each.body)


def every_act(body: tuple[Item, ...]) -> Iterator[Instruction]:
    return (item.act for item in every_item(body) if isinstance(item, Some))


def every_colour(body: tuple[Item, ...]) -> Iterator[Colour]:
    return (item for item in every_item(body) if isinstance(item, Colour))


def acts(body: tuple[Item, ...]) -> list[Instruction]:
    """All acts of the first readings, in order."""
    instructions: list[Instruction] = []
    for item in body:
        if isinstance(item, Some):
            instructions.append(item.act)
        elif isinstance(item, Group | Choice):
            instructions.extend(acts(item.body if isinstance(item, Group) else item.options[0].body))
    return instructions


@dataclass(frozen=True, slots=True)
class Heading:
    """`numbers` are the rounds that the line is for, in order; empty for "Next rnd" or no heading.

    `first` to `last` is the range as written, which may run backwards; `is_open`: it goes on, "Rnd 5+". `end`
    is where the instructions start. `rounds_ahead` is n for "Next n rounds", `ahead_by_size` that for each size, and
    `by_size` the numbers of "Rows 3-10 (3-12, 3-14)". `fills` is "odd" or "even" where the line is for all rounds of
    that sort without a line. `bracketed` are the columns of 30 in "Rnd 5 (30):", a total or the other size's number.
    """

    end: int
    numbers: tuple[int, ...] = ()
    first: int | None = None
    last: int | None = None
    is_row: bool = False
    is_next: bool = False
    is_open: bool = False
    rounds_ahead: int = 0
    ahead_by_size: tuple[int, ...] = ()
    by_size: tuple[tuple[int, ...], ...] = ()
    fills: str = ""
    span: tuple[int, int] = (0, 0)
    bracketed: tuple[int, ...] = ()

    @property
    def begins_round(self) -> bool:
        """Whether it says which rounds the line is for, "Next rnd" included."""
        return bool(self.numbers) or self.is_next or bool(self.fills)

    def for_size(self, size: int) -> Heading:
        """The heading for one of several sizes, from 0; for the last one if it has not as many."""
        if self.ahead_by_size:
            return replace(self, rounds_ahead=self.ahead_by_size[min(size, len(self.ahead_by_size) - 1)])
        if self.by_size and size:
            numbers = self.by_size[min(size, len(self.by_size) - 1)]
            return replace(self, numbers=numbers, first=numbers[0], last=numbers[-1])
        return self


@dataclass(frozen=True, slots=True)
class Reference:
    """ "Rep Rnds 5-6": rounds named again. `last` n is "the last n rounds"; `times` as often; `rounds` "for n more
    rounds", `until` n "until there are n rounds", `stitches` "until there are n sts", `gains` "6 more a time"; 0 if
    not told. `onward`: each a little more or less than the one before. `change` is what is other this time, "in back
    loops", `gap` what stands between changes; with `by_eye` the maker tells how often, "until piece measures 5 cm".
    `lead` is what is done before, a join, another yarn, `worked` in their place."""

    numbers: tuple[int, ...] = ()
    last: int = 0
    times: int = 1
    rounds: int = 0
    until: int = 0
    stitches: int = 0
    onward: bool = False
    change: str = ""
    by_eye: str = ""
    lead: tuple[Item, ...] = ()
    worked: str = ""
    gap: int | None = None
    gains: int = 0


@dataclass(frozen=True, slots=True)
class Foundation:
    """A chain that the line makes for itself. `bases` of its chains can be worked into (0 when it is only a ring)."""

    chains: int
    bases: int
    ring: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """What one line says. `body` is empty when the line only refers to rounds or could not be read; `chains_count` is
    what the pattern says of chains that rows begin on; `groups` are those named where written out, "(shell made)"."""

    text: str
    heading: Heading
    body: tuple[Item, ...] = ()
    stated: tuple[Stated, ...] = ()
    rounds: int | None = None
    reference: Reference | None = None
    worked_into: int | None = None
    passing: str = ""
    foundation: Foundation | None = None
    remarks: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    words: int = 0
    chains_count: tuple[tuple[int, bool | None], ...] = ()
    groups: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()

    @property
    def is_readable(self) -> bool:
        return not any(problem.severity is Severity.ERROR for problem in self.problems)

    @property
    def instruction(self) -> Span:
        """Where it says what to do: the row of the text where its heading ends, from there on."""
        return Lines(self.text).span(self.heading.end, f"{self.text}\n".index("\n", self.heading.end))

    @property
    def turns(self) -> bool:
        return any(act.technique is Technique.TURN for act in acts(self.body))
