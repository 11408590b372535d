"""The part of a round from a move on: up to the next boundary, and to its end in blocks, never stitch by stitch."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from tracker.lazy_dataclass import dataclass, replace
from tracker.rounds.plan import Act, Node, Plan, Repeat, Role, Run, Technique

MOST_PHRASES = 6
"""More than this at once is not taken in at a glance."""

MOST_AT_ONCE = 3
"""Phrases that fit one breath: of "3 sc, ch 2, 3 sc, sk 1" nobody remembers the last while the first is made."""

MOST_TOGETHER = 6
"""Stitches of short neighbours that make one breath ("2 sc, inc"): as many as are seen without counting."""


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


def breath_end(plan: Plan, move: int) -> int:
    """The move after the last that is told and tapped at once, from this one on.

    A group once through, and outside a group a run with its short neighbours. A long group is broken after a stitch.
    """
    stretch = coming_now(plan, move)
    if len(merged(stretch.nodes)) > MOST_AT_ONCE:
        return move + _first_stitches(stretch).moves
    end = move + stretch.moves
    while (following := _neighbour(plan, move, end)) is not None:
        end += following.moves
    return end


def _first_stitches(stretch: Stretch) -> Stretch:
    """The first run of stitches, with what comes before it; all if there are no stitches."""
    for index, node in enumerate(stretch.nodes):
        following = stretch.nodes[index + 1] if index + 1 < len(stretch.nodes) else None
        goes_on = isinstance(node, Run) and isinstance(following, Run) and node.act == following.act
        if node.stitches and not goes_on:
            return Stretch(stretch.nodes[: index + 1], stretch.inside)
    return stretch


def _neighbour(plan: Plan, start: int, end: int) -> Run | None:
    """The run after `end` that is short enough to be told together with what begins at `start`."""
    first, _ = _node_of(plan.body, start)
    index, inside = _node_of(plan.body, end)
    if inside or not first < index < len(plan.body):
        return None
    among = plan.body[first : index + 1]
    if len(merged(among)) > MOST_AT_ONCE or any(isinstance(node, Repeat) for node in among):
        return None
    stitches = plan.stitches_before(end + among[-1].moves) - plan.stitches_before(start)
    following = among[-1]
    return following if isinstance(following, Run) and following.stitches and stitches <= MOST_TOGETHER else None


def between(plan: Plan, start: int, until: int) -> Stretch:
    """Exactly the moves from `start` to `until`, as nodes; an act that ends half made has only what is made of it."""
    nodes, inside = _part(plan.body, start, until)
    return Stretch(tuple(nodes), inside)


def _part(body: tuple[Node, ...], start: int, until: int) -> tuple[list[Node], int]:
    nodes: list[Node] = []
    inside = 0
    for node in body:
        moves = node.tally.moves
        first, last = max(start, 0), min(until, moves)
        if first < last:
            part, within = _run_part(node, first, last) if isinstance(node, Run) else _turns(node, first, last)
            inside = inside if nodes else within
            nodes += part
        start, until = start - moves, until - moves
    return nodes, inside


def _run_part(run: Run, start: int, until: int) -> tuple[list[Node], int]:
    first, inside = divmod(start, run.act.moves)
    last, over = divmod(until, run.act.moves)
    nodes: list[Node] = [replace(run, times=last - first)] if last > first else []
    if over:
        nodes.append(replace(run, act=_begun(run.act, over), times=1))
    return nodes, inside


def _begun(act: Act, moves: int) -> Act:
    """What the first moves of an act make, as an act of its own: of an increase, the first stitch."""
    makes = []
    for made in act.makes:
        if moves <= 0:
            break
        makes.append(made if made.moves <= moves else replace(made, count=moves))
        moves -= made.moves
    alone = len(makes) == 1 and not makes[0].is_chain
    if alone:
        return replace(act, makes=tuple(makes), name=makes[0].kind, technique=Technique.STITCH)
    return replace(act, makes=tuple(makes))


def _turns(repeat: Repeat, start: int, until: int) -> tuple[list[Node], int]:
    once = repeat.once.moves
    first, inside = divmod(start, once)
    last, over = divmod(until, once)
    if first == last:
        return _part(repeat.body, inside, over)
    nodes: list[Node] = []
    within = 0
    if inside:
        nodes, within = _part(repeat.body, inside, once)
        first += 1
    if last - first == 1:
        nodes += repeat.body
    elif last > first:
        nodes.append(replace(repeat, times=last - first))
    if over:
        nodes += _part(repeat.body, 0, over)[0]
    return nodes, within


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
    joined: list[Node] = []
    for node in nodes:
        last = joined[-1] if joined else None
        if isinstance(node, Run) and isinstance(last, Run) and last.act == node.act:
            joined[-1] = replace(last, times=last.times + node.times)
        else:
            joined.append(node)
    return tuple(joined)


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
