"""Rounds that go from corner to corner: how many corners there are, and what stands on the sides between them."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Colour, Exactly, Group, Into, Item, Role, Some, Timed, ToEnd, acts
from tracker.notation.instructions import (
    CORNER,
    CORNER_SPACE,
    FIRST_CORNER,
    each_act,
    is_at_corner,
    is_every_corner,
    is_on_each_side,
    is_side,
    sides,
)
from tracker.rounds.bases import Base

USUAL = (4, 3, 6, 8, 5)
"""Numbers of corners, likeliest first (common practice, no source): squares and blankets, triangles, hexagons."""


def at_corners(
    body: tuple[Item, ...], base: Base | None, *, has_total: bool
) -> Iterator[tuple[tuple[Item, ...], str]]:
    """The items with the corners counted, likeliest number first, each with what is unlikely about it.

    Sides that are gone along one by one are gone along as one: nobody knows where the corners of the round below are.
    Where it is not known whether those are spaces, only a total can tell that they are.
    """
    corners = base.corners if base is not None else None
    numbers = list(dict.fromkeys((corners, *USUAL) if corners else USUAL))
    ways = [body]
    if base is not None and not base.spaces:
        into_stitches = each_act(
            body, lambda act: replace(act, into=Into.STITCH) if act.onto in (CORNER, FIRST_CORNER) else act
        )
        ways = [into_stitches, body] if base.spaces is None and has_total else [into_stitches]
    for way in ways:
        yield from (
            (_counted(from_corner(way), number), f"read it with {number} corners" if number != numbers[0] else "")
            for number in numbers
        )


def _counted(body: tuple[Item, ...], corners: int) -> tuple[Item, ...]:
    items: list[Item] = []
    passed = 0
    for item in body:
        parts: tuple[Item, ...] = (item,)
        if isinstance(item, Group) and any(is_side(inner) for inner in item.body):
            sides = item.times.count if isinstance(item.times, Exactly) else max(corners - passed, 1)
            parts = tuple(_so_often(part, sides) for part in item.body)
        elif isinstance(item, Some) and is_every_corner(item):
            parts = (replace(item, times=Exactly(max(corners - passed, 1))),)
        elif is_on_each_side(item):
            parts = (_so_often(item, corners),)
        elif is_side(item):
            parts = (_so_often(item, 1),)
        for each in parts:
            passed += _corners_in(each)
            if not _goes_on_already(each, items):
                items.append(each)
    return tuple(items)


def _so_often(item: Item, times: int) -> Item:
    """What stands once on each side, for so many of them; what goes to the corner goes to the end of the round."""
    if not isinstance(item, Timed):
        return item
    if isinstance(item.times, Exactly):
        return replace(item, times=Exactly(item.times.count * times))
    return replace(item, times=ToEnd(item.times.leaving))


def from_corner(body: tuple[Item, ...]) -> tuple[Item, ...]:
    """A round that goes from corner to corner begins in one, where it begins in a space: "(3 dc, ch 2, 3 dc) in same
    sp"."""
    to = next((side.onto for side in sides(body)), "")
    for index, item in enumerate(body):
        if isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP):
            continue
        if not isinstance(item, Some):
            break
        if item.act.same_space or (not to and item.act.into is Into.SPACE and not item.act.onto):
            begun = replace(item, act=replace(item.act, onto=to or CORNER_SPACE))
            return (*body[:index], begun, *body[index + 1 :])
        if item.act.takes:
            break
    return body


def _corners_in(item: Item) -> int:
    if not isinstance(item, Some) or not isinstance(item.times, Exactly) or item.act.role is Role.STEP:
        return 0  # slip stitches that lead to a corner work nothing there
    return item.times.count if _is_at_corner(item) else 0


def _is_at_corner(item: Some) -> bool:
    """Chains between stitches turn a corner too: "(2 dc, ch 2, 2 dc) in ch-2 sp", with sides up to the next one."""
    turns = item.act.into is Into.SPACE and any(made.is_chain for made in item.act.makes[1:-1])
    return turns or is_at_corner(item.act.onto)


def _goes_on_already(item: Item, before: list[Item]) -> bool:
    """Whether the same goes on to the end already: the last side is gone along like the others."""
    if not isinstance(item, Timed) or not isinstance(item.times, ToEnd):
        return False
    return any(isinstance(one, Timed) and one.times == ToEnd() and _alike(one, item) for one in before)


def _alike(one: Item, other: Item) -> bool:
    def made(item: Item) -> list[object]:
        body = item.body if isinstance(item, Group) else (item,)
        return [(act.makes, act.takes, act.into) for act in acts(body)]

    return made(one) == made(other)
