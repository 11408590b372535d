"""A round rewritten over another number of stitches: changes spread evenly, and not over those of the round below."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from tracker.rounds.formatter import folded, gaps_before, joined, notate_body, spread
from tracker.rounds.plan import Act, Into, Made, Node, Plan, Role, Run, Technique, unrolled
from tracker.rounds.slicing import cut
from tracker.session.miscount.sections import acts_from
from tracker.session.miscount.suspects import Suspect
from tracker.session.mistakes import Mistake

MOST_CHANGES = 120
"""More increases than this in one round are not written anew; single corrections are set into the round instead."""

MOST_CORRECTIONS = 40
"""A difference beyond this is no slip, and no mend."""

SEARCHED = 200
"""Moves looked at to both sides for room for a correction."""


@dataclass(frozen=True, slots=True)
class Simple:
    """A round of one kind of stitch: what opens it, its plain stitch, what closes it."""

    opening: tuple[Node, ...]
    plain: Act
    closing: tuple[Node, ...]


def simple(body: tuple[Node, ...]) -> Simple | None:
    """The round as plain stitches, increases and decreases of one kind; None if it is anything else."""
    start, end = 0, len(body)
    while start < end and _is_no_stitch(body[start]):
        start += 1
    while end > start and _is_no_stitch(body[end - 1]):
        end -= 1
    acts = list(Plan(body[start:end]).acts())
    plain = _plain_of(acts[0]) if acts else None
    if plain is None or any(_plain_of(act) != plain for act in acts):
        return None
    return Simple(body[:start], plain, body[end:])


def _is_no_stitch(node: Node) -> bool:
    return isinstance(node, Run) and node.act.role is not Role.WORK


def _plain_of(act: Act) -> Act | None:
    """The plain stitch that this act is a change of: itself, an increase of one, or a decrease of one."""
    small = act.takes in (1, 2) and 1 <= act.stitches <= 2 and not act.takes == act.stitches == 2
    if act.role is not Role.WORK or act.into is not Into.STITCH or len(act.makes) != 1 or not small:
        return None
    made = Made(act.makes[0].kind)
    return Act(made.kind, Role.WORK, (made,), 1, Into.STITCH, act.loop, act.colour)


def increase_of(plain: Act) -> Act:
    """Two of this stitch in one place."""
    return replace(plain, name="inc", makes=(Made(plain.makes[0].kind, 2),), technique=Technique.INCREASE)


def decrease_of(plain: Act) -> Act:
    """Two places closed with one of this stitch."""
    kind = plain.makes[0].kind
    if kind == "sc":
        return replace(plain, name="dec", takes=2, technique=Technique.DECREASE)
    return replace(plain, name=f"{kind}2tog", takes=2, technique=Technique.TOGETHER)


def is_even(body: tuple[Node, ...]) -> bool:
    """Whether the round is of one kind of stitch, with its changes as evenly spaced as they can be or none at all.

    Where they are not, their places are the shape of the piece, and no mend may move them.
    """
    shape = simple(body)
    if shape is None:
        return False
    gaps, gap, changes = list[int](), 0, set[int]()
    for run in unrolled(body[len(shape.opening) : len(body) - len(shape.closing)]):
        act, times = run.act, run.times
        if act.takes == act.stitches:
            gap += times
        else:
            gaps += [gap, *[0] * (min(times, MOST_CHANGES + 1) - 1)]
            gap = 0
            changes.add(act.stitches - act.takes)
        if len(gaps) > MOST_CHANGES:
            return False
    around = [gaps[0] + gap, *gaps[1:]] if gaps else [0]
    return len(changes) < 2 and max(around) - min(around) <= 1


Bump = tuple[int, int]
"""First and last stitch of a change in the round below, counted from 0."""


def bumps_of(plan: Plan) -> tuple[Bump, ...]:
    """Where a round's changes lie among its stitches; only the first few hundred acts are looked at."""
    return tuple(
        (plan.stitches_before(start), plan.stitches_before(end) - 1)
        for (start, end), act in acts_from(plan, 0)
        if act.is_increase or act.is_decrease
    )


def even_round(
    body: tuple[Node, ...], bases: int, target: int, below: tuple[Bump, ...] = ()
) -> tuple[Node, ...] | None:
    """The round over `bases` stitches so that it leaves `target`, its changes spread evenly.

    The gaps differ by at most one. Of the ways to turn them, one is taken that puts fewest changes over those of
    the round below or into the first stitch, and of those the one that is shortest to write. None if the round is
    not of one kind of stitch, or if there is no room.
    """
    shape = simple(body)
    if shape is None:
        return None
    fixed = Plan((*shape.opening, *shape.closing)).tally
    bases, target = bases - fixed.takes, target - fixed.stitches
    changes = abs(target - bases)
    acts = bases if target >= bases else target
    if bases < 1 or target < 1 or changes > min(acts, MOST_CHANGES):
        return None
    change = increase_of(shape.plain) if target > bases else decrease_of(shape.plain)
    ways = [
        (_stacked(places, change.takes, below) + (0 in places), folded(_laid_out(shape.plain, change, places, acts)))
        for places in _turned(changes, acts)
    ]
    _, middle = min(ways, key=lambda way: (way[0], len(notate_body(way[1]))))
    return (*joined(shape.opening), *middle, *joined(shape.closing))


def _turned(changes: int, acts: int) -> Iterator[tuple[int, ...]]:
    """The even spacing in each of its turns, half a gap first; a single change stays away from the ends."""
    if changes < 2:
        yield spread(changes, acts, -(acts // 2)) if changes else ()
        return
    gap = acts // changes
    for turn in sorted(range(gap), key=lambda turn: (abs(turn - gap // 2), turn))[:60]:
        yield spread(changes, acts, -turn)


def _stacked(places: tuple[int, ...], takes: int, below: tuple[Bump, ...]) -> int:
    """How many of these changes come to lie over one of the round below."""
    bases = [place + number * (takes - 1) for number, place in enumerate(places)]
    return sum(any(base <= last and first < base + takes for first, last in below) for base in bases)


def _laid_out(plain: Act, change: Act, places: tuple[int, ...], acts: int) -> Iterator[Node]:
    gaps, after_last = gaps_before(places, acts)
    for gap in gaps:
        yield from (Run(plain, gap), Run(change)) if gap else (Run(change),)
    if after_last:
        yield Run(plain, after_last)


def over_more_bases(body: tuple[Node, ...], bases: int) -> tuple[Node, ...] | None:
    """The round with `bases` more (negative: fewer) stitches to work into and the same stitches left: here and there
    one decrease for a plain stitch, or one increase for two. None where there is no room."""
    if bases < 0:
        return _corrected(body, -bases, 2, increase_of)
    return _corrected(body, bases, 1, decrease_of)


def with_more_stitches(body: tuple[Node, ...], stitches: int) -> tuple[Node, ...] | None:
    """The round over the same bases with so many more (negative: fewer) stitches left."""
    if stitches < 0:
        return _corrected(body, -stitches, 2, decrease_of)
    return _corrected(body, stitches, 1, increase_of)


def _corrected(
    body: tuple[Node, ...], times: int, width: int, change: Callable[[Act], Act]
) -> tuple[Node, ...] | None:
    """So many times, evenly, `change` in the place of `width` plain stitches that stand side by side."""
    if times > MOST_CORRECTIONS:
        return None
    plan, sites = Plan(body), list[int]()
    for number in range(times):
        site = _site_near(plan, (2 * number + 1) * plan.moves // (2 * times), width, sites)
        if site is None:
            return None
        sites.append(site)
    for site in sorted(sites, reverse=True):
        spot = plan.spot(site)
        assert spot is not None
        before, tail = cut(body, site)
        body = (*before, Run(change(spot.act)), *cut(tail, width)[1])
    return folded(body)


def _site_near(plan: Plan, target: int, width: int, sites: list[int]) -> int | None:
    """The plain stitches nearest to a move, if possible with plain stitches on both sides."""
    for margin in (1, 0):
        for distance in range(SEARCHED):
            for move in (target - distance, target + distance):
                if _has_room(plan, move, width, margin) and all(abs(move - site) > width for site in sites):
                    return move
    return None


def _has_room(plan: Plan, move: int, width: int, margin: int) -> bool:
    spot = plan.spot(move)
    if spot is None or spot.act.takes != 1 or spot.act.stitches != 1 or _plain_of(spot.act) is None:
        return False
    return margin <= spot.in_run <= spot.run_times - width - margin


# A part of a round as it was really worked: the line with one mistake in it, still in the same notation.


def as_worked(body: tuple[Node, ...], place: Suspect) -> tuple[Node, ...] | None:
    """The part with the mistake of this place in it. The bases used stay what the line says. None if the mistake is
    not one of a single stitch, or not in this part."""
    slip = _SLIPS.get(place.mistake)
    plan = Plan(body)
    if slip is None or place.rounds_back:
        return None
    start, until = place.stretch if place.until - place.move == 0 else (place.move, place.until)
    for (first, end), act in acts_from(plan, start, min(until, plan.moves)):
        worked_act = slip(act, place.effect)
        if worked_act is not None:
            before, tail = cut(body, first)
            return (*before, worked_act, *cut(tail, end - first)[1])
    return None


def _missed_increase(act: Act, effect: int) -> Run | None:
    stitches = act.stitches + effect
    if not act.is_increase or len(act.makes) != 1 or stitches < 1:
        return None
    kind = act.makes[0].kind
    plain = replace(act, name=kind, makes=(Made(kind),), technique=Technique.STITCH)
    return Run(plain if stitches == 1 else replace(increase_of(plain), makes=(Made(kind, stitches),)))


def _missed_decrease(act: Act, effect: int) -> Run | None:
    if not act.is_decrease or len(act.makes) != 1 or act.stitches + effect != act.takes:
        return None
    kind = act.makes[0].kind
    plain = replace(act, name=kind, takes=1, makes=(Made(kind),), technique=Technique.STITCH)
    return Run(plain, act.takes)


def _skipped(act: Act, effect: int) -> Run | None:
    return Run(Act("sk", Role.SKIP, (), 1, technique=Technique.SKIP)) if _is_plain(act) and effect == -1 else None


def _doubled(act: Act, effect: int) -> Run | None:
    return Run(increase_of(act)) if _is_plain(act) and effect == 1 else None


def _is_plain(act: Act) -> bool:
    return act.role is Role.WORK and act.takes == act.stitches == 1 and len(act.makes) == 1


_SLIPS: dict[Mistake, Callable[[Act, int], Run | None]] = {
    Mistake.MISSED_INCREASE: _missed_increase,
    Mistake.MISSED_DECREASE: _missed_decrease,
    Mistake.SKIPPED: _skipped,
    Mistake.DOUBLED: _doubled,
}
