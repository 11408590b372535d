"""Rounds through two layers: of two pieces, or of one that is laid flat and closed along its edge."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.lazy_dataclass import replace
from tracker.notation.ast import LAYERS, Choice, ChoiceKind, Exactly, Instruction, Into, Item, Option, Role, Some
from tracker.notation.instructions import each_act

_FLATTENED = ("clos", "flat", "fold", "pinch", "press", "squash", "squeez")
"""How a word begins that lays the two halves of a round on each other."""

_FLAT = frozenset(("flat", "flattened", "flatten", "flattening", "half", "two", "shut", "closed"))
"""What says that they are all that is closed, where no layers are named."""


def closed_flat(body: tuple[Item, ...], words: Sequence[str], *, through_layers: bool) -> tuple[Item, ...]:
    """The items, each stitch through both halves of the round where the `words` of the line say so or may: "working
    `through_layers`, sc in each st", "fold in half and close with 5 sc". Any other items as they are."""
    is_flattened = any(word.startswith(_FLATTENED) for word in words)
    if not through_layers and not (is_flattened and _is_counted(body) and not _FLAT.isdisjoint(words)):
        return body
    folded = each_act(body, _fold)
    if folded == body:
        return body
    likely_folded = is_flattened or _is_counted(body)
    two = Option(body)
    one = Option(folded, "read both layers as the two halves of the round", rescue=not likely_folded)
    return (Choice(ChoiceKind.LAYERS, (one, two) if likely_folded else (two, one)),)


def _fold(act: Instruction) -> Instruction:
    is_plain = act.role is Role.WORK and act.into is Into.STITCH and act.takes == 1
    return replace(act, takes=2, onto=LAYERS) if is_plain else act


def _is_counted(body: tuple[Item, ...]) -> bool:
    """Whether so many stitches are all that is made: "5 sc", which half of the round is left under, or all of it."""
    works = [item for item in body if not isinstance(item, Some) or item.act.role is Role.WORK]
    return len(works) == 1 and isinstance(works[0], Some) and isinstance(works[0].times, Exactly)
