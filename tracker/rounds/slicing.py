"""Cutting a round at a move or where its bases end, and sums over its first moves, both by arithmetic on the tree.

A cut unrolls only the repeats that it goes through, so that the parts are as small as the text.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

from tracker.lazy_dataclass import dataclass, replace
from tracker.rounds.plan import Act, Node, Plan, Repeat, Role, Run

Key = TypeVar("Key", bound=Hashable)


def cut(body: tuple[Node, ...], move: int) -> tuple[tuple[Node, ...], tuple[Node, ...]]:
    """What the first `move` moves make, and the rest. A cut inside an act (between the two stitches of an
    increase) is refused with ValueError."""
    before: list[Node] = []
    for index, node in enumerate(body):
        moves = node.tally.moves
        if move >= moves:
            before.append(node)
            move -= moves
            continue
        if move == 0:
            return tuple(before), body[index:]
        left, right = _cut_run(node, move) if isinstance(node, Run) else _cut_repeat(node, move)
        return (*before, *left), (*right, *body[index + 1 :])
    return tuple(before), ()


def _cut_run(run: Run, move: int) -> tuple[tuple[Node, ...], tuple[Node, ...]]:
    acts, inside = divmod(move, run.act.moves)
    if inside:
        raise ValueError(f"the cut goes through the middle of '{run.act.name}'")
    return (replace(run, times=acts),), (replace(run, times=run.times - acts),)


def _cut_repeat(repeat: Repeat, move: int) -> tuple[tuple[Node, ...], tuple[Node, ...]]:
    turns, inside = divmod(move, repeat.once.moves)
    if not inside:
        return turned(repeat.body, turns), turned(repeat.body, repeat.times - turns)
    left, right = cut(repeat.body, inside)
    return (*turned(repeat.body, turns), *left), (*right, *turned(repeat.body, repeat.times - turns - 1))


def first_takes(body: tuple[Node, ...], bases: int) -> list[Node]:
    """As much of a body, from its start, as goes into so many bases."""
    nodes: list[Node] = []
    for node in body:
        takes = node.tally.takes
        if takes <= bases:
            nodes.append(node)
            bases -= takes
            continue
        if isinstance(node, Run) and node.act.takes:
            times = bases // node.act.takes
            if times:
                nodes.append(Run(node.act, times, node.span))
        elif isinstance(node, Repeat) and node.once.takes:
            times, over = divmod(bases, node.once.takes)
            if times:
                nodes.append(replace(node, times=times))
            nodes.extend(first_takes(node.body, over))
        break
    return nodes


def turned(body: tuple[Node, ...], times: int) -> tuple[Node, ...]:
    """The group `times` over, without a bracket where none is needed."""
    if times == 0:
        return ()
    return body if times == 1 else (Repeat(body, times),)


def act_bounds(plan: Plan, move: int) -> tuple[int, int]:
    """The first move of the act that `move` belongs to, and the move after its last."""
    spot = plan.spot(move)
    if spot is None:
        return plan.moves, plan.moves
    start = move - spot.in_act
    return start, start + spot.act.moves


@dataclass(frozen=True)
class PlanSlice:
    """The smallest part of a round that has a name of its own: one time through a group, or one run outside.

    A group that holds groups is named by its parts. `until` is the move after its last.
    """

    start: int
    until: int
    in_group: bool


def stretch_at(plan: Plan, move: int) -> PlanSlice:
    """The stretch that this move lies in."""
    if not 0 <= move < plan.moves:
        raise ValueError(f"the round has no move {move}")
    return _stretch(plan.body, move, 0)


def _stretch(body: tuple[Node, ...], move: int, offset: int) -> PlanSlice:
    for node in body:
        moves = node.tally.moves
        if move >= moves:
            move -= moves
            offset += moves
            continue
        if isinstance(node, Run):
            return PlanSlice(offset, offset + moves, False)
        turn, inside = divmod(move, node.once.moves)
        start = offset + turn * node.once.moves
        if any(isinstance(part, Repeat) for part in node.body):
            return _stretch(node.body, inside, start)
        return PlanSlice(start, start + node.once.moves, True)
    raise AssertionError("the move lies inside the round")


@dataclass(frozen=True, slots=True)
class SumSoFar(Generic[Key]):
    """Sums over the acts that are whole, and the act that is half made, if the move is inside one."""

    sums: dict[Key, float]
    partial: Act | None = None
    inside: int = 0


class Ledger(Generic[Key]):
    """Prefix sums of anything that each act counts for, so that "how much up to here" costs the depth of the tree.

    `measure` gives what one act counts for; its values must not change from call to call.
    """

    def __init__(self, body: tuple[Node, ...], measure: Callable[[Act], dict[Key, float]]) -> None:
        self.moves = 0
        self.total: dict[Key, float] = {}
        self._nodes = body
        self._inner: list[Ledger[Key] | dict[Key, float]] = []
        self._starts: list[int] = []
        self._sums: list[dict[Key, float]] = []
        for node in body:
            inner = measure(node.act) if isinstance(node, Run) else Ledger(node.body, measure)
            self._inner.append(inner)
            self._starts.append(self.moves)
            self._sums.append(dict(self.total))
            self.moves += node.tally.moves
            _add(self.total, inner.total if isinstance(inner, Ledger) else inner, node.times)

    def before(self, move: int) -> SumSoFar[Key]:
        """The sums over the first `move` moves."""
        if move >= self.moves:
            return SumSoFar(dict(self.total))
        index = bisect_right(self._starts, move) - 1
        node, inner, sums = self._nodes[index], self._inner[index], dict(self._sums[index])
        move -= self._starts[index]
        if isinstance(node, Run):
            assert isinstance(inner, dict)
            acts, inside = divmod(move, node.act.moves)
            _add(sums, inner, acts)
            return SumSoFar(sums, node.act if inside else None, inside)
        assert isinstance(inner, Ledger)
        turns, inside = divmod(move, inner.moves)
        _add(sums, inner.total, turns)
        part = inner.before(inside)
        _add(sums, part.sums, 1)
        return SumSoFar(sums, part.partial, part.inside)


def _add(total: dict[Key, float], more: dict[Key, float], times: int) -> None:
    for key, value in more.items():
        total[key] = total.get(key, 0.0) + value * times


def falls_on_first(body: tuple[Node, ...], over: int, begun_with: str) -> int:
    """Which node of a last repeat falls on the first stitch of a round that is joined, where `over` bases are left:
    "sc in same st, *ch 3, sk 1, sc in next st; rep from * around, join"; 0 if none does.

    That it is left out goes without saying where what is before it passes over stitches, and where it is like the
    first one (common practice, no source).
    """
    takers = [index for index, node in enumerate(body) if node.tally.takes]
    if len(takers) < 2 or not begun_with:
        return 0
    passed, last = (body[index] for index in takers[-2:])
    if not (isinstance(passed, Run) and passed.act.role is Role.SKIP and isinstance(last, Run)):
        return 0
    is_alike = last.tally.takes == 1 and begun_with in last.act.kinds
    return takers[-1] if is_alike and over == sum(body[index].tally.takes for index in takers[:-1]) else 0
