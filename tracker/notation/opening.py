"""The start of a round: a chain there may be the first stitch, or only reach up to its height.

Where the words do not tell, both readings are kept, the likelier first. Heights and what counts by convention come
from the glossary (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.foundation import Foundation, foundation_of, over_a_chain
from tracker.notation.glossary import BY_ID
from tracker.notation.rows import acts, as_step
from tracker.notation.tree import Choice, Colour, Exactly, Into, Item, Made, Option, Rest, Role, Some


def opened(body: tuple[Item, ...], chain_counts: bool | None) -> tuple[tuple[Item, ...], Foundation | None]:
    """Settle the chain at the start of a line."""
    start = _first_doing(body)
    if start is None:
        return body, None
    item = body[start]
    over = over_a_chain(body, start)
    if over is not None:
        return over, None
    if isinstance(item, Some) and item.act.role is Role.WORK and item.act.makes and item.act.makes[0].is_chain:
        return (*body[:start], _corner_start(item), *body[start + 1 :]), None
    if not (isinstance(item, Some) and item.act.role is Role.CHAIN):
        return body, None
    foundation = foundation_of(body, start)
    if foundation is not None:
        before, after, chain = foundation
        return (*before, *opened(after, chain_counts)[0]), chain
    if not any(act.role is Role.WORK for act in acts(body[start + 1 :])):
        return body, None
    return (*body[:start], *_turning(item, body[start + 1 :], chain_counts)), None


def _corner_start(item: Some) -> Item:
    """ "[ch 3, 2 dc, ch 2, 3 dc] in corner" at the start: the chain stands for the first of the stitches."""
    chain = item.act.makes[0]
    kind = next((made.kind for made in item.act.makes if not made.is_chain), "")
    if chain.counts_as or kind not in BY_ID or not 1 < BY_ID[kind].height <= chain.count:
        return item
    counted = replace(item, act=replace(item.act, makes=(replace(chain, counts_as=kind), *item.act.makes[1:])))
    never = replace(item, act=replace(item.act, makes=item.act.makes[1:]))
    why = f"read 'ch {chain.count}' as the first {kind}"
    return Choice("opening", (Option((counted,), why), Option((never,), f"read 'ch {chain.count}' as no stitch")))


def _first_doing(body: tuple[Item, ...]) -> int | None:
    """The first item that is not a colour, a step or a slip stitch on the way to somewhere."""
    for index, item in enumerate(body):
        if isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP):
            continue
        return index
    return None


def _turning(chain: Some, rest: tuple[Item, ...], chain_counts: bool | None) -> tuple[Item, ...]:
    """The items from a turning chain on, with both readings where both are possible."""
    length = chain.act.makes[0].count
    first = next(act for act in acts(rest) if act.role is Role.WORK)
    kind = first.makes[0].kind
    said = chain.act.remark
    if said == "never":
        return (replace(chain, act=as_step(chain.act)), *rest)
    if said.startswith("counts"):
        return _counted(chain, rest, *_as_said(said, kind, length))
    stitch = BY_ID.get(kind)
    if stitch is None or length < 2 or stitch.height == 0 or (stitch.height == 1 and length > 1):
        if stitch is not None and stitch.height == 1 and length > 2:
            return (chain, *rest)
        return (replace(chain, act=as_step(chain.act)), *rest)
    if length + 1 < stitch.height:
        return (replace(chain, act=as_step(chain.act)), *rest)
    if chain_counts is not None:
        if chain_counts:
            return _counted(chain, rest, kind, max(0, length - stitch.height))
        return (replace(chain, act=as_step(chain.act)), *rest)
    return (_either(chain, rest, kind, length, stitch.height, stitch.chain_counts),)


def _as_said(said: str, kind: str, length: int) -> tuple[str, int]:
    stitch, extra = said.removeprefix("counts ").rsplit(" ", 1)
    return stitch or kind, int(extra)


def _either(
    chain: Some, rest: tuple[Item, ...], kind: str, length: int, height: int, convention: bool | None
) -> Choice:
    counted = Option(_counted(chain, rest, kind, max(0, length - height)), f"read 'ch {length}' as the first {kind}")
    never = Option((replace(chain, act=as_step(chain.act)), *rest), f"read 'ch {length}' as no stitch")
    following = [act for act in acts(rest) if act.role is not Role.STEP]
    if following and following[0].role is Role.SKIP and following[0].remark == "first":
        return Choice("opening", (counted, replace(never, rescue=True)))
    shared = _shares_first(rest)
    if shared == 1:
        return Choice("opening", (counted, replace(never, rescue=True)))
    if shared:
        return Choice("opening", (never, replace(counted, rescue=True)))
    likely = (convention is True and length >= height) or length > height
    if _several_in_each_first(rest):
        likely = False
    return Choice("opening", (counted, never) if likely else (never, counted))


def _shares_first(rest: tuple[Item, ...]) -> int:
    """How many stitches go "in same st" right behind the chain: one makes the chain the other half of an
    increase, and a corner or V made there counts on it too."""
    first = next((i for i in rest if not (isinstance(i, Some) and i.act.role is Role.STEP)), None)
    if isinstance(first, Some) and first.act.into is Into.SAME and first.act.role is Role.WORK:
        if any(made.is_chain for made in first.act.makes):
            return 1
        return first.act.stitches * (first.times.count if isinstance(first.times, Exactly) else 1)
    return 0


def _several_in_each_first(rest: tuple[Item, ...]) -> bool:
    """ "ch 3, 2 dc in each st": nothing is said of the first stitch, so the chain hardly stands for one."""
    first = next((i for i in rest if not (isinstance(i, Some) and i.act.role is Role.STEP)), None)
    if isinstance(first, Choice):
        first = first.options[0].body[0]
    if isinstance(first, Some):
        return isinstance(first.times, Rest) and first.act.is_increase
    return False


def _counted(chain: Some, rest: tuple[Item, ...], kind: str, extra: int) -> tuple[Item, ...]:
    """The chain as a stitch; it stands on the first base unless the first is skipped or worked into besides."""
    length = chain.act.makes[0].count
    makes: tuple[Made, ...] = (Made("ch", max(length - extra, 1), kind),)
    if extra:
        makes = (*makes, Made("ch", extra))
    following = [act for act in acts(rest) if act.role is not Role.STEP]
    skips_first = bool(following) and following[0].role is Role.SKIP and following[0].remark == "first"
    in_ring = bool(following) and following[0].into is Into.RING
    takes = 0 if skips_first or in_ring else 1
    into = Into.NOTHING if takes == 0 else Into.STITCH
    if takes and following and following[0].into is Into.SAME and following[0].remark == "space":
        into = Into.SPACE
    act = replace(
        chain.act,
        name=f"ch {length}",
        makes=makes,
        takes=takes,
        into=into,
        remark="",
    )
    return (Some(act), *rest)
