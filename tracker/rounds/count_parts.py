"""A round divided by pins in the round below, so that it is counted part by part and the part that differs is
seen."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.rounds.other_bases import bases_before, move_at_base, other_repeats
from tracker.rounds.plan import Plan, Repeat

FEWEST_BASES = 12
"""Fewer than this are counted at one look."""
QUARTERS_UP_TO = 48
"""A quarter of so many stitches is still seen at a glance (twelve); longer rounds are divided into six."""
# A round is counted in parts that fingers can hold apart.
MOST_PARTS = 8


@dataclass(frozen=True, slots=True)
class CountPart:
    """One part: how it is called, over which bases it stands, its moves, and how many stitches it should have."""

    name: str
    bases: tuple[int, int]
    moves: tuple[int, int]
    expected: int


def parts_to_count(plan: Plan) -> tuple[CountPart, ...]:
    """The parts of a whole round: its repeats where there are a few, else quarters or sixths; none of a short one."""
    if plan.uses < FEWEST_BASES:
        return ()
    bounds = _by_repeats(plan)
    kind = "repeat" if bounds else "quarter" if plan.uses <= QUARTERS_UP_TO else "sixth"
    if not bounds:
        number = 4 if kind == "quarter" else 6
        bounds = [move_at_base(plan, plan.uses * part // number) if part else 0 for part in range(number)]
    bounds = sorted({*bounds, plan.moves})
    parts = []
    for number, (start, until) in enumerate(pairwise(bounds), 1):
        stitches = plan.stitches_before(until) - plan.stitches_before(start)
        bases = bases_before(plan, start), bases_before(plan, until)
        parts.append(CountPart(f"{kind} {number}", bases, (start, until), stitches))
    return tuple(parts)


def _by_repeats(plan: Plan) -> list[int]:
    """Where the repeats of the one group of the round begin, what stands before the first going with it."""
    groups = [node for node in plan.body if isinstance(node, Repeat)]
    outside = plan.uses - sum(node.tally.takes for node in groups)
    if len(groups) != 1 or outside > 2 or not 3 <= groups[0].times <= MOST_PARTS:
        return []
    start = 0
    for node in plan.body:
        if node is groups[0]:
            break
        start += node.tally.moves
    return [start + turn * groups[0].once.moves if turn else 0 for turn in range(groups[0].times)]


MOST_WALKED = 2000
"""Bases of a round that is worked one by one to see where another spacing puts its changes."""


def spaced_parts(plan: Plan, parts: Sequence[CountPart]) -> set[tuple[int, ...]]:
    """What would stand over each part if in every repeat one plain stitch more, or one fewer, came before the
    change."""
    groups = [node for node in plan.body if isinstance(node, Repeat)]
    if len(groups) != 1 or plan.uses > MOST_WALKED or not parts:
        return set()
    before = sum(node.tally.takes for node in plan.body[: plan.body.index(groups[0])])
    counts = set()
    for acts in other_repeats(groups[0]):
        at = [(base, 1) for base in range(before)]
        base = before
        for takes, stitches in acts:
            at.append((base, stitches))
            base += takes
        at += [(plain, 1) for plain in range(base, plan.uses)]
        counts.add(tuple(sum(s for b, s in at if part.bases[0] <= b < part.bases[1]) for part in parts))
    return counts
