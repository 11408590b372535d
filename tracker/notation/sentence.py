"""A round's instructions as a row of items: phrases, groups, repeats, colours, steps and remarks.

This is the recursive part of the grammar; each function's docstring is its line of it.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.notation.asides import (
    aside,
    bracket_remark,
    colour_of,
    is_remark_bracket,
    join,
    remark,
    sentence_end,
)
from tracker.notation.cursor import MAX_NESTING, Cursor
from tracker.notation.glossary import BY_ID
from tracker.notation.lexicon import T
from tracker.notation.phrases import begins_phrase, chain_phrase, skip_phrase, stitch_phrase
from tracker.notation.places import Where, begins_place, place, rest, round_reference
from tracker.notation.problems import Span
from tracker.notation.repeats import Often, multiplier, repeated
from tracker.notation.scanner import Token
from tracker.notation.slips import begins_slip, slip_phrase
from tracker.notation.tree import (
    Act,
    Choice,
    Colour,
    Exactly,
    Group,
    Into,
    Item,
    Loop,
    Made,
    Option,
    Rest,
    Role,
    Some,
)

_BETWEEN_ITEMS = (
    T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.DASH, T.PLUS, T.AND, T.THEN, T.SLASH, T.COLON, T.OTHER_SIGN, T.AGAIN,
    T.FILLER, T.EQUALS,
)  # fmt: skip


def items(cursor: Cursor, until: int, star: bool = False) -> list[Item]:
    """ITEMS := { ITEM [separator] } up to word number `until`, or to the sign or words that close a star"""
    found: list[Item] = []
    while True:
        cursor.skip(*_BETWEEN_ITEMS)
        if cursor.place >= until or cursor.finished:
            return found
        if star and _closes_star(cursor):
            return found
        before = cursor.place
        item(cursor, found, until)
        if cursor.place == before:
            raise cursor.fail(
                "not-understood",
                f"'{cursor.token().text}' makes no sense here",
                help="expected a stitch, a group or a repeat",
            )


def _closes_star(cursor: Cursor) -> bool:
    """A second star, or "rep from *", ends the group that a star began."""
    if cursor.at(T.MARK):
        return len(cursor.token().text) == 1 or cursor.peek(1) in (
            None,
            *_BETWEEN_ITEMS,
            T.NUMBER,
            T.TIMES,
            T.REPEAT,
        )
    return cursor.at(T.REPEAT) and not _repeat_of_new_group(cursor)


def _repeat_of_new_group(cursor: Cursor) -> bool:
    """ "Repeat (sc, inc) 6 times" announces a group; "rep (5 times)" and "rep ( ) 5 times" look back."""
    ahead = 2 if cursor.peek(1) in (T.FROM, T.WORK, T.COLON) else 1
    if cursor.peek(ahead) is T.OPEN:
        close = cursor.closing(cursor.place + ahead)
        return any(t.kind in _MADE for t in cursor.tokens[cursor.place + ahead : close])
    if cursor.peek(ahead) is T.MARK and ahead == 1 and cursor.open_marks == 0:
        counts = cursor.peek(2) is T.NUMBER and cursor.peek(3) in (T.TIMES, T.MORE)
        return cursor.peek(2) in (*_MADE, T.NUMBER) and not counts
    return False


_MADE = (T.STITCH, T.INC, T.DEC, T.BUNCH, T.CHAIN, T.POSTED, T.SKIP)


def item(cursor: Cursor, found: list[Item], until: int) -> None:
    """ITEM := phrase | skip | chain | group | star | repeat | prefix times | place first | colour | step | remark"""
    if cursor.at(T.OPEN):
        found.extend(bracket(cursor, found))
    elif cursor.at(T.MARK):
        found.extend(_star(cursor, until))
    elif cursor.at(T.REPEAT):
        _repeat(cursor, found)
    elif _prefix_times(cursor):
        found.extend(_times_first(cursor, until))
    elif cursor.at(T.CHAIN) or cursor.sees(T.NUMBER, T.CHAIN) or cursor.sees(T.BEGINNING, T.CHAIN):
        cursor.skip(T.BEGINNING)
        _chain(cursor, found)
    elif begins_phrase(cursor):
        _phrase(cursor, found)
    elif cursor.at(T.SKIP):
        found.extend(skip_phrase(cursor))
    elif cursor.at(T.LOOP):
        _loop_in_force(cursor)
    elif _loop_first(cursor) or _behind(cursor):
        pass
    elif cursor.at(T.JOIN):
        found.extend(join(cursor))
    elif colour_of(cursor, found):
        pass
    elif cursor.at(T.NOT) and cursor.peek(1) is not T.COUNTS:
        cursor.take()
        sentence_end(cursor, until, anything=True)
    elif cursor.at(T.WITH) and cursor.peek(1) is T.NUMBER:
        cursor.take()
    elif cursor.sees(T.IN, T.SIDE) or cursor.sees(T.AROUND, T.SIDE):
        cursor.take()
        aside(cursor, found, until)
    elif cursor.at(T.RING):
        found.append(_step(cursor, "ring"))
        cursor.skip(T.WITH, T.OF, T.WORK)
    elif cursor.at(T.TURN):
        found.append(_step(cursor, "turn"))
    elif cursor.at(T.STEP):
        found.append(_step(cursor, cursor.token().text))
        sentence_end(cursor, until)
    elif cursor.at(T.END):
        _ending(cursor, found, until)
    elif cursor.at(T.ONGOING):
        _ongoing(cursor, found)
    elif cursor.at(T.EVEN):
        _even(cursor, found)
    elif cursor.at(T.WORK):
        cursor.take()
    elif cursor.at(T.SAME, T.ALL) and aside(cursor, found, until):
        pass
    elif begins_place(cursor) or cursor.at(T.ORDINAL, T.LAST) or cursor.sees(T.FROM, T.ORDINAL):
        _place_first(cursor, found, until)
    elif _multiplies_line(cursor, found) or aside(cursor, found, until):
        pass
    else:
        remark(cursor, until)


def _step(cursor: Cursor, name: str) -> Item:
    first = cursor.place
    cursor.take()
    return Some(Act(name, Role.STEP, into=Into.NOTHING, span=cursor.span(first)))


def _phrase(cursor: Cursor, found: list[Item]) -> None:
    """PHRASE, and further places for the same stitch: "sc in 2nd ch from hook and in each ch across"."""
    first = cursor.place
    found.extend(slip_phrase(cursor) if begins_slip(cursor) else stitch_phrase(cursor))
    if not found:
        return
    _colour_behind(cursor, found)
    _times_behind(cursor, found)
    _side_behind(cursor, found)
    bracket_remark(cursor, found)
    while _same_stitch_goes_on(cursor):
        cursor.skip(T.COMMA, T.AND, T.THEN)
        start = cursor.place
        act = _last_act(found[-1])
        where = Where(rest(cursor) or Rest()) if cursor.at(T.AROUND) else place(cursor)
        if act is None:
            raise cursor.fail("no-stitch", "which stitch goes here?", cursor.span(start), "name the stitch first")
        plain = replace(act, span=cursor.span(start), remark="", into=where.into)
        if where.into is not Into.SAME and act.takes == 0:
            plain = replace(plain, takes=1)
        found.append(Some(plain, where.bases))
    if not _ends_sequence(cursor) or not isinstance(found[-1], Some):
        return
    last = found[-1]
    bare = cursor.place - first == 1 and last.times == Exactly(1) and last.act.role is Role.WORK
    if bare and last.act.name in BY_ID and last.act.name != "sl st":
        found[-1] = _bare(last, alone=not any(_last_act(i) and not _is_opening(i) for i in found[:-1]))


def _colour_behind(cursor: Cursor, found: list[Item]) -> None:
    """ "6 sc br, 12 sc cr": a short word behind a stitch is its yarn."""
    ends = cursor.peek(1) in (None, T.COMMA, T.SEMI, T.DOT, T.CLOSE, T.NEWLINE)
    if (
        cursor.at(T.WORD)
        and not cursor.token().glued
        and ends
        and len(cursor.token().text) <= 2
        and cursor.token().text not in "vaw"
    ):
        start = cursor.place
        found.insert(len(found) - 1, Colour(cursor.take().text, cursor.span(start)))


def _side_behind(cursor: Cursor, found: list[Item]) -> None:
    """ "sc in next 5 ch along the other side": the side is turned before these stitches."""
    start = cursor.place
    cursor.skip(T.IN, T.AROUND)
    if not cursor.at(T.SIDE):
        cursor.place = start
        return
    last = found.pop()
    aside(cursor, found, len(cursor.tokens))
    found.append(last)


def _times_behind(cursor: Cursor, found: list[Item]) -> None:
    """ "4 sc - inc x6" with no bracket: six increases, or the whole line six times."""
    last = found[-1]
    behind = cursor.peek(-1) is T.TIMES or (cursor.peek(-1) is T.NUMBER and cursor.peek(-2) is T.TIMES)
    body = [item for item in found if not _is_opening(item)]
    if (
        not behind
        or len(body) < 2
        or cursor.depth
        or not isinstance(last, Some)
        or not isinstance(last.times, Exactly)
    ):
        return
    number = next((t.number for t in (cursor.token(-1), cursor.token(-2)) if t.kind is T.NUMBER), None)
    if number is None:
        return
    single = replace(last, times=Exactly(last.times.count // number or 1))
    span = last.act.span
    whole = Group((*body[:-1], single), Exactly(number), span)
    lead = found[: len(found) - len(body)]
    why = "read the number of times as for the whole line"
    found[:] = [*lead, Choice(f"times {span}", (Option(tuple(body)), Option((whole,), why, rescue=True)))]


def _is_opening(item: Item) -> bool:
    return isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is not Role.WORK)


def _bare(last: Some, alone: bool) -> Item:
    """A stitch named and nothing else: one of it, or on to the end of the round."""
    once, onward = Option((last,)), Option((replace(last, times=Rest()),))
    if alone:
        return Choice("bare", (onward, replace(once, rescue=True)))
    why = f"read the last '{last.act.name}' as going on to the end of the round"
    return Choice("bare", (once, replace(onward, why=why, rescue=True)))


def _ends_sequence(cursor: Cursor) -> bool:
    ahead = 0
    while cursor.peek(ahead) in (T.COMMA, T.DOT, T.SEMI, T.NEWLINE, T.AND, T.THEN):
        ahead += 1
    kind = cursor.peek(ahead)
    return kind in (None, T.JOIN, T.TURN, T.STEP) or (kind is T.STITCH and cursor.token(ahead).value == "sl st")


def _same_stitch_goes_on(cursor: Cursor) -> bool:
    ahead = 1 if cursor.at(T.AND) else 2 if cursor.sees(T.COMMA, T.AND) else 1 if cursor.at(T.COMMA) else 0
    if ahead == 0:
        return False
    start = cursor.place
    cursor.place += ahead
    cursor.skip(T.THEN)
    onward = cursor.tokens[start].kind is T.AND and cursor.at(T.AROUND)
    is_place = begins_place(cursor) and not cursor.at(T.BEHIND, T.BETWEEN, T.LOOP)
    comma_only = ahead == 1 and cursor.tokens[start].kind is T.COMMA
    if is_place:
        place(cursor)
        follows = cursor.peek()
        is_place = not (
            follows in (*_MADE, T.OPEN, T.NUMBER, T.WORK, T.MARK, T.COLON)
            or (comma_only and follows is T.COMMA and cursor.peek(1) is T.OPEN)
        )
    cursor.place = start
    return is_place or onward


def _last_act(item: Item) -> Act | None:
    if isinstance(item, Some):
        return item.act
    if isinstance(item, Choice):
        return _last_act(item.options[0].body[-1])
    if isinstance(item, Group):
        return _last_act(item.body[-1])
    return None


def _chain(cursor: Cursor, found: list[Item]) -> None:
    """CHAIN, and whether the pattern says that it counts: "ch 3 (counts as dc)"."""
    found.extend(chain_phrase(cursor))
    bracket_remark(cursor, found, behind_chain=True)


def _prefix_times(cursor: Cursor) -> bool:
    """ "6x (sc, inc)", "2x: inc, sc", "5 times: ..." """
    if cursor.sees(T.NUMBER, T.TIMES):
        return (
            cursor.peek(2) in (T.OPEN, T.COLON, T.MARK)
            or (cursor.peek(2) is T.NUMBER and cursor.peek(3) is T.STITCH)
            or (cursor.peek(2) in (T.STITCH, T.INC, T.DEC) and cursor.token(1).text == "x")
        )
    return cursor.at(T.OFTEN) and cursor.peek(1) in (T.COLON, T.OPEN)


def _times_first(cursor: Cursor, until: int) -> list[Item]:
    """TIMES FIRST := n x GROUP | n x: ITEMS | n x phrase"""
    first = cursor.place
    number = cursor.number() if cursor.at(T.NUMBER) else cursor.take().number
    cursor.skip(T.TIMES)
    if number == 0:
        raise cursor.fail("nothing", "0 times makes nothing", cursor.span(first), "leave it out")
    if cursor.accept(T.COLON):
        body = items(cursor, until)
    elif cursor.at(T.OPEN):
        body = bracket(cursor, [], once=True)
    elif cursor.at(T.MARK):
        body = _star(cursor, until, once=True)
    else:
        body = stitch_phrase(cursor)
    return [Group(tuple(body), Exactly(number), cursor.span(first))]


def _loop_first(cursor: Cursor) -> bool:
    """ "In FLO:", "working in back loops only of Rnd 5,": the loop for what follows."""
    ahead = 1 if cursor.at(T.WORK) else 0
    if not (cursor.peek(ahead) is T.IN and cursor.peek(ahead + 1) is T.LOOP):
        return False
    follows = cursor.peek(ahead + 2)
    if follows in (T.NEXT, T.EACH):
        return False
    cursor.place += ahead + 1
    _loop_in_force(cursor)
    return True


def _behind(cursor: Cursor) -> bool:
    """ "Working behind the shells into Rnd 12, ...": which round the bases are those of."""
    ahead = 1 if cursor.at(T.WORK) else 0
    if cursor.peek(ahead) is not T.BEHIND:
        return False
    while not cursor.finished and not cursor.at(T.COMMA, T.SEMI, T.DOT, T.COLON, T.NEWLINE, T.OPEN, T.MARK):
        if not round_reference(cursor):
            cursor.take()
    return True


def _loop_in_force(cursor: Cursor) -> None:
    """ "in front loops of Rnd 12": the loop from here on, and the round whose loops they are."""
    value = cursor.take().value
    assert isinstance(value, Loop)
    cursor.loop = value
    cursor.skip(T.OF, T.FROM)
    if cursor.at(T.PREVIOUS):
        cursor.take()
    round_reference(cursor)


def bracket(cursor: Cursor, found: list[Item], once: bool = False) -> list[Item]:
    """GROUP := '(' ITEMS ')' [place | times]"""
    first = cursor.place
    close = cursor.closing(first)
    if is_remark_bracket(cursor, first, close):
        bracket_remark(cursor, found)
        return []
    if cursor.depth >= MAX_NESTING:
        raise cursor.fail("too-deep", f"brackets stand more than {MAX_NESTING} deep", help="split the round up")
    cursor.take()
    cursor.depth += 1
    marks, cursor.open_marks = cursor.open_marks, 0
    body = tuple(items(cursor, close))
    cursor.open_marks = marks
    cursor.depth -= 1
    cursor.place = close + 1
    if not body:
        raise cursor.fail(
            "nothing", "this bracket holds nothing to make", cursor.span(first), "fill it or leave it out"
        )
    if once:
        return list(body)
    return [_with_multiplier(cursor, body, first)]


def _with_multiplier(cursor: Cursor, body: tuple[Item, ...], first: int) -> Item:
    start = cursor.place
    cursor.skip(T.DASH)
    often_in_place = cursor.token().number if cursor.at(T.OFTEN) and cursor.peek(1) in (T.IN, T.NEXT, T.SAME) else 0
    if often_in_place:
        cursor.take()
    cursor.skip(T.ALL, T.WORK)
    if begins_place(cursor):
        return _in_places(cursor, body * max(often_in_place, 1), place(cursor), first)
    if often_in_place:
        cursor.place -= 1
    if cursor.at(T.COMMA) and cursor.peek(1) is T.REPEAT:
        cursor.take()
    if cursor.at(T.REPEAT) and cursor.open_marks == 0 and not _repeat_of_new_group(cursor):
        single: list[Item] = [Group(body, Exactly(1), cursor.span(first))]
        _repeat(cursor, single)
        return single[0]
    often = multiplier(cursor)
    span = cursor.span(first)
    if often is not None:
        if isinstance(often.times, Exactly) and begins_place(cursor):
            return _after_times(cursor, body, often.times, first)
        return repeated(body, often, span, "closed")
    cursor.place = start
    around = Option((Group(body, Rest(), span),), "read the group as repeated around", rescue=True)
    options = [Option((Group(body, Exactly(1), span),)), around]
    counted = len(body) == 1 and cursor.tokens[first + 1].kind is T.NUMBER
    one = _as_one_place(body, Where(Exactly(1)), cursor.span(first))
    if one is not None:
        why = "read the bracket as all worked into one stitch"
        options.insert(0 if counted else 2, Option((Some(one),), why, rescue=not counted))
    return Choice(f"group {span}", tuple(options))


def _after_times(cursor: Cursor, body: tuple[Item, ...], times: Exactly, first: int) -> Item:
    """ "(dc, ch 1) 3 times in next sp" fills one place; "(sc, inc) 6 times in next 18 sts" goes on."""
    where = place(cursor)
    if isinstance(where.bases, Exactly) and where.bases.count <= 1 and times.count <= 100:
        return _in_places(cursor, body * times.count, where, first)
    return Group(body, times, cursor.span(first))


def _in_places(cursor: Cursor, body: tuple[Item, ...], where: Where, first: int) -> Item:
    """All of a bracket into one place, or into each of several."""
    act = _as_one_place(body, where, cursor.span(first))
    if act is not None:
        if where.every > 1:
            skip = Some(Act("sk", Role.SKIP, (), 1, span=act.span), Exactly(where.every - 1))
            return Group((Some(act), skip), where.bases, act.span)
        times = where.bases if where.into is not Into.RING and not where.same else Exactly(1)
        return Some(act, times)
    if where.into is Into.RING and isinstance(where.bases, Exactly):
        return Group(tuple(_into_ring(item) for item in body), Exactly(1), cursor.span(first))
    return Group(body, Rest() if isinstance(where.bases, Rest) else Exactly(1), cursor.span(first))


def _into_ring(item: Item) -> Item:
    if isinstance(item, Some):
        return replace(item, act=replace(item.act, takes=0, into=Into.RING))
    if isinstance(item, Group):
        return replace(item, body=tuple(_into_ring(inner) for inner in item.body))
    if isinstance(item, Choice):
        return _into_ring(item.options[0].body[0])
    return item


def _likeliest(item: Item) -> Item | None:
    """The item itself, or what a choice would most likely be; None if that is nothing at all."""
    if not isinstance(item, Choice):
        return item
    return item.options[0].body[0] if item.options[0].body else None


def _as_one_place(body: tuple[Item, ...], where: Where, span: Span) -> Act | None:
    """The bracket as one act, if all in it is made in one place; None if it has places of its own."""
    makes: list[Made] = []
    loop = where.loop
    for inner in body:
        some = _likeliest(inner)
        if some is None:
            continue
        if isinstance(some, Group) and isinstance(some.times, Exactly) and some.times.count <= 100:
            nested = _as_one_place(some.body, where, span)
            if nested is None:
                return None
            makes.extend(nested.makes * some.times.count)
            continue
        if not isinstance(some, Some) or not isinstance(some.times, Exactly):
            return None
        if some.act.role is Role.STEP:
            continue
        if some.act.role is Role.SKIP or some.act.into in (Into.SPACE, Into.RING) or some.act.takes > 1:
            return None
        if some.times.count > 1000:
            return None
        for made in some.act.makes:
            repeat_count = some.times.count
            if made.is_chain:
                makes.extend([made] * repeat_count)
            else:
                makes.append(replace(made, count=made.count * repeat_count))
    if not makes:
        return None
    takes = 0 if where.same or where.into is Into.RING else 1
    into = Into.SAME if where.same else where.into
    stitches = sum(made.stitches for made in makes)
    name = "in one" if len(makes) > 1 or stitches > 3 else "inc" if stitches > 1 else makes[0].kind
    remark = "space" if where.same and where.into is Into.SPACE else ""
    return Act(name, Role.WORK, tuple(makes), takes, into, loop, span=span, remark=remark, onto=where.onto)


def _star(cursor: Cursor, until: int, once: bool = False) -> list[Item]:
    """STAR := '*' ITEMS ('*' [times] | [;] rep from * ... | nothing)"""
    first = cursor.place
    cursor.take()
    if cursor.place >= until or cursor.finished:
        return []
    if cursor.depth >= MAX_NESTING:
        raise cursor.fail("too-deep", f"groups stand more than {MAX_NESTING} deep", help="split the round up")
    cursor.depth += 1
    cursor.open_marks += 1
    body, early = _star_body(cursor, until)
    cursor.open_marks -= 1
    cursor.depth -= 1
    closed = cursor.place < until and cursor.at(T.MARK)
    if closed:
        cursor.take()
    if once or not body:
        return body
    group = Group(tuple(body), Exactly(1), cursor.span(first))
    while (
        cursor.place < until
        and cursor.at(T.DOT, T.SEMI, T.COMMA, T.NEWLINE)
        and cursor.peek(1) in (T.REPEAT, T.ONGOING)
    ):
        cursor.take()
    if cursor.place < until and cursor.at(T.REPEAT) and not _repeat_of_new_group(cursor):
        return [_repeat_clause(cursor, group, early, closed)]
    if cursor.place < until and cursor.at(T.ONGOING):
        cursor.take()
        cursor.skip(T.AROUND, T.ONGOING)
        return [replace(group, times=Rest())]
    if not closed:
        around = Option((replace(group, times=Rest()),), "read the part after * as repeated around", rescue=True)
        return [Choice(f"star {group.span}", (Option(tuple(body)), around))]
    start = cursor.place
    if cursor.at(T.COMMA) and cursor.peek(1) is T.NUMBER and cursor.peek(2) is T.TIMES:
        cursor.take()
    often = multiplier(cursor)
    if often is None:
        cursor.place = start
        once_only = Option((group,), "read the part between * as worked once", rescue=True)
        return [Choice(f"star {group.span}", (Option((replace(group, times=Rest()),)), once_only))]
    item = repeated(group.body, often, group.span, "closed")
    return [_cut_item(item, _early_end(cursor, group, early))]


def _star_body(cursor: Cursor, until: int) -> tuple[list[Item], int | None]:
    """What a star holds, and after how many of its items a double star lets the last repeat end."""
    body: list[Item] = []
    early: int | None = None
    while True:
        body.extend(items(cursor, until, star=True))
        if (
            cursor.place < until
            and cursor.at(T.MARK)
            and len(cursor.token().text) > 1
            and early is None
            and _star_goes_on(cursor)
        ):
            early = len(body)
            cursor.take()
            continue
        return body, early


def _star_goes_on(cursor: Cursor) -> bool:
    """Whether "rep from *" or a further star comes after this double star."""
    return any(token.kind in (T.REPEAT, T.MARK) for token in cursor.tokens[cursor.place + 1 :])


def _repeat(cursor: Cursor, found: list[Item]) -> None:
    """REPEAT without a star: a group that follows, the bracket before, or all of the round so far."""
    if _repeat_of_new_group(cursor):
        cursor.take()
        cursor.skip(T.FROM, T.COLON, T.WORK)
        return
    first = cursor.place
    body = [item for item in found if not _is_lead(item)]
    if not body:
        raise cursor.fail(
            "repeat-of-nothing",
            "there is nothing before this to repeat",
            help="put the repeat behind a group",
        )
    last = found[-1]
    if isinstance(last, Choice) and last.key.startswith("group"):
        last = last.options[0].body[0]
    whole = cursor.peek(1) is T.FROM and cursor.peek(2) is T.BEGINNING
    if isinstance(last, Group) and last.times == Exactly(1) and not whole:
        found[-1] = _repeat_clause(cursor, last, None, True)
        return
    lead = len(found) - len(body)
    group = Group(tuple(body), Exactly(1), cursor.span(first))
    found[lead:] = [_repeat_clause(cursor, group, None, True)]


def _is_lead(item: Item) -> bool:
    """Turning chains, colours and steps at the start are not repeated."""
    return isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP)


def _repeat_clause(cursor: Cursor, group: Group, early: int | None, closed: bool) -> Item:
    """REPEAT := rep [from] [* [to *]] (around | n times | n more times | to last n sts | nothing)"""
    first = cursor.place
    cursor.take()
    starred = _what_is_repeated(cursor)
    often = _how_often(cursor)
    span = group.span.to(cursor.span(first))
    cut = _early_end(cursor, group, early)
    item = repeated(group.body, often, span, "open", prefer_besides=starred and not closed)
    return _cut_item(item, cut)


def _cut_item(item: Item, cut: int) -> Item:
    """The repeat with the last time through cut short by so many items."""
    if cut and isinstance(item, Group):
        return replace(item, cut=cut)
    if cut and isinstance(item, Choice):
        return replace(item, options=tuple(replace(o, body=_cut_short(o.body, cut)) for o in item.options))
    return item


def _clause(cursor: Cursor) -> list[Token]:
    """The words from here to the next separator."""
    end = cursor.place
    while end < len(cursor.tokens) and cursor.tokens[end].kind not in _CLAUSE_ENDS:
        end += 1
    return cursor.tokens[cursor.place : end]


_CLAUSE_ENDS = (T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE, T.OPEN, T.JOIN)


def _cut_short(body: tuple[Item, ...], cut: int) -> tuple[Item, ...]:
    return tuple(replace(item, cut=cut) if isinstance(item, Group) else item for item in body)


def _what_is_repeated(cursor: Cursor) -> bool:
    """ "from * to *", "between *", "from beg", "( )": taken; whether a star was named."""
    starred = False
    while (
        cursor.at(T.FROM, T.MARK, T.BEGINNING, T.BETWEEN, T.THEN, T.SAME, T.OPEN, T.COLON, T.IN, T.FILLER, T.ORDINAL)
        or (cursor.at(T.TO) and cursor.peek(1) in (T.MARK, T.OPEN))
        or (cursor.at(T.AND) and cursor.peek(1) is T.MARK)
        or (
            cursor.at(T.WORD)
            and cursor.token().text
            in (
                "s",
                "instructions",
                "sequence",
                "group",
                "brackets",
                "steps",
                "asterisk",
                "stars",
                "star",
                "'s",
                "between",
                "parentheses",
                "pattern",
                "asterisks",
                "what",
                "section",
            )
        )
    ):
        if cursor.at(T.OPEN):
            close = cursor.closing(cursor.place)
            inner = cursor.tokens[cursor.place + 1 : close]
            if any(token.kind is T.NUMBER for token in inner):
                return starred
            cursor.place = close + 1
            continue
        starred = starred or cursor.at(T.MARK)
        cursor.take()
    return starred


def _how_often(cursor: Cursor) -> Often:
    bracketed = cursor.at(T.OPEN) and cursor.peek(1) is T.NUMBER and cursor.peek(2) in (T.TIMES, T.MORE)
    close = cursor.closing(cursor.place) if bracketed else 0
    if bracketed:
        cursor.take()
    cursor.skip(T.ALL, T.FROM)
    around = False
    if cursor.at(T.AROUND) and cursor.peek(1) in (T.NUMBER, T.OFTEN):
        around = bool(cursor.take())
    found = multiplier(cursor)
    if found is None and cursor.at(T.NUMBER) and not around:
        number = cursor.number()
        cursor.skip(T.MORE)
        found = Often(Exactly(number))
    if found is None and cursor.at(T.ONGOING):
        cursor.take()
        cursor.skip(T.AROUND)
    if bracketed:
        cursor.place = close + 1
    cursor.skip(T.AROUND, T.TOTAL, T.ONGOING, T.EVENLY)
    return found or Often(Rest())


def _early_end(cursor: Cursor, group: Group, early: int | None) -> int:
    """How many items the last repeat leaves out: "end last rep at **", "omit last sc"."""
    start = cursor.place
    cursor.skip(T.COMMA, T.SEMI, T.DOT, T.AND)
    if cursor.at(T.OMIT):
        while not cursor.finished and not cursor.at(T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE, T.OPEN, T.JOIN):
            cursor.take()
        return 1
    if cursor.at(T.END) and any(t.kind is T.MARK for t in _clause(cursor)):
        cursor.place += len(_clause(cursor))
        return len(group.body) - early if early is not None else 0
    cursor.place = start
    return len(group.body) - early if early is not None else 0


def _ending(cursor: Cursor, found: list[Item], until: int) -> None:
    """ "..., ending with 2 sc in last st": tells how the last repeat ends, or adds what it says."""
    first = cursor.place
    cursor.take()
    cursor.skip(T.WITH, T.IN, T.LAST, T.REPEAT, T.BEGINNING)
    said = tuple(items(cursor, until))
    end = len(said)
    while end and isinstance(said[end - 1], Some) and _is_closing(said[end - 1]):
        end -= 1
    if said[:end]:
        added = Option(said[:end], "read the ending as coming after the last repeat")
        found.append(Choice(f"ending {first}", (Option(()), added)))
    found.extend(said[end:])


def _is_closing(item: Item) -> bool:
    return isinstance(item, Some) and (item.act.role is Role.STEP or item.act.name == "sl st")


def _multiplies_line(cursor: Cursor, found: list[Item]) -> bool:
    """A multiplier on its own behind items with no bracket: for the last one, or for all of them."""
    body = [item for item in found if not _is_lead(item)]
    if not body:
        return False
    start = cursor.place
    often = multiplier(cursor)
    if often is None or not isinstance(body[-1], Some | Choice | Group):
        cursor.place = start
        return False
    span = cursor.span(start)
    lead = len(found) - len(body)
    everything = repeated(tuple(body), often, span, "closed")
    if len(body) == 1 or isinstance(often.times, Rest):
        found[lead:] = [everything]
        return True
    last = repeated((body[-1],), often, span, "closed")
    why = "read the number of times as for the whole line"
    one, whole = Option((*body[:-1], last)), Option((everything,), why)
    apart = cursor.tokens[start - 1].kind in (T.COMMA, T.SEMI, T.DOT, T.NEWLINE)
    options = (whole, replace(one, rescue=True)) if apart else (one, replace(whole, rescue=True))
    found[lead:] = [Choice(f"times {span}", options)]
    return True


def _ongoing(cursor: Cursor, found: list[Item]) -> None:
    """ "and so on around", "continue": the unit written so far goes round."""
    cursor.take()
    cursor.skip(T.ONGOING, T.REPEAT)
    cursor.skip(T.AROUND, T.FILLER)
    body = [item for item in found if not _is_lead(item)]
    if not body or not (cursor.finished or cursor.at(*_BETWEEN_ITEMS, T.CLOSE, T.MARK)):
        return
    if isinstance(body[-1], Group) and isinstance(body[-1].times, Rest):
        return
    lead = len(found) - len(body)
    unit = _unit(body)
    found[lead:] = [Group(tuple(unit), Rest())]


def _unit(body: list[Item]) -> list[Item]:
    """The shortest part that, written again and again, gives the whole."""
    bare = [_without_spans(item) for item in body]
    for length in range(1, len(body) // 2 + 1):
        if len(body) % length == 0 and bare == bare[:length] * (len(body) // length):
            return body[:length]
    return body


def _without_spans(item: Item) -> object:
    if isinstance(item, Some):
        return (item.act.name, item.act.makes, item.act.takes, item.times)
    if isinstance(item, Choice):
        return tuple(_without_spans(inner) for inner in item.options[0].body)
    if isinstance(item, Group):
        return (tuple(_without_spans(inner) for inner in item.body), item.times)
    return item


def _even(cursor: Cursor, found: list[Item]) -> None:
    """ "work even": one stitch in each."""
    first = cursor.place
    cursor.take()
    cursor.skip(T.AROUND)
    if not any(isinstance(item, Some | Group | Choice) for item in found if not _is_opening(item)):
        found.append(Some(Act("", Role.WORK, (Made(""),), 1, loop=cursor.loop, span=cursor.span(first)), Rest()))


def _place_first(cursor: Cursor, found: list[Item], until: int) -> None:
    """PLACE FIRST := in next st [,] [work] (phrase | group)"""
    first = cursor.place
    where = place(cursor)
    cursor.skip(T.COMMA, T.COLON, T.WORK, T.THEN, T.DASH)
    if cursor.place >= until or cursor.finished:
        cursor.remarks.append(" ".join(token.text for token in cursor.tokens[first : cursor.place]))
        return
    if cursor.at(T.OPEN) and not is_remark_bracket(cursor, cursor.place, cursor.closing(cursor.place)):
        close = cursor.closing(cursor.place)
        cursor.take()
        body = tuple(items(cursor, close))
        cursor.place = close + 1
        times = multiplier(cursor)
        if times is not None and isinstance(times.times, Exactly) and times.times.count <= 100:
            body = body * times.times.count
        found.append(_in_places(cursor, body, where, first))
        return
    if not (begins_phrase(cursor) or cursor.at(T.CHAIN)):
        if where.into is Into.STITCH and where.bases == Exactly(1):
            return
        raise cursor.fail(
            "no-stitch", "which stitch goes there?", cursor.span(first), "name the stitch: sc in next st"
        )
    if where.from_hook:
        found.extend(_from_hook(cursor, where.from_hook))
        return
    inner = stitch_phrase(cursor) if begins_phrase(cursor) else chain_phrase(cursor)
    while cursor.at(T.COMMA) and where.into is not Into.STITCH and _plain_next(cursor):
        cursor.take()
        inner += (
            chain_phrase(cursor) if cursor.at(T.CHAIN) or cursor.sees(T.NUMBER, T.CHAIN) else stitch_phrase(cursor)
        )
    found.append(_in_places(cursor, tuple(inner), where, first))


def _from_hook(cursor: Cursor, nth: int) -> list[Item]:
    """ "Starting in 2nd ch from hook, sc in next 6 ch": what follows begins in that chain."""
    phrase = stitch_phrase(cursor)
    first = phrase[0]
    if not isinstance(first, Some):
        return phrase
    hooked = replace(first.act, into=Into.CHAIN, remark=f"hook {nth}")
    if isinstance(first.times, Rest) or first.times.count == 1:
        return [replace(first, act=hooked), *phrase[1:]]
    rest = replace(first, times=Exactly(first.times.count - 1))
    return [Some(hooked), rest, *phrase[1:]]


def _plain_next(cursor: Cursor) -> bool:
    """ "in next ch-3 sp, 3 dc, ch 2, 3 dc": the row goes on in the same place while no other place is named."""
    start = cursor.place
    cursor.take()
    try:
        if cursor.at(T.CHAIN) or cursor.sees(T.NUMBER, T.CHAIN):
            chain_phrase(cursor)
        elif begins_phrase(cursor):
            phrase = stitch_phrase(cursor)
            act = _last_act(phrase[0])
            if (
                act is None
                or act.into is not Into.STITCH
                or any(t.kind in (T.NEXT, T.EACH, T.IN) for t in cursor.tokens[start : cursor.place])
            ):
                return False
        else:
            return False
        return True
    finally:
        cursor.place = start
