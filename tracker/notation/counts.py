"""Numbers: how many of a stitch, how many times, and which of the numbers for several sizes."""

from __future__ import annotations

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import BASES, T
from tracker.notation.problems import Span

_BETWEEN_SIZES = (T.NUMBER, T.COMMA, T.SEMI, T.DASH, T.SLASH)


def count(cursor: Cursor) -> int | None:
    """COUNT := n [SIZES]; None if no number stands here"""
    return _something(cursor, sizes(cursor, cursor.number())) if cursor.at(T.NUMBER) else None


def length(cursor: Cursor) -> int:
    """LENGTH := n [SIZES], for a chain: brackets behind it are sizes whatever follows"""
    return _something(cursor, sizes(cursor, cursor.number(), anywhere=True))


def _something(cursor: Cursor, number: int) -> int:
    if number == 0:
        raise cursor.fail("nothing", "a count of 0 makes nothing", cursor.span(cursor.place - 1), "leave it out")
    return number


def times(cursor: Cursor) -> int:
    """n, as a number of times"""
    return not_never(cursor, cursor.number(), cursor.span(cursor.place - 1))


def times_for_size(cursor: Cursor) -> int:
    """n [SIZES], as a number of times"""
    number = sizes(cursor, cursor.number())
    return not_never(cursor, number, cursor.span(cursor.place - 1))


def not_never(cursor: Cursor, number: int, span: Span) -> int:
    """The number of times, unless it is 0."""
    if number == 0:
        raise cursor.fail("nothing", "0 times makes nothing", span, "leave it out")
    return number


def sizes(cursor: Cursor, number: int, *, anywhere: bool = False) -> int:
    """SIZES := '(' n { , n } ')'; the number for the size that is made: "5 (6, 7)"

    A bracket at the end may be the total instead, so there it is left alone unless `anywhere`.
    """
    if not cursor.at(T.OPEN):
        return number
    close = cursor.closing(cursor.place)
    inner = cursor.inside(cursor.place)
    numbers = [token.number for token in inner if token.kind is T.NUMBER]
    after = cursor.peek(close + 1 - cursor.place)
    if not numbers or any(token.kind not in _BETWEEN_SIZES for token in inner):
        return number
    if not (anywhere and len(numbers) > 1) and not _goes_on(after, len(numbers)):
        return number
    cursor.place = close + 1
    return [number, *numbers][min(cursor.context.size, len(numbers))]


def _goes_on(after: T | None, listed: int) -> bool:
    """Whether what stands behind the bracket goes on from a number; one number alone needs a base or a total
    behind it."""
    if listed > 1:
        return after not in (None, T.DOT)
    return after in BASES or after is T.EQUALS
