"""The start and the end of a round: turning chains, foundation chains, travelling and closing slip stitches.

A chain at the start may be the first stitch or only reach up to its height; a slip stitch at the end may close the
round or be a stitch of it. Where the words do not tell, both readings are kept, the likelier first.
Heights and what counts by convention come from the glossary (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from tracker.notation.glossary import BY_ID
from tracker.notation.tree import (
    Act,
    Choice,
    Colour,
    Exactly,
    Group,
    Into,
    Item,
    Made,
    Option,
    Rest,
    Role,
    Some,
)


@dataclass(frozen=True, slots=True)
class Foundation:
    """A chain that the line makes for itself. `bases` of its chains can be worked into (0 when it is only a ring)."""

    chains: int
    bases: int
    ring: bool = False


def each_act(body: tuple[Item, ...], change: Callable[[Act], Act]) -> tuple[Item, ...]:
    """The same items with every act changed."""
    changed: list[Item] = []
    for item in body:
        if isinstance(item, Some):
            changed.append(replace(item, act=change(item.act)))
        elif isinstance(item, Group):
            changed.append(replace(item, body=each_act(item.body, change)))
        elif isinstance(item, Choice):
            options = tuple(replace(option, body=each_act(option.body, change)) for option in item.options)
            changed.append(replace(item, options=options))
        else:
            changed.append(item)
    return tuple(changed)


def acts(body: tuple[Item, ...]) -> list[Act]:
    """All acts of the first readings, in order."""
    found: list[Act] = []
    for item in body:
        if isinstance(item, Some):
            found.append(item.act)
        elif isinstance(item, Group):
            found.extend(acts(item.body))
        elif isinstance(item, Choice):
            found.extend(acts(item.options[0].body))
    return found


def made_by(body: tuple[Item, ...]) -> tuple[tuple[str, int], ...]:
    """What these items make when all of it goes into one place, as (kind, count), side by side."""
    makes: list[tuple[str, int]] = []
    for item in body:
        inner = item.options[0].body[0] if isinstance(item, Choice) else item
        times = inner.times.count if isinstance(inner, Some | Group) and isinstance(inner.times, Exactly) else 1
        if isinstance(inner, Group):
            makes.extend(made_by(inner.body) * min(times, 100))
        elif isinstance(inner, Some) and inner.act.role not in (Role.STEP, Role.SKIP):
            makes.extend((m.kind, m.count if m.is_chain else m.count * times) for m in inner.act.makes)
    return tuple(makes)


def main_stitch(body: tuple[Item, ...], default: str) -> str:
    """The stitch that the line is mostly made of, for words such as "inc" that name none."""
    kinds = [
        m.kind for a in acts(body) if a.role is Role.WORK for m in a.makes if m.kind in BY_ID and m.kind != "sl st"
    ]
    return max(kinds, key=kinds.count) if kinds else default


def filled(body: tuple[Item, ...], main: str) -> tuple[Item, ...]:
    """Acts that named no stitch get the main one."""

    def fill(act: Act) -> Act:
        if all(made.kind for made in act.makes):
            return act
        makes = tuple(replace(made, kind=made.kind or main) for made in act.makes)
        return replace(act, makes=makes, name=act.name or main)

    return each_act(body, fill)


def in_ring(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "Magic ring, 6 sc": what names no place goes into the ring that the line begins with."""
    if not any(isinstance(item, Some) and item.act.name == "ring" for item in body):
        return body

    def into(act: Act) -> Act:
        plain = act.role is Role.WORK and act.into is Into.STITCH and act.name != "sl st"
        return replace(act, takes=0, into=Into.RING) if plain else act

    return each_act(body, into)


def on_own_chains(body: tuple[Item, ...], top: bool = True) -> tuple[Item, ...]:
    """A chain worked back over in the middle of a round (a picot, a tentacle): it takes no bases of the round."""
    settled: list[Item] = []
    own = 0
    worked = not top
    for item in body:
        if isinstance(item, Group):
            item = replace(item, body=on_own_chains(item.body, top=False))
        elif isinstance(item, Some):
            hooked = item.act.remark.startswith("hook")
            chain = settled[-1] if settled else None
            if hooked and worked and isinstance(chain, Some) and chain.act.role is Role.CHAIN:
                own = chain.act.makes[0].count - int(item.act.remark.split()[1]) + 1
                settled[-1] = replace(chain, act=_step(chain.act))
                item = replace(item, act=_on_chain(item.act))
                own -= 1
            elif own > 0 and item.act.into is Into.CHAIN and isinstance(item.times, Exactly):
                own -= item.times.count
                item = replace(item, act=_on_chain(item.act))
            elif own > 0 and item.act.role is Role.WORK and isinstance(item.times, Rest):
                item = Some(replace(item.act, takes=0, remark="own"), Exactly(own))
                own = 0
            worked = worked or item.act.role is Role.WORK
        settled.append(item)
    return tuple(settled)


def _on_chain(act: Act) -> Act:
    """A stitch on the round's own chain; a slip stitch there only closes a picot."""
    if act.name == "sl st":
        return Act("sl st in ch", Role.STEP, into=Into.NOTHING, span=act.span)
    return replace(act, takes=0, remark="own")


def opened(body: tuple[Item, ...], chain_counts: bool | None) -> tuple[tuple[Item, ...], Foundation | None]:
    """Settle the chain at the start of a line."""
    start = _first_doing(body)
    if start is None:
        return body, None
    item = body[start]
    if isinstance(item, Some) and item.act.remark.startswith("hook") and "counts" in item.act.remark:
        return (*body[:start], _skipped_chain(item.act), *body[start:]), None
    if not (isinstance(item, Some) and item.act.role is Role.CHAIN):
        return body, None
    foundation = _foundation(body, start)
    if foundation is not None:
        return foundation
    if not any(act.role is Role.WORK for act in acts(body[start + 1 :])):
        return body, None
    return (*body[:start], *_turning(item, body[start + 1 :], chain_counts)), None


def _first_doing(body: tuple[Item, ...]) -> int | None:
    """The first item that is not a colour, a step or a slip stitch on the way to somewhere."""
    for index, item in enumerate(body):
        if isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP):
            continue
        return index
    return None


def _foundation(body: tuple[Item, ...], start: int) -> tuple[tuple[Item, ...], Foundation] | None:
    chain = body[start]
    assert isinstance(chain, Some)
    length = chain.act.makes[0].count
    rest = body[start + 1 :]
    following = acts(rest)
    plain = replace(chain, act=_step(chain.act))
    hooked = next((act for act in following[:2] if _is_hooked(act, length)), None)
    if hooked is not None:
        return _from_hook(body, start, plain, length, hooked)
    if following and following[0].name in ("join ring", "join", "close") and length > 1:
        into_ring = any(act.into is Into.RING for act in following)
        foundation = Foundation(length, 0 if into_ring else length, into_ring)
        joined = rest[1:]
        inner, _ = opened(joined, None)
        return (*body[:start], plain, rest[0], *inner), foundation
    if following and following[0].role is Role.STEP and following[0].name == "turn" and length > 4:
        return None
    if length > 6 and following and following[0].into is Into.CHAIN:
        return (*body[:start], plain, *rest), Foundation(length, length)
    return None


def _from_hook(
    body: tuple[Item, ...], start: int, plain: Some, length: int, hooked: Act
) -> tuple[tuple[Item, ...], Foundation]:
    words = hooked.remark.split()
    nth = int(words[1])
    skipped = nth - 1
    foundation = Foundation(length, max(length - nth + 1, 1))
    rest = body[start + 1 :]
    kind = hooked.makes[0].kind
    height = BY_ID[kind].height if kind in BY_ID else 1
    counted = _skipped_chain(hooked)
    with_stitch = (*body[:start], plain, counted, *rest)
    without = (*body[:start], plain, *rest)
    said = "never" in words, "counts" in words
    chain = body[start]
    assert isinstance(chain, Some)
    if said[0] or chain.act.remark == "never" or skipped < 2 or kind == "sc":
        return without, foundation
    if said[1] or chain.act.remark.startswith("counts"):
        return with_stitch, foundation
    counts = skipped >= height and BY_ID[kind].chain_counts is True if kind in BY_ID else False
    why_counts = f"read the {skipped} skipped chains as the first {kind}"
    why_not = f"read the {skipped} skipped chains as no stitch"
    first, second = Option((counted,), why_counts), Option((), why_not)
    if counts:
        second = replace(second, rescue=True)
    choice = Choice("opening", (first, second) if counts else (second, first))
    return (*body[:start], plain, choice, *rest), foundation


def _is_hooked(act: Act, length: int) -> bool:
    """A stitch into a chain counted from the hook; a slip stitch into the very first one only closes a ring."""
    return act.remark.startswith("hook") and not (act.name == "sl st" and int(act.remark.split()[1]) >= length)


def _skipped_chain(hooked: Act) -> Some:
    """The chains before "4th ch from hook" as the first stitch."""
    skipped = int(hooked.remark.split()[1]) - 1
    made = Made("ch", skipped, hooked.makes[0].kind)
    return Some(Act(f"ch {skipped}", Role.CHAIN, (made,), 0, into=Into.NOTHING, span=hooked.span))


def _step(act: Act) -> Act:
    """A chain that makes neither a stitch nor a space."""
    return Act(f"ch {act.makes[0].count}", Role.STEP, into=Into.NOTHING, span=act.span)


def _turning(chain: Some, rest: tuple[Item, ...], chain_counts: bool | None) -> tuple[Item, ...]:
    """The items from a turning chain on, with both readings where both are possible."""
    length = chain.act.makes[0].count
    first = next(act for act in acts(rest) if act.role is Role.WORK)
    kind = first.makes[0].kind
    said = chain.act.remark
    if said == "never":
        return (replace(chain, act=_step(chain.act)), *rest)
    if said.startswith("counts"):
        return _counted(chain, rest, *_as_said(said, kind, length))
    stitch = BY_ID.get(kind)
    if stitch is None or length < 2 or stitch.height == 0 or (stitch.height == 1 and length > 1):
        if stitch is not None and stitch.height == 1 and length > 2:
            return (chain, *rest)
        return (replace(chain, act=_step(chain.act)), *rest)
    if length + 1 < stitch.height:
        return (replace(chain, act=_step(chain.act)), *rest)
    if chain_counts is not None:
        if chain_counts:
            return _counted(chain, rest, kind, max(0, length - stitch.height))
        return (replace(chain, act=_step(chain.act)), *rest)
    return (_either(chain, rest, kind, length, stitch.height, stitch.chain_counts),)


def _as_said(said: str, kind: str, length: int) -> tuple[str, int]:
    words = said.split(" ")
    stitch = words[1] or kind
    return stitch, int(words[2])


def _either(
    chain: Some, rest: tuple[Item, ...], kind: str, length: int, height: int, convention: bool | None
) -> Choice:
    counted = Option(_counted(chain, rest, kind, max(0, length - height)), f"read 'ch {length}' as the first {kind}")
    never = Option((replace(chain, act=_step(chain.act)), *rest), f"read 'ch {length}' as no stitch")
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


def closed(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """Settle slip stitches and chains at the end of a line, and slip stitches that only travel at its start."""
    body = _travelled(body)
    end = len(body)
    while end and _is_tail(body[end - 1]):
        end -= 1
    tail = [_turning_end(item) for item in body[end:]]
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


def _turning_end(item: Item) -> Item:
    return item


def _closing_chain(body: tuple[Item, ...], tail: list[Item], *, joined: bool) -> tuple[Item, ...]:
    """A chain at the very end reaches up for the next round, unless the round is joined after it."""
    settled: list[Item] = []
    join_ahead = joined
    for item in tail:
        if _is_join(item):
            join_ahead = False
        if isinstance(item, Some) and item.act.role is Role.CHAIN and not join_ahead:
            item = replace(item, act=_step(item.act))
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
