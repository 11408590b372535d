"""Stitches that are made together with the chain they stand on: "24 fsc", "FDC 64", "36 foundation sc"."""

from __future__ import annotations

from tracker.notation import counts
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T
from tracker.notation.tree import Act, Exactly, Into, Item, Made, Role, Some


def chainless(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """CHAINLESS := n FOUNDATION STITCH | FOUNDATION STITCH n"""
    first = cursor.place
    number = counts.count(cursor)
    named = cursor.accept(T.CHAINLESS)
    if named is None or (number is None and not cursor.at(T.NUMBER)):
        cursor.place = first
        return False
    number = counts.length(cursor) if number is None else number
    act = Act(named.name, Role.WORK, (Made(named.name),), 0, Into.NOTHING, span=cursor.span(first))
    found.append(Some(act, Exactly(number)))
    return True
