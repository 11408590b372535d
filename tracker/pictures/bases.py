"""Which places of the round below each act goes into.

The reader has already checked the counts; here every act is led to a place that exists, whatever was written, so
that a link never hangs in the air.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from tracker.notation.ast import Act, Into, Role


@dataclass(frozen=True, slots=True)
class Place:
    """One place that can be worked into: a stitch, or a chain space of `chains` chains.

    `middle_of` is the name of the group ("shell") whose middle a stitch is, "" for others.
    """

    space: bool = False
    chains: int = 0
    middle_of: str = ""


def bases_of(acts: Sequence[Act], places: Sequence[Place]) -> list[tuple[int, ...]]:
    """For each act the numbers of the places below that it goes into; empty only where there are none.

    Tried in this order: stitches and spaces told apart; every place alike; every single chain a place; and at last
    spread evenly, as when the round goes into something else than the round drawn below it.
    """
    if not places:
        return [() for _ in acts]
    takes = sum(act.takes for act in acts)
    apart = _Walk(places).all(acts)
    if apart is not None:
        return apart
    if takes <= len(places):
        return _count_off(acts, list(range(len(places))))
    chains = [min(max(1, place.chains), takes) for place in places]
    if takes <= sum(chains):
        return _count_off(acts, [index for index, count in enumerate(chains) for _ in range(count)])
    return _count_off(acts, [index * len(places) // takes for index in range(takes)])


class _Walk:
    """Goes along the places below, telling stitches from spaces."""

    def __init__(self, places: Sequence[Place]) -> None:
        self._places = places
        self._next = 0
        self._last: tuple[int, ...] = ()

    def all(self, acts: Iterable[Act]) -> list[tuple[int, ...]] | None:
        """The places of all acts; None when they run out."""
        found = []
        for act in acts:
            places = self._of(act)
            if places is None:
                return None
            found.append(places)
        return found

    def _of(self, act: Act) -> tuple[int, ...] | None:
        if act.into in (Into.NOTHING, Into.RING) and not act.takes:
            return self._here() if act.role is Role.CHAIN else ()
        if act.into is Into.SAME or not act.takes:
            return self._last or self._here()
        taken = []
        for _ in range(act.takes):
            index = self._find(act)
            if index is None:
                return None
            taken.append(index)
            self._next = index + 1
        if act.role is Role.SKIP:
            return tuple(taken)
        self._last = tuple(taken)
        if act.into is Into.BETWEEN and taken[0] > 0:
            return (taken[0] - 1, taken[0])
        return self._last

    def _find(self, act: Act) -> int | None:
        ahead = range(self._next, len(self._places))
        named = next((index for index in ahead if self._is_called(index, act.onto)), None)
        if act.into is Into.SPACE and named is not None:
            return named
        return next((index for index in ahead if self._places[index].space is (act.into is Into.SPACE)), None)

    def _is_called(self, index: int, onto: str) -> bool:
        """Whether a place is what the pattern calls it: "ch-3", or the middle of a "shell"."""
        place = self._places[index]
        if onto.startswith("ch-"):
            return place.space and onto == f"ch-{place.chains}"
        return bool(onto) and place.middle_of == onto

    def _here(self) -> tuple[int, ...]:
        return (min(self._next, len(self._places) - 1),)


def _count_off(acts: Iterable[Act], order: Sequence[int]) -> list[tuple[int, ...]]:
    """Acts take the places of `order` one after the other; the last stays when they run out."""
    found: list[tuple[int, ...]] = []
    done = 0
    for act in acts:
        if act.into is Into.RING and not act.takes:
            found.append(())
            continue
        if act.takes:
            taken = tuple(order[min(done + step, len(order) - 1)] for step in range(act.takes))
            done += act.takes
        else:
            at = done - 1 if act.role is Role.WORK else done
            taken = (order[max(0, min(at, len(order) - 1))],)
        found.append(tuple(dict.fromkeys(taken)))
    return found


def shared(bases: tuple[int, ...], stitches: int) -> list[tuple[int, ...]]:
    """The places of one act handed out to its stitches: a fan has one for all, a decrease all for one."""
    if len(bases) <= 1 or stitches < 1:
        return [bases] * stitches
    if stitches >= len(bases):
        return [(bases[index * len(bases) // stitches],) for index in range(stitches)]
    cuts = [index * len(bases) // stitches for index in range(stitches + 1)]
    return [bases[start:end] for start, end in pairwise(cuts)]
