"""What goes into one place: "(2 dc, ch 2, 2 dc) in next ch-3 sp", "in ring work 6 sc, join"."""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.bases import Where
from tracker.notation.cursor import Cursor
from tracker.notation.heads import MAIN, stitch, together
from tracker.notation.lexicon import T
from tracker.notation.often import multiplier
from tracker.notation.phrases import begins_chain, begins_phrase, chain_phrase, stitch_phrase
from tracker.notation.places import begins_place, place
from tracker.notation.problems import Span
from tracker.notation.remarks import is_remark_bracket
from tracker.notation.rows import last_act
from tracker.notation.tree import Act, Choice, Exactly, Group, Into, Item, Made, Rest, Role, Some

MOST_MADE = 400
"""Stitches and chains that are made side by side in one place; nobody gets more than two dozen into one."""

MOST_TIMES = 100
"""Times that a group in one place is written out; more than a few are a slip of the keyboard."""

_MOST_STITCHES = 1000


def in_places(body: tuple[Item, ...], where: Where, span: Span) -> Item:
    """All of a row into one place, or into each of several; items that have places of their own go on."""
    act = as_one_place(body, where, span)
    if act is None:
        return Group(body, Rest() if isinstance(where.bases, Rest) else Exactly(1), span)
    if where.every:
        skip = Some(Act("sk", Role.SKIP, (), 1, span=span), Exactly(where.every - 1))
        return Group((Some(act), skip), where.bases, span)
    return Some(act, Exactly(1) if where.into is Into.RING or where.same else where.bases)


def further_place(cursor: Cursor) -> Where | None:
    """and PLACE, behind "in same sp": taken if it stands here"""
    start = cursor.place
    if cursor.accept(T.AND) and begins_place(cursor):
        return place(cursor)
    cursor.place = start
    return None


def as_one_place(body: tuple[Item, ...], where: Where, span: Span) -> Act | None:
    """The row as one act, if all in it is made in one place; None if it has places of its own."""
    makes = _made_together(body)
    if not makes:
        return None
    stitches = sum(made.stitches for made in makes)
    name = "in one" if len(makes) > 1 or stitches > 3 else "inc" if stitches > 1 else makes[0].kind
    takes = 0 if where.same or where.into is Into.RING else 1
    into = Into.SAME if where.same else where.into
    remark = "space" if where.same and where.into is Into.SPACE else ""
    remark = f"hook {where.from_hook}" if where.from_hook else remark
    return Act(name, Role.WORK, makes, takes, into, where.loop, span=span, remark=remark, onto=where.onto)


def _made_together(body: tuple[Item, ...]) -> tuple[Made, ...] | None:
    """What the items make side by side; None if one of them has a place of its own, or too much is made."""
    makes: list[Made] = []
    for item in body:
        made = _made_by(item)
        if made is None:
            return None
        makes.extend(made)
        if len(makes) > MOST_MADE:
            return None
    return tuple(makes)


def _made_by(item: Item) -> tuple[Made, ...] | None:
    likely = _likeliest(item)
    if likely is None:
        return ()
    if isinstance(likely, Group) and isinstance(likely.times, Exactly) and likely.times.count <= MOST_TIMES:
        nested = _made_together(likely.body)
        fits = nested and len(nested) * likely.times.count <= MOST_MADE
        return nested * likely.times.count if nested and fits else None
    if not isinstance(likely, Some) or not isinstance(likely.times, Exactly):
        return None
    act, count = likely.act, likely.times.count
    if act.role is Role.STEP or (act.name == "sl st" and act.into is Into.CHAIN):
        return ()  # a slip stitch back into a chain closes a picot
    if act.role is Role.SKIP or act.into in (Into.SPACE, Into.RING) or act.takes > 1 or count > _MOST_STITCHES:
        return None
    return tuple(each for made in act.makes for each in _so_often(made, count))


def _so_often(made: Made, count: int) -> list[Made]:
    """Stitches add up; every chain is a space of its own."""
    return [made] * count if made.is_chain else [replace(made, count=made.count * count)]


def _likeliest(item: Item) -> Item | None:
    """The item itself, or what a choice would most likely be; None if that is nothing at all."""
    if not isinstance(item, Choice):
        return item
    return item.options[0].body[0] if item.options[0].body else None


def place_first(cursor: Cursor, found: list[Item], until: int) -> bool:
    """PLACE FIRST := PLACE [,] [work] (GROUP [OFTEN] | PHRASE { , PHRASE } | together | nothing)"""
    if not (begins_place(cursor) or cursor.at(T.ORDINAL, T.LAST) or cursor.sees(T.FROM, T.ORDINAL)):
        return False
    first = cursor.place
    where = place(cursor)
    further = further_place(cursor) if where.same else None
    if where.told and cursor.at(T.COMMA) and begins_chain(cursor, 1) and cursor.peek(-1) is not T.RING:
        cursor.remarks.append(cursor.words(first))  # "working on the first 12 sts only, ch 1, turn, ..."
        return True
    cursor.skip(T.COMMA, T.COLON, T.WORK, T.THEN, T.DASH)
    if cursor.place >= until or cursor.finished:
        cursor.remarks.append(cursor.words(first))
    elif cursor.at(T.OPEN) and not is_remark_bracket(cursor):
        body = _bracket(cursor)
        found.extend(in_places(body, each, cursor.span(first)) for each in (where, further) if each is not None)
    elif where.into is Into.RING and begins_chain(cursor):
        found.append(Some(Act("ring", Role.STEP, into=Into.NOTHING, span=cursor.span(first))))
    elif begins_phrase(cursor) or cursor.at(T.CHAIN):
        all_there = cursor.tokens[first].kind is T.IN and cursor.tokens[cursor.place - 1].kind is T.WORK
        onward = where.from_hook and not all_there
        found.extend(_from_hook(cursor, where.from_hook) if onward else _row(cursor, where, first))
    elif _are_several(where) and cursor.accept(T.TOG):
        found.append(_together(where, cursor.span(first)))
    elif where.into is not Into.STITCH or where.bases != Exactly(1):
        span = cursor.span(first)
        raise cursor.fail("no-stitch", "which stitch goes there?", span, "name the stitch: sc in next st")
    return True


def _are_several(where: Where) -> bool:
    return where.every > 2 or (isinstance(where.bases, Exactly) and where.bases.count > 1)


def _together(where: Where, span: Span) -> Item:
    """ "next 2 dc together", "every 5th and 6th st together" """
    over = where.bases.count if isinstance(where.bases, Exactly) else 2
    act = together(MAIN, over).act(where.loop, span)
    if not where.every:
        return Some(act)
    plain = stitch(MAIN).act(where.loop, span)
    return Group((Some(plain, Exactly(where.every - over)), Some(act)), where.bases, span)


def _bracket(cursor: Cursor) -> tuple[Item, ...]:
    """'(' ITEMS ')' [OFTEN], written out"""
    close = cursor.closing(cursor.place)
    cursor.take()
    body = tuple(cursor.items(close))
    cursor.place = close + 1
    often = multiplier(cursor)
    if often is not None and isinstance(often.times, Exactly) and often.times.count <= MOST_TIMES:
        return body * often.times.count
    return body


def _row(cursor: Cursor, where: Where, first: int) -> list[Item]:
    """PHRASE { , PHRASE }: in a space or ring the row goes on in the same place while no other place is named"""
    row = _phrase(cursor)
    while cursor.at(T.COMMA) and where.into is not Into.STITCH and _goes_on(cursor):
        cursor.take()
        row += _phrase(cursor)
    return [in_places(tuple(row), where, cursor.span(first))]


def _phrase(cursor: Cursor) -> list[Item]:
    return chain_phrase(cursor) if begins_chain(cursor) else stitch_phrase(cursor)


def _goes_on(cursor: Cursor) -> bool:
    """Whether a phrase with no place of its own stands behind this comma: "in next sp, 3 dc, ch 2, 3 dc"."""
    start = cursor.place
    cursor.take()
    if begins_chain(cursor):
        cursor.place = start
        return True
    if not begins_phrase(cursor):
        cursor.place = start
        return False
    phrase = stitch_phrase(cursor)
    placed = any(token.kind in (T.NEXT, T.EACH, T.IN) for token in cursor.tokens[start : cursor.place])
    cursor.place = start
    act = last_act(phrase[0]) if phrase else None
    return act is not None and act.into is Into.STITCH and not placed


def _from_hook(cursor: Cursor, nth: int) -> list[Item]:
    """ "Starting in 2nd ch from hook, sc in next 6 ch": what follows begins in that chain."""
    phrase = stitch_phrase(cursor)
    first = phrase[0] if phrase else None
    if not isinstance(first, Some):
        return phrase
    hooked = replace(first.act, into=Into.CHAIN, remark=f"hook {nth}")
    if isinstance(first.times, Rest):
        return [Some(hooked), replace(first, act=replace(first.act, into=Into.CHAIN)), *phrase[1:]]
    if first.times.count == 1:
        return [replace(first, act=hooked), *phrase[1:]]
    return [Some(hooked), replace(first, times=Exactly(first.times.count - 1)), *phrase[1:]]
