"""Chains over an opening: "10 sc, ch 8, sk 8, 10 sc" leaves the chains to be worked into like stitches.

That they count is common practice, no source; where a total is stated that leaves them out, it decides.
"""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    CHAIN_BASE,
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Into,
    Item,
    Made,
    Option,
    Role,
    Some,
    Technique,
    Timed,
    ToEnd,
    acts,
)
from tracker.notation.instructions import MAIN, is_lead, likeliest, skipping, stitch


def lower_bridges(body: tuple[Item, ...], *, loosely: bool = False) -> tuple[Item, ...]:
    """The items with every chain that stands once beside as many skipped stitches, or more, as an opening; so is one
    that joins two parts, as the legs of a body are.

    Chains that are repeated make a mesh or lace, and their spaces count apart.
    """
    start = next((index for index, item in enumerate(body) if not is_lead(item)), len(body)) + 1
    if any(act.into is Into.SPACE for act in acts(body)):
        return body
    return tuple(
        _bridge(item) if index >= start and _is_bridge(body, index, loosely=loosely) else item
        for index, item in enumerate(body)
    )


def drop_bridges(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """The items with such chains as spaces, as a total that names chains or spaces apart tells of them."""
    return tuple(
        item.options[1].body[0] if isinstance(item, Choice) and item.kind is ChoiceKind.BRIDGE else item
        for item in body
    )


def _is_bridge(body: tuple[Item, ...], index: int, *, loosely: bool) -> bool:
    chain = body[index]
    if not isinstance(chain, Some) or chain.act.role is not Role.CHAIN or chain.times != Exactly(1):
        return False
    length = chain.act.makes[0].count
    if index + 1 < len(body) and _is_on_a_part(body[index - 1]) and _is_on_a_part(body[index + 1]):
        return length > 1
    if any(isinstance(item, Group) and length in _chains(item) for item in body):
        return False  # repeated, it makes loops
    skipped = max(_skipped(beside) for beside in body[index - 1 : index + 2])
    is_loose = loosely and SMALLEST_GAP <= skipped == length - 1
    return length > 1 and (skipped >= min(length, GAP) or is_loose)


def _chains(group: Group) -> set[int]:
    """How long the chains are that a group makes."""
    return {act.makes[0].count for act in acts(group.body) if act.role is Role.CHAIN}


def _is_on_a_part(item: Item) -> bool:
    """Whether another part is worked into: "10 sc on first leg"."""
    return isinstance(item, Some) and item.act.into is Into.PART


GAP = 5
"""Skipped stitches from here on are a gap, such as under a handle, however long the chain over it; a mesh passes over
fewer (common practice, no source)."""


SMALLEST_GAP = 4
"""Skipped stitches from which on a chain of one more may lie over an opening, such as for a thumb, so that it
does not pull (common practice, no source)."""


def _skipped(item: Item) -> int:
    """How many stitches of the round below are passed over here; 0 if none are."""
    if not isinstance(item, Some) or item.act.role is not Role.SKIP or not isinstance(item.times, Exactly):
        return 0
    return item.times.count if item.act.into is Into.STITCH else 0


def _bridge(chain: Item) -> Choice:
    assert isinstance(chain, Some)
    length = chain.act.makes[0].count
    act = replace(
        chain.act, role=Role.WORK, makes=(Made(CHAIN_BASE, length),), technique=Technique.BRIDGE, counts=None
    )
    why = f"read 'ch {length}' as a space, its chains not counted"
    return Choice(ChoiceKind.BRIDGE, (Option((replace(chain, act=act),)), Option((chain,), why)))


# Rounds that name their changes and leave the rest unsaid: "inc 6 evenly around", "dec 1 st at each end".


def add_plain_stitches(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """The items with plain stitches around, where changes are to be set among some and none go to the end."""
    for index, item in enumerate(body):
        if isinstance(item, Some) and item.act.spread and not any(map(_goes_to_the_end, body)):
            plain = stitch(MAIN).act(item.act.loop, item.act.span)
            return (*body[:index], Some(plain, ToEnd()), *body[index:])
    return body


def _goes_to_the_end(item: Item) -> bool:
    if isinstance(item, Choice):
        return any(map(_goes_to_the_end, item.options[0].body))
    return isinstance(item, Timed) and isinstance(item.times, ToEnd)


def lower_last_loop(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "(ch 5, sk 3, sc) 5 times, ch 5, join": the last loop lies over as many as the others, said or not."""
    last = next((index for index in range(len(body) - 1, -1, -1) if _repeated(body[index]) is not None), None)
    group = _repeated(body[last]) if last is not None else None
    if last is None or group is None:
        return body
    passed = next((item for item in group.body if _passes_over(item)), None)
    behind = acts(body[last + 1 :])
    loops = any(act.role is Role.CHAIN or act.technique is Technique.CHAIN for act in behind)
    closes = bool(behind) and (behind[-1].technique is Technique.JOIN or behind[-1].is_slip_stitch)
    if passed is None or not loops or not closes or any(act.takes and not act.is_slip_stitch for act in behind):
        return body
    options = [Option(()), Option((passed,))]
    if next((act.technique for act in acts(body) if act.role is not Role.CHAIN), None) is Technique.SLIP_ACROSS:
        options.append(Option((passed, Some(skipping(group.span)))))  # the stitch that the round began and ends in
    over = Choice(ChoiceKind.ENDING, tuple(options), group.span)
    return (*body[: last + 1], over, *body[last + 1 :])


def _repeated(item: Item) -> Group | None:
    """The group that an item repeats, in its likeliest reading."""
    likely = likeliest(item)
    return likely if isinstance(likely, Group) else None


def _passes_over(item: Item) -> bool:
    return (
        isinstance(item, Some)
        and item.act.technique is Technique.SKIP
        and item.act.into is Into.STITCH
        and isinstance(item.times, Exactly)
    )
