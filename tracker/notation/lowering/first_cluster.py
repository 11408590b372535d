"""The first group of a round that its starting chain is part of: a cluster, or half a shell at the edge of a row."""

from __future__ import annotations

import re

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Instruction, Item, Role, Some, Technique, acts
from tracker.notation.instructions import is_lead


def with_chain_closed(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "ch 3, dc4tog over next 4 sts, *ch 7, dc5tog over next 5 sts": the chain is closed with the first stitches,
    one short of the others, and stands on a place of theirs (common practice, no source); empty if it is not so.

    A cluster has a chain behind it; in "ch 3, dc2tog, dc in next 9 sts, dc3tog" the row is shaped, and the chain is a
    stitch of it.
    """
    first = first_item(items)
    if not isinstance(first, Some) or first.times != Exactly(1) or not _legs(first.act):
        return ()
    act = first.act
    behind = [other.role for other in acts(items) if other.role is not Role.STEP][1:2]
    if behind != [Role.CHAIN] or act.makes[0].kind == "sc":
        return ()
    others = (other for other in acts(items) if other is not act and other.makes == act.makes)
    if all(_legs(other) != _legs(act) + 1 for other in others):
        return ()
    whole = replace(first, act=replace(act, takes=act.takes + 1)) if act.takes else first
    return tuple(whole if item is first else item for item in items)


def _legs(act: Instruction) -> int:
    """How many stitches are closed as one, where their places or their name tell; 0 where they do not."""
    if act.technique not in (Technique.TOGETHER, Technique.GROUP):
        return 0
    named = re.search(r"\d+(?=tog$)", act.name)
    return act.takes if act.takes > 1 else int(named[0]) if named else 0


def first_item(items: tuple[Item, ...]) -> Item | None:
    """The first item that is no step."""
    return next((item for item in items if not (isinstance(item, Some) and item.act.role is Role.STEP)), None)


def increase_at_end(items: tuple[Item, ...]) -> Instruction | None:
    """The increase of "..., 2 dc in last st": what is added at the end of a row is mostly added at its start too;
    None if it ends in no such thing."""
    last = next((item for item in reversed(items) if not is_lead(item)), None)
    is_one = isinstance(last, Some) and last.times == Exactly(1) and last.act.is_increase
    return last.act if is_one and isinstance(last, Some) else None


def ends_as_begun(items: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in first sc, ..., 3 dc in last sc": half a shell at either end, and the chain is a stitch of one
    (common practice, no source)."""
    first, last = first_item(items), increase_at_end(items)
    if not isinstance(first, Some) or first.times != Exactly(1) or last is None or not first.act.is_increase:
        return False
    return first.act.makes[0].kind == last.makes[0].kind and last.stitches == first.act.stitches + 1
