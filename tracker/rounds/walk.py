"""The way along the stitches of the round below: what has been taken and made so far, and what is left there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Instruction, Into, Role, Spread
from tracker.notation.instructions import FIRST_CORNER, KIND, SKIPPED
from tracker.rounds.bases import Base, is_closed_chain, is_on_a_group, off_the_row, takes_beside
from tracker.rounds.edge import STITCH
from tracker.rounds.plan import Act, Node, Run, summed

if TYPE_CHECKING:
    from tracker.rounds.lace import Advance


class Unsolvable(Exception):
    """A reading has no numbers; carries why. Never leaves the resolving of a round."""

    def __init__(self, code: str, reason: str) -> None:
        super().__init__(reason)
        self.code = code
        self.reason = reason


@remembered
def _act(written: Instruction, colour: str) -> Act:
    """What is done as it is written: the same for all readings of a line, which have its instructions in common."""
    return Act(**{name: getattr(written, name) for name in _AS_WRITTEN}, colour=colour)


_AS_WRITTEN = tuple(name for name in Act.__match_args__ if name != "colour")


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
    begun: bool = False
    """The first stitch took a base of its own because it was the first: worked again it takes none."""
    elsewhere: bool = False
    both_sides: int | None = None
    """The most places on both sides of a row that somebody turned the end of; None if nobody did."""
    colour: str = ""
    went_round: bool = False
    idle: bool = False
    cut: bool = False
    closed: str = ""
    begun_with: str = ""
    """The kind of the first stitch that was made, a chain that stands for one among them."""
    assumed: bool = False
    from_total: bool = False
    spaces_from_total: bool = False
    along: Advance | None = None
    """How far it has come along the edge below, where it goes into places whose order is known."""
    into_each_stitch: bool = False
    """What goes to the end alone goes into each stitch along the edge, so that none is left behind it."""
    lead: Act | None = None
    """The slip stitches that led to where the round begins."""
    left_out: tuple[Run, ...] = ()
    """What lies behind the stitches that alone are worked on, as far as it is known."""
    unset: tuple[Run, Spread] | None = None
    """Changes whose places among the plain stitches are to be found when the round is whole."""

    def placed(self, written: Instruction) -> Act:
        """What is done, with its colour, and with the base that "in same st" takes if nothing was worked into
        before."""
        takes, into, same_space = written.takes, written.into, written.same_space
        onto = "" if written.onto.startswith(KIND) or (written.onto == SKIPPED and not self.touched) else written.onto
        if written.role is Role.SKIP and into is Into.CHAIN and self.spaces and not self.foundation:
            takes = 0
        if into is Into.SAME and not self.touched and written.role is Role.WORK:
            if self.along is not None and same_space and self.lead is None and not self.along.at:
                self.along = self.along.in_last_loop()
            in_space = same_space or (self.lead is not None and is_on_a_group(self.lead))
            takes, into, same_space = 1, Into.SPACE if in_space else Into.STITCH, False
            self.begun = True
        if self.lead is not None and not self.touched and into in (Into.SPACE, Into.BETWEEN) and not onto:
            into, onto = self.lead.into, self.lead.onto
        if onto == FIRST_CORNER and self.along is not None and self.along.is_back_at_corner:
            takes = 0  # it was gone into when the round began
        act = _act(written, "" if written.role is Role.STEP else self.colour)
        if (takes, into, onto, same_space) == (act.takes, act.into, act.onto, act.same_space):
            return act
        return replace(act, takes=takes, into=into, onto=onto, same_space=same_space)

    def work_only_on(self, number: int, leave: Act) -> None:
        """Of the stitches ahead so many are there for this round, and the others are left."""
        if self.along is not None:
            raise Unsolvable("base-unknown", "it is not known how far so many stitches go along this edge")
        all_of_them, self.stitches = self.stitches, self.taken + number
        if all_of_them is not None and all_of_them > self.stitches:
            self.left_out = (Run(leave, all_of_them - self.stitches),)
        elif all_of_them is not None:
            self.stitches = all_of_them

    def turn_the_side(self) -> None:
        """The second side of a foundation chain has its bases for itself, less the shared ones at its ends."""
        if self.foundation:
            self.stitches = self.foundation + max(self.foundation - self.side, 0)
        else:
            if self.stitches is not None:
                self.both_sides = 2 * (self.stitches + 1)  # a chain has one more loop than it has stitches to work
            self.stitches = None
            self.assumed = True

    def work(self, act: Act, times: int, place: str = "") -> None:
        """Go on by an act, worked so often, into what is called `place` on the edge below."""
        if self.along is not None:
            self.along = self.along.done(act, place, times)
        if act.from_hook and not self.foundation and not self.touched:
            self.taken += act.from_hook - 1
        if is_on_a_group(act):
            self.groups_taken += act.takes * times
        elif act.into is Into.SPACE:
            self.spaces_taken += act.takes * times
        else:
            self.taken += act.takes * times
        self.made += act.stitches * times
        if not self.begun_with and act.stitches:
            self.begun_with = act.kinds[0]
        self.parts_taken += act.takes * times if act.into is Into.PART else 0
        self.elsewhere = self.elsewhere or act.into is Into.PART
        self.touched = self.touched or act.takes > 0 or act.into is Into.RING

    def copy(self) -> Walk:
        return replace(self)

    def restore(self, state: Walk) -> None:
        vars(self).update(vars(state))

    def begins_alike(self, start: Walk) -> bool:
        """Whether what was read from `start` on would come out the same if it were read from here."""
        return self.colour == start.colour and self.begun == start.begun

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

    @property
    def _fills_ring(self) -> bool:
        """Whether all is worked into the ring that the chain below was closed to, and nothing into its chains."""
        below = self.base.plan if self.base is not None and not self.taken else None
        return below is not None and is_closed_chain(below)

    def unworked(self) -> int:
        """Bases left over. Stitches passed over on the way between spaces are not left over."""
        if self.along is not None:
            left = self.along.left(STITCH, self.along.end) if self.into_each_stitch else 0
            return -self.along.short or left
        if self.stitches is None and self.both_sides is not None:
            return min(0, self.both_sides - (self.taken - self.parts_taken))
        if self.stitches is None or not (self.touched or self.taken) or self._fills_ring:
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
