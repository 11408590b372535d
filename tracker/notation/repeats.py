"""How often a group is worked: "x 6", "6 times", "around", "rep from * 5 more times", "to last 2 sts"."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T
from tracker.notation.phrases import is_multiplication
from tracker.notation.places import rest, sizes
from tracker.notation.problems import Span
from tracker.notation.tree import Choice, Exactly, Group, Item, Option, Rest, Times


@dataclass(frozen=True, slots=True)
class Often:
    """A written multiplier. `besides` says "n more times": the group as written comes on top of it."""

    times: Times
    besides: bool = False


_STOPS = (T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE, T.COLON)


def multiplier(cursor: Cursor) -> Often | None:
    """TIMES := x n | n x | n times | n more times | twice | [all] around | to last n sts; None if none stands here."""
    start = cursor.place
    if (
        cursor.at(T.TIMES, T.MARK)
        and cursor.peek(1) is T.NUMBER
        and (cursor.at(T.TIMES) or is_multiplication(cursor))
    ):
        cursor.take()
        found = Often(Exactly(_positive(cursor)))
        cursor.skip(T.TIMES)
        return _with_more(cursor, found)
    if cursor.at(T.OFTEN):
        return _with_more(cursor, Often(Exactly(cursor.take().number)))
    if cursor.at(T.NUMBER):
        number = _positive(cursor)
        more = bool(cursor.accept(T.MORE))
        if cursor.accept(T.TIMES):
            more = bool(cursor.accept(T.MORE)) or more
            cursor.skip(T.TOTAL)
            return Often(Exactly(number), more)
        if not more and (cursor.finished or cursor.at(*_STOPS)) and cursor.peek(-2) is T.CLOSE:
            return Often(Exactly(number))
        cursor.place = start
        return None
    if cursor.at(T.EACH) and cursor.peek(1) is T.AROUND:
        cursor.take()
    if cursor.at(T.EVENLY):
        cursor.take()
    far = rest(cursor)
    return Often(far) if far is not None else None


def _with_more(cursor: Cursor, often: Often) -> Often:
    if cursor.accept(T.MORE):
        cursor.skip(T.TIMES)
        return Often(often.times, True)
    cursor.skip(T.TOTAL, T.AROUND)
    return often


def _positive(cursor: Cursor) -> int:
    number = sizes(cursor, cursor.number())
    if number == 0:
        raise cursor.fail("nothing", "0 times makes nothing", cursor.span(cursor.place - 1), "leave it out")
    return number


def repeated(body: tuple[Item, ...], often: Often, span: Span, written: str, *, prefer_besides: bool = False) -> Item:
    """The group `often` over. `written` is "times" when the words leave open whether the first one is included."""
    if isinstance(often.times, Rest):
        return Group(body, often.times, span)
    count = often.times.count
    if often.besides:
        return Group(body, Exactly(count + 1), span)
    in_all = Group(body, Exactly(count), span)
    if written != "open":
        return in_all
    besides = Group(body, Exactly(count + 1), span)
    all_why = f"read the repeat as {count} times in all, because that uses the stitches that are there"
    more_why = (
        f"read the repeat as {count} more times, {count + 1} in all, because that uses the stitches that are there"
    )
    options = (Option((in_all,), all_why), Option((besides,), more_why))
    return Choice(f"repeat {span}", options[::-1] if prefer_besides else options)
