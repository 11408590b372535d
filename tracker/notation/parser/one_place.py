"""What goes into one place, as one act: "(2 dc, ch 2, 2 dc) in next ch-3 sp", "in ring work 6 sc"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    Counts,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Made,
    Role,
    Some,
    Technique,
    ToEnd,
    acts,
)
from tracker.notation.instructions import (
    MAIN,
    MOST_IN_AN_INCREASE,
    MOST_TIMES,
    NAMES_IN_ONE,
    increase,
    is_cluster,
    last_act,
    likeliest,
    skipping,
    stitch,
)
from tracker.notation.parser.distribution import is_one_place, one_for_each
from tracker.notation.parser.place import begins_place, place
from tracker.notation.parser.places_together import among_plain, close_together
from tracker.notation.parser.quantity import multiplier
from tracker.notation.parser.remark import is_remark_bracket
from tracker.notation.parser.stitch_phrase import begins_chain, begins_phrase, chain_phrase, stitch_phrase
from tracker.notation.parser.worked_into import Where
from tracker.notation.token_kinds import LEADS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

MOST_MADE = 400
"""Stitches and chains that are made side by side in one place; nobody gets more than two dozen into one."""

# In one place; more is a slip of the keyboard.
_MOST_STITCHES = 1000


def in_places(body: tuple[Item, ...], where: Where, span: Span) -> Item:
    """All of a row into one place, or into each of several; items that have places of their own go on."""
    alone = where.bases == Exactly(1) or where.each or where.into in (Into.SPACE, Into.RING)
    in_space = where.into is Into.SPACE  # "(dc2tog) in next gap": what is closed together has no other place
    act = as_one_place(body, where, span, closed=alone and (len(body) > 1 or in_space))
    if act is None:
        return Group(body, ToEnd() if isinstance(where.bases, ToEnd) else Exactly(1), span)
    if where.every:
        skip = Some(skipping(span), Exactly(where.every - 1))
        return Group((Some(act), skip), where.bases, span)
    return Some(act, Exactly(1) if where.into is Into.RING or where.same else where.bases)


def as_one_place(body: tuple[Item, ...], where: Where, span: Span, *, closed: bool = False) -> Instruction | None:
    """The row as one act, if all in it is made in one place; None if it has places of its own.

    `closed`: stitches that are closed together are so in that one place too, as "(dc2tog, ch 2, dc2tog) in next sp".
    """
    makes = _made_together(body, closed=closed)
    if not makes:
        return None
    stitches = sum(made.stitches for made in makes)
    technique = Technique.STITCH
    if len(makes) > 1 or stitches > MOST_IN_AN_INCREASE:
        technique = Technique.IN_ONE
    elif stitches > 1:
        technique = Technique.INCREASE
    takes = 0 if where.same or where.into is Into.RING else 1
    into = Into.SAME if where.same else where.into
    return Instruction(
        NAMES_IN_ONE.get(technique, makes[0].kind),
        Role.WORK,
        makes,
        takes,
        into,
        where.loop,
        technique,
        span,
        where.onto,
        where.from_hook,
        same_space=where.same and where.into is Into.SPACE and not where.from_hook,
    )


def _made_together(body: tuple[Item, ...], *, closed: bool) -> tuple[Made, ...] | None:
    """What the items make side by side; None if one of them has a place of its own, or too much is made."""
    makes: list[Made] = []
    for item in body:
        made = _made_by(item, closed=closed)
        if made is None:
            return None
        makes.extend(made)
        if len(makes) > MOST_MADE:
            return None
    return tuple(makes)


def _made_by(item: Item, *, closed: bool) -> tuple[Made, ...] | None:
    likely = likeliest(item)
    if likely is None:
        return ()
    if isinstance(likely, Group) and isinstance(likely.times, Exactly) and likely.times.count <= MOST_TIMES:
        nested = _made_together(likely.body, closed=closed)
        fits = nested and len(nested) * likely.times.count <= MOST_MADE
        return nested * likely.times.count if nested and fits else None
    if not isinstance(likely, Some) or not isinstance(likely.times, Exactly):
        return None
    act, count = likely.act, likely.times.count
    if act.role is Role.STEP or (act.is_slip_stitch and act.into is Into.CHAIN):
        return ()  # a slip stitch back into a chain closes a picot
    if act.role is Role.SKIP or act.into in (Into.SPACE, Into.RING) or count > _MOST_STITCHES:
        return None
    if act.takes > 1 and not is_cluster(act) and not (closed and act.technique is Technique.TOGETHER):
        return None
    if act.role is Role.CHAIN and act.counts is not None and (act.counts.stitch or not act.counts.as_stitch):
        return _counting(act.makes[0], act.counts)
    return tuple(each for made in act.makes for each in _so_often(made, count))


def _counting(chain: Made, counts: Counts) -> tuple[Made, ...]:
    """A chain as the stitch that it counts as, with the chains that are a space besides; nothing if it counts as
    none."""
    if not counts.as_stitch:
        return ()
    stands = Made("ch", max(chain.count - counts.besides, 1), counts.stitch)
    return (stands, Made("ch", counts.besides)) if counts.besides else (stands,)


def _so_often(made: Made, count: int) -> list[Made]:
    """Stitches add up; every chain is a space of its own."""
    return [made] * count if made.is_chain else [replace(made, count=made.count * count)]


# How that is written: the place behind a list, or before it.

_ALL_IN = PhrasePattern("ALL (?= IN)")
""" "work 2 dc, ch 2, 2 dc all in next sp" """

_IN_ANY = PhrasePattern("IN (?= NEXT) ANY")
""" "in any st, ch 3, ...": where the round begins"""


_PLACE_IN_SHORT = PhrasePattern("ORDINAL | LAST | FROM ORDINAL")
""" "2nd st: 2 dc, ..." """


def further_place(cursor: Cursor) -> Where | None:
    """and PLACE, behind "in same sp": taken if it stands here"""
    start = cursor.place
    if cursor.accept(T.AND) and begins_place(cursor):
        return place(cursor)
    cursor.place = start
    return None


def all_in_one(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """all in PLACE, behind a list without brackets: "work 2 dc, ch 2, 2 dc all in next sp" """
    first = cursor.place
    if not cursor.take_phrase(_ALL_IN) or not begins_place(cursor):
        cursor.place = first
        return False
    _gather(cursor, items, first)
    return True


def _gather(cursor: Cursor, items: list[Item], first: int) -> None:
    """The items since the last place or sentence, all into the place that stands here; `first` is where it begins."""
    begins = next((i for i in range(first - 1, -1, -1) if cursor.peek(i - cursor.place) in _ENDS_A_LIST), -1)
    start = len(items)
    while start and _stands_behind(cursor, begins, items[start - 1]):
        start -= 1
    where = place(cursor)
    body = tuple(items[start:])
    if not body:
        span = cursor.span(first)
        raise cursor.fail("no-stitch", "which stitch goes there?", span, "name the stitch: sc in next st")
    items[start:] = [in_places(body, where, body_span(body, cursor.span(first)))]


def _gather_before(cursor: Cursor, items: list[Item], where: Where, first: int) -> bool:
    """LIST , PLACE, as in "(3 dc, ch 2, 3 dc) ch 1, in next sp": all of a list that names no place goes there; taken
    if the list has a chain or a bracket in it, or goes into a space or ring."""
    begins = first
    while begins and cursor.tokens[begins - 1].kind in _IN_A_LIST:
        begins -= 1
    listed = {token.kind for token in cursor.tokens[begins:first]}
    in_one = where.into is not Into.STITCH or (where.bases == Exactly(1) and listed & {T.OPEN, T.CHAIN})
    if cursor.at(T.COMMA) and (
        where.into is Into.STITCH or not begins or cursor.tokens[begins - 1].kind is not T.MARK
    ):
        return False  # what stands behind the comma may be for the place
    start = len(items)
    while start and _stands_behind(cursor, begins - 1, items[start - 1]):
        start -= 1
    body = tuple(items[start:])
    if not in_one or not any(act.role is Role.WORK for act in acts(body)):
        return False
    act = as_one_place(body, where, body_span(body, cursor.span(first)))
    if act is None:
        return False
    items[start:] = [in_places(body, where, act.span)]
    return True


_ENDS_A_PLACE = (T.COMMA, T.DOT, T.SEMI, T.NEWLINE, T.MARK, T.REPEAT, T.JOIN, T.OPEN, T.CLOSE)
"""What hardly anything stands behind that a place before it could be for."""


_IN_A_LIST = frozenset((
    T.NUMBER, T.STITCH, T.POSTED, T.BUNCH, T.INC, T.CHAIN, T.COMMA, T.AND, T.OPEN, T.CLOSE, T.TIMES, T.OFTEN, T.THEN,
))  # fmt: skip
"""What a list of stitches is made of that names no place."""


_ENDS_A_LIST = (T.IN, T.NEXT, T.EACH, T.OVER, T.AROUND, T.DOT, T.SEMI, T.MARK, T.OPEN, T.CLOSE, T.JOIN, T.TURN)
"""What the list that goes into one place begins behind."""


def _stands_behind(cursor: Cursor, begins: int, item: Item) -> bool:
    act = last_act(item)
    if act is None or act.role not in (Role.WORK, Role.CHAIN):
        return False
    edge = cursor.span(begins, begins + 1) if begins >= 0 else None
    return edge is None or (act.span.line, act.span.start) > (edge.line, edge.start)


def body_span(body: tuple[Item, ...], end: Span) -> Span:
    """From the first of the items to `end`."""
    act = last_act(body[0])
    return act.span.to(end) if act is not None and act.span.line == end.line else end


def and_chain(cursor: Cursor, items: list[Item]) -> bool:
    """PHRASE and CHAIN PLACE, as in "1 dc & 1 ch into each st": both go there; taken if it stands here"""
    if not items or not cursor.at(T.AND, T.PLUS) or not begins_chain(cursor, 1):
        return False
    start = cursor.place
    cursor.take()
    chain = chain_phrase(cursor)
    if not begins_place(cursor) or cursor.at(T.BEHIND, T.BETWEEN):
        cursor.place = start
        return False
    where = place(cursor)
    body = (items.pop(), *chain)
    items.append(in_places(body, where, body_span(body, cursor.span(start))))
    return True


def both_in(cursor: Cursor, items: list[Item]) -> bool:
    """STITCH and STITCH PLACE, as in "sc and dc in next st": both go there; taken if it stands here"""
    bare = items[-1] if items and cursor.begins(_TWO_IN_ONE) and cursor.peek(-2) not in _NAMES_A_BASE else None
    other = cursor.token(1).number if bare is not None and cursor.peek(1) is T.NUMBER else 1
    if not isinstance(bare, Some) or bare.times != Exactly(1) or other != 1 or bare.act.is_slip_stitch:
        return False
    first = cursor.place
    cursor.take()
    cursor.accept(T.NUMBER)
    named = cursor.take()
    body = (items.pop(), Some(stitch(named.name).act(cursor.loop, cursor.span(first))))
    items.append(in_places(body, place(cursor), body_span(body, cursor.span(first))))
    return True


_TWO_IN_ONE = PhrasePattern("(?<= STITCH) [AND PLUS] NUMBER? STITCH IN (EACH | NEXT (?! NUMBER))")
""" "sc and dc in next st", "1 dc and 1 tr in next st"; "sc and dc in next 2 sts" may be one in each"""

_NAMES_A_BASE = LEADS | {T.LAST, T.ORDINAL, T.OF, T.FROM, T.AROUND, T.TOP, T.CENTRE}
"""What stands before a stitch that is worked into: "sc in next sc and dc in next dc"."""


def place_first(cursor: Cursor, items: list[Item], until: int) -> bool:
    """PLACE FIRST := PLACE [,] [work] (GROUP [OFTEN] | PHRASE { , PHRASE } | together | nothing)"""
    if not (begins_place(cursor) or cursor.begins(_PLACE_IN_SHORT)):
        return False
    first = cursor.place
    if not first and (words := cursor.take_phrase(_ALL_OF_IT)):
        items.append(Some(stitch(words[1].name).act(cursor.loop, cursor.span(first)), ToEnd()))
        return True
    where = place(cursor)
    further = further_place(cursor) if where.same else None
    if where.has_number and cursor.at(T.COMMA) and begins_chain(cursor, 1) and cursor.peek(-1) is not T.RING:
        cursor.remarks.append(cursor.words(first))  # "working on the first 12 sts only, ch 1, turn, ..."
        return True
    if (not first or cursor.tokens[first - 1].kind in _ENDS_A_PLACE) and cursor.begins(_STOP_BEFORE_WORK):
        cursor.skip(T.DOT, T.NEWLINE)
    cursor.skip(T.COMMA, T.WORK)
    if cursor.begins(_LIST_BELOW) and (listed := _listed_below(cursor)):
        items.append(in_places(tuple(listed), where, cursor.span(first)))
        return True
    listed_from = cursor.place
    cursor.skip(T.COMMA, T.COLON, T.WORK, T.THEN, T.DASH)
    is_list = (where.same or is_one_place(where)) and T.COLON in {
        word.kind for word in cursor.tokens[listed_from : cursor.place]
    }
    if where.from_hook:
        cursor.take_phrase(_SENTENCE_BEFORE_WORK)
    ended = cursor.place >= until or cursor.finished or cursor.at(*_ENDS_A_PLACE)
    if ended and _gather_before(cursor, items, where, first):
        return True
    anywhere = where.into is Into.STITCH and cursor.begins(_IN_ANY, first)
    ended = cursor.place >= until or cursor.finished
    cut_off = where.has_number and items and first and cursor.tokens[first - 1].kind in (T.DOT, T.CLOSE)
    if (ended and not cut_off) or (anywhere and begins_chain(cursor)):
        cursor.remarks.append(cursor.words(first))
    elif cursor.at(T.OPEN) and not is_remark_bracket(cursor):
        body = _bracket(cursor)
        items.extend(in_places(body, each, cursor.span(first)) for each in (where, further) if each is not None)
    elif where.into is Into.RING and begins_chain(cursor):
        items.append(
            Some(Instruction("ring", Role.STEP, into=Into.NOTHING, technique=Technique.RING, span=cursor.span(first)))
        )
    elif where.each and cursor.begins(_EACH_ONE, first) and cursor.take_phrase(_DOUBLED):
        items.append(among_plain(increase(MAIN).act(where.loop, cursor.span(first)), where))
    elif begins_phrase(cursor) or cursor.at(T.CHAIN):
        in_one_place = is_list or (cursor.begins(_IN_ONE, first) and cursor.tokens[cursor.place - 1].kind is T.WORK)
        onward = where.from_hook and not in_one_place
        items.extend(_from_hook(cursor, where.from_hook) if onward else _row(cursor, where, first, in_one_place))
    elif close_together(cursor, items, where, first):
        pass
    elif where.into is not Into.STITCH or where.bases != Exactly(1):
        # "sc. in last 6 st" too, cut off from its stitch
        span = cursor.span(first)
        raise cursor.fail("no-stitch", "which stitch goes there?", span, "name the stitch: sc in next st")
    return True


_IN_ONE = PhrasePattern("(?<! WORK) IN")  # but not "start in 2nd ch from hook, work 5 sc"
_SENTENCE_BEFORE_WORK = PhrasePattern("DOT NEWLINE? WORK? (?= NUMBER? HEADS)")
""" "Start in the 2nd ch from hook. Work 2 sc in each ch": a sentence of its own"""

_ALL_OF_IT = PhrasePattern("ALL STITCH AROUND? (COMMA? EVEN)? (?= DOT | $)")
""" "all sc", "all sc without increase or decrease": of what the round is, and not where something goes"""

_STOP_BEFORE_WORK = PhrasePattern("DOT NEWLINE? WORK")
""" "in each sp. work 2 sc": the stop is that of a short word"""

_LIST_BELOW = PhrasePattern("COLON NEWLINE")
""" "Work into the same sp:" over "- 1 sc", "- 3 dc", "- 1 sc" """


def _listed_below(cursor: Cursor) -> list[Item]:
    """{ NEWLINE [-] PHRASE }: what is made in one place, a line each, as far as these name no other; taken"""
    start = end = cursor.place
    cursor.take()
    cursor.skip(*_STEP_BEGINS)
    listed: list[Item] = []
    while begins_chain(cursor) or begins_phrase(cursor):
        first = cursor.place
        phrase = _phrase(cursor)
        words = cursor.tokens[first : cursor.place]
        act = last_act(phrase[0])
        if any(word.kind in _PLACED for word in words) or act is None or act.is_slip_stitch:
            break
        behind = cursor.place
        cursor.skip(T.COMMA, T.DOT, T.AND, T.THEN, *_STEP_BEGINS)
        steps = {word.kind for word in cursor.tokens[behind : cursor.place]}
        if not cursor.finished and steps.isdisjoint(_STEP_BEGINS):
            break
        listed += phrase
        end = behind
    cursor.place = end if listed else start
    return listed


_STEP_BEGINS = (T.NEWLINE, T.DASH, T.OTHER_SIGN)
_PLACED = (T.NEXT, T.EACH, T.IN, T.SAME)


_EACH_ONE = PhrasePattern("[EACH ALL]")
_DOUBLED = PhrasePattern("(?= [STITCH WORD OFTEN]) DOUBLE (?= STOPS | [OPEN EQUALS DASH] | $)")
""" "every 3rd st double", "each st twice": an increase there"""


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


def _row(cursor: Cursor, where: Where, first: int, in_one_place: bool) -> list[Item]:
    """PHRASE { , PHRASE }: in a space or ring the row goes on in the same place while no other place is named;
    `in_one_place` in a stitch too, while the stitches differ: "into each dc work 1 sc and 1 dc" """
    row = _phrase(cursor)
    if alike := one_for_each(row, where):
        return alike
    in_one_place = in_one_place or (where.bases == ToEnd() and cursor.begins(_CHAIN_BETWEEN))
    while cursor.at(T.COMMA, T.AND) and (where.into is not Into.STITCH or in_one_place) and _goes_on(cursor):
        start = cursor.place
        cursor.skip(T.COMMA, T.AND)
        phrase = _phrase(cursor)
        if where.into is Into.STITCH and _names(phrase) == _names(row[-1:]):
            cursor.place = start
            break
        row += phrase
    return [in_places(tuple(row), where, cursor.span(first))]


def _names(items: list[Item]) -> list[str]:
    return [act.name for act in acts(tuple(items))]


_CHAIN_BETWEEN = PhrasePattern(
    "[COMMA AND]+ CHAIN NUMBER [COMMA AND]+ NUMBER? STITCH (?= STOPS | [AROUND REPEAT] | $)"
)
""" "in each st work sc, ch 1, sc" """


def _phrase(cursor: Cursor) -> list[Item]:
    return chain_phrase(cursor) if begins_chain(cursor) else stitch_phrase(cursor)


def _goes_on(cursor: Cursor) -> bool:
    """Whether a phrase with no place of its own stands behind this comma: "in next sp, 3 dc, ch 2 and 3 dc"."""
    start = cursor.place
    cursor.skip(T.COMMA, T.AND)
    if begins_chain(cursor):
        cursor.place = start
        return True
    if not begins_phrase(cursor):
        cursor.place = start
        return False
    phrase = stitch_phrase(cursor)
    placed = any(token.kind in (T.NEXT, T.EACH, T.IN) for token in cursor.tokens[start : cursor.place])
    placed = placed or cursor.at(T.TO)  # "... and ss to first dc"
    cursor.place = start
    act = last_act(phrase[0]) if phrase else None
    return act is not None and act.into is Into.STITCH and not placed


def _from_hook(cursor: Cursor, nth: int) -> list[Item]:
    """ "Starting in 2nd ch from hook, sc in next 6 ch": what follows begins in that chain."""
    phrase = stitch_phrase(cursor)
    first = phrase[0] if phrase else None
    if not isinstance(first, Some):
        return phrase
    hooked = replace(first.act, into=Into.CHAIN, from_hook=nth)
    if isinstance(first.times, ToEnd):
        return [Some(hooked), replace(first, act=replace(first.act, into=Into.CHAIN)), *phrase[1:]]
    if first.times.count == 1:
        return [replace(first, act=hooked), *phrase[1:]]
    onward = replace(first.act, into=Into.CHAIN)
    return [Some(hooked), Some(onward, Exactly(first.times.count - 1)), *phrase[1:]]
