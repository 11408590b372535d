"""Increases and decreases whose places a pattern leaves open, set among the plain stitches beside them."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.ast import EVENLY, OPEN_PLACES, Act, Into, Role
from tracker.pattern.plan import Node, Repeat, Run


def set_in(nodes: list[Node]) -> list[Node]:
    """The round with such changes among the plain stitches: evenly, the gaps differing by at most one, or at both
    ends. Numbers of stitches stay as they are."""
    for index, node in enumerate(nodes):
        if isinstance(node, Run) and node.act.remark in OPEN_PLACES:
            first, end = _plain_beside(nodes, index)
            plain = [beside for beside in nodes[first:end] if isinstance(beside, Run) and beside is not node]
            there = sum(run.times for run in plain)
            change = Run(replace(node.act, remark=""), node.times)
            if plain and change.act.makes[0].kind == plain[0].act.makes[0].kind:
                spread = _evenly if node.act.remark == EVENLY else _at_both_ends
                return [
                    *nodes[:first],
                    *spread(change, max(plain, key=lambda run: run.times).act, there),
                    *nodes[end:],
                ]
            return [*nodes[:index], change, *nodes[index + 1 :]]
    return nodes


def _plain_beside(nodes: list[Node], index: int) -> tuple[int, int]:
    """The stretch of plain stitches of one kind that these changes stand in."""
    first, end = index, index + 1
    while first and _is_plain(nodes[first - 1]):
        first -= 1
    while end < len(nodes) and _is_plain(nodes[end]):
        end += 1
    return first, end


def _is_plain(node: Node) -> bool:
    if not isinstance(node, Run):
        return False
    act = node.act
    return act.role is Role.WORK and act.takes == act.stitches == 1 and act.into is Into.STITCH and not act.remark


def _evenly(changes: Run, plain: Act, there: int) -> list[Node]:
    gap, longer = divmod(there, changes.times)
    nodes: list[Node] = []
    for length, times in ((gap + 1, longer), (gap, changes.times - longer)):
        body = (*((Run(plain, length),) if length else ()), Run(changes.act))
        nodes += [Repeat(body, times)] if times else []
    return nodes


def _at_both_ends(changes: Run, plain: Act, there: int) -> list[Node]:
    half = changes.times // 2
    middle = [Run(plain, there)] if there else []
    return [Run(changes.act, half), *middle, Run(changes.act, changes.times - half)]
