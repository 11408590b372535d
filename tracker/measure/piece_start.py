"""How a piece begins: at a closed centre, as a tube, around both sides of a chain, on stitches, or flat."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

from tracker.lazy_dataclass import dataclass
from tracker.measure.profile import RoundEdge
from tracker.measure.stitch_counts import chains_of
from tracker.notation.ast import Into, Role
from tracker.pattern.model import Piece, Round, Start

SMALL_CHAIN = 3
"""A foundation chain up to this long is a dot to work around, not a line."""

BOTH_SIDES = 1.5
"""Stitches for each chain from which on a round must have gone along both sides of it."""


class Begins(Enum):
    """The sorts of beginning."""

    CENTRE = "closed centre"
    TUBE = "tube"
    OVAL = "both sides of a chain"
    STITCHES = "stitches made before"
    FLAT = "rows"


@dataclass(frozen=True, slots=True)
class Opening:
    """How a piece begins: `first_edge` around (0 for a closed centre), with a straight middle of `core`, in
    stitches."""

    begins: Begins
    first_edge: float = 0.0
    core: float = 0.0


def opening_of(piece: Piece, edges: Sequence[RoundEdge]) -> Opening:
    """Told from the way the piece is worked and its first round that makes stitches."""
    if piece.start is Start.ROWS:
        return Opening(Begins.FLAT)
    first = next((edge for edge in edges if edge.round.leaves and edge.rise), None)
    if first is None or first.round.plan is None or _in_ring(first.round):
        return Opening(Begins.CENTRE)
    chain = foundation_chain(piece.rounds)
    if chain > SMALL_CHAIN and first.round.plan.uses:
        if first.around >= BOTH_SIDES * (chain - 1):
            core = max(0.0, (first.around - 2 * math.pi * first.rise) / 2)
            return Opening(Begins.OVAL, 2 * core, core)
        return Opening(Begins.TUBE, float(first.round.plan.uses or chain))
    if first.round.plan.uses and not chain:
        return Opening(Begins.STITCHES, float(first.round.plan.uses))
    return Opening(Begins.CENTRE)


def foundation_chain(rounds: Sequence[Round]) -> int:
    """The longest chain made before the first stitch of a piece, 0 if there is none."""
    longest = 0
    for round_ in rounds:
        for act in round_.plan.acts() if round_.plan else ():
            if act.role is Role.WORK and not chains_of(act):
                return longest
            longest = max(longest, chains_of(act))
    return longest


def _in_ring(round_: Round) -> bool:
    return round_.plan is not None and any(act.into is Into.RING for act in round_.plan.acts())
