"""Places by the kind of their stitch: over groups of dc with sc between, "sc in next sc" may mean the sc alone.

Many patterns call any stitch so. That a round passes over all others with no word is therefore believed where chains
lie over them, where the total says so, or where it comes out in no other way (common practice, no source).
"""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Instruction, Into, Item, acts
from tracker.notation.instructions import IN_THE_MIDDLE, KIND, each_act, of_kind
from tracker.rounds.bases import ALONE, ANY_GROUP, Base, kinds_of
from tracker.rounds.edge import edge_of
from tracker.rounds.plan import Plan


def by_kind(body: tuple[Item, ...], below: Plan) -> tuple[Item, ...] | None:
    """The items with every stitch of the round `below` that they name by its kind meant alone; None if they name
    none."""
    named = {act.onto for act in acts(body) if act.into is Into.STITCH and act.takes and act.onto.startswith(KIND)}
    if not named:
        return None
    named &= {
        of_kind(kind) for act in below.acts() for made in act.makes if made.stitches for kind in kinds_of(made, act)
    }

    def alone(act: Instruction) -> Instruction:
        goes_there = act.into is Into.STITCH or act.leads_over
        return replace(act, onto=ALONE + act.onto.removeprefix(KIND)) if goes_there and act.onto in named else act

    return each_act(body, alone) if named else None


def in_middles(body: tuple[Item, ...], base: Base) -> tuple[Item, ...]:
    """The items with "in centre dc" as the middle of a group, where the round below has groups; a shaped row says so
    of the stitch in its own middle."""
    edge = edge_of(base.plan, False) if base.plan is not None else None
    if edge is None or len(edge.sites(ANY_GROUP)) < 2:
        return body

    def in_middle(act: Instruction) -> Instruction:
        return replace(act, into=Into.SPACE, onto=ANY_GROUP) if act.onto.endswith(IN_THE_MIDDLE) else act

    return each_act(body, in_middle)
