"""Whether the chain that a round begins with counts, as the rounds before it in the same piece show."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.diagnostics import note, verdict_of
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Line, Role, Stated
from tracker.pattern.model import Round
from tracker.rounds.bases import Base
from tracker.rounds.checks import Weighed, weigh
from tracker.rounds.plan import Plan


def settled_by_custom(line: Line, base: Base | None, weighed: Weighed, rounds: Sequence[Round]) -> Weighed:
    """A round without a total that makes one number if its first chain counts and another if not: as the chains of
    that length do in the rounds before it that came to their totals."""
    if base is None or not any(problem.code == "chain-by-convention" for problem in weighed.problems):
        return weighed
    ways = [weigh(replace(line, stated=()), base, Stated(number)) for number in weighed.may_leave]
    for way in ways:
        begins = _beginning_chain(way.plan) if way.plan is not None else None
        if begins is None or way.uses != base.stitches or verdict_of(way.problems) != "ok":
            continue
        length, counts = begins
        shown = [(each, own) for each in rounds[-_FAR_BACK:] if (own := _shown_by(each)) and own[0] == length]
        if shown and all(own == begins for _, own in shown):
            status = "counted as a stitch" if counts else "not counted"
            notice = note("chain-by-custom", f"ch {length} {status}, as in {shown[-1][0].label}", line.instruction)
            return replace(way, stated=None, problems=(*way.problems, notice))
    return weighed


_FAR_BACK = 50
"""Rounds that are looked at: who has stated no total for so long may be at something else."""


def _shown_by(round_: Round) -> tuple[int, bool] | None:
    """The length of its first chain and whether that counts, where it came to the total that it states."""
    if round_.plan is None or round_.stated is None or round_.stated.stitches is None or round_.verdict != "ok":
        return None
    return _beginning_chain(round_.plan) if round_.stated.stitches == round_.plan.leaves else None


def _beginning_chain(plan: Plan) -> tuple[int, bool] | None:
    for act in plan.acts():
        if act.role is Role.CHAIN:
            return sum(made.count for made in act.makes if made.is_chain), act.stitches > 0
        if act.length:
            return act.length, False
        if act.role is Role.WORK:
            return None
    return None
