"""What a place belongs to: "of next shell", "of rnd 5", "same st as joining"."""

from __future__ import annotations

from tracker.notation.ast import Exactly
from tracker.notation.parser.worked_into import base
from tracker.notation.token_kinds import BASES, MADE, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_OF_WHICH = PhrasePattern("OF | FROM [ROUND PREVIOUS] | IN BEGINNING OF ROUND | PREVIOUS (?= [NEXT SAME LAST] BASES)")
""" "sc in next st of previous rnd", "dc in the sc below next hdc", "dc in next st from rnd 5",
"sl st to ch at beginning of rnd" """

_WHICH_JOINED = PhrasePattern("(?= WORD) WHERE")
""" "sc in same st where you joined" """

_NAMES_WHICH = (T.JOIN, T.STITCH, T.LAST, T.ORDINAL, T.PREVIOUS, T.CHAIN, T.TURN, T.BEGINNING, T.NOUN, T.INC, T.TOP)


def of_what(cursor: Cursor) -> None:
    """ "of next shell", "of Rnd 5", "of previous round": tells which, changes no number."""
    while cursor.begins(_OF_WHICH):
        cursor.take()
        cursor.skip(T.EACH, T.NEXT, T.SAME, T.LAST, T.PREVIOUS, T.CENTRE, T.BEGINNING)
        if not of_round(cursor):
            cursor.skip(T.ORDINAL)
            cursor.accept(T.NUMBER)
            base(cursor, Exactly(1))


_WHICH_ROUND = PhrasePattern("ORDINAL ROUND (?! NUMBER) | ROUND NUMBER?")


def of_round(cursor: Cursor) -> bool:
    """ "rnd 12", "2nd rnd": taken, and remembered that the bases are those of an earlier round."""
    words = cursor.take_phrase(_WHICH_ROUND)
    numbers = (word.number for word in words if word.kind in (T.NUMBER, T.ORDINAL))
    cursor.worked_into = next(numbers, cursor.worked_into)
    return bool(words)


def as_what(cursor: Cursor) -> None:
    """ "same st as joining", "as sl st", "as last dc", "where you joined": tells which, changes no number."""
    if cursor.accept(T.AS):
        cursor.skip(*_NAMES_WHICH)
        if cursor.peek(-1) is T.CHAIN and cursor.peek(1) not in MADE:
            cursor.accept(T.NUMBER)  # "as ch-1"
        elif cursor.peek(-1) is T.ORDINAL and cursor.peek(1) in BASES and cursor.accept(T.NUMBER):
            cursor.take()  # "as first 2 sc"
    elif cursor.begins(_WHICH_JOINED):
        cursor.place = cursor.end_of(STOPS | {T.OPEN, T.AND})
