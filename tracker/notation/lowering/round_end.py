"""The end of a round: closing slip stitches and chains, and slip stitches at its start that only travel."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Option,
    Role,
    SlipUse,
    Some,
    Technique,
    Timed,
    ToEnd,
    acts,
)
from tracker.notation.instructions import as_step, is_lead, joining, leaving, skipping, unmarked


def lower_end(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Settle slip stitches and chains at the end of a line, and slip stitches that only travel at its start."""
    body = _skipped_at_end(_travelled(_start_moved(_shaped_at_both_ends(_left_at_turn(body)))))
    end = len(body)
    while end and _is_tail(body[end - 1]):
        end -= 1
    body, tail = body[:end], body[end:]
    last = body[-1] if body else None
    if last is None:
        return tail
    if not isinstance(last, Some) or not last.act.is_slip_stitch or last.times != Exactly(1):
        return (*body, *_without_closing_chain(tail))
    if not any(act.role in (Role.WORK, Role.CHAIN) and not act.is_slip_stitch for act in acts(body)):
        return (*body, *tail)
    closing = _closing_slip(last.act, on_chain=any(act.from_hook for act in acts(body[:-1])))
    return (*body[:-1], closing, *_without_closing_chain(tail))


def _left_at_turn(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "sc in each st to last 3 sts, turn": a short row leaves these, as it says."""
    last = next((index for index, item in reversed(list(enumerate(body))) if not _is_tail(item)), None)
    going = body[last] if last is not None else None
    tail = body[last + 1 :] if last is not None else ()
    if not isinstance(going, Timed) or not isinstance(going.times, ToEnd) or not going.times.leaving:
        return body
    turn = acts(tail)[:1]
    if going.times.onto or not turn or turn[0].technique is not Technique.TURN or len(tail) > 1:
        return body
    return (*body, Some(leaving(turn[0].span), Exactly(going.times.leaving)))


def _skipped_at_end(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "*ch 5, sk 3, sc in next st; rep from * to last 3 sts, ch 5, join": the last chain lies over these."""
    last = next((index for index, item in reversed(list(enumerate(body))) if not _is_tail(item)), None)
    if last is None:
        return body
    going, tail = body[last], body[last + 1 :]
    chain = next((item.act for item in tail if isinstance(item, Some) and item.act.role is Role.CHAIN), None)
    if not isinstance(going, Group) or not isinstance(going.times, ToEnd) or not going.times.leaving or chain is None:
        return body
    if going.times.to_corner or any(act.technique is Technique.LEAVE for act in acts(tail)):
        return body
    if going.times.leaving == 1 and _bridges_nothing(going.body, chain):
        options = (Option((replace(going, times=ToEnd()),)), Option((going,), _LEFT_UNWORKED, rescue=True))
        return (*body[:last], Choice(ChoiceKind.ENDING, options, going.span), *tail)
    if any(act.into is Into.SPACE for act in acts(going.body)):
        return body
    over = Some(skipping(chain.span), Exactly(going.times.leaving))
    end = next(index for index, item in enumerate(tail) if isinstance(item, Some) and item.act is chain)
    return (*body[: last + 1], *tail[: end + 1], over, *tail[end + 1 :])


_LEFT_UNWORKED = "read the last of them as left unworked"


def _bridges_nothing(items: tuple[Item, ...], chain: Instruction) -> bool:
    """Whether a group is such a chain and then one stitch in the next place, with none passed over: of "*ch 5, dc in
    next sp; rep from * to last sp, ch 5, join" the chain behind it has nothing to lie over, so that is worked."""
    made = acts(items)
    return (
        [act.role for act in made] == [Role.CHAIN, Role.WORK]
        and made[0].makes == chain.makes
        and made[1].takes == made[1].stitches == 1
    )


def _is_tail(item: Item) -> bool:
    return is_lead(item) or (
        isinstance(item, Some) and (item.act.role is Role.CHAIN or item.act.technique is Technique.LEAVE)
    )


def _closing_slip(act: Instruction, on_chain: bool) -> Item:
    """The last slip stitch as a join where it goes into the first stitch or nowhere, else as a stitch or a join.

    In a line that is worked along its own chain it is a stitch like the others, if it goes into the chain.
    """
    join = Some(joining(act.span))
    in_chain = act.into is Into.CHAIN and on_chain
    stitch = Some(unmarked(act))
    if on_chain and act.slip_use is SlipUse.NOTHING_NAMED:
        why = "read the last slip stitch as a stitch like the others along the chain"
        return Choice(ChoiceKind.CLOSING, (Option((join,)), Option((stitch,), why, rescue=True)))
    if not in_chain and (act.slip_use or act.into in (Into.CHAIN, Into.SAME)):
        return join
    as_stitch = Option((stitch,), "read the last slip stitch as a stitch of the round")
    as_join = Option((join,), "read the last slip stitch as closing the round", rescue=True)
    return Choice(ChoiceKind.CLOSING, (as_stitch, as_join))


def _without_closing_chain(tail: tuple[Item, ...]) -> tuple[Item, ...]:
    """A chain at the very end reaches up for the next round, unless the round is joined after it."""
    settled: list[Item] = []
    join_ahead = any(_is_join(item) for item in tail)
    for item in tail:
        if _is_join(item):
            join_ahead = False
        if isinstance(item, Some) and item.act.role is Role.CHAIN and not join_ahead:
            item = replace(item, act=as_step(item.act))
        settled.append(item)
    return tuple(settled)


def _is_join(item: Item) -> bool:
    return isinstance(item, Some) and (item.act.technique is Technique.JOIN or item.act.is_slip_stitch)


def _travelled(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Slip stitches before the first stitch that lead to a space, or to a chain that begins the round, are steps."""
    settled = list(body)
    for index, item in enumerate(body):
        if is_lead(item):
            continue
        if not isinstance(item, Some) or not item.act.is_slip_stitch:
            break
        following = acts(body[index + 1 :])
        onward = next((act for act in following if not act.is_slip_stitch and act.role is not Role.STEP), None)
        if onward is None:
            break
        if item.act.into is Into.SPACE or _begins_round(onward):
            settled[index] = Some(_leading_to(item))
    return tuple(settled)


def _leading_to(slip: Some) -> Instruction:
    """The slip stitches as a step, with where they lead: into a space, between groups, or over so many stitches."""
    act = slip.act
    leading = replace(_leading_across(act.span), same_space=act.into is Into.SPACE)
    if act.into in (Into.SPACE, Into.BETWEEN):
        return replace(leading, into=act.into, onto=act.onto)
    over = slip.times.count if act.into is Into.STITCH and isinstance(slip.times, Exactly) else 0
    return replace(leading, leads_over=over, onto=act.onto if over == 1 else "")


def _leading_across(span: Span) -> Instruction:
    """Slip stitches as a step on the way to where the round begins."""
    return Instruction("sl st across", Role.STEP, into=Into.NOTHING, technique=Technique.SLIP_ACROSS, span=span)


def _shaped_at_both_ends(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Slip stitches over the first stitches of a row that leaves its last ones: they are passed over too (common
    practice, no source), unless the total counts them."""
    start = next((index for index, item in enumerate(body) if not _is_tail(item)), len(body))
    slip = body[start] if start < len(body) else None
    if not isinstance(slip, Some) or not slip.act.is_slip_stitch or slip.act.into is not Into.STITCH:
        return body
    if not any(act.technique is Technique.LEAVE for act in acts(body)):
        return body
    over = replace(_leading_across(slip.act.span), role=Role.SKIP, takes=slip.act.takes, into=Into.STITCH)
    if start + 1 < len(body) and _is_chain(body[start + 1]):
        return (*body[:start], replace(slip, act=over), *body[start + 1 :])  # the row begins behind them
    counted = Option((slip,), "read the slip stitches at the start as stitches of the round")
    passed = Choice(ChoiceKind.TRAVEL, (Option((replace(slip, act=over),)), counted))
    return (*body[:start], passed, *body[start + 1 :])


def _start_moved(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "5 sc, place a marker, 28 sc": where the round has no room for both, the stitches before the marker go on over
    the round before, and the round begins behind them."""
    start = next((index for index, item in enumerate(body) if not is_lead(item)), len(body))
    if start + 2 >= len(body):
        return body
    first, marked = body[start : start + 2]
    if not isinstance(first, Some) or first.act.takes != 1 or not isinstance(first.times, Exactly):
        return body
    is_marked = isinstance(marked, Some) and marked.act.technique is Technique.MARK
    if not is_marked or not any(act.role is Role.WORK for act in acts(body[start + 2 :])):
        return body
    lead = replace(first.act, role=Role.STEP, makes=(), takes=0, into=Into.NOTHING)
    why = f"read the {first.times.count} stitches before the marker as leading to where the round now begins"
    moved = Option((replace(first, act=lead),), why, rescue=True)
    return (*body[:start], Choice(ChoiceKind.START_MOVED, (Option((first,)), moved)), *body[start + 1 :])


def _is_chain(item: Item) -> bool:
    return isinstance(item, Some) and item.act.role is Role.CHAIN


def _begins_round(act: Instruction) -> bool:
    """Whether this act is what the slip stitches lead to: a chain, or what is worked where they end."""
    return act.role is Role.CHAIN or act.into is Into.SAME or (bool(act.makes) and act.makes[0].is_chain)


def settle_opening(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """The items of a round that is joined to the top of the chain it begins with: where that most likely stands for a
    stitch, nothing else is likely (common practice, no source)."""
    return tuple([_likely_alone(item) if isinstance(item, Choice) else item for item in body])


def _likely_alone(choice: Choice) -> Choice:
    first = next(iter(acts(choice.options[0].body)), None)
    if choice.kind is not ChoiceKind.OPENING or first is None or not any(made.counts_as for made in first.makes):
        return choice
    others = (replace(option, rescue=True) for option in choice.options[1:])
    return replace(choice, options=(choice.options[0], *others))
