"""What a round leaves to be worked into (stitches, spaces by length, groups by name), and the way through it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Instruction, Spread
from tracker.rounds.plan import Act, Into, Node, Plan, Role, Run, Technique, runs, summed

ANY_GROUP = ("group", "groups")
"""What stitches that stand together are called where nobody named them, so that nobody counted them."""


@dataclass(frozen=True, slots=True)
class Base:
    """What is there to be worked into. `spaces` is None where it is not known how many chain spaces there are.

    `named` are the numbers of places by name, where the round below is known: ("ch-3", 8), ("shell", 6).
    """

    stitches: int
    spaces: int | None = None
    named: tuple[tuple[str, int], ...] = ()
    bridges: tuple[tuple[int, int], ...] = ()
    """The chains over openings that are among the stitches, as (length, how many)."""

    def opened(self, names: Iterable[str]) -> Base:
        """The same, with the chains over openings as the spaces that they are called by a round worked into them."""
        base = self
        for length, number in self.bridges:
            if f"ch-{length}" in names:
                named = (*base.named, (f"ch-{length}", number))
                base = Base(base.stitches - length * number, (base.spaces or 0) + number, named)
        return base

    def count(self, onto: str) -> int | None:
        """How many places of this name there are; None if that cannot be told."""
        if onto and self.named:
            return dict(self.named).get(onto, None if onto in ANY_GROUP else 0)
        return self.spaces

    def besides(self, onto: str) -> int | None:
        """How many bases "each st and each ..." adds: spaces of this name, or for "ch" every chain in them."""
        if onto != "ch":
            return self.count(onto)
        if self.spaces and not self.named:
            return None
        lengths = ((name.removeprefix("ch-"), number) for name, number in self.named if name.startswith("ch-"))
        return sum(int(length) * number for length, number in lengths)


def left_by(plan: Plan) -> Base:
    """What a round leaves: its stitches, its chain spaces by length, and its named groups."""
    named: dict[str, int] = {}
    for run, times in plan.runs():
        for name in _names(run.act):
            named[name] = named.get(name, 0) + times
    return Base(plan.leaves, plan.tally.spaces, tuple(named.items()), _bridges(plan))


def _bridges(plan: Plan) -> tuple[tuple[int, int], ...]:
    lengths: dict[int, int] = {}
    for node in plan.body:
        if isinstance(node, Run) and node.act.technique is Technique.BRIDGE:
            length = sum(made.count for made in node.act.makes)
            lengths[length] = lengths.get(length, 0) + node.times
    return tuple(lengths.items())


def _names(act: Act) -> Iterator[str]:
    """What the places that an act leaves are called; a group in one place has several names."""
    yield from (f"ch-{made.count}" for made in act.makes if made.is_chain and not made.counts_as)
    if act.role is Role.WORK:
        yield act.name
        if act.technique is Technique.IN_ONE:
            yield from _as_groups(act)


def _as_groups(act: Act) -> tuple[str, ...]:
    """What a group written out in one place is called when it is named later."""
    has_chains = any(made.is_chain for made in act.makes)
    return ("v-st",) if has_chains and act.stitches == 2 else ("shell", "fan")


# On the way through a round: what has been taken and made so far, and what is left.


class Unsolvable(Exception):
    """A reading has no numbers; carries why. Never leaves the resolving of a round."""

    def __init__(self, code: str, reason: str) -> None:
        super().__init__(reason)
        self.code = code
        self.reason = reason


@dataclass
class Walk:
    """What has been taken so far; `stitches` and `spaces` are what there is (None: not known).

    `total` and `hint` are what the pattern states, `foundation` the chains of the line's own, and `side` how many of
    them the second side does not have for itself. `touched` says that anything was worked into, `elsewhere` that it
    was another part. `went_round` says that something went to the end, `idle` that nothing was left for what was to
    go there after it. The rest is what `Solved` tells of the way.
    """

    base: Base | None
    total: int | None
    hint: int | None
    foundation: int
    side: int
    stitches: int | None
    spaces: int | None
    taken: int = 0
    spaces_taken: int = 0
    groups_taken: int = 0
    parts_taken: int = 0
    """Of what is `taken`, the places of other parts: they are no stitches of the row."""
    made: int = 0
    touched: bool = False
    elsewhere: bool = False
    both_sides: int | None = None
    """The most places on both sides of a row that somebody turned the end of; None if nobody did."""
    colour: str = ""
    went_round: bool = False
    idle: bool = False
    cut: bool = False
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    unset: tuple[Run, Spread] | None = None
    """Changes whose places among the plain stitches are to be found when the round is whole."""

    def placed(self, written: Instruction) -> Act:
        """What is done, with its colour, and with the base that "in same st" takes if nothing was worked into
        before."""
        takes, into, same_space = written.takes, written.into, written.same_space
        if written.role is Role.SKIP and into is Into.CHAIN and self.spaces and not self.foundation:
            takes = 0
        if into is Into.SAME and not self.touched and written.role is Role.WORK:
            takes, into, same_space = 1, Into.SPACE if same_space else Into.STITCH, False
        return Act(
            written.name,
            written.role,
            written.makes,
            takes,
            into,
            written.loop,
            "" if written.role is Role.STEP else self.colour,
            written.technique,
            written.onto,
            written.from_hook,
            same_space,
            written.over_first,
            written.length,
        )

    def turn_the_side(self) -> None:
        """The second side of a foundation chain has its bases for itself, less the shared ones at its ends."""
        if self.foundation:
            self.stitches = self.foundation + max(self.foundation - self.side, 0)
        else:
            if self.stitches is not None:
                self.both_sides = 2 * (self.stitches + 1)  # a chain has one more loop than it has stitches to work
            self.stitches = None
            self.assumed = True

    def work(self, act: Act, times: int) -> None:
        """Go on by an act, worked so often."""
        if act.from_hook and not self.foundation and not self.touched:
            self.taken += act.from_hook - 1
        if act.into is Into.SPACE and is_group_name(act.onto):
            self.groups_taken += act.takes * times
        elif act.into is Into.SPACE:
            self.spaces_taken += act.takes * times
        else:
            self.taken += act.takes * times
        self.made += act.stitches * times
        self.parts_taken += act.takes * times if act.into is Into.PART else 0
        self.elsewhere = self.elsewhere or act.into is Into.PART
        self.touched = self.touched or act.takes > 0 or act.into is Into.RING

    def begins_alike(self, start: Walk) -> bool:
        """Whether what was read from `start` on would come out the same if it were read from here."""
        return self.colour == start.colour and self.touched == start.touched

    def rewind(self, start: Walk) -> None:
        """Back to what had been taken and made at `start`."""
        self.taken, self.made = start.taken, start.made
        self.spaces_taken, self.groups_taken = start.spaces_taken, start.groups_taken
        self.parts_taken = start.parts_taken

    def advance(self, nodes: list[Node]) -> None:
        """Go on by what these nodes take and make."""
        tally = summed(node.tally for node in nodes)
        spaces, groups = off_the_row(tuple(nodes))
        self.taken += tally.takes - spaces - groups
        self.spaces_taken += spaces
        self.groups_taken += groups
        self.parts_taken += takes_beside(tuple(nodes)) - spaces - groups
        self.made += tally.stitches

    def unworked(self) -> int:
        """Bases left over. Stitches passed over on the way between spaces are not left over."""
        if self.stitches is None and self.both_sides is not None:
            return min(0, self.both_sides - (self.taken - self.parts_taken))
        if self.stitches is None or not (self.touched or self.taken):
            return 0
        if self.elsewhere and self.foundation:
            return 0
        if self.elsewhere:
            return min(0, self.stitches - (self.taken - self.parts_taken))
        if not self.spaces_taken and not self.groups_taken:
            return self.stitches - self.taken
        if self.taken > self.stitches:
            return self.stitches - self.taken
        return 0 if self.spaces is None else min(0, self.spaces - self.spaces_taken)


def off_the_row(body: tuple[Node, ...]) -> tuple[int, int]:
    """How many chain spaces and how many named groups these nodes are worked into, besides stitches."""
    spaces = groups = 0
    for run, times in runs(body):
        if run.act.into is Into.SPACE and is_group_name(run.act.onto):
            groups += run.act.takes * times
        elif run.act.into is Into.SPACE:
            spaces += run.act.takes * times
    return spaces, groups


def takes_beside(body: tuple[Node, ...]) -> int:
    """How many places these nodes are worked into that are no stitches of the row: spaces, and other parts."""
    return sum(run.act.takes * times for run, times in runs(body) if run.act.into in (Into.SPACE, Into.PART))


def is_group_name(onto: str) -> bool:
    """Whether a base is called a group such as "shell", and not a space of so many chains."""
    return bool(onto) and not onto.startswith("ch-")
