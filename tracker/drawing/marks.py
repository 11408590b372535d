"""The symbols of a round before they have a place: what each is, how wide, and what it goes into."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from tracker.drawing.acts import PlacedAct, chain_step, is_chain_alone
from tracker.drawing.chart_model import CHAIN_LENGTH
from tracker.drawing.symbols import SYMBOLS, Symbol, SymbolForm, symbol_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Into, Loop, Role, Technique
from tracker.notation.instructions import WITHIN
from tracker.rounds.bases import ALONE
from tracker.rounds.plan import Act, Made

MOST_OVALS = 12
"""A longer chain is drawn with this many ovals and its number."""
# The outer legs of a fan are longer, so that all end on one line; by eye.
_IN_FAN = 0.88
_WIDE = {
    SymbolForm.CLUSTER: 1.4,
    SymbolForm.BOBBLE: 1.4,
    SymbolForm.POPCORN: 1.5,
    SymbolForm.PUFF: 1.3,
    SymbolForm.DOT: 0.8,
    SymbolForm.NAMED: 1.2,
}


@dataclass(frozen=True, slots=True)
class MarkDraft:
    """One symbol to come. `lean` is its place in its fan, from -1 (first) to 1 (last).

    `group` is how many symbols one act makes in one place.
    """

    kind: str
    symbol: Symbol
    name: str
    bases: tuple[int, ...]
    width: float
    height: float
    colour: str
    loop: Loop = Loop.BOTH
    fan: int = 1
    company: tuple[Made, ...] = ()
    lean: float = 0.0
    chains: int = 0
    standing: bool = False
    counted: bool = True
    between: bool = False
    group: int = 1
    legs: tuple[str, int] | None = None


def drafts_of(acts: Sequence[PlacedAct], places: Sequence[DrawnBase], *, in_rows: bool = False) -> list[MarkDraft]:
    """The symbols of these acts, in order, each led to places of the round below.

    In rows a length of chain is as wide as the stitches that it passes over; in rounds it may bow out.
    """
    bases = bases_of([each.act for each in acts], places)
    drafts: list[MarkDraft] = []
    for number, (each, below) in enumerate(zip(acts, bases, strict=True)):
        if each.act.role is Role.STEP:
            drafts.extend(_reaching_up(each, drafts))
        elif each.act.role is Role.SKIP:
            continue
        elif is_chain_alone(each.act) and each.act.technique is not Technique.PICOT:
            drafts.extend(_chain(each, below, _stands(acts, number)))
        else:
            drafts.extend(_stitches(each, below))
    if in_rows:
        drafts = [replace(draft, width=_width_in_rows(draft)) for draft in drafts]
    return _with_first_chain(drafts)


def _width_in_rows(draft: MarkDraft) -> float:
    spans = draft.chains and not draft.standing and draft.symbol.form is SymbolForm.OVAL
    return max(draft.width, min(draft.chains, 2 + draft.chains / 4)) if spans else draft.width


def _with_first_chain(drafts: list[MarkDraft]) -> list[MarkDraft]:
    """A chain that stands for the first stitch of a fan belongs to that fan."""
    if len(drafts) < 2 or not drafts[0].standing or not drafts[0].counted:
        return drafts
    first, second = drafts[:2]
    if not second.bases or second.bases != first.bases:
        return drafts
    size = second.group + 1
    return [*(replace(draft, group=size) for draft in drafts[:size]), *drafts[size:]]


def _reaching_up(each: PlacedAct, before: Sequence[MarkDraft]) -> list[MarkDraft]:
    """A chain at the start that is no stitch, only as high as one; one at the end belongs to the next round."""
    length = chain_step(each.act)
    if not length or before:
        return []
    return [_standing(Made("ch", length), each, ())]


def _stands(acts: Sequence[PlacedAct], number: int) -> bool:
    """Whether a chain at this place stands up as the start of a round rather than spanning a space.

    It does if nothing was worked before it and a stitch, not a skip, comes after it.
    """
    each = acts[number]
    if any(made.counts_as for made in each.act.makes):
        return True
    before = [other.act for other in acts[:number] if other.act.role is not Role.STEP]
    after = [other.act for other in acts[number + 1 : number + 2]]
    return each.single and not before and bool(after) and after[0].role is Role.WORK


def _chain(each: PlacedAct, below: tuple[int, ...], stands: bool) -> list[MarkDraft]:
    if not stands:
        return [_space(made, each, below) for made in each.act.makes]
    first, *spaces = each.act.makes
    return [_standing(first, each, below), *(_space(made, each, below) for made in spaces)]


def _standing(made: Made, each: PlacedAct, below: tuple[int, ...]) -> MarkDraft:
    counted = bool(made.counts_as)
    height = symbol_of(made.counts_as).drawn_height if counted else min(made.count, MOST_OVALS) * CHAIN_LENGTH
    return MarkDraft(
        made.kind,
        SYMBOLS["ch"],
        each.act.name,
        below[:1] if counted else (),
        1.0 if counted else 0.6,
        height,
        each.colour,
        chains=made.count,
        standing=True,
        counted=counted,
    )


def _space(made: Made, each: PlacedAct, below: tuple[int, ...]) -> MarkDraft:
    drawn = min(made.count, MOST_OVALS)
    width = 0.1 + 0.7 * drawn if drawn <= 2 else 0.7 + 0.44 * drawn
    symbol = SYMBOLS["ch"]
    return MarkDraft(
        made.kind,
        symbol,
        each.act.name,
        (),
        width,
        symbol.drawn_height,
        each.colour,
        chains=made.count,
        counted=False,
    )


def _stitches(each: PlacedAct, below: tuple[int, ...]) -> list[MarkDraft]:
    act = each.act
    singles = [made for made in act.makes for _ in range(made.moves)]
    worked = [made for made in singles if not made.is_chain]
    feet = iter(shared(below, len(worked)))
    fan = _fan(act, len(worked), len(below))
    drafts: list[MarkDraft] = []
    for index, made in enumerate(singles):
        lean = 2 * index / (len(singles) - 1) - 1 if fan > 1 and len(singles) > 1 else 0.0
        if made.is_chain:
            drafts.append(_picot(made, each) if act.technique is Technique.PICOT else _space(made, each, ()))
        else:
            drafts.append(_stitch(made, each, next(feet), fan, lean))
    return [replace(draft, group=len(drafts)) for draft in drafts] if fan > 1 else drafts


def _fan(act: Act, stitches: int, bases: int) -> int:
    """How many stitches share the one base of this act; a ring is no base."""
    if act.into is Into.RING:
        return 1
    return stitches if bases <= 1 or act.into is Into.BETWEEN else 1


def _stitch(made: Made, each: PlacedAct, below: tuple[int, ...], fan: int, lean: float) -> MarkDraft:
    symbol = symbol_of(made.kind)
    return MarkDraft(
        made.kind,
        symbol,
        each.act.name,
        below,
        _WIDE.get(symbol.form, _IN_FAN if fan > 2 else 1.0),
        symbol.drawn_height,
        each.colour,
        each.act.loop,
        fan,
        each.act.makes if fan > 1 else (),
        lean,
        between=each.act.into is Into.BETWEEN,
        legs=made.legs,
    )


def _picot(made: Made, each: PlacedAct) -> MarkDraft:
    symbol = SYMBOLS["picot"]
    return MarkDraft(made.kind, symbol, "picot", (), 0.7, 0.0, each.colour, chains=made.count, counted=False)


# Which places of the round below each act goes into.


@dataclass(frozen=True, slots=True)
class DrawnBase:
    """One place that can be worked into: a stitch, or a chain space of `chains` chains.

    `middle_of` is the name of the group ("shell") whose middle a stitch is, "" for others; `kind` is its US name.
    """

    space: bool = False
    chains: int = 0
    middle_of: str = ""
    kind: str = ""


def bases_of(acts: Sequence[Act], places: Sequence[DrawnBase]) -> list[tuple[int, ...]]:
    """For each act the numbers of the places below that it goes into; empty only where there are none.

    Tried in this order: stitches and spaces told apart; every place alike; every single chain a place; and at last
    spread evenly, as when the round goes into something else than the round drawn below it.
    """
    if not places:
        return [() for _ in acts]
    takes = sum(act.takes for act in acts)
    apart = _BaseWalk(places).all(acts)
    if apart is not None:
        return apart
    if takes <= len(places):
        return _count_off(acts, list(range(len(places))))
    chains = [min(max(1, place.chains), takes) for place in places]
    if takes <= sum(chains):
        return _count_off(acts, [index for index, count in enumerate(chains) for _ in range(count)])
    return _count_off(acts, [index * len(places) // takes for index in range(takes)])


class _BaseWalk:
    """Goes along the places below, telling stitches from spaces."""

    def __init__(self, places: Sequence[DrawnBase]) -> None:
        self._places = places
        self._next = 0
        self._last: tuple[int, ...] = ()

    def all(self, acts: Iterable[Act]) -> list[tuple[int, ...]] | None:
        """The places of all acts; None when they run out."""
        places_by_act = []
        for act in acts:
            places = self._of(act)
            if places is None:
                return None
            places_by_act.append(places)
        return places_by_act

    def _of(self, act: Act) -> tuple[int, ...] | None:
        if act.into in (Into.NOTHING, Into.RING) and not act.takes:
            return self._next_place() if act.role is Role.CHAIN else ()
        if act.into is Into.SAME or not act.takes:
            return self._last or self._next_place()
        indexes = []
        for _ in range(act.takes):
            index = self._find(act)
            if index is None:
                return None
            indexes.append(index)
            self._next = index + 1
        if act.role is Role.SKIP:
            return tuple(indexes)
        self._last = tuple(indexes)
        if act.into is Into.BETWEEN and indexes[0] > 0:
            return (indexes[0] - 1, indexes[0])
        return self._last

    def _find(self, act: Act) -> int | None:
        ahead = range(self._next, len(self._places))
        named_index = next((index for index in ahead if self._is_called(index, act.onto)), None)
        if named_index is not None and (act.into is Into.SPACE or act.onto.startswith(ALONE)):
            return named_index
        return next((index for index in ahead if self._places[index].space is (act.into is Into.SPACE)), None)

    def _is_called(self, index: int, onto: str) -> bool:
        """Whether a place is what the pattern calls it: "ch-3", or the middle of a "shell"."""
        place = self._places[index]
        if onto.startswith(ALONE):
            return ALONE + place.kind == onto
        onto = onto.rpartition(WITHIN)[2]
        if onto.startswith("ch-"):
            return place.space and onto == f"ch-{place.chains}"
        return bool(onto) and place.middle_of == onto

    def _next_place(self) -> tuple[int, ...]:
        return (min(self._next, len(self._places) - 1),)


def _count_off(acts: Iterable[Act], order: Sequence[int]) -> list[tuple[int, ...]]:
    """Acts take the places of `order` one after the other; the last stays when they run out."""
    places_by_act: list[tuple[int, ...]] = []
    done = 0
    for act in acts:
        if act.into is Into.RING and not act.takes:
            places_by_act.append(())
            continue
        if act.takes:
            places = tuple(order[min(done + step, len(order) - 1)] for step in range(act.takes))
            done += act.takes
        else:
            at = done - 1 if act.role is Role.WORK else done
            places = (order[max(0, min(at, len(order) - 1))],)
        places_by_act.append(tuple(dict.fromkeys(places)))
    return places_by_act


def shared(bases: tuple[int, ...], stitches: int) -> list[tuple[int, ...]]:
    """The places of one act handed out to its stitches: a fan has one for all, a decrease all for one."""
    if len(bases) <= 1 or stitches < 1:
        return [bases] * stitches
    if stitches >= len(bases):
        return [(bases[index * len(bases) // stitches],) for index in range(stitches)]
    cuts = [index * len(bases) // stitches for index in range(stitches + 1)]
    return [bases[start:end] for start, end in pairwise(cuts)]
