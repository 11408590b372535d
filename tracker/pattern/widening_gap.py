"""A round that widens or narrows as an earlier one did, with another number of plain stitches between: "like the
third, but having two plain between the widenings".

It is written anew from what the earlier round came to, so that the words in which that was told do not matter.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Into, Role
from tracker.rounds.formatter import notate_body
from tracker.rounds.plan import Act, Node, Plan, Repeat, Run, unrolled

MOST_RUNS = 2_000
"""Runs of a round that are looked at; with an increase in every third stitch that is one of six thousand stitches."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How a round spaces its changes: `count` of the same one, `gap` plain stitches before each (behind each, where
    it `begins_with_change`). `lead` is the chain that stands for the first stitch, `steps` are what closes it."""

    change: Run
    plain: Run
    count: int
    gap: int
    begins_with_change: bool = False
    lead: Run | None = None
    steps: tuple[Node, ...] = ()


def written_with(spacing: Spacing, gap: int, count: int, terms: str) -> str | None:
    """The instructions of a round that makes so many of these changes with `gap` plain stitches between; None if
    there is no such round."""
    led = spacing.lead.act.stitches if spacing.lead is not None else 0
    if count < 1 or gap < led:
        return None
    plain = replace(spacing.plain, times=gap)
    gaps: tuple[Node, ...] = (plain,) if gap else ()
    each = (spacing.change, *gaps) if spacing.begins_with_change else (*gaps, spacing.change)
    if spacing.lead is None:
        return notate_body((Repeat(each, count), *spacing.steps), terms)
    first: tuple[Node, ...] = (replace(plain, times=gap - led), spacing.change) if gap > led else (spacing.change,)
    others: tuple[Node, ...] = (Repeat(each, count - 1),) if count > 1 else ()
    return notate_body((spacing.lead, *first, *others, *spacing.steps), terms)


def spacing_of(plan: Plan) -> Spacing | None:
    """How a plan spaces its changes; None if it makes different ones, or not evenly."""
    worked = list(islice(unrolled(plan.body), MOST_RUNS + 1))
    steps = tuple(run for run in worked if run.act.role is Role.STEP)
    runs = [run for run in worked if run.act.role is not Role.STEP]
    lead = runs.pop(0) if runs and runs[0].act.role is Role.CHAIN and runs[0].act.stitches else None
    changes = [run for run in runs if run.act.is_increase or run.act.is_decrease]
    plains = [run for run in runs if run.act.is_plain]
    if not changes or len(worked) > MOST_RUNS or len(changes) + len(plains) != len(runs):
        return None
    if len({run.act for run in changes}) > 1 or len({run.act for run in plains}) > 1:
        return None
    count = sum(run.times for run in changes)
    led = lead.act.stitches if lead is not None else 0
    gap, over = divmod(sum(run.times for run in plains) + led, count)
    begins_with_change = lead is None and runs[0] in changes
    if over or not _is_even(runs, gap, led):
        return None
    change = replace(changes[0], times=1)
    plain = plains[0] if plains else Run(_one_of(change.act))
    return Spacing(change, plain, count, gap, begins_with_change, lead, steps)


def _is_even(runs: Sequence[Run], gap: int, led: int) -> bool:
    """Whether `gap` plain stitches stand before each change, or behind each; the chain is `led` of the first."""
    gaps: list[int] = []
    plain = led
    for run in runs:
        if run.act.is_plain:
            plain += run.times
            continue
        gaps += [plain, *[0] * (run.times - 1)]
        plain = 0
    return {*gaps} == {gap} and not plain if gaps[0] or not gap else {*gaps[1:], plain} == {gap}


def _one_of(change: Act) -> Act:
    """The plain stitch of which a change makes several, or one of several."""
    made = replace(change.makes[0], count=1)
    return replace(change, name=made.kind, makes=(made,), takes=1, into=Into.STITCH)
