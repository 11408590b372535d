"""What a place belongs to: a shell, another part, an earlier round, the stitch just joined in."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.bases import Where, base
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import STOPS, T
from tracker.notation.tree import Exactly, Into, Rest


def of_bunch(cursor: Cursor, where: Where) -> Where:
    """ "in the centre dc of each shell": one place in every group of that name."""
    ahead = 2 if cursor.peek(1) in (T.EACH, T.NEXT) else 1
    if not cursor.at(T.OF) or cursor.peek(ahead) is not T.BUNCH:
        return where
    each = cursor.peek(1) is T.EACH
    name = cursor.token(ahead).name
    cursor.place += ahead + 1
    return replace(where, into=Into.SPACE, onto=name, bases=Rest() if each else where.bases, each=each or where.each)


def of_what(cursor: Cursor) -> None:
    """ "of next shell", "of Rnd 5", "below", "of previous round": tells which, changes no number."""
    while cursor.at(T.OF, T.PREVIOUS, T.BEHIND) or (cursor.at(T.FROM) and cursor.peek(1) in (T.ROUND, T.PREVIOUS)):
        cursor.take()
        cursor.skip(T.EACH, T.NEXT, T.SAME, T.LAST, T.ORDINAL, T.PREVIOUS, T.CENTRE, T.BEGINNING)
        if not of_round(cursor):
            cursor.accept(T.NUMBER)
            base(cursor, Exactly(1))


def of_round(cursor: Cursor) -> bool:
    """ "rnd 12": taken, and remembered that the bases are those of an earlier round."""
    if not cursor.accept(T.ROUND):
        return False
    if cursor.at(T.NUMBER):
        cursor.worked_into = cursor.number()
    return True


def as_what(cursor: Cursor) -> None:
    """ "same st as joining", "as sl st", "as last dc", "where you joined": tells which, changes no number."""
    if cursor.accept(T.AS):
        cursor.skip(
            T.JOIN, T.STITCH, T.LAST, T.ORDINAL, T.PREVIOUS, T.CHAIN, T.TURN, T.BEGINNING, T.NOUN, T.INC, T.TOP
        )  # fmt: skip
    elif cursor.at(T.WORD) and cursor.token().text in ("where", "used"):
        cursor.place = cursor.end_of(STOPS | {T.OPEN, T.AND})
