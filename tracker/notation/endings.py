"""What the end of a row says of all that stands before it: "and so on around", "x 6", "ending with 2 sc"."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.cursor import Cursor
from tracker.notation.heads import MAIN, stitch
from tracker.notation.lexicon import BETWEEN_ITEMS, PAUSES, T
from tracker.notation.often import multiplier, repeated
from tracker.notation.rows import is_plain_work, without_leads
from tracker.notation.tree import Choice, Exactly, Group, Item, Option, Rest, Role, Some

_WHOLE_LINE = "read the number of times as for the whole line"


def ending(cursor: Cursor, found: list[Item], until: int) -> None:
    """ENDING := ending with ITEMS: tells how the last repeat ends, or adds what it says"""
    first = cursor.place
    cursor.take()
    cursor.skip(T.WITH, T.IN, T.LAST, T.REPEAT, T.BEGINNING)
    said = tuple(cursor.items(until))
    end = len(said)
    while end and _is_closing(said[end - 1]):
        end -= 1
    if said[:end]:
        added = Option(said[:end], "read the ending as coming after the last repeat")
        found.append(Choice(f"ending {first}", (Option(()), added)))
    found.extend(said[end:])


def _is_closing(item: Item) -> bool:
    return isinstance(item, Some) and (item.act.role is Role.STEP or item.act.name == "sl st")


def times_alone(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """OFTEN on its own behind items with no bracket: for the last one, or for all of them"""
    lead, body = without_leads(found)
    start = cursor.place
    often = multiplier(cursor) if body else None
    if often is None:
        cursor.place = start
        return False
    span = cursor.span(start)
    everything = repeated(tuple(body), often, span)
    if len(body) == 1 or isinstance(often.times, Rest):
        found[lead:] = [everything]
        return True
    cursor.repeat_all()
    one = Option((*body[:-1], repeated((body[-1],), often, span)))
    whole = Option((everything,), _WHOLE_LINE)
    apart = cursor.tokens[start - 1].kind in PAUSES
    options = (whole, replace(one, rescue=True)) if apart else (one, replace(whole, rescue=True))
    found[lead:] = [Choice(f"times {span}", options)]
    return True


def times_behind(cursor: Cursor, found: list[Item]) -> None:
    """ "4 sc - inc x6" with no bracket: six increases, or the whole line six times."""
    number = _factor_taken(cursor)
    body = [item for item in found if is_plain_work(item)]
    last = found[-1]
    if number is None or len(body) < 2 or cursor.depth or _times_chosen(found):
        return
    if not all(is_plain_work(item) for item in found[-len(body) :]):
        return  # a colour, a skip or a chain parts the line, and the number belongs to what stands behind that
    if not isinstance(last, Some) or not isinstance(last.times, Exactly):
        return
    span = last.act.span
    single = replace(last, times=Exactly(last.times.count // number or 1))
    whole = Option((Group((*body[:-1], single), Exactly(number), span),), _WHOLE_LINE, rescue=True)
    found[len(found) - len(body) :] = [Choice(f"times {span}", (Option(tuple(body)), whole))]


def _times_chosen(found: list[Item]) -> bool:
    """Whether a number of times before this one can be read in two ways; no two in a line can."""
    return any(isinstance(item, Choice) and item.key.startswith("times") for item in found)


def _factor_taken(cursor: Cursor) -> int | None:
    """n of the "x n" or "n x" that was just read; None if none was."""
    if cursor.peek(-1) is T.TIMES and cursor.peek(-2) is T.NUMBER:
        return cursor.token(-2).number
    if cursor.peek(-1) is T.NUMBER and cursor.peek(-2) is T.TIMES:
        return cursor.token(-1).number
    return None


def ongoing(cursor: Cursor, found: list[Item], _until: int) -> None:
    """ONGOING := and so on [around]: the unit written so far goes round"""
    cursor.take()
    cursor.skip(T.ONGOING, T.REPEAT)
    cursor.skip(T.AROUND, T.FILLER)
    lead, body = without_leads(found)
    ends = cursor.finished or cursor.at(T.CLOSE, T.MARK) or cursor.peek() in BETWEEN_ITEMS
    if not body or not ends:
        return
    last = body[-1]
    if isinstance(last, Group) and isinstance(last.times, Rest):
        return
    found[lead:] = [Group(tuple(_unit(body)), Rest())]


def _unit(body: list[Item]) -> list[Item]:
    """The shortest part that, written again and again, gives the whole."""
    bare = [_without_spans(item) for item in body]
    for length in range(1, len(body) // 2 + 1):
        if len(body) % length == 0 and bare == bare[:length] * (len(body) // length):
            return body[:length]
    return body


def _without_spans(item: Item) -> object:
    """What an item says, whatever words it was read from."""
    if isinstance(item, Some):
        return (item.act.name, item.act.makes, item.act.takes, item.times)
    if isinstance(item, Choice):
        return tuple(_without_spans(inner) for inner in item.options[0].body)
    if isinstance(item, Group):
        return (tuple(_without_spans(inner) for inner in item.body), item.times)
    return item


def even(cursor: Cursor, found: list[Item], _until: int) -> None:
    """EVEN := work even [around]: one stitch in each, if no stitches are named before it"""
    first = cursor.place
    cursor.take()
    cursor.skip(T.AROUND)
    if not any(is_plain_work(item) for item in found):
        act = stitch(MAIN).act(cursor.loop, cursor.span(first))
        found.append(Some(act, Rest()))
