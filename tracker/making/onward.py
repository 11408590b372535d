"""Carrying on with a difference: which of the rounds to come still work out."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.lazy_dataclass import dataclass
from tracker.making.rewritten import Reader
from tracker.pattern.model import Round
from tracker.rounds.line_report import LineReport
from tracker.rounds.plan import Plan, Role

LOOKS_AHEAD = 60
"""Rounds; a difference that has worked out so far will be noticed at a count before then."""


MOST_STUCK = 3
"""Rounds that do not work out; after so many nobody needs to hear of more."""


@dataclass(frozen=True, slots=True)
class Onward:
    """What happens to a difference. `stuck` names the first rounds that do not work out; `left` is how many stitches
    more (+) or fewer (-) than the pattern there are at the end, or at the last round looked at."""

    stuck: tuple[str, ...]
    left: int


def carried_on(ahead: Sequence[Round], stitches: int, leaves: int | None, read: Reader) -> Onward:
    """Work the rounds to come as written over `stitches` stitches where the pattern has `leaves`."""
    stuck: list[str] = []
    for round_ in ahead[:LOOKS_AHEAD]:
        if leaves is None or stitches == leaves or is_worked_elsewhere(round_, leaves) or len(stuck) == MOST_STUCK:
            break
        made = made_over(round_, stitches, read)
        if made is None:
            stuck.append(round_.label)
            made = (round_.leaves or 0) + stitches - leaves
        stitches, leaves = made, round_.leaves
    return Onward(tuple(stuck), stitches - leaves if leaves is not None else 0)


def is_worked_elsewhere(round_: Round, leaves: int) -> bool:
    """Whether the round goes into an earlier one, and so knows nothing of the difference."""
    return round_.before is not None and round_.before != leaves


def made_over(round_: Round, stitches: int, read: Reader) -> int | None:
    """What the round leaves when it uses up exactly so many stitches; None when it cannot."""
    report = read(round_.text, stitches)
    if report.plan is not None:
        exact = report.uses == stitches and report.verdict != "error" and not _is_cut_short(report)
        return report.leaves if exact and _is_same_work(round_, report.plan) else None
    return stitches if _is_plain(round_) else None


def _is_same_work(round_: Round, plan: Plan) -> bool:
    """Whether the line is read as it is read over the right count, and not in another way that happens to fit."""
    return round_.plan is None or _sorts_of_act(plan) == _sorts_of_act(round_.plan)


def _sorts_of_act(plan: Plan) -> set[tuple[Role, int, int]]:
    return {(act.role, act.takes, act.stitches) for act in plan.acts()}


def _is_cut_short(report: LineReport) -> bool:
    return any(problem.code == "cut-short" for problem in report.problems)


def _is_plain(round_: Round) -> bool:
    """Whether the round is one stitch into each, whatever there is: "as Rnd 5" of a plain round."""
    if round_.plan is None:
        return False
    acts = [act for act in round_.plan.acts() if act.role is not Role.STEP]
    return bool(acts) and all(act.takes == act.stitches == 1 for act in acts)
