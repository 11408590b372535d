"""Reading a round again: over another number of stitches, or with other words than the pattern's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tracker.pattern.model import Pattern, Piece, Round, Stated, Yarn
from tracker.rounds.line_report import LineReport, read_line
from tracker.rounds.plan import Node, Plan, Repeat, Run

Reader = Callable[[str, int | None], LineReport]
"""Reads the text of a round over a number of stitches, in the terms and with the definitions of the pattern."""


def reader_for(pattern: Pattern, piece: Piece) -> Reader:
    """Our reader, knowing what this pattern says about its words and what its yarns are called."""

    def read(text: str, before: int | None) -> LineReport:
        report = read_line(text, before, pattern.terms, piece.context)
        return report if report.plan is None else replace(report, plan=_with_keys(report.plan, pattern.yarns))

    return read


def rewritten_round(pattern: Pattern, piece: Piece, round_: Round, text: str, before: int) -> Round | None:
    """The round as the maker works it instead of the pattern's: same number and label, this text over these stitches.

    None if our reader does not read it to the end without a fault; what was offered as a mend always is.
    """
    report = reader_for(pattern, piece)(text, before)
    if report.verdict != "ok" or report.plan is None:
        return None
    return replace(
        round_,
        text=text,
        plan=report.plan,
        before=before,
        stated=Stated(stitches=report.stated),
        line=0,
        column=0,
        problems=report.problems,
    )


def _with_keys(plan: Plan, yarns: tuple[Yarn, ...]) -> Plan:
    """The plan with its colours called by the pattern's yarn keys, whatever the case they were written in."""
    keys = {yarn.key.lower(): yarn.key for yarn in yarns}
    if not keys:
        return plan
    return Plan(_keyed(plan.body, keys), keys.get(plan.ends_with.lower(), plan.ends_with))


def _keyed(body: tuple[Node, ...], keys: dict[str, str]) -> tuple[Node, ...]:
    nodes: list[Node] = []
    for node in body:
        if isinstance(node, Repeat):
            nodes.append(replace(node, body=_keyed(node.body, keys)))
        else:
            colour = keys.get(node.act.colour.lower(), node.act.colour)
            nodes.append(Run(replace(node.act, colour=colour), node.times))
    return tuple(nodes)
