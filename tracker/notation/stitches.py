"""Stitch phrases and chains in their row, with what behind them still belongs to them: a yarn, further places."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeGuard

from tracker.notation.asides import side
from tracker.notation.bases import Where
from tracker.notation.colours import colour_behind
from tracker.notation.cursor import Cursor
from tracker.notation.endings import times_behind
from tracker.notation.extents import extent
from tracker.notation.glossary import BY_ID
from tracker.notation.lexicon import MADE, PAUSES, T
from tracker.notation.phrases import begins_chain, begins_phrase, chain_phrase, skip_phrase, stitch_phrase
from tracker.notation.places import begins_place, place
from tracker.notation.remarks import bracket_remark, rest_of_clause
from tracker.notation.rows import is_plain_work, last_act
from tracker.notation.slips import begins_slip, slip_phrase
from tracker.notation.tree import Choice, Exactly, Group, Item, Option, Rest, Role, Some


def chain(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """[beginning] CHAIN [REMARK], which may say that it counts: "ch 3 (counts as dc)" """
    if not begins_chain(cursor) and not cursor.sees(T.BEGINNING, T.CHAIN):
        return False
    cursor.skip(T.BEGINNING)
    found.extend(chain_phrase(cursor))
    bracket_remark(cursor, found, behind_chain=True)
    return True


def skip(cursor: Cursor, found: list[Item], until: int) -> None:
    """SKIP; "sc in every st, but skip every 5th" tells of the whole round again"""
    if cursor.peek(1) is T.WORD and cursor.token(1).text in ("nothing", "none"):
        rest_of_clause(cursor, until, anything=True)
        return
    found.extend(skip_phrase(cursor))
    if len(found) > 1 and isinstance(found[-1], Group) and _is_plain_round(found[-2]):
        del found[-2]


def stitches(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """(SLIP | PHRASE) [yarn] [SIDE] [REMARK] { FURTHER PLACE }"""
    if not begins_phrase(cursor):
        return False
    first = cursor.place
    told_again = first > 1 and cursor.tokens[first - 1].kind is T.WORK and cursor.tokens[first - 2].kind in PAUSES
    found.extend(slip_phrase(cursor) if begins_slip(cursor) else stitch_phrase(cursor))
    if not found:
        return True
    _tell_once(found, told_again)
    colour_behind(cursor, found)
    times_behind(cursor, found)
    _side_behind(cursor, found)
    bracket_remark(cursor, found)
    while _goes_on(cursor):
        found.append(_further_place(cursor, found[-1]))
    last = found[-1]
    if cursor.place - first == 1 and isinstance(last, Some) and _is_bare(last) and _ends_row(cursor):
        alone = not any(last_act(item) and is_plain_work(item) for item in found[:-1])
        found[-1] = _once_or_onward(last, alone)
    return True


def _tell_once(found: list[Item], told_again: bool) -> None:
    """ "sc around, working 2 sc in every 4th st": what goes into every 4th stitch tells of the whole round again.

    In "2 sc in each 5th sc, 1 sc in all the others" it does so for the others too. "sc in each st, working 3 sc in
    each of the 4 corner sts" names the increases behind the rest.
    """
    if len(found) < 2:
        return
    before, last = found[-2:]
    if _is_every_nth(last) and _is_plain_round(before):
        del found[-2]
    elif _is_every_nth(before) and _is_plain_round(last):
        del found[-1]
    elif _is_plain_round(before) and isinstance(last, Some) and last.act.is_increase and told_again:
        found[-2:] = [last, before]
    elif _is_placed_work(before) and _is_every_other(last):
        found[-1] = _all_others(last)


def _is_every_nth(item: Item) -> bool:
    return isinstance(item, Choice) and item.key.startswith("every")


def _is_placed_work(item: Item) -> bool:
    return isinstance(item, Some) and item.act.role is Role.WORK and isinstance(item.times, Exactly)


def _is_every_other(item: Item) -> TypeGuard[Group]:
    """ "1 sc in every other st", read as passing over each second one"""
    if not isinstance(item, Group) or item.times != Rest() or len(item.body) != 2:
        return False
    passed_over = item.body[1]
    once = all(isinstance(each, Some) and each.times == Exactly(1) for each in item.body)
    return once and isinstance(passed_over, Some) and passed_over.act.role is Role.SKIP


def _all_others(skipping: Group) -> Item:
    """Behind stitches that have places of their own "every other" is most likely all the others."""
    act = last_act(skipping.body[0])
    assert act is not None
    why = "read 'every other' as every second one"
    return Choice(f"others {act.span}", (Option((Some(act, Rest()),)), Option((skipping,), why, rescue=True)))


def _is_plain_round(item: Item) -> bool:
    """ "sc in each st around" """
    return isinstance(item, Some) and item.times == Rest() and item.act.stitches == item.act.takes == 1


def _side_behind(cursor: Cursor, found: list[Item]) -> None:
    """ "sc in next 5 ch along the other side": the side is turned before these stitches."""
    start = cursor.place
    cursor.skip(T.IN, T.AROUND)
    if not cursor.at(T.SIDE):
        cursor.place = start
        return
    last = found.pop()
    side(cursor, found, len(cursor.tokens))
    found.append(last)


def _goes_on(cursor: Cursor) -> bool:
    """Whether a further place for the same stitch stands here: "sc in 2nd ch from hook and in each ch across"."""
    start = cursor.place
    comma = bool(cursor.accept(T.COMMA))
    joined = bool(cursor.accept(T.AND))
    if not comma and not joined:
        return False
    cursor.skip(T.THEN)
    if not comma and cursor.at(T.AROUND):
        cursor.place = start
        return True
    is_place = begins_place(cursor) and not cursor.at(T.BEHIND, T.BETWEEN, T.LOOP)
    if is_place:
        place(cursor)
        is_place = not _place_is_for_what_follows(cursor, comma_only=not joined)
    cursor.place = start
    return is_place


def _place_is_for_what_follows(cursor: Cursor, *, comma_only: bool) -> bool:
    """ "sc, in next st 2 dc": the place stands before the stitches that go there."""
    follows = cursor.peek()
    if follows in MADE or follows in (T.OPEN, T.NUMBER, T.WORK, T.MARK, T.COLON):
        return True
    return comma_only and cursor.sees(T.COMMA, T.OPEN)


def _further_place(cursor: Cursor, last: Item) -> Item:
    """FURTHER PLACE := (, | and) [then] (PLACE | EXTENT)"""
    cursor.skip(T.COMMA, T.AND, T.THEN)
    start = cursor.place
    where = Where(extent(cursor) or Rest()) if cursor.at(T.AROUND) else place(cursor)
    act = last_act(last)
    if act is None:
        raise cursor.fail("no-stitch", "which stitch goes here?", cursor.span(start), "name the stitch first")
    act = replace(act, span=cursor.span(start), remark="", into=where.into, takes=act.takes or 1)
    return Some(act, where.bases)


def _is_bare(last: Some) -> bool:
    """A plain stitch with no count and no place."""
    act = last.act
    return last.times == Exactly(1) and act.role is Role.WORK and act.name in BY_ID and act.name != "sl st"


def _ends_row(cursor: Cursor) -> bool:
    """Whether nothing but joining, turning and steps stands behind here."""
    ahead = 0
    while cursor.peek(ahead) in PAUSES or cursor.peek(ahead) in (T.AND, T.THEN):
        ahead += 1
    kind = cursor.peek(ahead)
    return kind in (None, T.JOIN, T.TURN, T.STEP) or (kind is T.STITCH and cursor.token(ahead).value == "sl st")


def _once_or_onward(last: Some, alone: bool) -> Choice:
    """A stitch named and nothing else: one of it, or on to the end of the round."""
    going_on = replace(last, act=replace(last.act, remark="onward"), times=Rest())
    once, onward = Option((last,)), Option((going_on,))
    if alone:
        return Choice("bare", (onward, replace(once, rescue=True)))
    why = f"read the last '{last.act.name}' as going on to the end of the round"
    return Choice("bare", (once, replace(onward, why=why, rescue=True)))
