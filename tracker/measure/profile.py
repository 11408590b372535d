"""How long the edge of each round is and how tall the round, in stitch widths."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

from tracker.lazy_dataclass import dataclass
from tracker.measure.ranges import Range, exactly
from tracker.measure.stitch_counts import is_chain_only
from tracker.measure.stitch_sizes import StitchSize
from tracker.notation.ast import Into, Role, Technique
from tracker.pattern.model import Piece, Round
from tracker.rounds.plan import Act

SLACK_CHAIN = 0.5
"""Width of a chain that spans nothing: it hangs in an arch. Common practice, no source."""

SHELL = 4
"""So many stitches in one place make a scallop."""


@dataclass(frozen=True, slots=True)
class RoundEdge:
    """The edge that a round leaves: `around` long, `rise` above the one before.

    `based_on` is the index of the round that it is worked into: the one before, or an earlier one.
    `is_known` is false where the round could not be read and the edge before is taken for it.
    """

    round: Round
    around: float
    rise: float
    based_on: int
    is_known: bool = True


def edges_of(piece: Piece, stitch: StitchSize) -> list[RoundEdge]:
    """The edges of all rounds of a piece."""
    edges: list[RoundEdge] = []
    for index, round_ in enumerate(piece.rounds):
        before = edges[-1].around if edges else 0.0
        width = width_of(round_)
        rise = height_of_round(round_, stitch)
        if width is None:
            edges.append(RoundEdge(round_, before, rise, index - 1, is_known=False))
            continue
        scallop = _scallop_height(round_, stitch)
        if scallop:
            rise, width = scallop, max(width, before + 2 * math.pi * scallop)
        edges.append(RoundEdge(round_, width, rise, _base(piece.rounds, index)))
    return edges


def _scallop_height(round_: Round, stitch: StitchSize) -> float:
    """Height of the scallops of a round of shells, in stitch widths; 0 where there are none.

    Fanned out, their tops lie flat whatever their number: how far they reach is told by height and not by count.
    """
    acts = round_.plan.acts() if round_.plan and not is_chain_only(round_) else ()
    on_stitches = (act for act in acts if act.takes <= 1 and act.into not in (Into.CHAIN, Into.RING))
    shells = (made for act in on_stitches for made in act.makes if made.stitches >= SHELL)
    return max((stitch.rise_of(made.kind) for made in shells), default=0.0)


def width_of(round_: Round) -> float | None:
    """How many stitch widths long the edge of a round is; None where nobody knows what it leaves.

    Chains that span skipped stitches are as wide as those; further ones hang in an arch and count
    `SLACK_CHAIN`.
    """
    if round_.plan is None:
        return None if round_.leaves is None else float(round_.leaves)
    chains = skipped = 0
    begun = False
    for run, times in round_.plan.runs():
        act = run.act
        begun = begun or times > 1 or act.role is Role.WORK
        chains += _spanning_chains(act) * times if begun else 0
        skipped += act.takes * times if act.role is Role.SKIP else 0
    if not round_.plan.leaves:
        return float(round_.plan.tally.chains)
    spanned = min(chains, skipped)
    return round_.plan.leaves + spanned + SLACK_CHAIN * (chains - spanned)


def _spanning_chains(act: Act) -> int:
    if act.technique is Technique.PICOT or act.role is Role.STEP:
        return 0
    return sum(made.count for made in act.makes if made.is_chain and not made.counts_as)


def height_of_round(round_: Round, stitch: StitchSize) -> float:
    """Height of a round in stitch widths: the mean over its stitches; 0 for a chain alone."""
    if round_.plan is None:
        return stitch.rise
    kinds = kinds_of(round_)
    stitches = sum(kinds.values())
    return sum(count * stitch.rise_of(kind) for kind, count in kinds.items()) / stitches if stitches else 0.0


def kinds_of(round_: Round) -> dict[str, int]:
    """How many stitches of each kind a round has; none where it is a chain alone or could not be read."""
    if round_.plan is None or is_chain_only(round_):
        return {}
    return dict(round_.plan.tally.kinds)


def height_spread(rounds: Iterable[Round], stitch: StitchSize) -> Range:
    """How far the height of these rounds together may be off, as a factor around 1."""
    whole, low, high = 0.0, 0.0, 0.0
    for round_ in rounds:
        kinds = kinds_of(round_)
        stitches = sum(kinds.values())
        for kind, count in kinds.items():
            height, spread = stitch.rise_of(kind) * count / stitches, stitch.spread_of(kind)
            whole, low, high = whole + height, low + height * spread.low, high + height * spread.high
    return Range(low / whole, high / whole) if whole else exactly(1.0)


def _base(rounds: tuple[Round, ...], index: int) -> int:
    """The round that this one is worked into: an earlier one if only that has the stitches that are there."""
    before = rounds[index].before
    if index == 0 or before is None or rounds[index - 1].leaves in (None, before):
        return index - 1
    return next((i for i in range(index - 2, -1, -1) if rounds[i].leaves == before), index - 1)


# The line up the side of a piece: how far out and how high each round ends.

ROUNDING = 0.5
"""Stitches by which a whole number may stand beside the count that it was rounded from."""

LONGEST_TURN = 4
"""The longest turn of growths that is evened out ("increase every fourth round")."""

RUFFLES_FROM = 1.25
"""Growth over the growth that lies flat, above which the edge stands in waves.

The trade increases flat disks of sc by 6 or 7, of hdc by 8 to 10, of dc by 12: up to a quarter more than
the least still blocks flat (common practice, no source).
"""

FLAT_FROM = 0.85
"""The same ratio, from which a piece that does nothing but grow still blocks flat: common practice, no
source."""


@dataclass(frozen=True, slots=True)
class ProfileStep:
    """One round on the way up: `edge` is the circle that it ends in, `rise` its height along the fabric."""

    edge: float
    rise: float


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """Where a round ends: distance from the axis, and height above the start."""

    radius: float
    level: float


def radius_of(edge: float, core: float = 0.0) -> float:
    """Radius of the ends of an edge this long; `core` is the straight middle of an oval, 0 for a circle."""
    return max(0.0, edge - 2 * core) / (2 * math.pi)


def climb(first_edge: float, steps: Sequence[ProfileStep], core: float = 0.0) -> list[ProfilePoint]:
    """The start and the end of each round, from an opening `first_edge` around (0 for a closed centre)."""
    points = [ProfilePoint(radius_of(first_edge, core), 0.0)]
    for step, (rise, slope) in zip(steps, _sides(first_edge, steps, core), strict=True):
        level = points[-1].level + rise * math.sqrt(1 - slope * slope)
        points.append(ProfilePoint(reach(points[-1].radius, radius_of(step.edge, core), step.rise), level))
    return points


def laid(first_edge: float, steps: Sequence[ProfileStep], core: float = 0.0) -> list[ProfilePoint]:
    """The same line drawn at its true length: evened out, and no edge farther out or in than its fabric reaches.

    From point to point it is as long as the round is tall.
    """
    points = [ProfilePoint(radius_of(first_edge, core), 0.0)]
    for rise, slope in _sides(first_edge, steps, core):
        before = points[-1]
        points.append(ProfilePoint(before.radius + rise * slope, before.level + rise * math.sqrt(1 - slope * slope)))
    return points


def _sides(first_edge: float, steps: Sequence[ProfileStep], core: float) -> list[tuple[float, float]]:
    """Height along the fabric and slope of each round: growth of the radius over that height, -1 to 1."""
    rises = _rises(first_edge, steps)
    edges = even_turns([max(first_edge, 2 * core), *(step.edge for step in steps)], rises)
    slopes = [slope / (2 * math.pi) for slope in _slopes(edges, rises)]
    if all(slope >= FLAT_FROM for slope in slopes):
        slopes = [1.0] * len(slopes)
    return [(rise, max(-1.0, min(1.0, slope))) for rise, slope in zip(rises, slopes, strict=True)]


def reach(before: float, counted: float, rise: float) -> float:
    """An edge that ruffles lies in waves and reaches no farther out than its fabric does."""
    return before + rise if counted - before > RUFFLES_FROM * rise else counted


def _rises(first_edge: float, steps: Sequence[ProfileStep]) -> list[float]:
    """Heights along the fabric; a first round that starts a closed centre with few stitches puckers there.

    3 stitches that grow to 9 lie like the ring half a round from the middle that they would be if the
    growth of 6 went on inwards: so a ball by C sin(pi (k - 0.5) / R) comes out round.
    """
    rises = [step.rise for step in steps]
    if first_edge == 0 and len(steps) > 1:
        growth = steps[1].edge - steps[0].edge
        if growth > steps[0].edge > 0:
            rises[0] *= steps[0].edge / growth
    return rises


def even_turns(edges: Sequence[float], rises: Sequence[float]) -> list[float]:
    """The edges, opening first, with every run of whole turns of growth (6, 0, 6, 0) drawn as one straight line."""
    edges = list(edges)
    growths = [after - before for before, after in itertools.pairwise(edges)]
    start = 0
    while start < len(growths):
        end = _end_of_turns(growths, rises, start)
        length = sum(rises[start:end])
        slope = (edges[end] - edges[start]) / length if length else 0.0
        for index in range(start + 1, end):
            edges[index] = edges[index - 1] + slope * rises[index - 1]
        start = max(end, start + 1)
    return edges


def _end_of_turns(growths: Sequence[float], rises: Sequence[float], start: int) -> int:
    """Where the whole turns that begin here end; `start` where none begins."""
    for turn in range(2, LONGEST_TURN + 1):
        if len(set(growths[start : start + turn])) < 2:
            continue
        end = start + turn
        while end < len(growths) and _again(growths, end, turn) and _again(rises, end, turn):
            end += 1
        turns = (end - start) // turn
        if turns >= 2:
            return start + turns * turn
    return start


def _again(values: Sequence[float], index: int, turn: int) -> bool:
    return math.isclose(values[index], values[index - turn], abs_tol=1e-9)


def _slopes(edges: Sequence[float], rises: Sequence[float]) -> list[float]:
    """Growth per length of fabric of each round, the same over as many rounds as one straight line can serve.

    The line may pass each count at `ROUNDING` on either side. Among the lines that do, an upright and a
    flat one are taken before the middle one.
    """
    slopes: list[float] = []
    value = edges[0]
    while len(slopes) < len(rises):
        start = len(slopes)
        low, high, length = -math.inf, math.inf, 0.0
        for index in range(start, len(rises)):
            reached = length + rises[index]
            least = (edges[index + 1] - ROUNDING - value) / reached if reached else -math.inf
            most = (edges[index + 1] + ROUNDING - value) / reached if reached else math.inf
            if index > start and max(low, least) > min(high, most):
                break
            low, high, length = max(low, least), min(high, most), reached
            slopes.append(0.0)
        slope = _simplest(low, high)
        slopes[start:] = [slope] * (len(slopes) - start)
        value += slope * length
    return slopes


def _simplest(low: float, high: float) -> float:
    for slope in (0.0, 2 * math.pi, -2 * math.pi):
        if low <= slope <= high:
            return slope
    return (low + high) / 2 if math.isfinite(low) else 0.0
