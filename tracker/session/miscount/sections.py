"""A round seen as a row of small stretches with what can go wrong in each, by arithmetic.

Stretches follow the groups of the line and the taps of the maker, so that a mistake can be told to "repeat 4".
However long the round, there are never more than a bounded number of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.rounds.plan import Act, Plan, Role, Technique
from tracker.rounds.slicing import Ledger, PlanSlice, act_bounds, stretch_at
from tracker.session.miscount.tap_timing import Beat
from tracker.session.mistakes import Mistake

MOST_STRETCHES = 600
"""Groups beyond these are told apart by their taps only."""

LOOK_AT_MOST = 200
"""How many acts are looked at one by one to find a certain one."""

Slip = tuple[Mistake, int]
"""A mistake and what it does to the count."""


@dataclass(frozen=True)
class Part:
    """The moves from `start` to `until`, inside `within`, and how many chances it holds for each slip."""

    start: int
    until: int
    within: PlanSlice
    chances: dict[Slip, float]


def chances_of(act: Act) -> dict[Slip, float]:
    """How one act can go wrong. An act that can lose one stitch or more shares its chance between them."""
    if act.role is not Role.WORK:
        return {}
    chances: dict[Slip, float] = {}
    if act.is_increase:
        lost = act.stitches - act.takes
        chances.update({(Mistake.MISSED_INCREASE, -n): 1 / lost for n in range(1, lost + 1)})
    elif act.is_decrease and act.stitches:
        gained = act.takes - act.stitches
        chances.update({(Mistake.MISSED_DECREASE, n): 1 / gained for n in range(1, gained + 1)})
    elif act.takes == 1 and act.stitches == 1:
        chances[Mistake.SKIPPED, -1] = 1.0
    if act.takes and act.stitches:
        chances[Mistake.DOUBLED, 1] = 1.0
    return chances


def parts_of(plan: Plan, done: int, beats: Sequence[Beat], bounds: Sequence[int] = ()) -> tuple[Part, ...]:
    """The parts that are done, in order, cut at `bounds` too. A half-made act belongs to the part that finishes
    it."""
    ledger = Ledger(plan.body, chances_of)
    cuts = _cuts(plan, done, beats) | {bound for bound in bounds if 0 < bound < done}
    sums = [(move, ledger.before(move).sums) for move in sorted(cuts)]
    parts: list[Part] = []
    for (start, before), (until, after) in pairwise(sums):
        chances = {slip: after[slip] - before.get(slip, 0.0) for slip in after}
        within = stretch_at(plan, start)
        # A chance below one in a thousand million changes no sum.
        parts.append(Part(start, until, within, {slip: n for slip, n in chances.items() if n > 1e-9}))
    return tuple(parts)


def _cuts(plan: Plan, done: int, beats: Sequence[Beat]) -> set[int]:
    cuts = {0, done}
    start = 0
    while start < done and len(cuts) < MOST_STRETCHES:
        start = stretch_at(plan, start).until
        cuts.add(min(start, done))
    for beat in beats:
        cuts.update(edge for edge in (beat.start, beat.until) if 0 < edge < done)
    return cuts


NARROW, NARROW_SHARE = 12, 5
"""At most twelve stitches or a fifth of the round: what can be looked over without counting."""


def narrow_width(leaves: int) -> int:
    """Stitches that are seen at a glance in a round that leaves so many."""
    return max(NARROW, leaves // NARROW_SHARE)


def glance_bounds(plan: Plan, done: int) -> list[int]:
    """Moves that divide each stretch that is too wide for one look into like parts."""
    most, start, bounds = narrow_width(plan.leaves), 0, list[int]()
    for _ in range(MOST_STRETCHES):
        if start >= min(done, plan.moves):
            break
        until = min(stretch_at(plan, start).until, done)
        before, after = plan.stitches_before(start), plan.stitches_before(until)
        parts = -(-(after - before) // most)
        bounds += [plan.move_after_stitches(before + (after - before) * part // parts) for part in range(1, parts)]
        start = until
    return bounds


def first_act(plan: Plan) -> tuple[int, int] | None:
    """The moves of the first stitch that is worked into something."""
    return next((bounds for bounds, act in acts_from(plan, 0) if _is_stitch(act)), None)


def last_act(plan: Plan) -> tuple[int, int] | None:
    """The moves of the last such stitch."""
    until = plan.moves
    for _ in range(LOOK_AT_MOST):
        if until <= 0:
            return None
        start, _ = act_bounds(plan, until - 1)
        spot = plan.spot(start)
        if spot is not None and _is_stitch(spot.act):
            return start, until
        until = start
    return None


def _is_stitch(act: Act) -> bool:
    return act.role is Role.WORK and act.stitches > 0


def acts_from(plan: Plan, move: int, until: int | None = None) -> Iterator[tuple[tuple[int, int], Act]]:
    """Each act from `move` on with its moves; at most `LOOK_AT_MOST` of them."""
    end = plan.moves if until is None else until
    for _ in range(LOOK_AT_MOST):
        spot = plan.spot(move)
        if spot is None or move >= end:
            return
        bounds = act_bounds(plan, move)
        yield bounds, spot.act
        move = bounds[1]


def runs_out_by(plan: Plan) -> int:
    """What the count loses when the last act of the round has one base too few: nothing for a decrease, which
    becomes a plain stitch."""
    last = last_act(plan)
    spot = plan.spot(last[0]) if last else None
    return spot.act.stitches if spot is not None and spot.act.takes == 1 else 0


def all_plain(plan: Plan, done: int) -> tuple[int, int]:
    """What the count loses when every increase is worked as plain stitches, and gains when every decrease is."""

    def changes(act: Act) -> dict[str, float]:
        if act.is_increase:
            return {"lost": act.stitches - act.takes}
        return {"gained": act.takes - act.stitches} if act.is_decrease and act.stitches else {}

    sums = Ledger(plan.body, changes).before(done).sums
    return round(sums.get("lost", 0)), round(sums.get("gained", 0))


def changes_made(plan: Plan, done: int) -> tuple[int, int]:
    """How many increases and how many decreases are made."""
    changes = Ledger(plan.body, lambda act: {"up": float(act.is_increase), "down": float(act.is_decrease)})
    sums = changes.before(done).sums
    return round(sums.get("up", 0)), round(sums.get("down", 0))


def is_joined(plan: Plan) -> bool:
    """Whether the round begins with a chain or ends with a join or a turn: it has edges that are easily misread."""
    return bool(closing(plan)) or first_chain_counts(plan) is not None


def closing(plan: Plan) -> str:
    """What closes the round: "join", "turn", or "" for a spiral. Fastening off comes after it."""
    until = plan.moves
    for _ in range(LAST_STEPS):
        spot = plan.spot(until - 1)
        if spot is None or spot.act.role is not Role.STEP:
            return ""
        if spot.act.technique in (Technique.TURN, Technique.TURN_AROUND):
            return "turn"
        if spot.act.technique is Technique.JOIN:
            return "join"
        until = act_bounds(plan, until - 1)[0]
    return ""


LAST_STEPS = 3
"""Steps looked at from the end: a join, a turn, fastening off."""


def is_fastened_off(plan: Plan) -> bool:
    """Whether the yarn is cut at the end of the round."""
    spot = plan.spot(plan.moves - 1)
    return spot is not None and spot.act.technique is Technique.FASTEN_OFF


def form_of(plan: Plan) -> str:
    """ "spiral", "joined" or "rows", as the round itself shows it."""
    end = closing(plan)
    return "rows" if end == "turn" else "joined" if is_joined(plan) else "spiral"


def first_chain_counts(plan: Plan) -> bool | None:
    """Whether the chain that the round begins with counts as a stitch; None if it begins with none."""
    for _, act in acts_from(plan, 0):
        if act.role is Role.CHAIN:
            return act.stitches > 0
        if act.length:
            return False
        if act.role is Role.WORK:
            return None
    return None
