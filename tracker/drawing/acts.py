"""A round as the acts that are drawn, one after the other, as many as asked for and no more."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import CHAIN_BASE, Into
from tracker.rounds.plan import Act, Made, Node, Plan, Role, Run, Technique

MOST_TAKEN = 40
"""One stitch is drawn over at most so many places."""


@dataclass(frozen=True, slots=True)
class PlacedAct:
    """One act, where it stands and the yarn it is made with.

    `single` says that it stands outside every repeat and is not itself repeated, as a starting chain does.
    """

    act: Act
    colour: str
    single: bool


def worked(plan: Plan, colour: str, most: int) -> Iterator[PlacedAct]:
    """The acts of a round in order, `colour` in use at its first, up to `most` moves; a longer act is cut."""
    move = 0
    for act, single in _acts(plan.body, True):
        if move >= most:
            return
        colour = act.colour or colour
        yield PlacedAct(_cut(act, most - move), colour, single)
        move += act.moves


def _cut(act: Act, most: int) -> Act:
    """At most so many moves of an act, over at most so many places."""
    if act.moves <= most and act.takes <= MOST_TAKEN:
        return act
    makes: list[Made] = []
    for made in act.makes:
        room = most - sum(each.moves for each in makes)
        if room > 0:
            makes.append(made if made.moves <= room else replace(made, count=room))
    return replace(act, makes=tuple(makes), takes=min(act.takes, MOST_TAKEN))


def _acts(body: tuple[Node, ...], outside: bool) -> Iterator[tuple[Act, bool]]:
    for node in body:
        if isinstance(node, Run):
            single = outside and node.times == 1
            for _ in range(node.times):
                yield node.act, single
        elif node.tally.moves:
            for _ in range(node.times):
                yield from _acts(node.body, outside and node.times == 1)


def colour_at(plan: Plan, move: int, colour: str) -> str:
    """The yarn that move number `move` (from 0) is made with, `colour` being in use at the first.

    Costs as much as the text of the round is long, however many stitches it has.
    """
    changed_colour = _colour_until(plan.body, move)
    return changed_colour or colour


def _colour_until(body: tuple[Node, ...], move: int) -> str:
    """The last colour named up to and with this move; "" if none is."""
    colour = ""
    for node in body:
        if move < 0:
            break
        colour = _colour_of_node(node, move) or colour
        move -= node.tally.moves
    return colour


def _colour_of_node(node: Node, move: int) -> str:
    if isinstance(node, Run):
        return node.act.colour if node.times else ""
    if not node.once.moves or not node.times:
        return ""
    index, inside = divmod(move, node.once.moves)
    if index >= node.times:
        return _last_colour(node.body)
    colour = _colour_until(node.body, inside)
    return colour or (_last_colour(node.body) if index else "")


def _last_colour(body: tuple[Node, ...]) -> str:
    for node in reversed(body):
        colour = node.act.colour if isinstance(node, Run) else _last_colour(node.body)
        if colour:
            return colour
    return ""


def chain_before(plan: Plan | None) -> int:
    """The length of a foundation chain that has a line of its own above the first round; 0 if this is none."""
    acts = list(plan.acts()) if plan is not None else []
    made = [made for act in acts for made in act.makes]
    return sum(each.count for each in made) if made and all(each.kind == CHAIN_BASE for each in made) else 0


def foundation(length: int) -> PlacedAct:
    """A foundation chain as the first act of the round that is worked into it."""
    return PlacedAct(Act("ch", Role.CHAIN, (Made("ch", length),), 0, Into.NOTHING), "", True)


def closing() -> PlacedAct:
    """The joining of a foundation chain to a ring."""
    return PlacedAct(Act("join", Role.STEP, (), 0, Into.NOTHING, technique=Technique.JOIN_RING), "", True)


def is_chain_alone(act: Act) -> bool:
    """A length of chain and nothing else."""
    return bool(act.makes) and all(made.is_chain for made in act.makes) and act.role is not Role.SKIP


def chain_step(act: Act) -> int:
    """The length of a chain that makes neither a stitch nor a space, as a turning chain does; 0 if it is none."""
    return act.length
