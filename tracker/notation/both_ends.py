"""Both ends of a round or row: "at each end", "in the first and last st", "at the beginning and end of the row"."""

from __future__ import annotations

from tracker.notation.bases import base
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T
from tracker.notation.tree import Exactly


def takes_both_ends(cursor: Cursor) -> bool:
    """BOTH ENDS := (each | both) end [of row] | beginning and end [of row]; taken if it stands here"""
    start = cursor.place
    if cursor.at(T.ORDINAL) and cursor.token().number == 1 and cursor.sees(T.ORDINAL, T.AND, T.LAST):
        cursor.place += 3
        base(cursor, Exactly(1))
        return True
    if cursor.accept(T.BEGINNING):
        begun = bool(cursor.accept(T.AND))
    else:
        begun = bool(cursor.accept(T.EACH)) or _takes_both(cursor)
    if begun and (cursor.accept(T.END) or (cursor.at(T.AROUND) and cursor.take().text.startswith("end"))):
        cursor.skip(T.OF, T.SAME, T.ROUND)
        return True
    cursor.place = start
    return False


def _takes_both(cursor: Cursor) -> bool:
    if cursor.at(T.WORD) and cursor.token().text == "both":
        cursor.take()
        return True
    return False
