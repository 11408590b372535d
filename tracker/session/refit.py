"""A round over the stitches that are really there: whether its line works out with them, and what it then is.

A line that says "around" is worked as often as it fits; one that counts to its end works out over one number only.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from tracker.lazy_dataclass import replace
from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Round
from tracker.rounds.plan import Node, Plan, Run

if TYPE_CHECKING:
    from tracker.rounds.line_report import LineReport

Reader = Callable[[str, int | None], "LineReport"]
"""Reads the text of a round over a number of stitches, in the terms and with the definitions of the pattern."""


def is_worked_elsewhere(round_: Round, leaves: int) -> bool:
    """Whether the round goes into an earlier one, and so knows nothing of the difference."""
    return round_.before is not None and round_.before != leaves


def made_over(round_: Round, stitches: int, read: Reader) -> int | None:
    """What the round leaves when it uses up exactly so many stitches, act by act as it is written; None when it
    cannot, and for a round that nobody can read."""
    if round_.plan is None or stitches < 1:
        return None
    report = read(round_.text, stitches)
    return report.leaves if _is_the_same(report, round_.plan, stitches) else None


def _is_the_same(report: LineReport, plan: Plan, stitches: int) -> bool:
    """Whether the line uses up exactly these stitches, and its acts are those of the plan."""
    exact = report.uses == stitches and report.verdict != "error" and not _is_cut_short(report)
    return exact and report.plan is not None and _shape(report.plan.body) == _shape(plan.body)


def fit_round(round_: Round, stitches: int, read: Reader) -> Round | None:
    """The round as it is worked over the maker's own number, with its own total; None where it does not work out."""
    if round_.plan is None or stitches < 1:
        return None
    report = read(round_.text, stitches)
    plan = report.plan
    if plan is None or not _is_the_same(report, round_.plan, stitches):
        return None
    text = _with_total(round_.text, round_.plan.leaves, plan.leaves)
    stated = None if round_.stated is None else replace(round_.stated, stitches=plan.leaves)
    return replace(round_, text=text, plan=Plan(plan.body, round_.plan.ends_with), before=stitches, stated=stated)


_TOTAL = compile_later(r"(?<!\d)(\d[\d,]*)(?=[^\d]*$)")
"""The last number of a line."""


def _with_total(text: str, was: int, now: int) -> str:
    """The line with what it comes to now, where its last number is what it came to."""
    last = _TOTAL.search(text)
    if last is None or last[1].replace(",", "") != str(was):
        return text
    return f"{text[: last.start()]}{now}{text[last.end() :]}"


def _shape(body: tuple[Node, ...]) -> list[object]:
    """The acts of a round in their order. How often its outermost runs and groups go is what "around" leaves open;
    within a group every number counts, so that no line is taken in another reading that happens to fit."""
    parts: list[object] = []
    for node in body:
        if isinstance(node, Run):
            part: object = node.act
        else:
            part = tuple(_inside(each) for each in node.body)
        if not parts or parts[-1] != part:
            parts.append(part)
    return parts


def _inside(node: Node) -> object:
    if isinstance(node, Run):
        return node.act, node.times
    return tuple(_inside(each) for each in node.body), node.times


def _is_cut_short(report: LineReport) -> bool:
    return any(problem.code == "cut-short" for problem in report.problems)
