"""A round resolved to stitches: a small tree of runs and repeats, and the arithmetic on it.

Everything is computed from the tree (sums of sums), never from a list of stitches, so that a round of
ten thousand million stitches costs as much as its text is long. Its units:

move
    One thing the hands do before the next: one stitch (each stitch of an increase is a move of its own), one
    decrease, one length of chain, one skip, one step such as a join. A place in a round is a number of moves done.
stitch
    What a maker counts at the end of the round: what the round leaves, chains and steps not counted.
base
    One place of the round below that stitches are worked into.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from tracker.diagnostics import NOWHERE, Span
from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, field, replace
from tracker.notation.ast import LAYERS, Into, Loop, Made, Role, Spread, Technique, is_slip_stitch

__all__ = [
    "MAX_STITCHES",
    "Act",
    "Into",
    "Loop",
    "Made",
    "Node",
    "Plan",
    "Repeat",
    "Role",
    "Run",
    "Spot",
    "Tally",
    "Technique",
    "Turn",
    "runs",
]

MAX_STITCHES = 10**10
"""The most stitches that one round may hold; more is a slip of the keyboard."""

CORNER_STITCHES = 3
"""So many stitches in one place turn the work; two of them only widen it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Act:
    """What the hands do at once: what is made, over how many bases, and where.

    `name` is how a maker would call it: "sc", "inc", "dec", "shell", "ch", "sk", "join", "turn"...
    Two acts are equal if the hands do the same.
    """

    name: str
    role: Role
    makes: tuple[Made, ...] = ()
    takes: int = 0
    into: Into = Into.STITCH
    loop: Loop = Loop.BOTH
    colour: str = ""
    technique: Technique = Technique.STITCH
    onto: str = ""
    """What the pattern calls the base, where that can be checked: "ch-3" for a space of three chains, "shell"."""
    from_hook: int = 0
    """n for "nth chain from the hook"; 0 for any other place."""
    same_space: bool = False
    """The place just worked into is a space."""
    over_first: bool = False
    """It passes over the first stitch of the round."""
    length: int = 0
    """Of a chain that makes neither a stitch nor a space: how many chains."""

    @property
    def moves(self) -> int:
        return sum([made.moves for made in self.makes]) or 1

    @property
    def stitches(self) -> int:
        return sum([made.stitches for made in self.makes])

    @property
    def kinds(self) -> list[str]:
        """The kinds of the stitches that it makes, a chain by what it stands for."""
        return [made.counts_as or made.kind for made in self.makes if made.stitches]

    @property
    def is_plain(self) -> bool:
        """One stitch in one stitch, as a round that does not shape is made of."""
        return self.role is Role.WORK and self.takes == self.stitches == 1 and self.into is Into.STITCH

    @property
    def is_increase(self) -> bool:
        return self.role is Role.WORK and 0 < self.takes < self.stitches

    @property
    def is_decrease(self) -> bool:
        narrows = self.takes > self.stitches and self.onto != LAYERS
        return self.role is Role.WORK and narrows and not self.is_slip_stitch

    @property
    def is_slip_stitch(self) -> bool:
        return is_slip_stitch(self.makes, self.takes)

    @property
    def is_corner(self) -> bool:
        """Whether the work turns here: stitches around a chain, or several of them, in one place."""
        has_chain = [made.is_chain for made in self.makes]
        if any(has_chain[1:-1]) and not has_chain[0] and not has_chain[-1]:
            return self.into is not Into.RING
        return self.into in (Into.STITCH, Into.SAME) and self.stitches >= CORNER_STITCHES and not any(has_chain)


@dataclass(frozen=True, slots=True)
class Tally:
    """Sums over part of a round. `summed` adds them up; one can be multiplied."""

    moves: int
    takes: int
    stitches: int
    spaces: int
    chains: int
    kinds: tuple[tuple[str, int], ...]
    names: tuple[tuple[str, int], ...]

    def __mul__(self, times: int) -> Tally:
        return Tally(
            self.moves * times,
            self.takes * times,
            self.stitches * times,
            self.spaces * times,
            self.chains * times,
            tuple((kind, count * times) for kind, count in self.kinds),
            tuple((name, count * times) for name, count in self.names),
        )

    def kind(self, kind: str) -> int:
        """How many stitches of the US name `kind`."""
        return dict(self.kinds).get(kind, 0)


def summed(tallies: Iterable[Tally]) -> Tally:
    """The sum of many tallies, in one pass."""
    return _summed((tally, 1) for tally in tallies)


def _summed(parts: Iterable[tuple[Tally, int]]) -> Tally:
    """The sum of many tallies, each so many times over."""
    moves = takes = stitches = spaces = chains = 0
    kinds: dict[str, int] = {}
    names: dict[str, int] = {}
    for tally, times in parts:
        moves += tally.moves * times
        takes += tally.takes * times
        stitches += tally.stitches * times
        spaces += tally.spaces * times
        chains += tally.chains * times
        for kind, count in tally.kinds:
            kinds[kind] = kinds.get(kind, 0) + count * times
        for name, count in tally.names:
            names[name] = names.get(name, 0) + count * times
    return Tally(moves, takes, stitches, spaces, chains, tuple(kinds.items()), tuple(names.items()))


@remembered
def _tally_of(act: Act) -> Tally:
    """An act done once."""
    stitches = spaces = chains = 0
    kinds: dict[str, int] = {}
    for made in act.makes:
        if made.stitches:
            kind = made.counts_as or made.kind
            kinds[kind] = kinds.get(kind, 0) + made.stitches
            stitches += made.stitches
        elif made.is_chain:
            spaces += 1
            chains += made.count
    return Tally(act.moves, act.takes, stitches, spaces, chains, tuple(kinds.items()), ((act.name, 1),))


@dataclass(frozen=True)
class Run:
    """The same act `times` over: "5 sc", "inc x 6".

    `span` is where it stands in the text, and no part of its value.
    """

    act: Act
    times: int = 1
    span: Span = field(default=NOWHERE, compare=False)

    @property
    def once(self) -> Tally:
        return _tally_of(self.act)

    @cached_property
    def tally(self) -> Tally:
        return self.once * self.times

    @property
    def moves(self) -> int:
        return self.act.moves * self.times

    @property
    def stitches(self) -> int:
        return self.act.stitches * self.times


@dataclass(frozen=True)
class Repeat:
    """A group worked `times` over, as the pattern brackets it."""

    body: tuple[Node, ...]
    times: int
    span: Span = field(default=NOWHERE, compare=False)

    @cached_property
    def once(self) -> Tally:
        return _tally_of_nodes(self.body)

    @cached_property
    def tally(self) -> Tally:
        return self.once * self.times

    @property
    def moves(self) -> int:
        return self.once.moves * self.times

    @property
    def stitches(self) -> int:
        return self.once.stitches * self.times


Node = Run | Repeat


def _tally_of_nodes(body: tuple[Node, ...]) -> Tally:
    return _summed([(node.once, node.times) for node in body])


@dataclass(frozen=True, slots=True)
class Turn:
    """Which time through a repeat, counted from 1."""

    number: int
    times: int


@dataclass(frozen=True, slots=True)
class Spot:
    """Where in a round a move is.

    `stitches_done` and `takes_done` are exact to the move. `turns` are the repeats around it, outermost first; `span`
    is where the act stands in the text.
    """

    act: Act
    in_run: int
    run_times: int
    in_act: int
    stitches_done: int
    takes_done: int
    turns: tuple[Turn, ...]
    span: Span = NOWHERE

    @property
    def made(self) -> Made | None:
        """What this very move makes; None for a skip or a step."""
        move = self.in_act
        for made in self.act.makes:
            if move < made.moves:
                return made
            move -= made.moves
        return None


@dataclass(frozen=True)
class Plan:
    """One round, resolved. `ends_with` is the colour that the yarn has when it is done ("" if none is named)."""

    body: tuple[Node, ...]
    ends_with: str = ""

    @cached_property
    def tally(self) -> Tally:
        return _tally_of_nodes(self.body)

    @property
    def moves(self) -> int:
        return self.tally.moves

    @property
    def uses(self) -> int:
        return self.tally.takes

    @property
    def leaves(self) -> int:
        return self.tally.stitches

    def without_slips(self) -> Plan:
        """The same work, its slip stitches no stitches to be counted."""
        return replace(self, body=_without_slips(self.body))

    def spot(self, move: int) -> Spot | None:
        """The place of the move with this number (from 0); None past the end."""
        if not 0 <= move < self.moves:
            return None
        return _find(self.body, move, 0, 0, ())

    def stitches_before(self, move: int) -> int:
        """How many stitches are made when `move` moves are done."""
        spot = self.spot(move)
        return self.leaves if spot is None else spot.stitches_done

    def move_after_stitches(self, stitches: int) -> int:
        """The fewest moves after which `stitches` stitches are made; all moves if there are not that many."""
        if stitches <= 0:
            return 0
        if stitches > self.leaves:
            return self.moves
        return _moves_for(self.body, stitches)

    def walk(self, start: int = 0) -> Iterator[Spot]:
        """Every move from `start` on, lazily."""
        for move in range(start, self.moves):
            spot = self.spot(move)
            assert spot is not None
            yield spot

    def acts(self) -> Iterator[Act]:
        """Each act of the text once, in order, however often it is repeated."""
        return (run.act for run, _ in runs(self.body))

    def runs(self) -> Iterator[tuple[Run, int]]:
        """Each run of the text once, in order, with how often its act is done in all."""
        return runs(self.body)


def _without_slips(body: tuple[Node, ...]) -> tuple[Node, ...]:
    nodes: list[Node] = []
    for node in body:
        if isinstance(node, Repeat):
            nodes.append(replace(node, body=_without_slips(node.body)))
        elif node.act.is_slip_stitch:
            nodes.append(replace(node, act=replace(node.act, makes=(replace(node.act.makes[0], uncounted=True),))))
        else:
            nodes.append(node)
    return tuple(nodes)


def runs(body: Iterable[Node], times: int = 1) -> Iterator[tuple[Run, int]]:
    """Each run of these nodes, `times` over, with how often its act is done in all."""
    for node in body:
        if isinstance(node, Run):
            yield node, node.times * times
        else:
            yield from runs(node.body, node.times * times)


def unrolled(body: Iterable[Node]) -> Iterator[Run]:
    """The runs of these nodes one after the other as they are worked, groups unrolled as they are asked for."""
    for node in body:
        if isinstance(node, Run):
            yield node
        else:
            for _ in range(node.times):
                yield from unrolled(node.body)


def _find(body: tuple[Node, ...], move: int, stitches: int, takes: int, turns: tuple[Turn, ...]) -> Spot:
    for node in body:
        tally = node.tally
        if move >= tally.moves:
            move -= tally.moves
            stitches += tally.stitches
            takes += tally.takes
            continue
        if isinstance(node, Run):
            index, inside = divmod(move, node.act.moves)
            return Spot(
                act=node.act,
                in_run=index,
                run_times=node.times,
                in_act=inside,
                stitches_done=stitches + index * node.act.stitches + _stitches_inside(node.act, inside),
                takes_done=takes + index * node.act.takes + (node.act.takes if inside else 0),
                turns=turns,
                span=node.span,
            )
        index, inside = divmod(move, node.once.moves)
        return _find(
            node.body,
            inside,
            stitches + index * node.once.stitches,
            takes + index * node.once.takes,
            (*turns, Turn(index + 1, node.times)),
        )
    raise AssertionError("the move lies inside the round")


def _stitches_inside(act: Act, moves: int) -> int:
    """Stitches made by the first `moves` moves of an act."""
    done = 0
    for made in act.makes:
        if moves >= made.moves:
            moves -= made.moves
            done += made.stitches
            continue
        return done + (moves if not made.is_chain else 0)
    return done


def _moves_for(body: tuple[Node, ...], stitches: int) -> int:
    moves = 0
    for node in body:
        tally = node.tally
        if stitches > tally.stitches:
            stitches -= tally.stitches
            moves += tally.moves
            continue
        if isinstance(node, Run):
            index, inside = divmod(stitches - 1, node.act.stitches)
            return moves + index * node.act.moves + _moves_inside(node.act, inside + 1)
        index, inside = divmod(stitches - 1, node.once.stitches)
        return moves + index * node.once.moves + _moves_for(node.body, inside + 1)
    raise AssertionError("the stitch lies inside the round")


def _moves_inside(act: Act, stitches: int) -> int:
    """The fewest moves of an act that make this many stitches."""
    moves = 0
    for made in act.makes:
        if stitches > made.stitches:
            stitches -= made.stitches
            moves += made.moves
            continue
        return moves + (1 if made.is_chain else stitches)
    raise AssertionError("the stitch lies inside the act")


def repeated(body: tuple[Node, ...], again: tuple[Node, ...], times: int, span: Span, cut: int) -> list[Node]:
    """The repeat, its last time without `cut` nodes; its first time stands alone if a colour or "in same st" makes it
    different from the others."""
    if times == 0 or not body:
        return []
    if cut:
        whole = times - 1
        last = again[: len(again) - cut] if whole else body[: len(body) - cut]
        nodes: list[Node] = [Repeat(body, whole, span)] if whole else []
        return [*nodes, Repeat(last, 1, span)] if last else nodes
    if body == again or times == 1:
        return [Repeat(body, times, span)]
    return [Repeat(body, 1, span), Repeat(again, times - 1, span)]


# Increases and decreases whose places a pattern leaves open, set among the plain stitches beside them.


def set_in(nodes: list[Node], changes: Run, spread: Spread) -> list[Node]:
    """The round with these changes among the plain stitches: evenly, the gaps differing by at most one, or at both
    ends. Numbers of stitches stay as they are."""
    index = next(index for index, node in enumerate(nodes) if node is changes)
    first, end = _plain_beside(nodes, index)
    plain = [beside for beside in nodes[first:end] if isinstance(beside, Run) and beside is not changes]
    if not plain or changes.act.makes[0].kind != plain[0].act.makes[0].kind:
        return nodes
    longest = max(plain, key=lambda run: run.times)
    place = _evenly if spread is Spread.EVENLY else _at_both_ends
    return [*nodes[:first], *place(changes, longest, sum(run.times for run in plain)), *nodes[end:]]


def _plain_beside(nodes: list[Node], index: int) -> tuple[int, int]:
    """The stretch of plain stitches of one kind that these changes stand in."""
    first, end = index, index + 1
    while first and isinstance(before := nodes[first - 1], Run) and before.act.is_plain:
        first -= 1
    while end < len(nodes) and isinstance(after := nodes[end], Run) and after.act.is_plain:
        end += 1
    return first, end


def _evenly(changes: Run, plain: Run, places: int) -> list[Node]:
    gap, longer = divmod(places, changes.times)
    nodes: list[Node] = []
    for length, times in ((gap + 1, longer), (gap, changes.times - longer)):
        body = (*((replace(plain, times=length),) if length else ()), replace(changes, times=1))
        nodes += [Repeat(body, times)] if times else []
    return nodes


def _at_both_ends(changes: Run, plain: Run, places: int) -> list[Node]:
    half, middle = changes.times // 2, [replace(plain, times=places)] if places else []
    return [replace(changes, times=half), *middle, replace(changes, times=changes.times - half)]
