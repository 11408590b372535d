"""What goes round into several kinds of places at once, in the order in which these lie."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Item, Some, ToEnd
from tracker.rounds.edge import place_name
from tracker.rounds.plan import Node, Repeat, Run

if TYPE_CHECKING:
    from tracker.rounds.lace import Advance


def in_order(nodes: list[Node], body: tuple[Item, ...], along: Advance) -> list[Node]:
    """The nodes of a round, with what goes round at once put in the order of the places: "sc in each dc around, 3 sc
    in each corner sp" comes to a corner after each side. As they are if nothing does so, or does not go into all."""
    names = {
        item.act.span: place_name(item.act, also_spaces=item.act.also_spaces)
        for item in body
        if isinstance(item, Some) and item.times == ToEnd()
    }
    abreast = [index for index, node in enumerate(nodes) if isinstance(node, Run) and node.span in names]
    if along.fork is None or len(abreast) < 2 or abreast != list(range(abreast[0], abreast[-1] + 1)):
        return nodes
    runs = [node for node in nodes[abreast[0] : abreast[-1] + 1] if isinstance(node, Run)]
    turns: list[tuple[int, Run]] = []
    size = len(along.edge.places)
    for run in runs:
        sites = sorted((site - along.fork) % size for site in along.edge.sites(along.called(names[run.span])))
        begun = sites[:: max(run.act.takes, 1)]  # where a decrease goes into several places it stands at the first
        turns += [(site, run) for site in begun[: run.times]]  # a chain may stand for the first stitch
    if len({place for place, _ in turns}) < len(turns):
        return nodes
    turns.sort(key=lambda turn: turn[0])
    worked = [replace(run, times=len(list(same))) for run, same in groupby([run for _, run in turns])]
    return [*nodes[: abreast[0]], *_folded(worked), *nodes[abreast[-1] + 1 :]]


def _folded(runs: list[Run]) -> Iterator[Node]:
    """Runs that come again and again as one repeat, with what is left of it behind; spans are kept.

    Only a repeat from the first run on is looked for: lace has hundreds of runs, and `formatter.folded`, which finds
    every group, takes seconds for a thousand.
    """
    for size in range(2, len(runs) // 2 + 1):
        times = len(runs) // size
        if runs == (runs[:size] * (times + 1))[: len(runs)]:
            yield Repeat(tuple(runs[:size]), times, runs[0].span.to(runs[size - 1].span))
            yield from runs[size * times :]
            return
    yield from runs
