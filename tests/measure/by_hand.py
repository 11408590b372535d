"""Pieces built without the reader: rounds of one kind of stitch with given counts."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from tracker.notation.ast import Into, Made, Role
from tracker.pattern.model import Piece, Round, Start
from tracker.rounds.plan import Act, Plan, Run


def plain_piece(
    counts: Sequence[int], kind: str = "sc", name: str = "Piece", first: int = 0, start: Start = Start.SPIRAL
) -> Piece:
    """A piece whose rounds leave these counts; it begins with a magic ring, or on `first` stitches made before."""
    steps = list(pairwise([first, *counts]))
    rounds = tuple(plain_round(number, before, after, kind) for number, (before, after) in enumerate(steps, 1))
    return Piece(name, rounds, start=start)


def plain_round(number: int, before: int, after: int, kind: str = "sc", colour: str = "") -> Round:
    """One round from `before` to `after` stitches by as many increases or decreases as that takes."""
    label = f"Rnd {number}"
    return Round(number, label, f"{label}: by hand ({after})", Plan(runs(before, after, kind)), before, colour=colour)


def runs(before: int, after: int, kind: str) -> tuple[Run, ...]:
    one = Act(kind, Role.WORK, (Made(kind),), 1)
    if before == 0:
        return (Run(Act(kind, Role.WORK, (Made(kind),), 0, into=Into.RING), after),)
    if after >= before:
        into_each, extra = divmod(after, before)
        more = Act("inc", Role.WORK, (Made(kind, into_each + 1),), 1)
        same = Act("inc", Role.WORK, (Made(kind, into_each),), 1) if into_each > 1 else one
        parts = (Run(same, before - extra), Run(more, extra))
    else:
        decrease = Act("dec", Role.WORK, (Made(kind),), 2)
        parts = (Run(one, 2 * after - before), Run(decrease, before - after))
    return tuple(run for run in parts if run.times)
