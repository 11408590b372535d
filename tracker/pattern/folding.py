"""A row of stitches written short: what repeats is put in a bracket."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby

from tracker.diagnostics import NOWHERE
from tracker.pattern.plan import Act, Node, Repeat, Run

LONGEST_GROUP = 24
"""Nodes in one bracket; a longer group is written out, as nobody would see that it repeats."""


def folded(nodes: Iterable[Node]) -> tuple[Node, ...]:
    """The same stitches in fewer words: equal neighbours counted together, groups that repeat in brackets."""
    body = joined(nodes)
    while (best := _best_group(body)) is not None:
        start, length, times = best
        group = Repeat(folded(body[start : start + length]), times)
        body = (*body[:start], group, *body[start + length * times :])
    return body


def joined(nodes: Iterable[Node]) -> tuple[Node, ...]:
    """Runs of the same act side by side become one run. Where the words stood is forgotten."""
    bare = [_bare(node) for node in nodes]
    body: list[Node] = []
    for act, same in groupby(bare, key=lambda node: node.act if isinstance(node, Run) else node):
        if isinstance(act, Act):
            body.append(Run(act, sum(node.times for node in same)))
        else:
            body.extend(same)
    return tuple(body)


def _bare(node: Node) -> Node:
    if isinstance(node, Run):
        return Run(replace(node.act, span=NOWHERE), node.times)
    return Repeat(joined(node.body), node.times)


def _best_group(body: tuple[Node, ...]) -> tuple[int, int, int] | None:
    """The group whose bracket saves most: first node, length, times. None when none saves anything."""
    best: tuple[int, tuple[int, int, int]] | None = None
    for length in range(2, min(LONGEST_GROUP, len(body) // 2) + 1):
        for start in range(len(body) - 2 * length + 1):
            times = _times(body, start, length)
            saved = (times - 1) * length
            if times > 1 and (best is None or saved > best[0]):
                best = saved, (start, length, times)
    return best[1] if best else None


def _times(body: tuple[Node, ...], start: int, length: int) -> int:
    """How often the group that begins here stands there in a row."""
    group, times = body[start : start + length], 1
    while body[start + length * times : start + length * (times + 1)] == group:
        times += 1
    return times
