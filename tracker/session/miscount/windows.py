"""Narrow places: the stitches side by side that hold as much as can be of what may be wrong in a round.

A number alone cannot tell which of many like repeats it is. What can be told is where a look is worth most: so many
neighbouring stitches as are looked over at a glance, with the marker or the join where they reach it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tracker.rounds.plan import Plan
from tracker.rounds.slicing import stretch_at
from tracker.session.miscount.explanation import Share
from tracker.session.miscount.sections import closing, narrow_width

LIKELY = 0.4
"""A place that is nearly as likely as all others together is told by itself, as exact as it is."""

MOST_WINDOWS = 5
"""As many places as are told at most."""


@dataclass(frozen=True, slots=True)
class Window:
    """Moves `start` to `until` of the round and the shares in them.

    `beside` is "first", "last" or "both" where it reaches that end of the round; in a round that closes, both ends
    belong to each of these. `alike` is how many stretches, here and elsewhere, are as likely as the likeliest one in
    it; 1 where none is elsewhere. `is_named` is whether the moves are the place, and not only where the likeliest
    slip is.
    """

    start: int
    until: int
    shares: tuple[Share, ...]
    beside: str = ""
    alike: int = 1
    is_named: bool = True

    @property
    def weight(self) -> float:
        return weight_of(self.shares)


def weight_of(shares: Sequence[Share]) -> float:
    """What the shares weigh together."""
    return sum(share.weight for share in shares)


ALIKE = 0.05
"""Two places whose weights differ by less than this share of the greater one are equally likely for a maker."""


@dataclass(frozen=True, slots=True)
class _Unit:
    """The smallest stretch that is told: one time through a group, or what no bound divides."""

    start: int
    until: int
    shares: tuple[Share, ...]
    weight: float


def windows_of(plan: Plan, shares: Sequence[Share], total: float) -> list[Window]:
    """The places in this round, each as narrow as can be looked over, the one that holds most first.

    `total` is the weight of all explanations, of those elsewhere too.
    """
    edges = [share for share in shares if share.cause.edge]
    if edges and weight_of(edges) >= LIKELY * total:
        inner_shares = [share for share in shares if not share.cause.edge]
        return [*_edges_alone(plan, edges), *windows_of(plan, inner_shares, total)]
    units = list(_units(plan, [share for share in shares if not share.cause.edge]))
    whole = weight_of(shares)
    places: list[Window] = []
    alike = _alike(units)
    while (units or edges) and len(places) < MOST_WINDOWS:
        place = _best(plan, units, edges, whole)
        place_ids = {id(share) for share in place.shares}
        units = [unit for unit in units if id(unit.shares[0]) not in place_ids]
        edges = [share for share in edges if id(share) not in place_ids]
        elsewhere = alike - {id(share) for share in place.shares}
        places.append(replace(place, alike=len(alike)) if elsewhere and len(elsewhere) < len(alike) else place)
    return places


def _alike(units: Sequence[_Unit]) -> set[int]:
    """The first share of each stretch that is as likely as the likeliest."""
    most = max((unit.weight for unit in units), default=0.0)
    return {id(unit.shares[0]) for unit in units if most - unit.weight <= ALIKE * most}


def _edges_alone(plan: Plan, edges: list[Share]) -> list[Window]:
    """Where a round closes its two ends lie side by side; in rows they are two places."""
    sides = ("first", "last") if closing(plan) == "turn" else ("",)
    by_side = [[share for share in edges if share.cause.edge == side or not side] for side in sides]
    places = sorted((_around(shares) for shares in by_side if shares), key=lambda place: -place.weight)
    alike = sum(places[0].weight - place.weight <= ALIKE * places[0].weight for place in places)
    return [replace(place, alike=alike if number < alike else 1) for number, place in enumerate(places)]


def _around(edges: Sequence[Share]) -> Window:
    best = max(edges, key=lambda share: (round(share.weight, 12), share.cause.start)).cause
    return Window(best.start, best.until, tuple(edges), best.edge)


def _units(plan: Plan, shares: Sequence[Share]) -> Iterator[_Unit]:
    most, inside = narrow_width(plan.leaves), dict[int, list[Share]]()
    ends: dict[int, int] = {}
    for share in shares:
        cause = share.cause
        within = stretch_at(plan, cause.start)
        wide = plan.stitches_before(within.until) - plan.stitches_before(within.start) > most
        start = within.start if within.in_group and not wide else cause.start
        until = within.until if within.in_group and not wide else cause.until
        inside.setdefault(start, []).append(share)
        ends[start] = max(ends.get(start, 0), until, cause.until)
    for start in sorted(inside):
        yield _Unit(start, ends[start], tuple(inside[start]), weight_of(inside[start]))


def _best(plan: Plan, units: Sequence[_Unit], edges: Sequence[Share], whole: float) -> Window:
    """The next place: by itself one that stands out of all of the round, else the neighbours that hold most."""
    alone = max(units, key=lambda unit: (round(unit.weight, 12), unit.start), default=None)
    if alone is None:
        return _edges_alone(plan, list(edges))[0]
    if alone.weight >= LIKELY * whole:
        return Window(alone.start, alone.until, alone.shares)
    run = max(_runs(plan, units, edges), key=_rank)
    chosen = units[run.first : run.last + 1]
    side = _side(plan, chosen[0].start, chosen[-1].until)
    more = tuple(_edges_at(plan, edges, side)) if side else ()
    shares = tuple(share for unit in chosen for share in unit.shares)
    return Window(chosen[0].start, chosen[-1].until, (*shares, *more), side if more else "")


@dataclass(frozen=True, slots=True)
class _RunOfUnits:
    first: int
    last: int
    weight: float
    width: int


def _rank(run: _RunOfUnits) -> tuple[float, int, int]:
    """Holding most; of equals the narrowest, then the one nearest to the hook."""
    return round(run.weight, 12), -run.width, run.last


def _runs(plan: Plan, units: Sequence[_Unit], edges: Sequence[Share]) -> Iterator[_RunOfUnits]:
    """Up to each unit as many as are narrow, never over a gap that was told already."""
    most, first, weight = narrow_width(plan.leaves), 0, 0.0
    at = {side: weight_of(list(_edges_at(plan, edges, side))) for side in ("first", "last", "both")}
    before = [(plan.stitches_before(unit.start), plan.stitches_before(unit.until)) for unit in units]
    for last, unit in enumerate(units):
        if last and before[last - 1][1] != before[last][0]:
            first, weight = last, 0.0
        weight += unit.weight
        while first < last and before[last][1] - before[first][0] > most:
            weight -= units[first].weight
            first += 1
        side = _side(plan, units[first].start, unit.until)
        yield _RunOfUnits(first, last, weight + at.get(side, 0.0), before[last][1] - before[first][0])


def _side(plan: Plan, start: int, until: int) -> str:
    """Which end of the round the moves reach: "first", "last", "both" or ""."""
    ends = plan.stitches_before(until) >= plan.leaves
    if not plan.stitches_before(start):
        return "both" if ends else "first"
    return "last" if ends else ""


def _edges_at(plan: Plan, edges: Sequence[Share], side: str) -> Iterator[Share]:
    in_rows = closing(plan) == "turn"
    yield from (share for share in edges if not in_rows or side in (share.cause.edge, "both"))
