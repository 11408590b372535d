"""Rounds named again: "Rep Rnds 5-6 three more times", "as Rnd 8", "repeat last row"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T

_LONGEST_RANGE = 1000
"""Rounds in a range; beyond that the second number is taken for a round on its own."""


@dataclass(frozen=True, slots=True)
class Reference:
    """ "Rep Rnds 5-6": rounds named again. `last` n is "the last n rounds"; `times` as often as that."""

    numbers: tuple[int, ...] = ()
    last: int = 0
    times: int = 1


def reference(cursor: Cursor) -> Reference | None:
    """REFERENCE := (rep | as | like) (LAST ROUNDS | ROUNDS) [TIMES], alone in its round; None for any other line"""
    cursor.skip(T.COMMA, T.COLON, T.DASH, T.DOT, T.OPEN)
    if not cursor.at(T.REPEAT, T.AS, T.WORK):
        return None
    cursor.skip(T.WORK)
    cursor.skip(T.REPEAT, T.AS, T.FROM, T.ALL)
    named = _last_rounds(cursor) or _rounds(cursor)
    if named is None:
        return None
    named = _with_times(cursor, named)
    instructs = any(token.kind in (T.STITCH, T.INC, T.DEC, T.BUNCH) for token in cursor.tokens[cursor.place :])
    return None if instructs else named


def _last_rounds(cursor: Cursor) -> Reference | None:
    """LAST ROUNDS := last [n] rnds | same rnd | previous rnd"""
    if not cursor.at(T.LAST, T.PREVIOUS) and not cursor.sees(T.SAME, T.ROUND):
        return None
    names_round = cursor.take().kind is T.PREVIOUS
    last = cursor.number() if cursor.sees(T.NUMBER, T.ROUND) else 1
    return Reference(last=last) if cursor.accept(T.ROUND) or names_round else None


def _rounds(cursor: Cursor) -> Reference | None:
    """ROUNDS := rnds n { (- | to | and | ,) n }"""
    if not cursor.at(T.ROUND):
        return None
    numbers: list[int] = []
    joiner: T | None = None
    while cursor.at(T.ROUND, T.NUMBER, T.ORDINAL, T.DASH, T.TO, T.AND, T.COMMA, T.PLUS):
        if cursor.at(T.NUMBER) and cursor.peek(1) in (T.TIMES, T.MORE) and cursor.peek(2) is not T.NUMBER:
            break
        token = cursor.take()
        if token.kind in (T.NUMBER, T.ORDINAL):
            first = numbers[-1] + 1 if numbers and joiner in (T.DASH, T.TO) else token.number
            in_range = first <= token.number < first + _LONGEST_RANGE
            numbers.extend(range(first, token.number + 1) if in_range else [token.number])
        joiner = token.kind
    return Reference(tuple(numbers)) if numbers else None


def _with_times(cursor: Cursor, named: Reference) -> Reference:
    """TIMES := x n | n [more] times | twice; "more" or not, the rounds stand there already"""
    cursor.skip(T.CLOSE, T.COMMA)
    if cursor.at(T.OFTEN):
        return replace(named, times=cursor.take().number)
    if cursor.sees(T.TIMES, T.NUMBER):
        cursor.take()
        return replace(named, times=cursor.number())
    if cursor.at(T.NUMBER) and cursor.peek(1) in (T.TIMES, T.MORE):
        return replace(named, times=cursor.number())
    return named
