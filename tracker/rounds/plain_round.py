"""A round of plain stitches that comes out: its plan at once, where no other reading can be meant.

With its words taken as they are most likely meant it uses up the stitches that are there, and makes the total if one
is stated. That is the reading that `disambiguation` takes then, and `checks` finds nothing to tell of it.
"""

from __future__ import annotations

from tracker.identity_cache import remembered
from tracker.notation.ast import Choice, Exactly, Group, Instruction, Item, Line, Some, Stated, ToEnd
from tracker.rounds.bases import Base
from tracker.rounds.plan import MAX_STITCHES, Act, Into, Loop, Made, Node, Plan, Repeat, Role, Run, Technique


def plain_plan(line: Line, base: Base | None, stated: Stated | None) -> Plan | None:
    """The plan of a round over the stitches that are there; None where anything has to be weighed."""
    if base is None or base.bridges or line.problems or line.foundation is not None or not line.body:
        return None
    if stated is not None and not _is_number_alone(stated):
        return None
    way = _Way(base.stitches, has_total=stated is not None)
    nodes = way.nodes(line.body, top=True)
    if nodes is None or way.taken != base.stitches or (stated is not None and way.made != stated.stitches):
        return None
    return Plan(nodes) if max(way.taken, way.made) <= MAX_STITCHES else None


def _is_number_alone(stated: Stated) -> bool:
    """Whether a total is a number of stitches and tells nothing of how they are counted."""
    if stated.spaces is not None or stated.chains is not None or stated.without_slips or stated.change:
        return False
    return not (stated.groups or stated.kinds or stated.share or stated.changes)


class _Way:
    """How far plain stitches have come along those `bases`; `taken` and `made` count them."""

    def __init__(self, bases: int, *, has_total: bool) -> None:
        self.bases = bases
        self.has_total = has_total
        self.taken = 0
        self.made = 0

    def nodes(self, items: tuple[Item, ...], *, top: bool) -> tuple[Node, ...] | None:
        """What these items come to; None if they are not plain. `top` unless a group that is repeated holds them."""
        nodes: list[Node] = []
        for item in items:
            likeliest = self._likeliest(item) if isinstance(item, Choice) else item
            node: Node | None = None
            if isinstance(likeliest, Some):
                node = self._run(likeliest, is_last=top and item is items[-1])
            elif isinstance(likeliest, Group):
                node = self._repeat(likeliest)
            if node is None:
                return None
            nodes.append(node)
        return tuple(nodes)

    def _likeliest(self, choice: Choice) -> Item | None:
        """What is meant if that comes out: with a total whatever else could be, else where all else is unlikely."""
        likeliest, *others = choice.options
        is_sure = self.has_total or all(other.rescue for other in others)
        return likeliest.body[0] if is_sure and len(likeliest.body) == 1 else None

    def _run(self, item: Some, *, is_last: bool) -> Run | None:
        written = item.act
        if not _is_plain(written):
            return None
        if isinstance(item.times, Exactly):
            times, over = item.times.count, 0
        elif is_last and item.times == ToEnd():
            times, over = divmod(self.bases - self.taken, written.takes)
        else:
            return None
        if over or times < 1:
            return None
        self.taken += written.takes * times
        self.made += written.makes[0].count * times
        act = _act(written.makes, written.name, written.takes, written.loop, written.technique)
        return Run(act, times, written.span)

    def _repeat(self, item: Group) -> Repeat | None:
        if not isinstance(item.times, Exactly) or item.times.count < 1 or item.cut:
            return None
        taken, made, times = self.taken, self.made, item.times.count
        body = self.nodes(item.body, top=False)
        if not body:
            return None
        self.taken, self.made = taken + (self.taken - taken) * times, made + (self.made - made) * times
        return Repeat(body, times, item.span)


_PLAIN = (Technique.STITCH, Technique.INCREASE, Technique.DECREASE)


def _is_plain(act: Instruction) -> bool:
    """Whether it makes stitches of one kind into stitches of the round below, and nothing more is said of it."""
    if act.role is not Role.WORK or act.into is not Into.STITCH or act.technique not in _PLAIN:
        return False
    if act.onto or act.from_hook or act.same_space or act.over_first or act.length or act.leads_over or act.spread:
        return False
    if act.counts or act.slip_use or act.also_spaces or act.to_the_end or act.takes < 1 or len(act.makes) != 1:
        return False
    (made,) = act.makes
    return not (made.is_chain or made.counts_as or made.uncounted or made.legs)


@remembered
def _act(makes: tuple[Made, ...], name: str, takes: int, loop: Loop, technique: Technique) -> Act:
    """One for all the rounds that do the same."""
    return Act(name, Role.WORK, makes, takes, Into.STITCH, loop, technique=technique)
