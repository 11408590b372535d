"""A part of a round as it was really worked: the line with one mistake in it, still in the same notation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tracker.diagnostics import NOWHERE
from tracker.making.evenly import increase_of
from tracker.making.mistakes import Mistake
from tracker.making.recount import Suspect
from tracker.making.stretches import acts_from
from tracker.rounds.plan import Act, Made, Node, Plan, Role, Run
from tracker.rounds.slicing import cut


def as_worked(body: tuple[Node, ...], place: Suspect) -> tuple[Node, ...] | None:
    """The part with the mistake of this place in it. The bases used stay what the line says. None if the mistake is
    not one of a single stitch, or not in this part."""
    slip = _SLIPS.get(place.mistake)
    plan = Plan(body)
    if slip is None or place.rounds_back:
        return None
    start, until = place.stretch if place.until - place.move == 0 else (place.move, place.until)
    for (first, end), act in acts_from(plan, start, min(until, plan.moves)):
        worked = slip(replace(act, span=NOWHERE), place.effect)
        if worked is not None:
            before, rest = cut(body, first)
            return (*before, worked, *cut(rest, end - first)[1])
    return None


def _missed_increase(act: Act, effect: int) -> Run | None:
    left = act.stitches + effect
    if not act.is_increase or len(act.makes) != 1 or left < 1:
        return None
    kind = act.makes[0].kind
    return Run(replace(act, name=kind if left == 1 else "inc", makes=(Made(kind, left),)))


def _missed_decrease(act: Act, effect: int) -> Run | None:
    if not act.is_decrease or len(act.makes) != 1 or act.stitches + effect != act.takes:
        return None
    kind = act.makes[0].kind
    return Run(replace(act, name=kind, takes=1, makes=(Made(kind),)), act.takes)


def _skipped(act: Act, effect: int) -> Run | None:
    return Run(Act("sk", Role.SKIP, (), 1)) if _is_plain(act) and effect == -1 else None


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
