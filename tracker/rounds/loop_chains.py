"""Stitches that go along the chains of a loop, told by how many there are: "sc in dc, sc in each of the 3 ch"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, Exactly, Group, Into, Item, Line, Role, Some
from tracker.notation.instructions import OF_CHAINS
from tracker.rounds.bases import Base


class NoSuchLoop(Exception):
    """The round below has no loop of so many chains; carries how many."""

    def __init__(self, chains: int, lengths: list[int]) -> None:
        listed = " and ".join(map(str, lengths))
        super().__init__(f"this goes into {chains} chains, and the loops of the round below are of {listed}")


def along_loops(line: Line, base: Base) -> Line:
    """The line with each run of stitches into chains going along a loop of as many; raises `NoSuchLoop`."""
    lengths = sorted(int(name[3:]) for name, _ in base.named if name.startswith("ch-"))
    if base.plan is None or not lengths or base.bridges or line.foundation or line.worked_into is not None:
        return line
    return replace(line, body=_placed(line.body, lengths))


def _placed(body: tuple[Item, ...], lengths: list[int]) -> tuple[Item, ...]:
    placed = [_inside(item, lengths) for item in body]
    run: list[int] = []
    for index, item in enumerate((*placed, None)):
        if isinstance(item, Some) and _goes_into_chains(item):
            run.append(index)
        elif run and not (isinstance(item, Some) and not item.act.takes):
            _go_along(placed, run, lengths)
            run = []
    return tuple(placed)


def _inside(item: Item, lengths: list[int]) -> Item:
    if isinstance(item, Group):
        return replace(item, body=_placed(item.body, lengths))
    if isinstance(item, Choice):
        return replace(item, options=tuple(replace(each, body=_placed(each.body, lengths)) for each in item.options))
    if isinstance(item, Some) and item.act.also_spaces and item.act.onto.startswith(OF_CHAINS):
        chains = int(item.act.onto.removeprefix(OF_CHAINS))
        if lengths != [chains]:
            raise NoSuchLoop(chains, lengths)
    return item


def _goes_into_chains(item: Some) -> bool:
    act = item.act
    into_chain = act.into is Into.CHAIN and act.takes == 1 and not act.onto and not act.from_hook
    return into_chain and isinstance(item.times, Exactly)


def _go_along(items: list[Item], run: list[int], lengths: list[int]) -> None:
    """The items with these numbers put along one loop, which the first stitch takes for all; skipped chains alone
    lie over nothing."""
    along = {index: item for index in run if isinstance(item := items[index], Some)}
    chains = sum(item.times.count for item in along.values() if isinstance(item.times, Exactly))
    first = next((index for index, item in along.items() if item.act.role is Role.WORK), None)
    if first is None:
        return
    if chains not in lengths:
        raise NoSuchLoop(chains, lengths)
    for index, item in along.items():
        takes = item.act.takes if index == first else 0
        items[index] = replace(item, act=replace(item.act, onto=f"ch-{chains}", takes=takes))
