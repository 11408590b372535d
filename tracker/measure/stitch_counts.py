"""What a stretch of work consists of: stitches and chains by yarn and kind, by arithmetic on the round's
tree."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from tracker.identity_cache import remembered
from tracker.lazy_dataclass import dataclass, replace
from tracker.measure.stitch_sizes import yarn_of
from tracker.notation.ast import CHAIN_BASE, Made, Role
from tracker.pattern.model import Pattern, Piece, Round
from tracker.rounds.plan import Act, Node, Plan, Run, runs


@dataclass(frozen=True)
class StitchWork:
    """How many of each kind ("sc", "ch", "bobble") are made with one yarn."""

    kinds: Mapping[str, int]

    def __post_init__(self) -> None:
        object.__setattr__(self, "kinds", MappingProxyType(dict(self.kinds)))

    def __add__(self, other: StitchWork) -> StitchWork:
        return StitchWork(Counter(self.kinds) + Counter(other.kinds))

    def __mul__(self, times: int) -> StitchWork:
        return StitchWork({kind: count * times for kind, count in self.kinds.items()})

    @property
    def units(self) -> float:
        """Yarn needed, in the yarn of one single crochet."""
        return sum(count * yarn_of(kind) for kind, count in self.kinds.items())

    @property
    def stitches(self) -> int:
        """Stitches, chains not counted."""
        return sum(count for kind, count in self.kinds.items() if kind != "ch")

    def share_of_others(self, kind: str) -> float:
        """Share of the yarn that goes into other kinds than `kind`, 0 to 1."""
        return 1 - self.kinds.get(kind, 0) * yarn_of(kind) / self.units if self.units else 0.0


ByYarn = Mapping[str, StitchWork]
"""Work by yarn key; "" where the pattern names no yarn."""

NO_WORK = StitchWork({})


def together(parts: Iterable[ByYarn]) -> ByYarn:
    """All of it added up, yarn by yarn."""
    sums: dict[str, StitchWork] = {}
    for part in parts:
        for key, work in part.items():
            sums[key] = sums.get(key, NO_WORK) + work
    return sums


def chains_of(act: Act) -> int:
    """Chains that an act makes; those that only reach up ("ch 3" as a step) included."""
    if act.role is Role.STEP:
        return act.length
    return sum(made.count for made in act.makes if made.is_chain or made.kind == CHAIN_BASE)


def is_chain_only(round_: Round) -> bool:
    """Whether a line makes nothing but a chain, for later ones to be worked into."""
    if round_.plan is None:
        return False
    kinds = {made.kind for act in round_.plan.acts() for made in act.makes}
    return bool(kinds) and kinds <= {"ch", CHAIN_BASE}


def work_of_round(round_: Round) -> ByYarn:
    """What a round takes; an unreadable one counts as its stated stitches in sc."""
    if round_.plan is None:
        return {round_.colour: StitchWork({"sc": round_.leaves})} if round_.leaves else {}
    return together(_work_of_act(run.act, times, round_.colour) for run, times in round_.plan.runs())


def _work_of_act(act: Act, times: int, colour: str) -> ByYarn:
    kinds: Counter[str] = Counter()
    for kind, count in _kinds_of_act(act):
        kinds[kind] += count * times
    return {act.colour or colour: StitchWork(kinds)} if kinds else {}


def counted_in_round(round_: Round) -> Mapping[str, int]:
    """The stitches that a round leaves, by yarn key: as they are counted, and so a chain that counts as a stitch is
    one. They add up to what the round leaves."""
    if round_.plan is None:
        return {round_.colour: round_.leaves} if round_.leaves else {}
    counted: Counter[str] = Counter()
    for run, times in round_.plan.runs():
        counted[run.act.colour or round_.colour] += run.act.stitches * times
    return +counted


def _kinds_of_act(act: Act) -> Iterator[tuple[str, int]]:
    """The stitches and chains that an act makes, by kind; a kind may come twice."""
    if act.role is Role.STEP and chains_of(act):
        yield "ch", chains_of(act)
    for made in act.makes:
        yield "ch" if made.kind == CHAIN_BASE else made.kind, made.count


def rest_of_round(round_: Round, moves_done: int) -> ByYarn:
    """What is left of a round when so many of its moves are done."""
    if round_.plan is None:
        return work_of_round(round_) if moves_done <= 0 else {}
    acts = _after(round_.plan.body, max(0, moves_done))
    return together(_work_of_act(act, times, round_.colour) for act, times in acts)


def _after(body: tuple[Node, ...], moves: int) -> Iterator[tuple[Act, int]]:
    """What is left after `moves` moves; of an act that is begun what it still makes."""
    for node in body:
        if moves >= node.tally.moves:
            moves -= node.tally.moves
            continue
        if isinstance(node, Run):
            done, inside = divmod(moves, node.act.moves)
            if inside:
                yield replace(node.act, makes=_makes_after(node.act.makes, inside)), 1
            yield node.act, node.times - done - (1 if inside else 0)
        else:
            done, inside = divmod(moves, node.once.moves)
            yield from _after(node.body, inside)
            yield from ((run.act, times) for run, times in runs(node.body, node.times - done - 1))
        moves = 0


def _makes_after(makes: tuple[Made, ...], moves: int) -> tuple[Made, ...]:
    makes_ahead: list[Made] = []
    for made in makes:
        if moves < made.moves:
            makes_ahead.append(replace(made, count=made.count - moves) if moves else made)
        moves = max(0, moves - made.moves)
    return tuple(makes_ahead)


def work_of_piece(piece: Piece) -> ByYarn:
    """What one copy of a piece takes."""
    return together(work_of_round(round_) for round_ in piece.rounds)


def rest_of_piece(piece: Piece, round_index: int, moves_done: int = 0) -> ByYarn:
    """What is left of one copy, from a place in it: rounds before `round_index` (from 0) are done."""
    if round_index >= len(piece.rounds):
        return {}
    later = (work_of_round(round_) for round_ in piece.rounds[round_index + 1 :])
    return together((rest_of_round(piece.rounds[round_index], moves_done), *later))


def done_between(piece: Piece, start: tuple[int, int], end: tuple[int, int]) -> StitchWork:
    """What was made of one copy from one place to a later one, each as (rounds done, moves done of the next)."""
    if end[0] > len(piece.rounds) or start[0] >= len(piece.rounds) or end <= start:
        return NO_WORK
    plan = piece.rounds[start[0]].plan
    if plan is not None and end in ((start[0], end[1]), (start[0] + 1, 0)):
        return _done_in(plan, max(0, start[1]), end[1] if end[0] == start[0] else plan.moves)
    counts: Counter[str] = Counter()
    for index in range(start[0], min(end[0] + 1, len(piece.rounds))):
        round_ = piece.rounds[index]
        counts.update(_kinds_left(round_, start[1] if index == start[0] else 0))
        if index == end[0]:
            counts.subtract(_kinds_left(round_, end[1]))
    return StitchWork(+counts)


@remembered
def _done_in(plan: Plan, moves_before: int, moves_after: int) -> StitchWork:
    """What was made between two places in one round. Remembered, as what is left of a plan."""
    counts = Counter(_left_of_plan(plan, moves_before))
    counts.subtract(_left_of_plan(plan, moves_after))
    return StitchWork(+counts)


def _kinds_left(round_: Round, moves_done: int) -> Mapping[str, int]:
    """What is left of a round when so many of its moves are done, over all yarns."""
    if round_.plan is None:
        return {"sc": round_.leaves} if round_.leaves and moves_done <= 0 else {}
    return _left_of_plan(round_.plan, max(0, moves_done))


@remembered
def _left_of_plan(plan: Plan, moves_done: int) -> Mapping[str, int]:
    """Remembered, because rounds that say the same have one plan, and a long history asks for it with every tap."""
    kinds: Counter[str] = Counter()
    for act, times in _after(plan.body, moves_done):
        for kind, count in _kinds_of_act(act):
            kinds[kind] += count * times
    return kinds


def work_of_pattern(pattern: Pattern) -> ByYarn:
    """What all copies of all pieces take."""
    return together(
        {key: work * piece.make for key, work in work_of_piece(piece).items()} for piece in pattern.pieces
    )
