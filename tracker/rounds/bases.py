"""What a round leaves: stitches, spaces by length, groups by name; and whether its total counts them so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, field
from tracker.notation.ast import LAYERS, Instruction, Item, acts
from tracker.notation.bunches import PICOT
from tracker.notation.instructions import CORNER, KIND, OF_CHAINS, PETAL, WITHIN, is_at_corner
from tracker.rounds.plan import Act, Into, Made, Node, Plan, Role, Run, Technique, runs

ALONE = "only "
"""Stands before the kind of those stitches that a round goes into, past all others: "only dc"."""

ANY_GROUP = "group"
"""What stitches that stand together are called where nobody named them; "3-group" tells how many stand together."""


FEWEST_SIDES, MOST_SIDES = 3, 12
"""Of a piece with corners: from a triangle to a star (common practice, no source)."""


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
    plan: Plan | None = field(default=None, compare=False, repr=False)
    """The round below, where it is known: it tells in which order its places lie."""

    def opened(self, names: Iterable[str]) -> Base:
        """The same, with the chains over openings as the spaces that they are called by a round worked into them; by
        no length, "ch sp", if there are no other spaces."""
        base = self
        for length, number in self.bridges:
            if f"ch-{length}" in names or ("" in names and not self.spaces):
                named = (*base.named, (f"ch-{length}", number))
                base = Base(base.stitches - length * number, (base.spaces or 0) + number, named)
        return base

    def count(self, onto: str) -> int | None:
        """How many places of this name there are; None if that cannot be told."""
        if is_at_corner(onto):
            return self.corners if self.spaces else None
        onto = onto.rpartition(WITHIN)[2]
        if onto and self.named:
            return dict(self.named).get(onto, None if is_any_group(onto) else 0)
        return self.spaces

    @property
    def corners(self) -> int | None:
        """At how many places the round goes about a corner: where its longest chains are, or where it says so; None
        if that cannot be told."""
        number = dict(self.named).get(self.corner_name, 0)
        return number if FEWEST_SIDES <= number <= MOST_SIDES else None

    @property
    def corner_name(self) -> str:
        """What the spaces at the corners are called by their length."""
        lengths = [int(name[3:]) for name, _ in self.named if name.startswith("ch-")]
        return f"ch-{max(lengths)}" if lengths else CORNER

    def besides(self, onto: str) -> int | None:
        """How many bases "each st and each ..." adds: spaces of this name, or for "ch" every chain in them."""
        if not is_each_chain(onto):
            return self.count(onto)
        if self.spaces and not self.named:
            return None
        lengths = ((name.removeprefix("ch-"), number) for name, number in self.named if name.startswith("ch-"))
        return sum(int(length) * number for length, number in lengths)


def is_closed_chain(plan: Plan) -> bool:
    """Whether a round is a chain and nothing on it, which it closes to a ring."""
    techniques = {act.technique for act in plan.acts()}
    return Technique.FOUNDATION in techniques and techniques <= _OF_A_RING and bool(techniques & _CLOSES)


_CLOSES = frozenset((Technique.JOIN, Technique.JOIN_RING, Technique.RING))
_OF_A_RING = _CLOSES | {Technique.FOUNDATION, Technique.MARK, Technique.OTHER}


@remembered
def chain_at_end(plan: Plan) -> int:
    """How many chains a round ends with behind its last stitch and its join, "ch 3, turn"; 0 if with none."""
    for node in reversed(plan.body):
        if not isinstance(node, Run) or node.act.technique not in _BEHIND_CHAIN:
            return 0
        if node.act.technique is Technique.CHAIN:
            return node.act.length
    return 0


_BEHIND_CHAIN = (Technique.CHAIN, Technique.TURN, Technique.NO_TURN, Technique.MARK)


def left_by(plan: Plan) -> Base:
    """What a round leaves: its stitches, its chain spaces by length, and its named groups."""
    named: dict[str, int] = {}
    for run, times in plan.runs():
        for name in _names(run.act):
            named[name] = named.get(name, 0) + times
    for size, times in standing_together(plan):
        for name in (ANY_GROUP, f"{size}-{ANY_GROUP}") if size < plan.leaves else ():  # none is the whole round
            named[name] = named.get(name, 0) + times
    return Base(plan.leaves, plan.tally.spaces, tuple(named.items()), _bridges(plan), plan)


def _bridges(plan: Plan) -> tuple[tuple[int, int], ...]:
    lengths: dict[int, int] = {}
    for node in plan.body:
        if isinstance(node, Run) and node.act.technique is Technique.BRIDGE:
            length = sum(made.count for made in node.act.makes)
            lengths[length] = lengths.get(length, 0) + node.times
    return tuple(lengths.items())


@remembered
def _names(act: Act) -> tuple[str, ...]:
    """What the places that an act leaves are called; a group in one place has several names."""
    names = [f"ch-{made.count}" for made in act.makes if made.is_chain and not made.counts_as]
    if act.role is Role.WORK:
        names.append(act.name)
        if is_at_corner(act.onto):
            names.append(CORNER)
        if act.technique is Technique.IN_ONE:
            names += _as_groups(act)
            names += [PICOT for made in act.makes if stands_up(made)]
    return tuple(names)


LONGEST_PICOT = 5
"""Chains of the longest picot (common practice, no source); a longer one between stitches is a loop or a corner."""


def stands_up(made: Made) -> bool:
    """Whether a chain between stitches in one place may be called a picot, "(6 sc, ch 3, 6 sc) in each loop"."""
    # Two chains are the space of a corner or of a V.
    return made.is_chain and not made.counts_as and 2 < made.count <= LONGEST_PICOT


def standing_together(plan: Plan) -> Iterator[tuple[int, int]]:
    """The stitches that stand together in one place, as (how many, how often), chains between them parting them; a
    starting chain stands with those that follow it in the same place."""
    started = False
    for run, times in plan.runs():
        act = run.act
        if act.role is not Role.WORK:
            started = started or (act.role is Role.CHAIN and act.stitches > 0)
            continue
        if act.into is Into.RING or act.into is Into.SAME:
            first, *others = _sizes(act, run.times)
            sizes, often = (first + started, *others), times // run.times
        else:
            sizes, often = _sizes(act, 1), times
        started = False
        yield from ((size, often) for size in sizes if size > 1)


@remembered
def _sizes(act: Act, together: int) -> tuple[int, ...]:
    """How many stitches stand in a place that an act is worked into so often, from chain to chain."""
    sizes = [0]
    for made in act.makes:
        if made.is_chain and not made.counts_as:
            sizes.append(0)
        else:
            sizes[-1] += made.stitches * (together if len(act.makes) == 1 else 1)
    return tuple(sizes)


def kinds_of(made: Made, act: Act) -> set[str]:
    """What a stitch that this act makes may be called: by its kind, by the act if it is all of that."""
    kinds = {made.counts_as or made.kind}
    if act.stitches == 1:
        kinds.add(act.name)
    return kinds | {"cluster"} if act.technique is Technique.TOGETHER else kinds


def lies_under_chains(plan: Plan) -> bool:
    """Whether a chain is made for each place of one kind alone that is gone to past other stitches."""
    going = (run.act.takes * times for run, times in plan.runs() if run.act.role is Role.WORK and _is_alone(run.act))
    return 0 < sum(going) <= plan.tally.spaces


def _is_alone(act: Act | Instruction) -> bool:
    return act.onto.startswith(ALONE)


def _as_groups(act: Act) -> tuple[str, ...]:
    """What a group written out in one place is called when it is named later."""
    has_chains = any(made.is_chain for made in act.makes)
    return ("v-st",) if has_chains and act.stitches == 2 else ("shell", "fan", PETAL)


def goes_into_every_space(plan: Plan | None, base: Base | None) -> bool:
    """Whether no space is left out: a round of loops goes into each (common practice, no source)."""
    if base is None or not base.spaces or plan is None:
        return False
    return off_the_row(plan.body)[0] == base.spaces


def off_the_row(body: tuple[Node, ...]) -> tuple[int, int]:
    """How many chain spaces and how many named groups these nodes are worked into, besides stitches."""
    spaces = groups = 0
    for run, times in runs(body):
        if is_on_a_group(run.act):
            groups += run.act.takes * times
        elif run.act.into is Into.SPACE:
            spaces += run.act.takes * times
    return spaces, groups


def takes_beside(body: tuple[Node, ...]) -> int:
    """How many places these nodes are worked into that are no stitches of the row: spaces, and other parts."""
    beside = (Into.SPACE, Into.PART)
    return sum(run.act.takes * times for run, times in runs(body) if run.act.into in beside or is_on_a_group(run.act))


def is_off_the_row(body: tuple[Item, ...]) -> bool:
    """Whether these items go into spaces or groups, or along the chains or stitches of one."""
    return any(_is_off_the_row(act) for act in acts(body))


def _is_off_the_row(act: Instruction) -> bool:
    if act.into in (Into.SPACE, Into.BETWEEN) or act.also_spaces:
        return True
    if _is_alone(act):
        return True
    in_one = act.into is Into.CHAIN or (act.into is Into.STITCH and is_group_name(act.onto))
    return in_one and act.takes > 0 and bool(act.onto)


def is_each_chain(onto: str) -> bool:
    """Whether a base is called by the chains of the loops, and each of them is one."""
    return onto == "ch" or onto.startswith(OF_CHAINS)


def is_on_a_group(act: Act | Instruction) -> bool:
    """Whether an act is worked into a group, or between two groups: as many places as there are groups."""
    return act.into in (Into.SPACE, Into.BETWEEN) and is_group_name(act.onto)


def is_any_group(onto: str) -> bool:
    """Whether stitches that stand together are called by that alone."""
    return onto.endswith(ANY_GROUP)


def is_group_name(onto: str) -> bool:
    """Whether a base is called a group such as "shell", or is in one, and not a space of so many chains or at a
    corner."""
    return WITHIN in onto or (bool(onto) and not onto.startswith(_NO_GROUPS) and not is_at_corner(onto))


_NO_GROUPS = ("ch-", KIND, ALONE, LAYERS)
