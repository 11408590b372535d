"""Joining a round: "join with sl st to first sc", "join B in any st", "join with sc in same st"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import (
    NEXT_YARN,
    SLIP_STITCH,
    Colour,
    Exactly,
    Instruction,
    Into,
    Item,
    Loop,
    Made,
    Role,
    SlipUse,
    Some,
    Technique,
    ToEnd,
)
from tracker.notation.glossary import BY_ID
from tracker.notation.instructions import KIND, closing_chain, joining, last_act, skipping, stitch
from tracker.notation.parser.colour import joined_there, yarn_name, yarn_place
from tracker.notation.parser.place import begins_place, loop_behind, place
from tracker.notation.parser.quantity import extent, sizes
from tracker.notation.parser.remark import bracket_remark
from tracker.notation.parser.worked_into import Where, takes_all_layers
from tracker.notation.token_kinds import MADE, PAUSES, STOPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token

_FOR_A_SPACE = PhrasePattern("TO (?! MADE) | (?= IN) FOR | AS")
""" "... to form the last loop", "... for last ch-5 sp" """

_JOINED = PhrasePattern("STOPS | [OPEN MARK REPEAT AND THEN] | (?<! CHAIN | OF) NUMBER MADE | $")
""" "join to first st 6 sc", but "join to top of ch 3 sc" goes on"""


_ANOTHER = PhrasePattern("([NEXT OTHER] | (?= WORD) NEW_WORD) COLOURED")
""" "join next colour" """

BY_A_SPACE = PhrasePattern(
    "(JOIN WITH)? NUMBER? CHAIN NUMBER? NOUN? [PLUS AND COMMA THEN]*"
    " (SKIP LAST? NUMBER? [NOUN STITCH] [COMMA AND THEN]*)? (JOIN WITH)? NUMBER? STITCH (?= [IN TO])"
)
""" "join with ch 2 + 1 dc into first sc", "ch 2, sk 1, dc in first sc to form the last loop" """


_LAST_CHAIN = PhrasePattern("JOIN LAST (CHAIN NUMBER | NUMBER CHAIN) SPACE? (?= TO | IN)")
""" "*ch 7, sc in next sp; rep from * around, join last ch 7 to first sc": said of a chain that nothing told of yet"""


def join(cursor: Cursor, items: list[Item], until: int) -> None:
    """JOIN := join { with | COLOUR | STANDING | other words }; a standing stitch is one of the round"""
    first = cursor.place
    if takes_joining_space(cursor, items, until):
        return
    if cursor.begins(_LAST_CHAIN) and items and not _ends_in_chain(items[-1]):
        length = next(token.number for token in cursor.tokens[first:] if token.kind is T.NUMBER)
        items.append(Some(_last_space(length, cursor.span(first))))
    ring, standing = "ring" in cursor.take().text.split(), ""
    colours: list[Item] = []
    where: Where | None = None
    while not cursor.begins(_JOINED) or _is_one_slip(cursor):
        if cursor.accept(T.WITH):
            continue
        if where is None and (where := yarn_place(cursor, items)) is not None:
            continue
        if cursor.begins(_ANOTHER):
            colours.append(_next_yarn(cursor))
            continue
        if cursor.at(T.COLOURED) or (not colours and _is_key(cursor)):
            colours.extend(yarn_name(cursor))
            continue
        word = cursor.take()
        ring = ring or word.kind is T.RING or "ring" in word.text.split()
        if not standing and word.kind is T.STITCH and word.name != SLIP_STITCH and _is_standing(cursor):
            standing = word.name
    span = cursor.span(first)
    act = stitch(standing).act(Loop.BOTH, span) if standing else joining(span, ring=ring)
    act = joined_there(act, where)
    items.extend((*colours, Some(act)) if standing else (Some(act), *colours))


def takes_joining_space(cursor: Cursor, items: list[Item], until: int) -> bool:
    """[join with] ch n and a stitch into the first one, at the end: a last space, of the chains and the stitch's
    height

    That the stitch stands for as many chains as it is high is common practice, no source.
    """
    first = cursor.place
    words = cursor.take_phrase(BY_A_SPACE)
    several = len(words) > 1 and words[-2].kind is T.NUMBER and words[-2].number > 1 and words[-3].kind is not T.CHAIN
    begun = any(token.kind in MADE for token in cursor.tokens[:first])
    joins = any(word.kind is T.JOIN for word in words)
    if (
        not words
        or (cursor.is_worked_back and not joins)  # it stands on the turning chain of the row below
        or words[-1].name == SLIP_STITCH
        or several
        or not begun
        or not _is_closing(cursor, joins=joins, until=until)
    ):
        cursor.place = first
        return False
    chain = next(index for index, word in enumerate(words) if word.kind is T.CHAIN)
    beside = [word.number for word in words[max(chain - 1, 0) : chain + 2] if word.kind is T.NUMBER]
    length = (beside[0] if beside else 1) + BY_ID[words[-1].name].turning_chain
    span = cursor.span(first)
    items.append(Some(_last_space(length, span)))
    skipped = next((index for index, word in enumerate(words) if word.kind is T.SKIP), None)
    if skipped is not None:
        number = next((word.number for word in words[skipped:-1] if word.kind is T.NUMBER), 1)
        items.append(Some(skipping(span), Exactly(number)))
    items.append(Some(joining(span)))
    return True


def _last_space(length: int, span: Span) -> Instruction:
    made = (Made("ch", length),)
    return Instruction("ch", Role.CHAIN, made, into=Into.NOTHING, technique=Technique.CHAIN, span=span)


def _ends_in_chain(item: Item) -> bool:
    act = last_act(item)
    return act is not None and act.role is Role.CHAIN


def _is_closing(cursor: Cursor, *, joins: bool, until: int) -> bool:
    """Whether the place that follows is the first stitch of the round, or said to be joined to, and ends the line;
    taken, with what is said of the space that it makes."""
    taken_in = cursor.at(T.TO)
    if taken_in:
        cursor.take()
    elif loop_behind(cursor) is not None:
        return False
    where = place(cursor, taken_in=taken_in)
    if not joins and not (where.first or (where.into is Into.CHAIN and where.bases == Exactly(1))):
        return False
    if cursor.take_phrase(_FOR_A_SPACE) or cursor.at(T.OPEN):
        cursor.place = cursor.end_of(PAUSES)
    return until == len(cursor.tokens) and all(token.kind in STOPS for token in cursor.tokens[cursor.place :])


def _is_one_slip(cursor: Cursor) -> bool:
    """ "close by 1 sl st in the 3rd ch": what it is joined with, and no stitch besides"""
    slip = cursor.begins(_ONE_STITCH) and cursor.token(1).value == SLIP_STITCH
    return slip and cursor.token().number == 1


_ONE_STITCH = PhrasePattern("NUMBER STITCH")


def _is_key(cursor: Cursor) -> bool:
    if not cursor.at(T.WORD):
        return False
    text = cursor.token().text
    return len(text) <= 2 or text in cursor.context.colours or cursor.peek(-1) is T.COLOURED


def _next_yarn(cursor: Cursor) -> Colour:
    first = cursor.place
    cursor.take_phrase(_ANOTHER)
    return Colour(NEXT_YARN, cursor.span(first))


def _is_standing(cursor: Cursor) -> bool:
    """STANDING := with [beginning] stitch: the stitch just taken is made in joining"""
    ahead = -2
    while cursor.peek(ahead) in (T.BEGINNING, T.NUMBER, T.FILLER):
        ahead -= 1
    return cursor.peek(ahead) is T.WITH


# Slip stitches: a stitch of the round, the way to another place, the closing of a round, or a knot in a chain.


_WHAT_IT_IS = PhrasePattern("OPEN ORDINAL? STITCH CLOSE (?= TO JOIN)")
""" "sl st in 4th ch (first tr) to join" """

_TO_JOIN = PhrasePattern("[TO AND]? JOIN")
""" "sl st to join", "sl st to close the round", "sl st, join" on one breath"""

_TO_CHAIN = PhrasePattern("TO NUMBER CHAIN (?= STOPS | $)")
""" "ss to 3 ch", the chain that the round began with"""

_ACROSS_TO = PhrasePattern("AROUND (?= TO)")
""" "sl st across to next ch-3 sp" """

_FOR_A_PICOT = PhrasePattern("( TO .. [BUNCH WORD] | ( TO | (?= IN) FOR ) [BUNCH WORD] ) (?= STOPS | $)")
""" "ch 3, sl st in 3rd ch from hook to make picot", "... for picot" """

_TO_A_PLACE = PhrasePattern("TO (?! [LAST NUMBER END])")
""" "sl st to first sc" """

_TO_A_PART = PhrasePattern("[TO IN] [ORDINAL OTHER] (?= WORD) PARTS (?= TO JOIN | STOPS | $)")
""" "ch 2, sl st to the first leg, ...": it holds this piece to another one"""

_BEHIND_A_JOIN = STOPS | {T.OPEN, T.CHAIN, T.NUMBER, T.MARK}


def slip_phrase(cursor: Cursor) -> list[Item]:
    """SLIP := [n] sl st [n] [across] (PLACED [to join] | to join)"""
    first = cursor.place
    count = cursor.number() if cursor.at(T.NUMBER) else None
    cursor.take()
    cursor.skip(T.NOUN)
    if count is None and cursor.at(T.NUMBER) and cursor.peek(1) not in (T.STITCH, T.TIMES, T.CHAIN, T.INC, T.DEC):
        count = sizes(cursor, cursor.number())
        cursor.skip(T.NOUN)
    loop = loop_behind(cursor) or cursor.loop
    takes_all_layers(cursor)
    cursor.take_phrase(_ACROSS_TO)
    if _takes_own_chain(cursor, first):
        cursor.take_phrase(_FOR_A_PICOT)
        return [Some(closing_chain(cursor.span(first)))]
    if cursor.take_phrase(_TO_CHAIN):
        return [Some(joining(cursor.span(first)))]
    if cursor.take_phrase(_TO_A_PART) or cursor.begins(_TO_JOIN):
        return [_join(cursor, first)]
    where = _where(cursor)
    if where is not None and _is_in_first_chain(cursor, first, where):
        where = replace(where, from_hook=0)
    if where is not None and (where.from_hook or where.just_made):
        cursor.take_phrase(_FOR_A_PICOT)
    if where is not None and where.just_made:
        made = Instruction(
            "sl st in st made", Role.STEP, into=Into.NOTHING, technique=Technique.OTHER, span=cursor.span(first)
        )
        return [Some(made)]
    if where is not None and cursor.begins(_WHAT_IT_IS):
        bracket_remark(cursor, [])
    if cursor.begins(_TO_JOIN) and (where is None or not isinstance(where.bases, ToEnd)):
        return [_join(cursor, first)]
    act = Instruction(SLIP_STITCH, Role.WORK, (Made(SLIP_STITCH),), 1, loop=loop, span=cursor.span(first))
    if where is None:
        return [Some(replace(act, slip_use=None if count else SlipUse.NOTHING_NAMED), Exactly(count or 1))]
    if where.into is Into.PART:
        return [Some(joining(cursor.span(first)))]  # it holds this piece to the other one and is no stitch of it
    return [_placed(act, where, count)]


def _is_in_first_chain(cursor: Cursor, first: int, where: Where) -> bool:
    """Whether "ss to 3rd ch" is no chain of those right before it, as there are not so many, or no more and it goes
    to that one and not into it, but of those that the round began with: "2ch, ss to 3rd ch"."""
    kinds = {token.kind for token in cursor.tokens[first : cursor.place]}
    before = _behind_chain(cursor, first)
    if not where.from_hook or T.HOOK in kinds or len(before) <= len(_A_CHAIN):
        return False
    longest = where.from_hook - (T.TO not in kinds)
    return any(word.kind is T.NUMBER and word.number <= longest for word in before[-len(_A_CHAIN) :])


_A_CHAIN = (T.CHAIN, T.NUMBER)
"""Words of a chain, in this order or the other."""


def _behind_chain(cursor: Cursor, first: int) -> list[Token]:
    """The words up to a chain right before word `first`; none if no chain stands there."""
    before = cursor.tokens[:first]
    while before and before[-1].kind in (T.COMMA, T.AND, T.THEN):
        before.pop()
    kinds = tuple(token.kind for token in before[-len(_A_CHAIN) :])
    return before if kinds in (_A_CHAIN, _A_CHAIN[::-1]) else []


_FIRST_OF_CHAIN = PhrasePattern(
    "[IN TO] ORDINAL (CHAIN (OF (CHAIN NUMBER | NUMBER CHAIN))? | OF NOUN? NUMBER? CHAIN NUMBER?) [WORK TOTAL]*"
)
""" "ch 3, sl st in first ch", "3 ch, ss in first of these 3 ch" """

_LAST_MADE = PhrasePattern("[IN TO] (TOP OF? LAST STITCH | LAST STITCH | BASE CHAIN) [WORK TOTAL]*")
""" "*3 sc, ch 3, sl st in last sc; rep from * around": in a group it is no last stitch of a round"""


def _takes_own_chain(cursor: Cursor, first: int) -> bool:
    """FIRST OF CHAIN | LAST MADE, behind a chain made in the middle of a round: the picot is closed, and the round
    goes on"""
    before = [token.kind for token in _behind_chain(cursor, first)]
    if not before:
        return False
    if cursor.depth and cursor.take_phrase(_LAST_MADE):
        return True
    if not cursor.begins(_FIRST_OF_CHAIN):
        return False
    start, words = cursor.place, cursor.take_phrase(_FIRST_OF_CHAIN)
    goes_on = cursor.depth > 0 or not MADE.isdisjoint(token.kind for token in cursor.tokens[cursor.place :])
    if words[1].number == 1 and goes_on and not MADE.isdisjoint(before[:-2]):
        return True
    cursor.place = start
    return False


def _placed(act: Instruction, where: Where, count: int | None) -> Item:
    """The slip stitch in its place; `slip_use` is what tells later whether it only closes the round."""
    if where.loop is not Loop.BOTH:
        act = replace(act, loop=where.loop)
    if where.from_hook:
        return Some(replace(act, into=Into.CHAIN, from_hook=where.from_hook), where.bases)
    if where.same:
        same_space = where.into is Into.SPACE
        return Some(replace(act, takes=0, into=Into.SAME, same_space=same_space), Exactly(count or 1))
    is_named = where.into in (Into.SPACE, Into.BETWEEN) or where.onto.startswith(KIND)
    act = replace(act, into=where.into, onto=where.onto if is_named else "")
    if isinstance(where.bases, ToEnd):
        return Some(act, where.bases)
    times = max(where.bases.count, count or 1)
    into_first = times == 1 and (where.first or where.into is Into.CHAIN)
    return Some(replace(act, slip_use=SlipUse.INTO_FIRST) if into_first else act, Exactly(times))


def _where(cursor: Cursor) -> Where | None:
    """PLACED := to PLACE | PLACE | EXTENT; None if none stands here"""
    if cursor.take_phrase(_TO_A_PLACE):
        return place(cursor, taken_in=True)
    if begins_place(cursor) or cursor.at(T.RING, T.TOP):
        return place(cursor)
    far = extent(cursor)
    return Where(far) if far is not None else None


def _join(cursor: Cursor, first: int) -> Item:
    """to join ..., up to the end of the clause or the next stitches"""
    cursor.place = cursor.end_of(_BEHIND_A_JOIN)
    words = cursor.tokens[first : cursor.place]
    ring = any(token.kind is T.RING or "ring" in token.text for token in words)
    return Some(joining(cursor.span(first), ring=ring))
