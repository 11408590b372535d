"""Chains that a line makes to work into: foundation chains, rings, and chains worked back over inside a round.

What counts by convention comes from the glossary (common practice, no source).
"""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.counting import said_of
from tracker.notation.glossary import BY_ID
from tracker.notation.rows import acts, as_step, is_lead
from tracker.notation.tree import Act, Choice, Exactly, Group, Into, Item, Made, Option, Rest, Role, Some
from tracker.notation.values import dataclass


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
    plain = (*body[:start], replace(chain, act=as_step(chain.act)))
    hooked = next((act for act in following[:2] if _is_hooked(act, length)), None)
    if hooked is not None:
        skipped = _skipped_chains(hooked, said_of(chain.act))
        return (*plain, *skipped, *_turned_round(rest)), (), Foundation(length, max(length - hooked.from_hook + 1, 1))
    worked = any(act.role is Role.WORK for act in following)
    if worked and following[0].name in ("join ring", "join", "close") and length > 1:
        into_ring = any(act.into is Into.RING for act in following)
        return (*plain, rest[0]), rest[1:], Foundation(length, 0 if into_ring else length, into_ring)
    if length > 6 and following and following[0].into is Into.CHAIN:
        return plain, rest, Foundation(length, length)
    return None


def _turned_round(rest: tuple[Item, ...]) -> tuple[Item, ...]:
    """Along a chain "rotate" leads to its other side, even where that is not said."""
    names = [act.name for act in acts(rest)]
    if "other side" in names:
        return rest
    for index, item in enumerate(rest):
        onward = any(act.role is Role.WORK for act in acts(rest[index + 1 :]))
        if isinstance(item, Some) and item.act.name.startswith("rotate") and onward:
            return (*rest[:index], replace(item, act=replace(item.act, name="other side")), *rest[index + 1 :])
    return rest


def over_a_chain(body: tuple[Item, ...], start: int) -> tuple[Item, ...] | None:
    """A line that begins in a chain made before it ("dc in 4th ch from hook"); None for any other."""
    first = acts(body[start : start + 1])
    if not first or not first[0].from_hook or first[0].name == "sl st":
        return None
    return (*body[:start], *_skipped_chains(first[0], None), *body[start:])


def _skipped_chains(hooked: Act, said: bool | None) -> tuple[Item, ...]:
    """The chains before "4th ch from hook": the first stitch, nothing, or either; `said` of the chain itself."""
    told = (said_of(hooked), said)
    skipped = hooked.from_hook - 1
    kind = hooked.makes[0].kind
    if False in told or skipped < 2 or kind in ("sc", "sl st") or kind not in BY_ID:
        return ()
    made = Made("ch", skipped, kind)
    counted = Some(Act(f"ch {skipped}", Role.CHAIN, (made,), 0, into=Into.NOTHING, span=hooked.span))
    if True in told:
        return (counted,)
    counts = skipped >= BY_ID[kind].height and BY_ID[kind].chain_counts is True
    first = Option((counted,), f"read the {skipped} skipped chains as the first {kind}")
    second = Option((), f"read the {skipped} skipped chains as no stitch", rescue=counts)
    return (Choice("opening", (first, second) if counts else (second, first)),)


def _is_hooked(act: Act, length: int) -> bool:
    """A stitch into a chain counted from the hook; a slip stitch into the very first one only closes a ring."""
    return act.from_hook > 0 and not (act.name == "sl st" and act.from_hook >= length)


def on_own_chains(body: tuple[Item, ...], top: bool = True) -> tuple[Item, ...]:
    """A chain worked back over in the middle of a round (a picot, a tentacle): it takes no bases of the round."""
    settled: list[Item] = []
    own = 0
    worked = not top
    for item in body:
        if isinstance(item, Group):
            item = replace(item, body=on_own_chains(item.body, top=False))
        elif isinstance(item, Choice):
            options = (replace(option, body=on_own_chains(option.body, top=False)) for option in item.options)
            item = replace(item, options=tuple(options))
        elif isinstance(item, Some):
            chain = settled[-1] if settled else None
            if item.act.from_hook and worked and isinstance(chain, Some) and chain.act.role is Role.CHAIN:
                own = chain.act.makes[0].count - item.act.from_hook
                settled[-1] = replace(chain, act=as_step(chain.act))
                item = replace(item, act=_on_chain(item.act))
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
    doing = [item for item in body if not is_lead(item)]
    chain = doing[0] if len(doing) == 1 else None
    if not isinstance(chain, Some) or chain.act.role is not Role.CHAIN or chain.times != Exactly(1):
        return body
    length = chain.act.makes[0].count
    made = replace(chain, act=replace(chain.act, name="chain", role=Role.WORK, makes=(Made("chain", length),)))
    return tuple(made if item is chain else item for item in body)
