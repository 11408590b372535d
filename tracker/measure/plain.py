"""Which rounds can be worked anew for another count: plain ones, all of one stitch, changing by inc and dec only."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.notation.ast import Act, Into, Loop, Role
from tracker.notation.glossary import BY_ID
from tracker.pattern.model import Round

MOST_IN_ONE = 3
"""Stitches worked into one, or taken together, up to which a change counts as plain."""


@dataclass(frozen=True, slots=True)
class PlainRound:
    """What a plain round is made of: `kind` is the US name of its stitch, `colour` the key of its yarn."""

    kind: str
    loop: Loop
    colour: str


def plain_round(round_: Round) -> PlainRound | str:
    """The round's stitch, loop and colour, or in words what keeps it from being worked over another count."""
    if round_.plan is None:
        return f"{round_.label} could not be read"
    acts = [act for act in round_.plan.acts() if act.role is not Role.STEP]
    for act in acts:
        hindrance = _hindrance(act)
        if hindrance:
            return f"{round_.label} has {hindrance}"
    kinds = {made.counts_as or made.kind for act in acts for made in act.makes}
    loops = {act.loop for act in acts}
    colours = {act.colour or round_.colour for act in acts}
    if len(kinds) != 1:
        return f"{round_.label} has stitches of different heights" if kinds else f"{round_.label} makes no stitch"
    if len(loops) != 1:
        return f"{round_.label} takes different loops in turn, which must divide"
    if len(colours) != 1:
        return f"{round_.label} changes colour inside the round, at a stitch that another count does not have"
    return PlainRound(kinds.pop(), loops.pop(), colours.pop())


def _hindrance(act: Act) -> str:
    """What about an act depends on the very count, "" if nothing does."""
    if act.role is Role.SKIP:
        return "skipped stitches, which must divide"
    if any(made.is_chain and not made.counts_as for made in act.makes):
        return "chain spaces, which must divide"
    if len(act.makes) != 1 or max(act.makes[0].stitches, act.takes) > MOST_IN_ONE:
        return f"a group worked as one ({act.name}), which must divide"
    kind = act.makes[0].counts_as or act.makes[0].kind
    if kind not in BY_ID:
        return f"a motif ({act.name}), which must divide"
    if act.loop in (Loop.BACK_POST, Loop.FRONT_POST):
        return "post stitches, which must divide"
    if act.into in (Into.SPACE, Into.BETWEEN):
        return "stitches worked into spaces"
    return ""
