"""The start of a round: a chain there may be the first stitch, or only reach up to its height.

Where the words do not tell, both readings are kept, the likelier first. Heights and what counts by convention come
from the glossary (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping

from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    CHAIN_BASE,
    SLIP_STITCH,
    Choice,
    ChoiceKind,
    Exactly,
    Foundation,
    Group,
    Instruction,
    Into,
    Item,
    Made,
    Option,
    Role,
    SlipUse,
    Some,
    Technique,
    ToEnd,
    acts,
)
from tracker.notation.glossary import BY_ID, Stitch
from tracker.notation.instructions import (
    as_step,
    closes_chain,
    closing_chain,
    each_act,
    is_at_corner,
    is_lead,
    joining,
    likeliest,
    other_side,
    stood_for,
    unmarked,
)
from tracker.notation.lowering.first_cluster import (
    ends_as_begun,
    first_item,
    goes_into_first,
    increase_at_end,
    is_stitch_and_space,
    tall_end,
    with_chain_closed,
)

LONGEST_TURNING_CHAIN = 6
"""A longer chain is there to be worked into: the tallest stitches need six to be reached (glossary), and a chain with
a space beside it says so."""


def lower_start(
    body: tuple[Item, ...], chains_count: Mapping[int, bool | None], joined_at: int = 0
) -> tuple[tuple[Item, ...], Foundation | None]:
    """Settle the chain at the start of a line; `chains_count` is what the pattern says of such chains by length, and
    under 0 of all others; `joined_at` is the chain of it that the round is closed in, 0 if that is not told."""
    start = next((index for index, item in enumerate(body) if not (is_lead(item) or _slips_across(item))), None)
    if start is None:
        return body, None
    item = body[start]
    over = over_a_chain(body, start)
    if over is not None:
        return over, None
    if isinstance(item, Some) and item.act.role is Role.WORK and _begins_with_chain(item.act):
        return (*body[:start], _corner_start(item, body[start + 1 :]), *body[start + 1 :]), None
    if not (isinstance(item, Some) and item.act.role is Role.CHAIN):
        return body, None
    foundation = foundation_of(body, start)
    if foundation is not None:
        before, after, chain = foundation
        return (*before, *lower_start(after, chains_count, joined_at)[0]), chain
    if not any(act.role is Role.WORK for act in acts(body[start + 1 :])):
        return body, None
    led = next((act for act in acts(body[:start]) if act.same_space), None)
    items = body[start + 1 :] if led is None else _where_led(body[start + 1 :], led)
    length = item.act.makes[0].count
    counts = chains_count.get(length, chains_count.get(0))
    kind = stood_for(items, joined_at)
    return (*body[:start], *_turning(item, items, kind, counts, led is not None)), None


def _where_led(items: tuple[Item, ...], led: Instruction) -> tuple[Item, ...]:
    """ "sl st to corner, ch 3, (2 dc, ch 2, 3 dc) in corner, *(3 dc, ch 2, 3 dc) in next corner": the place that the
    slip stitches led to, where the chain makes it like the others."""
    first = items[0]
    if not isinstance(first, Some) or first.act.into is not Into.SPACE or not _is_same_place(first.act, led):
        return items
    if first.times != Exactly(1) or not _is_one_short(items):
        return items
    return (replace(first, act=replace(first.act, takes=0, into=Into.SAME, same_space=True)), *items[1:])


def _is_same_place(one: Instruction, other: Instruction) -> bool:
    """Whether both go into what is called alike: a corner is the space at it."""
    return one.onto == other.onto or (is_at_corner(one.onto) and is_at_corner(other.onto))


def _slips_across(item: Item) -> bool:
    return isinstance(item, Some) and item.act.technique is Technique.SLIP_ACROSS


def _begins_with_chain(act: Instruction) -> bool:
    """Whether what goes into one place begins with a chain, after a slip stitch or at once."""
    made = act.makes[1:] if act.makes and act.makes[0].kind == SLIP_STITCH else act.makes
    return bool(made) and made[0].is_chain


def _corner_start(item: Some, items: tuple[Item, ...]) -> Item:
    """ "[ch 3, 2 dc, ch 2, 3 dc] in corner" at the start: the chain stands for the first of the stitches."""
    kinds = [made.kind for made in item.act.makes]
    if kinds[0] == SLIP_STITCH and kinds.count(SLIP_STITCH) == 1:  # "(sl st, ch 3, 4 dc) in sp" only leads there
        item = replace(item, act=replace(item.act, makes=item.act.makes[1:]))
    chain = item.act.makes[0]
    kind = next((made.kind for made in item.act.makes if not made.is_chain), "")
    if chain.counts_as or kind not in BY_ID or not 1 < BY_ID[kind].turning_chain <= chain.count:
        return item
    counted = replace(item, act=replace(item.act, makes=(replace(chain, counts_as=kind), *item.act.makes[1:])))
    never = replace(item, act=replace(item.act, makes=item.act.makes[1:]))
    why = f"read 'ch {chain.count}' as the first {kind}"
    as_none = Option((never,), f"read 'ch {chain.count}' as no stitch", rescue=_is_one_short((never, *items)))
    return Choice(ChoiceKind.OPENING, (Option((counted,), why), as_none))


def _turning(
    chain: Some, items: tuple[Item, ...], kind: str, chains_count: bool | None, in_space: bool
) -> tuple[Item, ...]:
    """The items from a turning chain on, which may stand for a stitch of this `kind`, with both readings where both
    are possible; `in_space` if slip stitches lead to a space before it."""
    length = chain.act.makes[0].count
    as_nothing = (replace(chain, act=as_step(chain.act)), *items)
    stands = chain.act.counts_as_stitch
    closed = with_chain_closed(items) if stands is not False else ()
    if closed:
        return (as_nothing[0], *closed)
    if stands and chain.act.counts:
        besides = chain.act.counts.besides
        return _counted(chain, _beside_chain(items), chain.act.counts.stitch or kind, besides, in_space=in_space)
    stitch = BY_ID.get(kind)
    if stitch is not None and stitch.turning_chain == 1 and length > 2 and stands is None:
        return _as_high_as_the_last(chain, items, in_space) if tall_end(length, items) else (chain, *items)
    if stands is False or stitch is None or min(length, stitch.turning_chain) < 2:
        return as_nothing
    if length + 1 < stitch.turning_chain:
        return as_nothing
    counted = _counted(chain, _beside_chain(items), kind, max(0, length - stitch.turning_chain), in_space=in_space)
    if chains_count is not None:
        return counted if chains_count else as_nothing
    as_stitch = Option(counted, f"read 'ch {length}' as the first {kind}")
    as_none = Option(as_nothing, f"read 'ch {length}' as no stitch")
    if _skips_one(items):
        return (_beside_or_over(as_stitch, as_none, items),)
    return (_either(as_stitch, as_none, length, stitch, items),)


def _as_high_as_the_last(chain: Some, items: tuple[Item, ...], in_space: bool) -> tuple[Item, ...]:
    """The chain as a stitch like the last one and a space; as neither only where nothing else comes out."""
    kind = tall_end(length := chain.act.makes[0].count, items)
    high = _counted(chain, items, kind, length - BY_ID[kind].turning_chain, in_space=in_space)
    never = Option((chain, *items), f"read 'ch {length}' as no stitch", rescue=True)
    return (Choice(ChoiceKind.OPENING, (Option(high, f"read 'ch {length}' as the first {kind}"), never)),)


def _skips_one(items: tuple[Item, ...]) -> bool:
    """ "ch 3, sk 1, ..." does not say whether the skipped stitch is the one that the chain stands on."""
    skip = first_item(items)
    if not isinstance(skip, Some) or skip.act.role is not Role.SKIP or skip.times != Exactly(1):
        return False
    return skip.act.takes == 1 and skip.act.into is Into.STITCH and not skip.act.over_first


def _beside_or_over(counted: Option, never: Option, items: tuple[Item, ...]) -> Choice:
    """The chain as a stitch beside the skipped one, or over it, or as no stitch.

    Work that goes on to the end of the round has nothing to skip but the foot of the chain.
    """
    chain = counted.body[0]
    assert isinstance(chain, Some)
    on_skipped = replace(chain, act=replace(chain.act, takes=0, into=Into.NOTHING))
    over = replace(counted, body=(on_skipped, *counted.body[1:]))
    behind = next((item for item in items if isinstance(item, Some) and item.act.role is Role.WORK), None)
    goes_on = behind is not None and behind is items[1] and isinstance(behind.times, ToEnd)
    return Choice(ChoiceKind.OPENING, (over, counted, never) if goes_on else (counted, over, never))


def _either(counted: Option, never: Option, length: int, stitch: Stitch, items: tuple[Item, ...]) -> Choice:
    """Both readings of a turning chain, by what follows it, by its length, and by convention."""
    shared = _shares_first(items)
    if goes_into_first(items):
        if ends_as_begun(items):
            return Choice(ChoiceKind.OPENING, (counted, replace(never, rescue=True)))
        return Choice(ChoiceKind.OPENING, (never, replace(counted, rescue=increase_at_end(items) is None)))
    if shared and _is_one_short(items):
        return Choice(ChoiceKind.OPENING, (counted, replace(never, rescue=True)))
    if shared and _goes_in_space(items):
        return Choice(ChoiceKind.OPENING, (counted, never))
    if _skips_first(_first_act(items)) or shared == 1 or is_stitch_and_space(length, stitch, items):
        return Choice(ChoiceKind.OPENING, (counted, replace(never, rescue=True)))
    if shared:
        return Choice(ChoiceKind.OPENING, (never, replace(counted, rescue=True)))
    likely = (stitch.chain_counts is True and length >= stitch.turning_chain) or length > stitch.turning_chain
    if likely and not _several_in_each(items):
        return Choice(ChoiceKind.OPENING, (counted, never))
    return Choice(ChoiceKind.OPENING, (never, counted))


def _first_act(items: tuple[Item, ...]) -> Instruction | None:
    return next((act for act in acts(items) if act.role is not Role.STEP), None)


def _skips_first(act: Instruction | None) -> bool:
    return act is not None and act.role is Role.SKIP and act.over_first


def _shares_first(items: tuple[Item, ...]) -> int:
    """How many stitches go "in same st" right behind the chain.

    One makes the chain the other half of an increase, and a corner or V made there counts on it too.
    """
    first = first_item(items)
    if not isinstance(first, Some) or first.act.into is not Into.SAME or first.act.role is not Role.WORK:
        return 0
    if any(made.is_chain for made in first.act.makes):
        return 1
    return first.act.stitches * (first.times.count if isinstance(first.times, Exactly) else 1)


def _is_one_short(body: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in same sp, *ch 1, 3 dc in next sp": the first group is one stitch short of the others, and the
    chain is that stitch."""
    first = first_item(body)
    if not isinstance(first, Some) or not isinstance(first.times, Exactly):
        return False
    stitches, kinds = first.act.stitches * first.times.count, _worked_kinds(first.act)
    others = [act for act in acts(body) if act is not first.act and act.role is Role.WORK]
    return any(act.stitches == stitches + 1 and _worked_kinds(act) == kinds for act in others)


def _worked_kinds(act: Instruction) -> set[str]:
    return {made.kind for made in act.makes if not made.is_chain}


def _goes_in_space(items: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in same sp": the chain begins a group of stitches that are all in the space."""
    first = first_item(items)
    return isinstance(first, Some) and first.act.into is Into.SAME and first.act.same_space


def _several_in_each(items: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in each st": nothing is said of the first stitch, so the chain hardly stands for one."""
    first = first_item(items)
    return isinstance(first, Some) and isinstance(first.times, ToEnd) and first.act.is_increase


def _beside_chain(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "ch 3 (counts as dc), dc in first st": that is where the chain stands."""
    for index, item in enumerate(items):
        if isinstance(item, Some) and item.act.role is Role.WORK:
            if not item.act.over_first or item.times != Exactly(1):
                return items
            beside = replace(item, act=replace(item.act, takes=0, into=Into.SAME, over_first=False))
            return (*items[:index], beside, *items[index + 1 :])
        if not isinstance(item, Some) or item.act.role is not Role.STEP:
            return items
    return items


def _counted(chain: Some, items: tuple[Item, ...], kind: str, besides: int, *, in_space: bool) -> tuple[Item, ...]:
    """The chain as a stitch; it stands on the first base unless the first is skipped or worked into besides."""
    length = chain.act.makes[0].count
    makes: tuple[Made, ...] = (Made("ch", max(length - besides, 1), kind),)
    if besides:
        makes = (*makes, Made("ch", besides))
    first = _first_act(items)
    takes, into = 1, Into.STITCH
    if _skips_first(first) or (first is not None and first.into is Into.RING):
        takes, into = 0, Into.NOTHING
    elif in_space or (first is not None and first.into is Into.SAME and first.same_space):
        into = Into.SPACE
    act = replace(chain.act, name=f"ch {length}", makes=makes, takes=takes, into=into, counts=None)
    return (Some(act), *items)


# Chains that a line makes to work into: foundation chains, rings, and chains worked back over inside a round.


Opened = tuple[tuple[Item, ...], tuple[Item, ...], Foundation]


def foundation_of(body: tuple[Item, ...], start: int) -> Opened | None:
    """The chain at `start` as one to work into: the items up to where work in it begins, the rest, and the chain.

    None if the chain is no foundation.
    """
    chain = body[start]
    assert isinstance(chain, Some)
    length = chain.act.makes[0].count
    items = body[start + 1 :]
    following = acts(items)
    plain = (*body[:start], replace(chain, act=as_step(chain.act)))
    hooked = next((act for act in following[:2] if _is_hooked(act, length)), None)
    if hooked is not None:
        skipped = _skipped_chains(hooked, chain.act.counts_as_stitch, _gap_lengths(items))
        bases = max(length - hooked.from_hook + 1, 1)
        if not any(act.role is Role.CHAIN for act in following):
            items = each_act(items, _into_chain)
        return (*plain, *skipped, *_turned_round(items, bases)), (), Foundation(length, bases)
    worked = any(act.role is Role.WORK for act in following)
    if _closes_ring(following):
        return (*plain, Some(joining(following[0].span, ring=True))), items[1:], Foundation(length, 0, ring=True)
    if worked and following[0].technique in (Technique.JOIN_RING, Technique.JOIN) and length > 1:
        into_ring = any(act.into is Into.RING for act in following)
        return (*plain, items[0]), items[1:], Foundation(length, 0 if into_ring else length, into_ring)
    if length > LONGEST_TURNING_CHAIN and following and following[0].into is Into.CHAIN:
        return plain, items, Foundation(length, length)
    return None


def _closes_ring(following: list[Instruction]) -> bool:
    """ "ch 4, sl st in first ch, ch 3, 11 dc in ring" """
    closes = bool(following) and following[0].is_slip_stitch and following[0].slip_use is SlipUse.INTO_FIRST
    return closes and any(act.into is Into.RING for act in following)


def _into_chain(act: Instruction) -> Instruction:
    """The act into a chain where it goes into a "loop": along its own chain a line has no other loops."""
    is_loop = act.into is Into.SPACE and not act.onto and not act.same_space
    return replace(act, into=Into.CHAIN) if is_loop else act


def _turned_round(items: tuple[Item, ...], bases: int) -> tuple[Item, ...]:
    """Along a chain of so many bases "rotate" leads to its other side, even where that is not said; so does what fans
    out in the last of them."""
    techniques = {act.technique for act in acts(items)}
    if Technique.OTHER_SIDE in techniques:
        return items
    taken = 0
    for index, item in enumerate(items):
        onward = items[index + 1 :]
        likely = likeliest(item)
        if not isinstance(likely, Some) or not isinstance(likely.times, Exactly):
            return items
        act = likely.act
        taken += act.takes * likely.times.count
        fans_out = 1 < taken == bases and likely.times.count == act.takes == 1 and act.stitches >= _FAN
        turns = act.technique is Technique.ROTATE or (fans_out and Technique.ROTATE not in techniques)
        if turns and any(one.role is Role.WORK and not one.is_slip_stitch for one in acts(onward)):
            return (*items[: index + (act.technique is not Technique.ROTATE)], Some(other_side(act.span)), *onward)
    return items


_FAN = 3
"""Stitches in the last chain that lead round its end; two are an increase."""


def over_a_chain(body: tuple[Item, ...], start: int) -> tuple[Item, ...] | None:
    """A line that begins in a chain made before it ("dc in 4th ch from hook"); None for any other."""
    first = acts(body[start : start + 1])
    if not first or not first[0].from_hook or first[0].is_slip_stitch:
        return None
    return (*body[:start], *_skipped_chains(first[0], None, _gap_lengths(body[start:])), *body[start:])


def _gap_lengths(items: tuple[Item, ...]) -> set[int]:
    return {act.makes[0].count for act in acts(items) if act.role is Role.CHAIN}


def _skipped_chains(hooked: Instruction, chain_counts: bool | None, gaps: set[int]) -> tuple[Item, ...]:
    """The chains before "4th ch from hook": the first stitch, nothing, or either; `said` of the chain itself.

    Where all `gaps` of the line are as long, the first mesh lies between: "dc in 6th ch from hook, *ch 1, sk 1 ch, dc
    in next ch" skips three chains that are the first dc, one that is its gap, and one below that.
    """
    verdicts = (hooked.counts_as_stitch, chain_counts)
    skipped = hooked.from_hook - 1
    kind = hooked.makes[0].kind
    if False in verdicts or skipped < 2 or kind in ("sc", SLIP_STITCH) or kind not in BY_ID:
        return ()
    gap = (skipped - BY_ID[kind].turning_chain) // 2
    is_mesh = gaps == {gap} and skipped == BY_ID[kind].turning_chain + 2 * gap
    makes = (Made("ch", skipped - gap, kind), Made("ch", gap)) if is_mesh else (Made("ch", skipped, kind),)
    chains = Instruction(
        f"ch {skipped}", Role.CHAIN, makes, into=Into.NOTHING, technique=Technique.CHAIN, span=hooked.span
    )
    counted = Some(chains)
    if True in verdicts:
        return (counted,)
    counts = skipped >= BY_ID[kind].turning_chain and BY_ID[kind].chain_counts is True
    first = Option((counted,), f"read the {skipped} skipped chains as the first {kind}")
    second = Option((), f"read the {skipped} skipped chains as no stitch", rescue=counts)
    return (Choice(ChoiceKind.OPENING, (first, second) if counts else (second, first)),)


def _is_hooked(act: Instruction, length: int) -> bool:
    """A stitch into a chain counted from the hook; a slip stitch into the very first one only closes a ring."""
    return act.from_hook > 0 and not (act.is_slip_stitch and act.from_hook >= length)


def lower_own_chains(body: tuple[Item, ...], top: bool = True) -> tuple[Item, ...]:
    """A chain worked back over in the middle of a round (a picot, a tentacle): it takes no bases of the round."""
    settled: list[Item] = []
    own = 0
    worked = not top
    ahead = 0
    for index, item in enumerate(body):
        if index < ahead:
            continue  # read along the chain already
        if isinstance(item, Group):
            item = replace(item, body=lower_own_chains(item.body, top=False))
        elif isinstance(item, Choice):
            options = (replace(option, body=lower_own_chains(option.body, top=False)) for option in item.options)
            item = replace(item, options=tuple(options))
        elif isinstance(item, Some):
            chain = settled[-1] if settled else None
            if item.act.from_hook and worked and isinstance(chain, Some) and chain.act.role is Role.CHAIN:
                own = chain.act.makes[0].count - item.act.from_hook
                settled[-1] = replace(chain, act=as_step(chain.act))
                settled.append(replace(item, act=_on_chain(item.act)))
                run = _run_along(body[index + 1 :], own)
                if run:
                    ahead = index + 1 + len(run)
                    settled.append(_on_or_off_chain(body[index + 1 : ahead], run))
                    own = 0
                continue
            if closes_chain(item.act) and worked and isinstance(chain, Some) and chain.act.role is Role.CHAIN:
                settled[-1] = replace(chain, act=as_step(chain.act))
            elif item.act.into is Into.CHAIN and isinstance(item.times, Exactly) and 0 < item.times.count <= own:
                own -= item.times.count
                item = replace(item, act=_on_chain(item.act))
            elif own > 0 and item.act.role is Role.WORK and isinstance(item.times, ToEnd):
                item = Some(unmarked(replace(item.act, takes=0)), Exactly(own))
                own = 0
            worked = worked or item.act.role is Role.WORK
        settled.append(item)
    return tuple(settled)


def _run_along(items: tuple[Item, ...], own: int) -> list[Some]:
    """The stitches one by one that stand behind the first one on a chain; empty unless they are as many as it has
    chains left."""
    run: list[Some] = []
    left = own
    for item in items:
        likely = likeliest(item)
        if not isinstance(likely, Some) or not isinstance(likely.times, Exactly) or not _is_one_for_one(likely.act):
            break
        left -= likely.times.count
        run.append(likely)
    return run if left == 0 else []


def _is_one_for_one(act: Instruction) -> bool:
    one = act.takes == 1 and act.stitches == 1 and act.into is Into.STITCH
    return one and act.role is Role.WORK and not act.is_slip_stitch


def _on_or_off_chain(items: tuple[Item, ...], run: list[Some]) -> Choice:
    """ "ch 5, sc in 2nd ch from hook, hdc, 2 dc, sk 2, sl st in next st": along the chain, if the round has no
    room."""
    along = tuple(replace(item, act=_on_chain(item.act)) for item in run)
    why = "read the stitches behind the chain as worked along it"
    return Choice(ChoiceKind.ALONG_CHAIN, (Option(items), Option(along, why, rescue=True)))


def _on_chain(act: Instruction) -> Instruction:
    """A stitch on the round's own chain; a slip stitch there only closes a picot."""
    if act.is_slip_stitch:
        return closing_chain(act.span)
    return unmarked(replace(act, takes=0))


def lower_lone_chain(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """A line that is nothing but a chain leaves its chains to work into, unless it leads over a round below."""
    if any(act.technique is Technique.SLIP_ACROSS for act in acts(body)):
        return body
    doing = [item for item in body if not is_lead(item)]
    chain = doing[0] if len(doing) == 1 else None
    if not isinstance(chain, Some) or chain.act.role is not Role.CHAIN or chain.times != Exactly(1):
        return body
    length = chain.act.makes[0].count
    act = replace(
        chain.act,
        name=CHAIN_BASE,
        role=Role.WORK,
        makes=(Made(CHAIN_BASE, length),),
        technique=Technique.FOUNDATION,
        counts=None,
    )
    made = replace(chain, act=act)
    return tuple(made if item is chain else item for item in body)
