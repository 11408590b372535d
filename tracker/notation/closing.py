"""The end of a round: closing slip stitches and chains, and slip stitches at its start that only travel."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.rows import acts, as_step
from tracker.notation.tree import Act, Choice, Colour, Exactly, Into, Item, Option, Role, Some


def closed(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Settle slip stitches and chains at the end of a line, and slip stitches that only travel at its start."""
    body = _travelled(body)
    end = len(body)
    while end and _is_tail(body[end - 1]):
        end -= 1
    tail = list(body[end:])
    if end == 0:
        return (*body[:end], *tail)
    last = body[end - 1]
    if not (isinstance(last, Some) and last.act.name == "sl st" and last.times == Exactly(1)):
        return _closing_chain(body[:end], tail, joined=any(_is_join(item) for item in body[end:]))
    before = body[: end - 1]
    if not any(act.role in (Role.WORK, Role.CHAIN) and act.name != "sl st" for act in acts(before)):
        return body
    join = Some(Act("join", Role.STEP, into=Into.NOTHING, span=last.act.span))
    as_step = Option((join,), "read the last slip stitch as closing the round")
    as_stitch = Option(
        (replace(last, act=replace(last.act, remark="")),),
        "read the last slip stitch as a stitch of the round",
    )
    if last.act.remark in ("first", "bare") or last.act.into in (Into.CHAIN, Into.SAME):
        return (*before, join, *tail)
    options = (as_stitch, replace(as_step, rescue=True))
    return (*before, Choice("closing", options), *tail)


def _is_tail(item: Item) -> bool:
    if isinstance(item, Colour):
        return True
    return isinstance(item, Some) and (item.act.role is Role.STEP or (item.act.role is Role.CHAIN))


def _is_join(item: Item) -> bool:
    return isinstance(item, Some) and item.act.name in ("join", "sl st")


def _closing_chain(body: tuple[Item, ...], tail: list[Item], *, joined: bool) -> tuple[Item, ...]:
    """A chain at the very end reaches up for the next round, unless the round is joined after it."""
    settled: list[Item] = []
    join_ahead = joined
    for item in tail:
        if _is_join(item):
            join_ahead = False
        if isinstance(item, Some) and item.act.role is Role.CHAIN and not join_ahead:
            item = replace(item, act=as_step(item.act))
        settled.append(item)
    return (*body, *settled)


def _travelled(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Slip stitches before the first stitch that lead to a space, or to a chain that begins the round, are steps."""
    settled = list(body)
    for index, item in enumerate(body):
        if isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP):
            continue
        if not (isinstance(item, Some) and item.act.name == "sl st"):
            break
        following = acts(body[index + 1 :])
        onward = next((act for act in following if act.name != "sl st" and act.role is not Role.STEP), None)
        if onward is None:
            break
        if (
            item.act.into is Into.SPACE
            or onward.role is Role.CHAIN
            or onward.into is Into.SAME
            or _begins_with_chain(onward)
        ):
            name = "sl st across"
            settled[index] = Some(Act(name, Role.STEP, into=Into.NOTHING, span=item.act.span))
    return tuple(settled)


def _begins_with_chain(act: Act) -> bool:
    return bool(act.makes) and act.makes[0].is_chain
