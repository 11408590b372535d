"""How far something goes: "around", "to last 2 sts", "until 1 st remains", "until the hole closes"."""

from __future__ import annotations

from tracker.notation.counts import sizes
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import BASES, STOPS, T
from tracker.notation.tree import Rest

EDGES = frozenset(("edge", "edges", "opening", "rim"))
"""What is gone around that is no round: how many stitches go there is not told by the round below."""


def extent(cursor: Cursor) -> Rest | None:
    """EXTENT := around [LEAVING] | LEAVING | UNTIL DONE; taken if it stands here"""
    if cursor.sees(T.AROUND, T.SIDE):
        return None
    if cursor.at(T.AROUND) or (cursor.at(T.ROUND) and cursor.peek(1) is not T.NUMBER):
        cursor.take()
        cursor.skip(T.AROUND)
        _edge(cursor)
        tells_result = cursor.at(T.UNTIL)
        leaving = _leaving(cursor)
        return Rest() if leaving is None or tells_result else leaving
    if cursor.at(T.TO, T.UNTIL):
        return _leaving(cursor) or _until_done(cursor)
    return None


def _edge(cursor: Cursor) -> None:
    """edge [of words]: what it goes around, taken"""
    if cursor.at(T.WORD) and cursor.token().text in EDGES:
        cursor.take()
        if cursor.sees(T.OF, T.WORD):
            cursor.place += 2


def _leaving(cursor: Cursor) -> Rest | None:
    """LEAVING := (to | until) [within] (end [of rnd] | LAST ONES)"""
    start = cursor.place
    if not cursor.accept(T.TO, T.UNTIL):
        return None
    cursor.skip(T.TO, T.ALL, T.REMAINING)
    if cursor.at(T.WORD) and cursor.token().text == "within":
        cursor.take()
    if cursor.accept(T.END):
        cursor.skip(T.OF, T.ROUND)
        return Rest()
    leaving = _last_ones(cursor)
    if leaving is None:
        cursor.place = start
    return leaving


def _last_ones(cursor: Cursor) -> Rest | None:
    """LAST ONES := (last [n] | n) [base] [remain] [of rnd]"""
    is_last = bool(cursor.accept(T.LAST))
    if is_last and cursor.at(T.ROUND):
        return None
    number = sizes(cursor, cursor.number()) if cursor.at(T.NUMBER) else None
    _base_named(cursor)
    if not is_last and number is None:
        return None
    cursor.skip(T.LEFT, T.REMAINING)
    if cursor.at(T.OF) and cursor.peek(1) in (T.ROUND, T.END):
        cursor.place += 2
    return Rest(1 if number is None else number)


def _base_named(cursor: Cursor) -> None:
    if cursor.peek() in BASES:
        if cursor.sees(T.CHAIN, T.SPACE):
            cursor.take()
        cursor.take()
        cursor.skip(T.NOUN, T.SPACE)


def _until_done(cursor: Cursor) -> Rest | None:
    """UNTIL DONE := until the hole closes, however it is put: to the end of the round"""
    if not cursor.at(T.UNTIL) or cursor.peek(1) not in (T.WORD, T.SPACE, T.RING, T.CORNER):
        return None
    cursor.place = cursor.end_of(STOPS | {T.OPEN})
    return Rest()
