"""How long the edge of each round is and how tall the round, in stitch widths."""

from __future__ import annotations

import math
from dataclasses import dataclass

from tracker.measure.stitches import StitchSize, height_of
from tracker.measure.work import is_chain_only, weighted_acts
from tracker.notation.ast import Act, Into, Role
from tracker.pattern.model import Piece, Round

SLACK_CHAIN = 0.5
"""Width of a chain that spans nothing: it hangs in an arch. Common practice, no source."""

SHELL = 4
"""So many stitches in one place make a scallop."""


@dataclass(frozen=True, slots=True)
class Edge:
    """The edge that a round leaves: `around` long, `rise` above the one before.

    `based_on` is the index of the round that it is worked into: the one before, or an earlier one.
    `is_known` is false where the round could not be read and the edge before is taken for it.
    """

    round: Round
    around: float
    rise: float
    based_on: int
    is_known: bool = True


def edges_of(piece: Piece, stitch: StitchSize) -> list[Edge]:
    """The edges of all rounds of a piece."""
    edges: list[Edge] = []
    for index, round_ in enumerate(piece.rounds):
        before = edges[-1].around if edges else 0.0
        width = width_of(round_)
        rise = stitch.rise * relative_height(round_)
        if width is None:
            edges.append(Edge(round_, before, rise, index - 1, is_known=False))
            continue
        scallop = stitch.rise * _scallop_height(round_)
        if scallop:
            rise, width = scallop, max(width, before + 2 * math.pi * scallop)
        edges.append(Edge(round_, width, rise, _base(piece.rounds, index)))
    return edges


def _scallop_height(round_: Round) -> float:
    """Height of the scallops of a round of shells, beside single crochet; 0 where there are none.

    Fanned out, their tops lie flat whatever their number: how far they reach is told by height and not by count.
    """
    acts = round_.plan.acts() if round_.plan and not is_chain_only(round_) else ()
    on_stitches = (act for act in acts if act.takes <= 1 and act.into not in (Into.CHAIN, Into.RING))
    shells = (made for act in on_stitches for made in act.makes if made.stitches >= SHELL)
    return max((height_of(made.kind) for made in shells), default=0.0)


def width_of(round_: Round) -> float | None:
    """How many stitch widths long the edge of a round is; None where nobody knows what it leaves.

    Chains that span skipped stitches are as wide as those; further ones hang in an arch and count
    `SLACK_CHAIN`.
    """
    if round_.plan is None:
        return None if round_.leaves is None else float(round_.leaves)
    chains = skipped = 0
    begun = False
    for act, times in weighted_acts(round_.plan.body):
        begun = begun or times > 1 or act.role is Role.WORK
        chains += _spanning_chains(act) * times if begun else 0
        skipped += act.takes * times if act.role is Role.SKIP else 0
    if not round_.plan.leaves:
        return float(round_.plan.tally.chains)
    spanned = min(chains, skipped)
    return round_.plan.leaves + spanned + SLACK_CHAIN * (chains - spanned)


def _spanning_chains(act: Act) -> int:
    if act.name == "picot" or act.role is Role.STEP:
        return 0
    return sum(made.count for made in act.makes if made.is_chain and not made.counts_as)


def relative_height(round_: Round) -> float:
    """Height of a round beside one of single crochet: the mean over its stitches; 0 for a chain alone."""
    if round_.plan is None:
        return 1.0
    if is_chain_only(round_):
        return 0.0
    kinds = round_.plan.tally.kinds
    stitches = sum(count for _, count in kinds)
    return sum(count * height_of(kind) for kind, count in kinds) / stitches if stitches else 0.0


def _base(rounds: tuple[Round, ...], index: int) -> int:
    """The round that this one is worked into: an earlier one if only that has the stitches that are there."""
    before = rounds[index].before
    if index == 0 or before is None or rounds[index - 1].leaves in (None, before):
        return index - 1
    return next((i for i in range(index - 2, -1, -1) if rounds[i].leaves == before), index - 1)
