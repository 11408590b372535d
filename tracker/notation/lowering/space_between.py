"""A space named behind what goes into each stitch: at the end of the round, or between two of its parts."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, ChoiceKind, Exactly, Instruction, Into, Item, Option, Role, Some, ToEnd


def with_space_between(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """The items, with a second reading of "sc in each st and 3 sc in the ch-2 space" where nothing is worked behind
    the space: that it lies on the way, and not at the end."""
    works = [index for index, item in enumerate(body) if not _is_step(item)]
    if len(works) < 2 or works[-1] != works[-2] + 1:
        return body
    along, into = body[works[-2]], body[works[-1]]
    if not isinstance(along, Some) or not isinstance(into, Some) or into.times != Exactly(1):
        return body
    if along.times != ToEnd() or not _is_worked(along.act, Into.STITCH) or not _is_worked(into.act, Into.SPACE):
        return body
    why = "read the space as one between the stitches, and not behind them"
    between = replace(into, times=ToEnd())
    options = Option((along, into)), Option((along, between), why, rescue=True)
    return (*body[: works[-2]], Choice(ChoiceKind.SPACE_BETWEEN, options), *body[works[-1] + 1 :])


def _is_worked(act: Instruction, into: Into) -> bool:
    return act.role is Role.WORK and act.into is into and bool(act.stitches)


def _is_step(item: Item) -> bool:
    return isinstance(item, Some) and item.act.role is Role.STEP
