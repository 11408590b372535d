"""What is told where a round does not come out with the stitches that are there: left over, cut short, run out."""

from __future__ import annotations

from tracker.diagnostics import Problem, error, warning
from tracker.notation.reader import Line
from tracker.pattern.base import Base
from tracker.pattern.plan import Plan, Repeat, Spot
from tracker.pattern.resolve import Solved
from tracker.pattern.walk import off_the_row


def base_problems(line: Line, base: Base | None, solved: Solved, plan: Plan) -> list[Problem]:
    """At most one: how the bases and what the round uses differ."""
    there = base.stitches if base else plan.uses + solved.unworked
    if solved.cut:
        return [_cut_short(line, there, plan)]
    if solved.idle and solved.unworked >= 0:
        message = "something goes to the end of the round, and nothing is left for what is to go there after it"
        return [warning("nothing-left", message, line.instruction, "say how far the first part goes")]
    if solved.unworked > 0:
        left = f"{solved.unworked} {'is' if solved.unworked == 1 else 'are'} left unworked"
        message = f"uses {plan.uses} of the {there} stitches that are there: {left}"
        return [warning("unworked", message, line.instruction, _other_number(plan, there))]
    if solved.unworked < 0:
        return [_runs_out(line, there, plan)]
    return []


def passed_over(line: Line, base: Base | None, plan: Plan) -> list[Problem]:
    """At most one: spaces that are not worked into by a round that goes from space to space and into nothing else."""
    if base is None or base.spaces is None or line.worked_into is not None:
        return []
    spaces, groups = off_the_row(plan.body)
    if groups or not 0 < spaces < base.spaces or plan.uses > spaces:
        return []
    message = f"works into {spaces} of the {base.spaces} chain spaces that are there"
    return [warning("spaces-left", message, line.instruction, "write which ones are skipped")]


def _cut_short(line: Line, there: int, plan: Plan) -> Problem:
    group = next((node for node in plan.body if isinstance(node, Repeat)), None)
    if group is not None:
        message = f"{there} stitches do not divide by {group.once.takes}: the last group is cut short"
        return warning("cut-short", message, group.span, "check the count of the round before")
    left = there - plan.uses
    are = "stitch is" if left == 1 else "stitches are"
    message = f"{there} stitches do not come out: {left} {are} left over"
    return warning("cut-short", message, line.instruction, "check the count of the round before")


def _runs_out(line: Line, there: int, plan: Plan) -> Problem:
    spot = _last_spot(plan, there)
    span = spot.act.span if spot else line.instruction
    where = f" in repeat {spot.turns[0].number}" if spot and spot.turns else ""
    message = f"this round uses {plan.uses} stitches, and only {there} are there: they run out{where}"
    return error("runs-out", message, span, _other_number(plan, there))


def _other_number(plan: Plan, there: int) -> str:
    """The number of repeats that would use up what is there, if a whole one does."""
    groups = [node for node in plan.body if isinstance(node, Repeat) and node.times > 1 and node.once.takes]
    if len(groups) != 1:
        return ""
    group = groups[0]
    times, over = divmod(there - (plan.uses - group.tally.takes), group.once.takes)
    if over or times < 1:
        return ""
    makes = plan.leaves + (times - group.times) * group.once.stitches
    return f"x {times} would use {there} and make {makes}"


def _last_spot(plan: Plan, there: int) -> Spot | None:
    """The first move that finds no base left, by halving."""
    low, high = 0, plan.moves - 1
    while low < high:
        middle = (low + high) // 2
        spot = plan.spot(middle)
        assert spot is not None
        if spot.takes_done + (spot.act.takes if spot.in_act == 0 else 0) > there:
            high = middle
        else:
            low = middle + 1
    return plan.spot(low)
