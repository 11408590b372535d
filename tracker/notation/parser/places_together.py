"""Places that are closed together: "1st and 2nd st together", "every 5th and 6th st together"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.notation.ast import Exactly, Group, Instruction, Item, Some, ToEnd
from tracker.notation.instructions import MAIN, is_plain_work, stitch, together
from tracker.notation.parser.place import place
from tracker.notation.parser.worked_into import Where
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, PhrasePattern


def close_together(cursor: Cursor, items: list[Item], where: Where, first: int) -> bool:
    """{ and PLACE } together, behind the place that begins at word `first`: taken if it stands here. What goes round
    before it, "sc around, working every 5th and 6th st together", is what stands between them."""
    pairs = _places_together(cursor, where) if _are_several(where) else []
    before = items[-1] if pairs and where.every and items else None
    if isinstance(before, Some) and before.times == ToEnd() and is_plain_work(before):
        items.pop()
    items.extend(_together(each, cursor.span(first)) for each in pairs)
    return bool(pairs)


def _places_together(cursor: Cursor, first: Where) -> list[Where]:
    """{ and PLACE } together, behind the first place: "1st and 2nd st and 6th and 7th st together"; taken if it
    stands here"""
    start, places = cursor.place, [first]
    while cursor.accept(T.AND, T.COMMA) and cursor.at(T.ORDINAL):
        places.append(place(cursor))
    if cursor.accept(T.TOG) and all(map(_are_several, places)):
        return places
    cursor.place = start
    return []


def _are_several(where: Where) -> bool:
    return where.every > 2 or (isinstance(where.bases, Exactly) and where.bases.count > 1)


def _together(where: Where, span: Span) -> Item:
    """ "next 2 dc together", "every 5th and 6th st together" """
    over = where.bases.count if isinstance(where.bases, Exactly) else 2
    act = together(MAIN, over).act(where.loop, span)
    return among_plain(act, where) if where.every else Some(act)


def first_together(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """(first | next | last) n BASE together, with nothing before it that says where"""
    first = cursor.place
    words = cursor.take_phrase(FIRST_TOGETHER)
    if not words:
        return False
    number = next(word.number for word in words if word.kind is T.NUMBER)
    items.append(Some(together(MAIN, number).act(cursor.loop, cursor.span(first))))
    return True


FIRST_TOGETHER = PhrasePattern("[NEXT ORDINAL LAST] NUMBER BASES TOG")
""" "the first 2 sts together, 10 sc, the last 2 sts together" """


def among_plain(act: Instruction, where: Where) -> Item:
    """An act at every so many places, with plain stitches between."""
    if where.every <= act.takes:
        return Some(act, where.bases)
    plain = stitch(MAIN).act(where.loop, act.span)
    return Group((Some(plain, Exactly(where.every - act.takes)), Some(act)), where.bases, act.span)
