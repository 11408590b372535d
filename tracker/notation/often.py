"""How often something is worked: "x 6", "6 times", "twice", "5 more times", "around", "to last 2 sts"."""

from __future__ import annotations

from tracker.notation import counts
from tracker.notation.cursor import Cursor
from tracker.notation.extents import extent
from tracker.notation.lexicon import ENDS, T
from tracker.notation.problems import Span
from tracker.notation.tree import Choice, Exactly, Group, Item, Option, Rest, Times
from tracker.notation.values import dataclass

_BEHIND_A_FACTOR = (ENDS - {T.NEWLINE}) | {T.OPEN, T.EQUALS, T.JOIN}


@dataclass(frozen=True, slots=True)
class Often:
    """A written multiplier. `besides` says "n more times": the group as written comes on top of it."""

    times: Times
    besides: bool = False


def how_many_times(cursor: Cursor) -> int:
    """TIMES := FACTOR | n x | n times | twice; 1 if nothing of the sort stands here"""
    if cursor.at(T.OFTEN) and cursor.peek(1) is not T.MORE:
        return cursor.take().number
    if cursor.sees(T.NUMBER, T.TIMES) and cursor.peek(2) is not T.MORE:
        number = counts.times(cursor)
        cursor.take()
        return number
    if is_factor(cursor):
        cursor.take()
        return counts.times(cursor)
    return 1


def often_in_place(cursor: Cursor) -> int:
    """twice, before a place, as in "sc twice in next st": so many in the one place; 1 if nothing of the sort"""
    if cursor.at(T.OFTEN) and cursor.peek(1) in (T.IN, T.NEXT, T.SAME):
        return cursor.take().number
    return 1


def is_factor(cursor: Cursor) -> bool:
    """FACTOR := x n | * n; a star is a sign of multiplication if there is nothing to be made behind the number"""
    if cursor.sees(T.TIMES, T.NUMBER):
        return True
    if not cursor.sees(T.MARK, T.NUMBER) or cursor.token().text != "*":
        return False
    after = cursor.peek(2)
    return after in _BEHIND_A_FACTOR or (after is T.TIMES and cursor.open_marks == 0)


def multiplier(cursor: Cursor) -> Often | None:
    """OFTEN := FACTOR [times] [more] | twice [more] | n [more] times [more] | n | [evenly] EXTENT

    None if none stands here; a number alone is one only behind a bracket.
    """
    if is_factor(cursor):
        cursor.take()
        number = counts.times_for_size(cursor)
        cursor.skip(T.TIMES)
        return _with_more(cursor, number)
    if cursor.at(T.OFTEN):
        return _with_more(cursor, cursor.take().number)
    if cursor.at(T.NUMBER):
        return _counted(cursor)
    cursor.accept(T.EVENLY)
    far = extent(cursor)
    return Often(far) if far is not None else None


def _with_more(cursor: Cursor, number: int) -> Often:
    if cursor.accept(T.MORE):
        cursor.skip(T.TIMES)
        return Often(Exactly(number), besides=True)
    cursor.skip(T.TOTAL, T.AROUND)
    return Often(Exactly(number))


def _counted(cursor: Cursor) -> Often | None:
    """n [more] times [more] [in all], or n alone behind a bracket"""
    start = cursor.place
    number = counts.times_for_size(cursor)
    more = bool(cursor.accept(T.MORE))
    if cursor.accept(T.TIMES):
        more = bool(cursor.accept(T.MORE)) or more
        cursor.skip(T.TOTAL)
        return Often(Exactly(number), more)
    if not more and (cursor.at(T.COLON) or cursor.peek() in ENDS) and cursor.peek(-2) is T.CLOSE:
        return Often(Exactly(number))
    cursor.place = start
    return None


def how_often_repeated(cursor: Cursor) -> Often:
    """'(' n times ')' | [around] OFTEN | n [more] | and so on | nothing, which is all around; behind "repeat" """
    bracketed = cursor.sees(T.OPEN, T.NUMBER) and cursor.peek(2) in (T.TIMES, T.MORE)
    close = cursor.closing(cursor.place) if bracketed else 0
    if bracketed:
        cursor.take()
    cursor.skip(T.ALL, T.FROM)
    around = cursor.at(T.AROUND) and cursor.peek(1) in (T.NUMBER, T.OFTEN)
    if around:
        cursor.take()
    found = multiplier(cursor)
    if found is None and cursor.at(T.NUMBER) and not around:
        found = Often(Exactly(cursor.number()), besides=bool(cursor.accept(T.MORE)))
    if bracketed:
        cursor.place = close + 1
    cursor.skip(T.AROUND, T.TOTAL, T.ONGOING, T.EVENLY)
    return found or Often(Rest())


def repeated(body: tuple[Item, ...], often: Often, span: Span) -> Item:
    """The items in a group `often` over."""
    if isinstance(often.times, Rest):
        return Group(body, often.times, span)
    return Group(body, Exactly(often.times.count + often.besides), span)


def repeated_again(body: tuple[Item, ...], often: Often, span: Span, *, besides_first: bool) -> Item:
    """The items `often` over where the words leave open whether they were worked once already ("rep 5 times").

    `besides_first`: that is the likelier reading.
    """
    if isinstance(often.times, Rest) or often.besides:
        return repeated(body, often, span)
    count = often.times.count
    all_why = f"read the repeat as {count} times in all, because that uses the stitches that are there"
    more_why = (
        f"read the repeat as {count} more times, {count + 1} in all, because that uses the stitches that are there"
    )
    in_all = Option((repeated(body, often, span),), all_why)
    besides = Option((repeated(body, Often(often.times, besides=True), span),), more_why)
    return Choice(f"repeat {span}", (besides, in_all) if besides_first else (in_all, besides))
