"""What a round leaves to be worked into: stitches, chain spaces by length, groups by name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.lazy_dataclass import dataclass
from tracker.rounds.plan import Act, Plan, Role, Run, Technique


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
            return dict(self.named).get(onto, 0)
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
