"""The part of a round from a move on: up to the next boundary, and to its end in blocks, never stitch by stitch."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from tracker.lazy_dataclass import dataclass
from tracker.rounds.plan import Act, Node, Plan, Repeat, Role, Run

MOST_PHRASES = 6
"""More than this at once is not taken in at a glance."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Nodes worked one after another. `inside` moves of the first act of the first one (a run) are made already."""

    nodes: tuple[Node, ...]
    inside: int = 0

    @property
    def moves(self) -> int:
        return sum(node.moves for node in self.nodes) - self.inside

    @property
    def stitches(self) -> int:
        whole = sum(node.stitches for node in self.nodes)
        return whole - Plan(self.nodes).stitches_before(self.inside) if self.inside else whole

    def __add__(self, other: Stretch) -> Stretch:
        return Stretch(self.nodes + other.nodes, self.inside)


def up_to_boundary(plan: Plan, move: int) -> Stretch:
    """What is left of the group being worked; outside a group, of the run of equal stitches."""
    return _to_boundary(plan.body, move)


def coming_now(plan: Plan, move: int) -> Stretch:
    """What is told as "now" and done by one tap of a repeat: up to the boundary, and on to a stitch if there is none.

    A chain, a skip or a step before stitches goes along with them, as it does with a single stitch. What no stitch
    follows (a join, a turn) is a stretch of its own.
    """
    stretch = up_to_boundary(plan, move)
    while stretch.stitches == 0 and move + stretch.moves < plan.moves and len(stretch.nodes) < MOST_PHRASES:
        stretch += up_to_boundary(plan, move + stretch.moves)
    return stretch


def _to_boundary(body: tuple[Node, ...], move: int) -> Stretch:
    index, move = _node_of(body, move)
    if index == len(body):
        return Stretch(())
    node = body[index]
    if isinstance(node, Run):
        return _rest_of_run(node, move)
    inside = move % node.once.moves
    inner, within = _node_of(node.body, inside)
    first = node.body[inner]
    if isinstance(first, Repeat):
        return _to_boundary(node.body, inside)
    return _rest_of_run(first, within) + Stretch(node.body[inner + 1 :])


def _node_of(body: tuple[Node, ...], move: int) -> tuple[int, int]:
    """Which node a move lies in, and which of its moves it is."""
    for index, node in enumerate(body):
        if move < node.tally.moves:
            return index, move
        move -= node.tally.moves
    return len(body), 0


def _rest_of_run(run: Run, move: int) -> Stretch:
    done, inside = divmod(move, run.act.moves)
    return Stretch((replace(run, times=run.times - done),), inside)


def merged(nodes: tuple[Node, ...]) -> tuple[Node, ...]:
    """Neighbouring runs of the same act made one, wherever in the text they were read."""
    found: list[Node] = []
    for node in nodes:
        last = found[-1] if found else None
        if isinstance(node, Run) and isinstance(last, Run) and last.act == node.act:
            found[-1] = replace(last, times=last.times + node.times)
        else:
            found.append(node)
    return tuple(found)


def blocks(plan: Plan, move: int, whole: Callable[[Repeat], bool]) -> Iterator[Stretch]:
    """The rest of a round from a move on, run by run.

    A repeat of which `whole` is true comes as one block with all the times that are left; of any other, only the
    times being worked and one more are gone through: whoever asks has found there what makes it different.
    """
    yield from _blocks(plan.body, move, whole)


def _blocks(body: tuple[Node, ...], move: int, whole: Callable[[Repeat], bool]) -> Iterator[Stretch]:
    for node in body:
        if move >= node.tally.moves:
            move -= node.tally.moves
            continue
        if isinstance(node, Run):
            yield _rest_of_run(node, move)
        else:
            yield from _repeat_blocks(node, move, whole)
        move = 0


def _repeat_blocks(node: Repeat, move: int, whole: Callable[[Repeat], bool]) -> Iterator[Stretch]:
    done, inside = divmod(move, node.once.moves)
    if inside:
        yield from _blocks(node.body, inside, whole)
        done += 1
    left = node.times - done
    if left and whole(node):
        yield Stretch((Repeat(node.body, left),))
    elif left:
        yield from _blocks(node.body, 0, whole)


def is_making(act: Act) -> bool:
    """Whether yarn is worked up: a skip or a step has no colour."""
    return act.role in (Role.WORK, Role.CHAIN)
