"""Joining a round: "join with sl st to first sc", "join B in any st", "join with sc in same st"."""

from __future__ import annotations

from tracker.notation import heads
from tracker.notation.colours import key_of
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import ENDS, MADE, T
from tracker.notation.tree import Act, Colour, Into, Item, Loop, Role, Some

_ENDS_A_JOIN = ENDS | {T.OPEN, T.MARK, T.REPEAT, T.AND, T.THEN}


def join(cursor: Cursor, found: list[Item], _until: int) -> None:
    """JOIN := join { with | COLOUR | STANDING | other words }; a standing stitch is one of the round"""
    first = cursor.place
    ring, stitch = "ring" in cursor.take().text.split(), ""
    colours: list[Item] = []
    while not _ends(cursor):
        if cursor.accept(T.WITH):
            continue
        if cursor.at(T.COLOURED) or (not colours and _is_key(cursor)):
            colours.append(_colour(cursor))
            continue
        word = cursor.take()
        ring = ring or word.kind is T.RING or "ring" in word.text.split()
        if not stitch and word.kind is T.STITCH and word.name != "sl st" and _is_standing(cursor):
            stitch = word.name
    span = cursor.span(first)
    if stitch:
        found.extend((*colours, Some(heads.stitch(stitch).act(Loop.BOTH, span))))
        return
    name = "join ring" if ring else "join"
    found.extend((Some(Act(name, Role.STEP, into=Into.NOTHING, span=span)), *colours))


def _ends(cursor: Cursor) -> bool:
    """Whether the joining is over: at the end of the clause, or at stitches with a count before them."""
    if cursor.peek() in _ENDS_A_JOIN:
        return True
    return cursor.at(T.NUMBER) and cursor.peek(1) in MADE and cursor.peek(-1) not in (T.CHAIN, T.OF)


def _is_key(cursor: Cursor) -> bool:
    if not cursor.at(T.WORD):
        return False
    text = cursor.token().text
    return len(text) <= 2 or text in cursor.context.colours or cursor.peek(-1) is T.COLOURED


def _colour(cursor: Cursor) -> Colour:
    start = cursor.place
    cursor.take()
    while cursor.at(T.COLOURED, T.WORD) and cursor.place < start + 4:
        cursor.take()
    return Colour(key_of(cursor.tokens[start : cursor.place]), cursor.span(start))


def _is_standing(cursor: Cursor) -> bool:
    """STANDING := with [beginning] stitch: the stitch just taken is made in joining"""
    ahead = -2
    while cursor.peek(ahead) in (T.BEGINNING, T.NUMBER, T.FILLER):
        ahead -= 1
    return cursor.peek(ahead) is T.WITH
