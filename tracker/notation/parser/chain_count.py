"""Whether a chain counts as a stitch, as the pattern says: "counts as dc and ch 1", "does not count as a stitch".

What is said is kept on the chain (`Instruction.counts`) until the whole line is known.
"""

from __future__ import annotations

from itertools import pairwise, takewhile

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Counts, Exactly, Instruction, Into, Item, Made, Role, Some
from tracker.notation.bunches import ONE_STITCH
from tracker.notation.instructions import together
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, Token


def counting(cursor: Cursor, items: list[Item], close: int) -> None:
    """COUNTING := [not] counts [as stitch [and ch n]], up to word `close`; about the last chain in `items`

    With no chain there it is about every chain of the line.
    """
    inner = cursor.tokens[cursor.place : close]
    denied = any(token.kind is T.NOT or token.text in ("no", "without", "neither") for token in inner)
    if not denied and _is_closed(inner) and _is_leg(items):
        denied = True
        items[-1] = _closed(cursor, items[-1], inner)
    for index in reversed(range(len(items))):
        item = items[index]
        if isinstance(item, Some) and _is_chain(item.act):
            items[index] = replace(item, act=replace(item.act, counts=_counts(item.act, inner, denied)))
            return
        if isinstance(item, Some) and _begins_with_chain(item.act):
            items[index] = replace(item, act=_counted_in_place(item.act, _counts(item.act, inner, denied)))
            return
    cursor.chains_count = not denied and cursor.chains_count is not False
    cursor.remarks.append(cursor.words(cursor.place, close))


def _is_closed(inner: list[Token]) -> bool:
    """Whether what is counted as are stitches closed as one: "counts as dc2tog", "counts as first cluster"."""
    return any(token.kind is T.TOG or (token.kind is T.BUNCH and token.name in ONE_STITCH) for token in inner)


def _is_leg(items: list[Item]) -> bool:
    """ "ch 3, dc (counts as dc2tog)": the chain and the stitch behind it are closed as one, so that it counts with
    that one, in one place or not."""
    last = items[-1] if items else None
    if isinstance(last, Some) and _begins_with_chain(last.act):
        return last.act.stitches == 1
    if len(items) < 2:
        return False
    chain, behind = items[-2], items[-1]
    if not isinstance(chain, Some) or not isinstance(behind, Some) or chain.act.role is not Role.CHAIN:
        return False
    return behind.act.role is Role.WORK and behind.act.stitches == 1 and behind.times == Exactly(1)


def _closed(cursor: Cursor, item: Item, inner: list[Token]) -> Item:
    """The stitch behind such a chain by the name of what both are; the chain has the first place, the stitch the next
    ones, unless it goes into the same."""
    if not isinstance(item, Some) or _begins_with_chain(item.act):
        return item
    act = item.act
    bunch = next((token.name for token in inner if token.kind is T.BUNCH), "")
    legs = next((word.number for word, tog in pairwise(inner) if word.kind is T.NUMBER and tog.kind is T.TOG), 0)
    behind = cursor.place - 1 if cursor.peek(-1) is T.OPEN else cursor.place
    clause = takewhile(lambda word: word.kind is not T.COMMA, cursor.tokens[behind - 1 :: -1])
    is_beside = act.into is Into.STITCH and not act.over_first and T.NEXT in {word.kind for word in clause}
    takes = act.takes + is_beside
    if bunch:
        return replace(item, act=replace(act, name=bunch, makes=(Made(bunch),), takes=takes))
    kind = next((token.name for token in inner if token.kind is T.STITCH), act.makes[0].kind)
    if takes not in (act.takes, legs):
        return item
    closed = together(kind, max(legs, 1))
    return replace(
        item, act=replace(act, name=closed.name, makes=closed.makes, takes=takes, technique=closed.technique)
    )


def _is_chain(act: Instruction) -> bool:
    """A chain, or the stitch after the chains of "4th ch from hook"."""
    return act.role is Role.CHAIN or act.from_hook > 0


def _begins_with_chain(act: Instruction) -> bool:
    """A chain with a place, alone or with what goes there too: "in any sp, ch 3 (counts as dc), dc in same sp"."""
    return act.role is Role.WORK and bool(act.makes) and act.makes[0].is_chain and not act.makes[0].counts_as


def _counted_in_place(act: Instruction, counts: Counts) -> Instruction:
    """Such a chain as the stitch that it counts as; where it counts as none it only reaches up."""
    chain, *behind = act.makes
    if not counts.as_stitch:
        return replace(act, makes=tuple(behind)) if behind else act
    kind = counts.stitch or next((made.kind for made in behind), "")
    spare = (replace(chain, count=counts.besides),) if counts.besides else ()
    return replace(act, makes=(replace(chain, counts_as=kind), *spare, *behind)) if kind else act


def _counts(act: Instruction, inner: list[Token], denied: bool) -> Counts:
    if act.from_hook:
        return Counts(not denied and act.counts_as_stitch is not False)
    if denied:
        return Counts(False)
    kinds = [token.kind for token in inner]
    sign = next((kind for kind in (T.COUNTS, T.EQUALS) if kind in kinds), None)
    after = inner[kinds.index(sign) :] if sign is not None else []
    stitch = next((token.name for token in after or inner if token.kind is T.STITCH), "")
    before = inner[: kinds.index(sign)] if sign is not None else []
    pairs = ((nth, n) for nth, n in pairwise(before) if (nth.kind, n.kind) == (T.ORDINAL, T.NUMBER))
    first = next((n.number for nth, n in pairs if nth.number == 1), 0)
    if first and act.role is Role.CHAIN:  # "ch 5 (the first 3 to stand for a dc)"
        return Counts(True, stitch, max(act.makes[0].count - first, 0))
    return Counts(True, stitch, _chains_besides(after or inner))


def _chains_besides(after: list[Token]) -> int:
    """ "counts as dc and ch 1": the chain is longer than its stitch by so many."""
    chains = 0
    for index, token in enumerate(after):
        if token.kind is T.CHAIN:
            beside = [*after[index + 1 : index + 2], *after[index - 1 : index]]
            chains = next((word.number for word in beside if word.kind is T.NUMBER), 1)
    return chains
