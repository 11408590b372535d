"""Chains that a line makes to work into: foundation chains, rings, and chains worked back over inside a round.

What counts by convention comes from the glossary (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.glossary import BY_ID
from tracker.notation.rows import acts, as_step
from tracker.notation.tree import Act, Choice, Exactly, Group, Into, Item, Made, Option, Rest, Role, Some


@dataclass(frozen=True, slots=True)
class Foundation:
    """A chain that the line makes for itself. `bases` of its chains can be worked into (0 when it is only a ring)."""

    chains: int
    bases: int
    ring: bool = False


Opened = tuple[tuple[Item, ...], tuple[Item, ...], Foundation]


def foundation_of(body: tuple[Item, ...], start: int) -> Opened | None:
    """The chain at `start` as one to work into: the items up to where work in it begins, the rest, and the chain.

    None if the chain is no foundation.
    """
    chain = body[start]
    assert isinstance(chain, Some)
    length = chain.act.makes[0].count
    rest = body[start + 1 :]
    following = acts(rest)
    plain = replace(chain, act=as_step(chain.act))
    hooked = next((act for act in following[:2] if _is_hooked(act, length)), None)
    if hooked is not None:
        return _from_hook(body, start, plain, length, hooked)
    worked = any(act.role is Role.WORK for act in following)
    if worked and following[0].name in ("join ring", "join", "close") and length > 1:
        into_ring = any(act.into is Into.RING for act in following)
        foundation = Foundation(length, 0 if into_ring else length, into_ring)
        return (*body[:start], plain, rest[0]), rest[1:], foundation
    if length > 6 and following and following[0].into is Into.CHAIN:
        return (*body[:start], plain), rest, Foundation(length, length)
    return None


def _from_hook(body: tuple[Item, ...], start: int, plain: Some, length: int, hooked: Act) -> Opened:
    nth = int(hooked.remark.split()[1])
    chain = body[start]
    assert isinstance(chain, Some)
    skipped = _skipped_chains(hooked, chain.act.remark)
    foundation = Foundation(length, max(length - nth + 1, 1))
    return (*body[:start], plain, *skipped, *body[start + 1 :]), (), foundation


def over_a_chain(body: tuple[Item, ...], start: int) -> tuple[Item, ...] | None:
    """A line that begins in a chain made before it ("dc in 4th ch from hook"); None for any other."""
    first = acts(body[start : start + 1])
    if not first or not first[0].remark.startswith("hook") or first[0].name == "sl st":
        return None
    return (*body[:start], *_skipped_chains(first[0], ""), *body[start:])


def _skipped_chains(hooked: Act, said: str) -> tuple[Item, ...]:
    """The chains before "4th ch from hook": the first stitch, nothing, or either."""
    words = hooked.remark.split()
    skipped = int(words[1]) - 1
    kind = hooked.makes[0].kind
    if "never" in words or said == "never" or skipped < 2 or kind in ("sc", "sl st") or kind not in BY_ID:
        return ()
    counted = _skipped_chain(hooked)
    if "counts" in words or said.startswith("counts"):
        return (counted,)
    counts = skipped >= BY_ID[kind].height and BY_ID[kind].chain_counts is True
    first = Option((counted,), f"read the {skipped} skipped chains as the first {kind}")
    second = Option((), f"read the {skipped} skipped chains as no stitch", rescue=counts)
    return (Choice("opening", (first, second) if counts else (second, first)),)


def _is_hooked(act: Act, length: int) -> bool:
    """A stitch into a chain counted from the hook; a slip stitch into the very first one only closes a ring."""
    return act.remark.startswith("hook") and not (act.name == "sl st" and int(act.remark.split()[1]) >= length)


def _skipped_chain(hooked: Act) -> Some:
    """The chains before "4th ch from hook" as the first stitch."""
    skipped = int(hooked.remark.split()[1]) - 1
    made = Made("ch", skipped, hooked.makes[0].kind)
    return Some(Act(f"ch {skipped}", Role.CHAIN, (made,), 0, into=Into.NOTHING, span=hooked.span))


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
                settled[-1] = replace(chain, act=as_step(chain.act))
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


def foundation_only(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """A line that is nothing but a chain leaves its chains to work into."""
    doing = [item for item in body if isinstance(item, Some) and item.act.role is not Role.STEP]
    if len(doing) != 1 or len([i for i in body if isinstance(i, Some | Group | Choice)]) != len(
        [i for i in body if isinstance(i, Some)]
    ):
        return body
    chain = doing[0]
    if chain.act.role is not Role.CHAIN or chain.times != Exactly(1):
        return body
    length = chain.act.makes[0].count
    made = replace(chain, act=replace(chain.act, name="chain", role=Role.WORK, makes=(Made("chain", length),)))
    return tuple(made if item is chain else item for item in body)
