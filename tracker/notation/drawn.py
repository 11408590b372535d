"""Decreases that are spelt out: "draw up a loop in each of next 2 sts, yo and through all 3 loops on hook"."""

from __future__ import annotations

from tracker.notation.cursor import Cursor
from tracker.notation.heads import MAIN, together
from tracker.notation.lexicon import STOPS, T
from tracker.notation.often import how_many_times
from tracker.notation.places import begins_place, place
from tracker.notation.tree import Exactly, Item, Some

_DRAWN = ("draw", "pull", "drawing", "pulling")
_CLOSES = ("yo", "yoh", "yrh", "yarn over", "through", "hook", "off")


def drawn_together(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """DRAWN := (draw up a loop PLACE | '(' draw up a loop PLACE ')' n times) { [,] yo, through all loops on hook }"""
    first = cursor.place
    bracketed = bool(cursor.accept(T.OPEN))
    if not _draws_a_loop(cursor):
        cursor.place = first
        return False
    where = place(cursor)
    over = where.bases.count if isinstance(where.bases, Exactly) else 1
    if bracketed and cursor.accept(T.CLOSE):
        over *= how_many_times(cursor)
    closed = _takes_closing(cursor)
    if not closed or over < 2:
        message = "loops are drawn up here, and it is not told how many are closed together"
        raise cursor.fail("not-understood", message, cursor.span(first), "write the decrease, for example sc2tog")
    found.append(Some(together(MAIN, over).act(cursor.loop, cursor.span(first))))
    return True


def _draws_a_loop(cursor: Cursor) -> bool:
    """draw up a loop, with a place behind it; taken if it stands here"""
    if not (cursor.at(T.WORD) and cursor.token().text in _DRAWN and cursor.peek(1) in (T.SPACE, T.RING)):
        return False
    if cursor.token(1).text.removeprefix("a ") not in ("loop", "lp", "loops", "lps"):
        return False
    cursor.place += 2
    return begins_place(cursor)


def _takes_closing(cursor: Cursor) -> bool:
    """{ [,] [and] yo, draw through all loops on hook }; whether anything of the sort stands here"""
    closed = False
    while True:
        start = cursor.place
        cursor.skip(T.COMMA, T.AND, T.THEN, T.SEMI)
        end = cursor.end_of(STOPS | {T.OPEN, T.MARK})
        if not any(token.text in _CLOSES for token in cursor.tokens[cursor.place : end]):
            cursor.place = start
            return closed
        cursor.place = end
        closed = True
