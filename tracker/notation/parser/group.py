"""Groups in brackets and behind stars: "(sc, inc) x 6", "[2 dc in next st] twice", "*sc, inc; rep from * around"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Item,
    Option,
    Some,
    Timed,
    ToEnd,
)
from tracker.notation.instructions import MOST_TIMES, without_leads
from tracker.notation.parser.last_repeat import CHAIN_OR_STITCH_LEFT_OUT, cut_short, early_end
from tracker.notation.parser.one_place import as_one_place, further_place, in_places
from tracker.notation.parser.place import begins_place, place
from tracker.notation.parser.quantity import (
    SO_MANY_TIMES,
    is_factor,
    multiplier,
    not_never,
    often_in_place,
    repeated,
)
from tracker.notation.parser.remark import bracket_remark, is_letters, is_remark_bracket
from tracker.notation.parser.repeat import (
    BEFORE_REPEAT,
    PLACED,
    announces_group,
    begins_repeat,
    from_beginning,
    from_where,
    repeat,
    repeat_clause,
    repeated_in_place,
    times_alone,
)
from tracker.notation.parser.stitch_phrase import stitch_phrase
from tracker.notation.parser.worked_into import Where
from tracker.notation.token_kinds import MADE, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token


def bracket(cursor: Cursor, items: list[Item], _until: int) -> None:
    """GROUP := REMARK | '(' ITEMS ')' MULTIPLIED"""
    if is_remark_bracket(cursor):
        bracket_remark(cursor, items)
        return
    first = cursor.place
    body = _bracketed(cursor)
    end = cursor.place
    items.append(_or_in_one_stitch(cursor, _multiplied(cursor, body, first), body, first, end))
    _or_said_again(cursor, items, first)


def _or_said_again(cursor: Cursor, items: list[Item], first: int) -> None:
    """ "sc in next st, 2 sc in next st around, (1 sc, inc) around": a bracket that goes around behind what goes round
    already may say the whole round again, in short."""
    lead, before = without_leads(items[:-1])
    again = items[-1]
    if cursor.depth or not isinstance(again, Group) or again.times != ToEnd():
        return
    likeliest = (item.options[0].body[-1:] if isinstance(item, Choice) else (item,) for item in before)
    if any(isinstance(item, Timed) and item.times == ToEnd() for body in likeliest for item in body):
        span = cursor.span(first)
        why = f"read '{cursor.words(first)}' as the round said again, in short"
        options = Option(tuple(items[lead:])), Option((again,), why, rescue=True)
        items[lead:] = [Choice(ChoiceKind.GROUP, options, span)]


def _bracketed(cursor: Cursor) -> tuple[Item, ...]:
    """'(' ITEMS ')'"""
    first = cursor.place
    close = cursor.closing(first)
    with cursor.nested("brackets", open_marks=0):
        cursor.take()
        body = tuple(cursor.items(close))
    cursor.place = close + 1
    if not body:
        span = cursor.span(first)
        raise cursor.fail("nothing", "this bracket holds nothing to make", span, "fill it or leave it out")
    return body


def _multiplied(cursor: Cursor, body: tuple[Item, ...], first: int) -> Item:
    """MULTIPLIED := [twice] PLACE | [,] REPEAT | OFTEN [PLACE] | nothing"""
    start = cursor.place
    cursor.skip(T.DASH)
    placed = None if cursor.at(T.TIMES) else _in_place(cursor, body, first)
    if placed is not None:
        return placed
    group_in_place = repeated_in_place(cursor, body, first)
    cursor.take_phrase(BEFORE_REPEAT if group_in_place else _COMMA_BEFORE_REPEAT)
    if group_in_place is not None:
        body = (group_in_place,)
        if not cursor.at(T.REPEAT):
            return group_in_place
    if cursor.at(T.REPEAT) and cursor.open_marks == 0 and not announces_group(cursor) and not from_beginning(cursor):
        row: list[Item] = [Group(body, Exactly(1), cursor.span(first))]
        repeat(cursor, row, cursor.place)
        return row[0]
    often = multiplier(cursor)
    span = cursor.span(first)
    if often is None:
        cursor.place = start
        return _once_or_around(cursor, body, first, span)
    if isinstance(often.times, Exactly) and not cursor.finished and begins_place(cursor):
        return _times_in_place(cursor, body, often.times, first)
    group = Group(body, Exactly(1), span)
    cut = early_end(cursor, group, None) if cursor.begins(CHAIN_OR_STITCH_LEFT_OUT) else 0
    return cut_short(repeated(body, often, span), cut)


def _or_in_one_stitch(cursor: Cursor, item: Item, body: tuple[Item, ...], first: int, end: int) -> Item:
    """ "*sc, ch 7, sc*, rep around": stitches that a chain parts and no place is named for, from word `first` up to
    word `end`, may all stand in one place each time."""
    words = [token.kind for token in cursor.tokens[first:end]]
    span = cursor.span(first, end)
    act = as_one_place(body, Where(Exactly(1)), span) if isinstance(item, Group | Choice) else None
    stands = [not made.is_chain for made in act.makes] if act is not None else []
    parted = False in stands and stands[0] and stands[-1]
    if act is None or not parted or not PLACED.isdisjoint(words) or body[-1:] == (Some(act),):
        return item
    options = item.options if isinstance(item, Choice) else (Option((item,)),)
    groups = [group for option in options for group in option.body if isinstance(group, Group) and not group.cut]
    why = "read the group as all worked into one stitch each time"
    in_one = [
        Option((replace(group, body=(Some(act),)),), why, rescue=True) for group in groups if group.body == body
    ]
    kind = item.kind if isinstance(item, Choice) else ChoiceKind.GROUP
    return Choice(kind, (*options, *in_one), span) if in_one else item


def _in_place(cursor: Cursor, body: tuple[Item, ...], first: int) -> Item | None:
    """[twice] PLACE, behind a bracket"""
    start = cursor.place
    twice = often_in_place(cursor)
    behind = cursor.place
    cursor.skip(T.ALL, T.WORK)
    if begins_place(cursor):
        where = place(cursor)
        further = further_place(cursor) if where.same else None
        group_in_place = in_places(body * twice, where, cursor.span(first))
        if further is None:
            return group_in_place
        return Group((group_in_place, in_places(body * twice, further, cursor.span(first))), Exactly(1))
    if behind > start:
        cursor.place = start
    return None


def _times_in_place(cursor: Cursor, body: tuple[Item, ...], times: Exactly, first: int) -> Item:
    """ "(dc, ch 1) 3 times in next sp" fills one place; "(sc, inc) 6 times in next 18 sts" goes on."""
    where = place(cursor)
    span = cursor.span(first)
    if isinstance(where.bases, Exactly) and where.bases.count <= 1 and times.count <= MOST_TIMES:
        return in_places(body * times.count, where, span)
    return Group(body, times, span)


def _once_or_around(cursor: Cursor, body: tuple[Item, ...], first: int, span: Span) -> Item:
    """A bracket with nothing behind it: worked once, or around, or all of it into one stitch."""
    around = Option((Group(body, ToEnd(), span),), "read the group as repeated around", rescue=True)
    options = [Option((Group(body, Exactly(1), span),)), around]
    act = as_one_place(body, Where(Exactly(1)), cursor.span(first))
    if act is not None:
        counted = len(body) == 1 and cursor.tokens[first + 1].kind is T.NUMBER
        in_one = Option((Some(act),), "read the bracket as all worked into one stitch", rescue=not counted)
        options.insert(0 if counted else 2, in_one)
    return Choice(ChoiceKind.GROUP, tuple(options), span)


def star(cursor: Cursor, items: list[Item], until: int) -> None:
    """STAR := STARRED [PLACE] ([;] REPEAT | [;] and so on | [,] OFTEN [EARLY END] | nothing) | * n, for all before"""
    if items and cursor.open_marks == 0 and is_factor(cursor) and times_alone(cursor, items, until):
        return
    first = cursor.place
    body, early, has_second_star = _starred(cursor, until)
    if not body:
        return
    end = cursor.place
    if has_second_star and cursor.place < until and cursor.at(T.IN) and begins_place(cursor):
        body = _starred_in_place(cursor, body, first)
    group = Group(tuple(body), Exactly(1), cursor.span(first))
    group_in_place = repeated_in_place(cursor, group.body, first) if cursor.place < until else None
    if group_in_place is not None:
        group = replace(group, body=(group_in_place,))
    if cursor.place < until:
        cursor.take_phrase(_SIGN_BEFORE_REPEAT)
    goes_on = cursor.place < until
    if goes_on and begins_repeat(cursor):
        items.append(repeat_clause(cursor, group, early, besides_first=not has_second_star))
    elif goes_on and cursor.accept(T.ONGOING):
        cursor.skip(T.AROUND, T.ONGOING)
        items.append(replace(group, times=ToEnd()))
    elif group_in_place is not None:
        items.append(group_in_place)
    elif has_second_star:
        items.append(_between_stars(cursor, group, early))
    else:
        around = Option((replace(group, times=ToEnd()),), "read the part after * as repeated around", rescue=True)
        items.append(Choice(ChoiceKind.STAR, (Option(group.body), around), group.span))
    items[-1] = _or_in_one_stitch(cursor, items[-1], group.body, first, end)


def _starred_in_place(cursor: Cursor, body: list[Item], first: int) -> list[Item]:
    """PLACE, behind the second star: all of the part goes there, unless more stands between it and its repeat"""
    start = cursor.place
    placed = [in_places(tuple(body), place(cursor), cursor.span(first))]
    if not cursor.begins(_GOES_ON_TO_REPEAT):
        return placed
    cursor.place = start
    return body


def _between_stars(cursor: Cursor, group: Group, early: int | None) -> Item:
    """[,] OFTEN [EARLY END], behind the second star; without it the part goes around, or is worked once"""
    start = cursor.place
    cursor.take_phrase(_COMMA_BEFORE_TIMES)
    often = multiplier(cursor)
    in_place = cursor.at(T.IN) and begins_place(cursor)
    if often is not None and isinstance(often.times, Exactly) and not often.besides and in_place:
        return _times_in_place(cursor, group.body, often.times, start)
    if often is not None:
        from_where(cursor)
        return cut_short(repeated(group.body, often, group.span), early_end(cursor, group, early))
    cursor.place = start
    once = Option((group,), "read the part between * as worked once", rescue=True)
    return Choice(ChoiceKind.STAR, (Option((replace(group, times=ToEnd()),)), once), group.span)


def _starred(cursor: Cursor, until: int) -> tuple[list[Item], int | None, bool]:
    """STARRED := '*' ITEMS [** ITEMS] ['*']

    What the star holds, after how many of its items a double star lets the last repeat end, and whether a second
    star closes it.
    """
    cursor.take()
    if cursor.place >= until:
        return [], None, False
    early: int | None = None
    with cursor.nested("groups", open_marks=cursor.open_marks + 1):
        body = cursor.items(until, closes_star)
        while early is None and cursor.place < until and _is_early_end(cursor):
            early = len(body)
            cursor.take()
            body += cursor.items(until, closes_star)
    has_second_star = cursor.place < until and bool(cursor.accept(T.MARK))
    return body, early, has_second_star


def _is_early_end(cursor: Cursor) -> bool:
    """A double star, with "rep from *" or a further star after it, unless it tells where the part before it goes."""
    if not cursor.at(T.MARK) or len(cursor.token().text) == 1 or cursor.peek(1) is T.IN:
        return False
    return any(token.kind in (T.REPEAT, T.MARK) for token in cursor.tokens[cursor.place + 1 :])


def closes_star(cursor: Cursor) -> bool:
    """Whether a second star, or "rep from *", ends the group that a star began."""
    if cursor.at(T.MARK):
        return len(cursor.token().text) == 1 or cursor.begins(_CLOSING_STAR)
    return begins_repeat(cursor)


_CLOSING_STAR = PhrasePattern("MARK (BETWEEN_ITEMS | [NUMBER TIMES REPEAT IN] | $)")
""" "*sc, inc** 6 times", "*2 dc, ch 1** in next sp" """

_NUMBER_AND_BRACKET = PhrasePattern("NUMBER OPEN")
""" "6(2X, A)" """

_TIMES_FIRST = PhrasePattern(
    """
      NUMBER TIMES OF? ( [OPEN COLON MARK] | NUMBER STITCH | NUMBER NOUN TOG )
    | NUMBER (?= TIMES) TIMES_SIGN [STITCH INC DEC]
    | OFTEN [COLON OPEN]
    """
)
""" "6x (sc, inc)", "6 times: sc, inc", "2x 3 sc", "6x sc", "twice (sc, inc)"; but "6 times sc" counts them"""

_GOES_ON_TO_REPEAT = PhrasePattern("(?! PAUSES* [REPEAT ONGOING]) .. (?= REPEAT)")
"""What stands between the place of a part between stars and "rep from *"."""

_SIGN_BEFORE_REPEAT = PhrasePattern(
    f"PAUSES [AND AGAIN THEN]* (?= [REPEAT ONGOING] | WORK? {SO_MANY_TIMES} FROM ORDINAL? MARK)"
)
""" "*sc, inc; rep from * around" """

_COMMA_BEFORE_TIMES = PhrasePattern(f"COMMA (?= {SO_MANY_TIMES})")
""" "*sc, inc*, 6 times" """

_COMMA_BEFORE_REPEAT = PhrasePattern("COMMA (?= REPEAT)")
""" "(sc, inc), repeat 5 times" """


def begins_with_times(cursor: Cursor) -> bool:
    """Whether a number of times stands before what is worked: "6x (sc, inc)", "6(2X, A)", "2x: inc, sc" """
    if cursor.begins(_NUMBER_AND_BRACKET):
        return cursor.token(1).glued and _holds_stitches(cursor.inside(cursor.place + 1))
    return cursor.begins(_TIMES_FIRST)


def _holds_stitches(inner: list[Token]) -> bool:
    return any(token.kind in MADE for token in inner) or is_letters(inner)


def _in_one_first(choice: Choice) -> Choice:
    """ "1x 2 sc": nobody says once of two stitches side by side, so that both stand in one place"""
    likeliest, *others = choice.options
    return replace(choice, options=(*(replace(other, why="", rescue=False) for other in others), likeliest))


def times_first(cursor: Cursor, items: list[Item], until: int) -> bool:
    """TIMES FIRST := (n x | n, glued to a bracket | twice) (: ITEMS | GROUP | STARRED | PHRASE)"""
    if not begins_with_times(cursor):
        return False
    first = cursor.place
    number = cursor.number() if cursor.at(T.NUMBER) else cursor.take().number
    cursor.skip(T.TIMES, T.OF)
    not_never(cursor, number, cursor.span(first))
    body: list[Item] = []
    if cursor.accept(T.COLON):
        body = cursor.items(until)
    elif cursor.at(T.MARK):
        body, _, _ = _starred(cursor, until)
    elif not cursor.at(T.OPEN):
        body = stitch_phrase(cursor)
        if number == 1 and isinstance(body[0], Choice) and body[0].kind is ChoiceKind.COUNT:
            body = [_in_one_first(body[0]), *body[1:]]
    elif is_remark_bracket(cursor):
        bracket_remark(cursor, [])
    else:
        body = list(_bracketed(cursor))
    items.append(Group(tuple(body), Exactly(number), cursor.span(first)))
    return True
