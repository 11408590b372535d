"""The first group of a round that its starting chain is part of: a cluster, or half a shell at the edge of a row."""

from __future__ import annotations

import re

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Instruction, Into, Item, Role, Some, Technique, acts
from tracker.notation.glossary import BY_ID, Stitch
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


def whole_group(items: tuple[Item, ...]) -> tuple[tuple[str, int], ...]:
    """What the group makes that the items end in, as (kind, count), side by side; with the stitch that the chain at
    their beginning stands for: "ch 3, in same sp make 2 dc, ch 2 and 3 dc". Empty if they end in no group."""
    if not items or not isinstance(items[-1], Some) or items[-1].act.role is not Role.WORK:
        return ()
    act, before = items[-1].act, [other for other in acts(items[:-1]) if other.role is not Role.STEP]
    worked = [other for other in before if other.role is Role.WORK and not other.is_slip_stitch]
    lead = before[-1].makes[0] if before and before[-1].role is Role.CHAIN else None
    if lead is not None and any(other.makes[0].kind == act.makes[-1].kind for other in worked):
        return ()  # of "2 dc, ch 2, 2 dc in next sp" the whole list may be the group
    makes = [(made.kind, made.count) for made in act.makes]
    stands = lead if not worked and act.into is Into.SAME else None
    if act.makes[0].is_chain and not act.makes[0].counts_as and not worked and lead is None:
        stands = act.makes[0]  # "(ch 3, 2 dc, ch 2, 3 dc) in next sp"
        del makes[0]
    kind = next((kind for kind, _ in makes if kind in BY_ID), "")
    if stands is not None and kind:
        height = BY_ID[kind].turning_chain
        if stands.count < height:
            return ()
        first = [(kind, 1), ("ch", stands.count - height)] if stands.count > height else [(kind, 1)]
        same = len(first) == 1 and makes[0][0] == kind
        makes = [(kind, makes[0][1] + 1), *makes[1:]] if same else [*first, *makes]
    return tuple(makes) if sum(count for _, count in makes) > 1 else ()


def ends_as_begun(items: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in first sc, ..., 3 dc in last sc": half a shell at either end, and the chain is a stitch of one
    (common practice, no source)."""
    first, last = first_item(items), increase_at_end(items)
    if not isinstance(first, Some) or first.times != Exactly(1) or last is None or not first.act.is_increase:
        return False
    return first.act.makes[0].kind == last.makes[0].kind and last.stitches == first.act.stitches + 1


def tall_end(length: int, items: tuple[Item, ...]) -> str:
    """ "ch 5, *sc in next shell, ch 2, dc in next sc, ch 2; rep across": the kind of a tall last stitch, where the
    chain is that and a space, so that the row begins as it ends (common practice, no source); "" if it is not so."""
    made = [act for act in acts(items) if act.role is Role.WORK and not act.is_slip_stitch]
    gaps = {act.makes[0].count for act in acts(items) if act.role is Role.CHAIN}
    last = made[-1].makes[0].kind if made and made[-1].makes else ""
    if last not in BY_ID or len(gaps) != 1 or made[-1].stitches != 1:
        return ""
    height = BY_ID[last].turning_chain
    return last if height > 1 and length == height + gaps.pop() else ""


def is_stitch_and_space(length: int, stitch: Stitch, items: tuple[Item, ...]) -> bool:
    """ "ch 5, dc in next st, *ch 2, dc in next st": the chain is as long as the stitch is tall and the chains between
    the stitches are long."""
    made = acts(items)
    spaces = {act.makes[0].count for act in made if act.role is Role.CHAIN}
    kinds = {act.makes[0].kind for act in made if act.role is Role.WORK}
    return kinds == {stitch.us} and spaces == {length - stitch.turning_chain}


def goes_into_first(items: tuple[Item, ...]) -> bool:
    """ "ch 3, dc in first st": the first stitch of the row, or beside the chain that is it."""
    first = first_item(items)
    return isinstance(first, Some) and first.act.role is Role.WORK and first.act.over_first
