"""Rounds that name their changes and leave the rest unsaid: "inc 6 evenly around", "dec 1 st at each end"."""

from __future__ import annotations

from tracker.notation.heads import MAIN, stitch
from tracker.notation.tree import OPEN_PLACES, Choice, Group, Item, Rest, Some


def with_plain_stitches(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """The items with plain stitches around, where changes are to be set among some and none go to the end."""
    for index, item in enumerate(body):
        if isinstance(item, Some) and item.act.remark in OPEN_PLACES and not any(map(_goes_to_the_end, body)):
            plain = stitch(MAIN).act(item.act.loop, item.act.span)
            return (*body[:index], Some(plain, Rest()), *body[index:])
    return body


def _goes_to_the_end(item: Item) -> bool:
    if isinstance(item, Choice):
        return any(map(_goes_to_the_end, item.options[0].body))
    return isinstance(item, Some | Group) and isinstance(item.times, Rest)
