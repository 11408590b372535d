"""Stitch phrases and chains in their row, with what behind them still belongs to them: a yarn, further places."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeGuard

from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    SLIP_STITCH,
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Made,
    Option,
    Role,
    Some,
    Technique,
    ToEnd,
)
from tracker.notation.glossary import BY_ID
from tracker.notation.instructions import (
    MAIN,
    is_plain_work,
    last_act,
    together,
    unmarked,
    without_leads,
)
from tracker.notation.parser import quantity as counts
from tracker.notation.parser.aside import bracket_behind, side
from tracker.notation.parser.colour import colour_behind
from tracker.notation.parser.gathering import gather_row, gather_sides
from tracker.notation.parser.join import slip_phrase
from tracker.notation.parser.place import LOOP_ALONE, begins_place, place
from tracker.notation.parser.quantity import extent
from tracker.notation.parser.remark import bracket_remark, is_remark_bracket, rest_of_clause
from tracker.notation.parser.repeat import times_behind
from tracker.notation.parser.stitch_phrase import (
    begins_phrase,
    chain_phrase,
    says_evenly,
    skip_phrase,
    stitch_phrase,
)
from tracker.notation.parser.worked_into import LOOP_AT_END, Where
from tracker.notation.token_kinds import PAUSES, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_CHAIN = PhrasePattern("[NUMBER BEGINNING]? CHAIN")
""" "ch 3, dc in each st", "beg ch-3, dc in each st" """

_SKIPS_NOTHING = PhrasePattern(".. (?= WORD) NOTHING_WORD")
""" "sc in each st, skip nothing" """

_ENDS_ROW = PhrasePattern("(PAUSES | AND | THEN)* (JOIN | TURN | STEP | $)")
""" "inc, sc 4, hdc, turn" """

_SIGNS_BEFORE_STITCH = PhrasePattern("(PAUSES | AND | THEN)* STITCH")
""" "inc, sc 4, hdc, sl st to first sc" """

_FOR_WHAT_FOLLOWS = PhrasePattern("MADE | [OPEN NUMBER WORK MARK COLON]")
""" "sc in next 2 sts, in next 3 sts dc" """

_SUMMED_UP = PhrasePattern("COLON NUMBER STITCH (STOPS | $)")
""" "sc in 2nd ch from hook and in next 29 ch: 30 sc" """

_BEFORE_A_BRACKET = PhrasePattern("COMMA OPEN")
""" "sc in next 2 sts, in next st, (2 dc, ch 1, 2 dc)" """

_DRAWS_A_LOOP = PhrasePattern("(?= WORD) DRAW (?= [SPACE RING]) LOOP_DRAWN")
""" "draw up a loop in next 2 sts, yo and through all loops on hook" """


def chain(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """[beginning] CHAIN [REMARK], which may say that it counts: "ch 3 (counts as dc)" """
    if not cursor.begins(_CHAIN):
        return False
    cursor.skip(T.BEGINNING)
    first = cursor.place
    items.extend(chain_phrase(cursor))
    _skip_what_it_says_again(cursor, items[-1:], first)
    bracket_remark(cursor, items, behind_chain=True)
    cursor.takes_remark(_PURPOSE)
    return True


def _skip_what_it_says_again(cursor: Cursor, in_letters: list[Item], first: int) -> None:
    """ "ch 3 - chain 3 stitches": in letters, and in words once more"""
    start = cursor.place
    words = cursor.take_phrase(_IN_WORDS)
    if words and words[-1].text != next(token.text for token in cursor.tokens[first:] if token.kind is T.CHAIN):
        cursor.place -= 1
        again = chain_phrase(cursor)
        if list(map(_made, again)) == list(map(_made, in_letters)):
            return
    cursor.place = start


def _made(item: Item) -> tuple[Made, ...]:
    act = last_act(item)
    return act.makes if act is not None else ()


_IN_WORDS = PhrasePattern("DASH (WORK | WITH)* (?! CHAIN .. CHAIN) CHAIN")
""" "ch 6 - begin with a chain of 6 stitches" """

_PURPOSE = PhrasePattern("((?= IN) FOR | AS | TO) (WORD+ SPACE? | BUNCH) (?= STOPS | $)")
""" "ch 14 for a hanging loop": what a chain is for"""


def skip(cursor: Cursor, items: list[Item], until: int) -> None:
    """SKIP; "sc in every st, but skip every 5th" tells of the whole round again"""
    if cursor.begins(_SKIPS_NOTHING):
        rest_of_clause(cursor, until, anything=True)
        return
    first = cursor.place
    skipped = skip_phrase(cursor)
    if items and _are_as_many(items[-1], skipped[0]):
        if cursor.take_phrase(_BEHIND_IT):
            return  # the stitch before it has that place
        skipped = _behind_long(skipped) if _is_behind_long(cursor, first) else skipped
    if items and _is_plain_round(items[-1]) and _is_first(skipped):
        items[-1:] = [*skipped, items[-1]]
        return
    items.extend(skipped)
    if len(items) > 1 and isinstance(items[-1], Group) and _is_plain_round(items[-2]):
        del items[-2]


_LISTED_BEHIND = PhrasePattern("[COLON OPEN] NUMBER STITCH [IN AROUND EVENLY]")
""" "sc evenly around: 36 sc across back, 14 sc down side": told once more, part by part"""

_BEHIND_IT = PhrasePattern("(?= BEHIND) BEHIND_WORD [MADE NOUN SAME NEXT LAST EACH NUMBER]* (?= STOPS | MARK | $)")
""" "FPdc around next st 2 rows below, sk st behind FPdc": said once more of the place that the stitch is over"""


def _is_first(skipped: list[Item]) -> bool:
    """ "ch 3, dc in each dc around, missing the first": told behind the stitches, and done before them"""
    return len(skipped) == 1 and isinstance(skipped[0], Some) and skipped[0].act.over_first


def _are_as_many(worked: Item, skipped: Item) -> bool:
    """Whether stitches are over as many places as are skipped."""
    if not isinstance(worked, Some) or not isinstance(skipped, Some):
        return False
    if not isinstance(worked.times, Exactly) or worked.act.role is not Role.WORK:
        return False
    return skipped.times == Exactly(worked.times.count * worked.act.takes)


_ROUNDS_BELOW = PhrasePattern("NUMBER ROUND PREVIOUS")


def _is_behind_long(cursor: Cursor, first: int) -> bool:
    """Whether the clause before word number `first` is of stitches that go down by several rounds: "FPdc around next
    st 2 rows below, sk next st"."""
    begins = next((i for i in range(first - 2, -1, -1) if cursor.tokens[i].kind in STOPS | {T.MARK, T.OPEN}), 0)
    return cursor.first_of(_ROUNDS_BELOW, begins, first - 1) < first - 1


def _behind_long(skipped: list[Item]) -> list[Item]:
    """A skip that is of the place behind such a stitch, most likely."""
    why = "read the skipped stitch as another than the one behind the stitch that goes into the round below"
    return [Choice(ChoiceKind.BEHIND, (Option(()), Option(tuple(skipped), why)), "behind")]


def stitches(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """(SLIP | PHRASE) [yarn] [SIDE] [REMARK] { FURTHER PLACE }"""
    if not begins_phrase(cursor):
        return False
    first = cursor.place
    told_again = first > 1 and cursor.tokens[first - 1].kind is T.WORK and cursor.tokens[first - 2].kind in PAUSES
    items.extend(slip_phrase(cursor) if begins_slip(cursor) else stitch_phrase(cursor))
    if items and cursor.begins(_LISTED_BEHIND) and says_evenly(cursor, first):
        items.pop()
    if not items:
        return True
    _tell_once(items, told_again)
    gather_sides(cursor, items, first)
    gather_row(cursor, items, first)
    _change_around(cursor, items, first)
    for begins, read in _BEHIND:
        if cursor.begins(begins):
            read(cursor, items)
    while _goes_on(cursor):
        items.append(_further_place(cursor, items[-1]))
    last = items[-1]
    if cursor.place - first == 1 and _is_bare(last) and _ends_row(cursor):
        alone = not any(last_act(item) and is_plain_work(item) for item in items[:-1])
        items[-1] = _once_or_onward(last, alone)
    return True


def _change_around(cursor: Cursor, items: list[Item], first: int) -> None:
    """ "3 sc, inc around": the row of counted stitches and the change go around together, most likely"""
    if cursor.depth or len(items) < 2:
        return
    kinds = {token.kind for token in cursor.tokens[first : cursor.place]}
    if T.AROUND not in kinds or kinds & {T.EACH, T.ALL, T.OTHER}:
        return
    lead, body = without_leads(items)
    if len(body) < 2:
        return
    last = body[-1]
    if not isinstance(last, Some) or last.times != ToEnd() or last.act.technique not in _CHANGES:
        return
    is_once = any(token.kind in (T.ORDINAL, T.LAST, T.SAME) for token in cursor.tokens[:first])  # "sc in first st"
    if is_once or not all(_is_counted(item) for item in body[:-1]):
        return
    span = cursor.span(first)
    once = replace(last, times=Exactly(1))
    around = Option((Group((*body[:-1], once), ToEnd(), span),))
    apart = Option(tuple(body), f"read '{cursor.words(first)}' as of the last change alone", rescue=True)
    items[lead:] = [Choice(ChoiceKind.GROUP, (around, apart), span)]


_CHANGES = (Technique.INCREASE, Technique.DECREASE, Technique.TOGETHER)


def _is_counted(item: Item) -> bool:
    """ "3 sc": so many plain stitches, with no place named, and no row that goes around already"""
    if isinstance(item, Choice):
        return all(len(option.body) == 1 and isinstance(option.body[0], Some) for option in item.options)
    return isinstance(item, Some) and isinstance(item.times, Exactly) and item.act.role is Role.WORK


def _tell_once(items: list[Item], told_again: bool) -> None:
    """ "sc around, working 2 sc in every 4th st": what goes into every 4th stitch tells of the whole round again.

    So does "work in sc, increasing in every 4th sc". In "2 sc in each 5th sc, 1 sc in all the others" it does so for
    the others too. "sc in each st, working 3 sc in
    each of the 4 corner sts" names the increases behind the rest.
    """
    if len(items) < 2:
        return
    before, last = items[-2:]
    if len(items) > 2 and _is_at_one_end(items[-2:]) and _is_plain_round(items[-3]):
        del items[-3]
    elif len(items) > 2 and _is_at_one_end(items[-3:-1]) and _is_plain_round(last):
        del items[-1]
    elif _is_every_nth(last) and (_is_plain_round(before) or (len(items) == 2 and _is_bare(before))):
        del items[-2]
    elif _is_every_nth(before) and _is_plain_round(last):
        del items[-1]
    elif _is_plain_round(before) and isinstance(last, Some) and last.act.is_increase and told_again:
        items[-2:] = [last, before]
    elif _is_placed_work(before) and _is_every_other(last):
        items[-1] = _all_others(last)


def _is_at_one_end(items: list[Item]) -> bool:
    """ "inc 1 st at end of row", with the plain stitches that it tells of besides"""
    one, other = items
    if not isinstance(one, Some) or not isinstance(other, Some) or one.act.span != other.act.span:
        return False
    return isinstance(one.times, ToEnd) or isinstance(other.times, ToEnd)


def _is_every_nth(item: Item) -> bool:
    return isinstance(item, Choice) and item.kind is ChoiceKind.EVERY


def _is_placed_work(item: Item) -> bool:
    return isinstance(item, Some) and item.act.role is Role.WORK and isinstance(item.times, Exactly)


def _is_every_other(item: Item) -> TypeGuard[Group]:
    """ "1 sc in every other st", read as passing over each second one"""
    if not isinstance(item, Group) or item.times != ToEnd() or len(item.body) != 2:
        return False
    passed_over = item.body[1]
    once = all(isinstance(each, Some) and each.times == Exactly(1) for each in item.body)
    return once and isinstance(passed_over, Some) and passed_over.act.role is Role.SKIP


def _all_others(skipping: Group) -> Item:
    """Behind stitches that have places of their own "every other" is most likely all the others."""
    act = last_act(skipping.body[0])
    assert act is not None
    why = "read 'every other' as every second one"
    return Choice(ChoiceKind.OTHERS, (Option((Some(act, ToEnd()),)), Option((skipping,), why, rescue=True)), act.span)


def _is_plain_round(item: Item) -> bool:
    """ "sc in each st around" """
    return isinstance(item, Some) and item.times == ToEnd() and item.act.stitches == item.act.takes == 1


def _side_behind(cursor: Cursor, items: list[Item]) -> None:
    """ "sc in next 5 ch along the other side": the side is turned before these stitches."""
    start = cursor.place
    cursor.skip(T.IN, T.AROUND)
    if not cursor.at(T.SIDE):
        cursor.place = start
        return
    last = items.pop()
    side(cursor, items, len(cursor.tokens))
    items.append(last)


_WITH_PART = PhrasePattern(
    "WITH [ORDINAL OTHER SAME NEXT ALL]* (?= WORD) PARTS+ TOG? | (?= WORD) PARTS ([PLUS AND] (?= WORD) PARTS)+"
)
""" "4 sc with the second arm", "4 sc arm + body": another part is held to the work, and both are taken together"""


def _part_behind(cursor: Cursor, _items: list[Item]) -> None:
    """A part that is joined on by the stitches before it, which go into this round as well: a remark"""
    cursor.takes_remark(_WITH_PART)


_BEHIND: tuple[tuple[PhrasePattern, Callable[[Cursor, list[Item]], object]], ...] = (
    (PhrasePattern("[WORD COLOURED] (?= STOPS | CLOSE | MARK | AROUND | TIMES | $)"), colour_behind),
    (PhrasePattern("(?<= [NUMBER TIMES CLOSE])"), times_behind),
    (PhrasePattern("[IN AROUND]* SIDE"), _side_behind),
    (_WITH_PART, _part_behind),
    (PhrasePattern("OPEN"), bracket_behind),
)
"""What may stand behind a stitch in its place, by how it begins: "6 sc br", "inc x6", "sc along other side" ..."""


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
    is_place = (
        begins_place(cursor)
        and not cursor.at(T.BEHIND, T.BETWEEN, T.LOOP)
        and not cursor.begins(LOOP_AT_END)
        and not cursor.begins(LOOP_ALONE)
    )
    if is_place:
        place(cursor)
        for_others = cursor.begins(_FOR_WHAT_FOLLOWS) and not (cursor.at(T.OPEN) and is_remark_bracket(cursor))
        for_others = for_others and not (joined and cursor.begins(_SUMMED_UP))
        is_place = not for_others and (joined or not cursor.begins(_BEFORE_A_BRACKET)) and not cursor.at(T.TOG)
    cursor.place = start
    return is_place


def _further_place(cursor: Cursor, last: Item) -> Item:
    """FURTHER PLACE := (, | and) [then] (PLACE | EXTENT)"""
    cursor.skip(T.COMMA, T.AND, T.THEN)
    start = cursor.place
    where = Where(extent(cursor) or ToEnd()) if cursor.at(T.AROUND) else place(cursor)
    act = last_act(last)
    if act is None:
        raise cursor.fail("no-stitch", "which stitch goes here?", cursor.span(start), "name the stitch first")
    act = replace(unmarked(act), span=cursor.span(start), into=where.into, takes=act.takes or 1)
    return Some(act, where.bases)


def _is_bare(last: Item) -> TypeGuard[Some]:
    """A plain stitch with no count and no place."""
    if not isinstance(last, Some):
        return False
    act = last.act
    return last.times == Exactly(1) and act.role is Role.WORK and act.name in BY_ID and not act.is_slip_stitch


def _ends_row(cursor: Cursor) -> bool:
    """Whether nothing but joining, turning and steps stands behind here."""
    if cursor.begins(_ENDS_ROW):
        return True
    ahead = cursor.length(_SIGNS_BEFORE_STITCH)
    return ahead > 0 and cursor.token(ahead - 1).value == SLIP_STITCH


def _once_or_onward(last: Some, alone: bool) -> Choice:
    """A stitch named and nothing else: one of it, or on to the end of the round."""
    going_on = replace(last, act=replace(last.act, to_the_end=True), times=ToEnd())
    once, onward = Option((last,)), Option((going_on,))
    if alone:
        return Choice(ChoiceKind.BARE, (onward, replace(once, rescue=True)))
    why = f"read the last '{last.act.name}' as going on to the end of the round"
    return Choice(ChoiceKind.BARE, (once, replace(onward, why=why, rescue=True)))


# Decreases that are spelt out: "draw up a loop in each of next 2 sts, yo and through all 3 loops on hook".

_CLOSES = ("yo", "yoh", "yrh", "yarn over", "through", "hook", "off")


def drawn_together(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """DRAWN := draw up a loop PLACE { [,] yo, through all loops on hook }"""
    first = cursor.place
    if not cursor.take_phrase(_DRAWS_A_LOOP) or not begins_place(cursor):
        cursor.place = first
        return False
    where = place(cursor)
    over = where.bases.count if isinstance(where.bases, Exactly) else 1
    closed = _takes_closing(cursor)
    if not closed and not any(map(is_plain_work, items)):
        cursor.remarks.append(cursor.words(first))  # "pull up a loop in any st, ch 1, ...": the yarn is joined there
        return True
    if not closed or over < 2:
        message = "loops are drawn up here, and it is not told how many are closed together"
        raise cursor.fail("not-understood", message, cursor.span(first), "write the decrease, for example sc2tog")
    items.append(Some(together(MAIN, over).act(cursor.loop, cursor.span(first))))
    return True


def _takes_closing(cursor: Cursor) -> bool:
    """{ [,] [and] yo, draw through all loops on hook }; whether anything of the sort stands here"""
    closed = False
    while True:
        start = cursor.place
        cursor.skip(T.COMMA, T.AND, T.THEN, T.SEMI)
        end = cursor.end_of(STOPS | {T.OPEN, T.MARK})
        if not any(token.text in _CLOSES for token in cursor.tokens[cursor.place : end]):
            cursor.place = start
            return closed
        cursor.place = end
        closed = True


# Stitches that are made together with the chain they stand on: "24 fsc", "FDC 64", "36 foundation sc".


def chainless(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """CHAINLESS := n FOUNDATION STITCH | FOUNDATION STITCH n"""
    first = cursor.place
    number = counts.count(cursor)
    named = cursor.accept(T.CHAINLESS)
    if named is None or (number is None and not cursor.at(T.NUMBER)):
        cursor.place = first
        return False
    number = counts.length(cursor) if number is None else number
    act = Instruction(named.name, Role.WORK, (Made(named.name),), 0, Into.NOTHING, span=cursor.span(first))
    items.append(Some(act, Exactly(number)))
    return True


_STITCH = PhrasePattern("NUMBER? STITCH")
""" "3 sl st, ch 3, ..." """


def begins_slip(cursor: Cursor) -> bool:
    """Whether a slip stitch phrase starts here."""
    ahead = cursor.length(_STITCH) - 1
    return ahead >= 0 and cursor.token(ahead).value == SLIP_STITCH
