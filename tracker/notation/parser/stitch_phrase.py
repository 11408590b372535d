"""Stitch phrases: how many of what, and where: "2 sc in each of next 3 sts", "dec over next 2 sts", "sk 2"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import (
    SLIP_STITCH,
    Choice,
    ChoiceKind,
    Exactly,
    Group,
    Instruction,
    Into,
    Item,
    Loop,
    Made,
    Option,
    Role,
    Some,
    Spread,
    Technique,
    ToEnd,
)
from tracker.notation.glossary import stitch_words
from tracker.notation.instructions import (
    CORNER,
    CORNER_SPACE,
    EACH_SIDE,
    MAIN,
    Head,
    decrease,
    increase,
    of_kind,
    skipping,
    stitch,
    together,
)
from tracker.notation.parser import quantity as counts
from tracker.notation.parser.distribution import (
    TALL_GROUP,
    Amount,
    is_one_place,
    is_unshared,
    oftener,
    or_all_in_one,
    spread,
)
from tracker.notation.parser.place import begins_place, loop_behind, place
from tracker.notation.parser.quantity import EDGES, IN_THIS_ROUND, extent, how_many_times, often_in_place
from tracker.notation.parser.remark import aside_before_place
from tracker.notation.parser.stitch_head import head, is_head
from tracker.notation.parser.worked_into import (
    RING,
    Where,
    at_the_foot,
    base,
    begins_part,
    further_part,
    of_part,
    takes_all_layers,
    takes_part,
)
from tracker.notation.token_kinds import HEADS, LEADS, MADE, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_BARE_COUNT = PhrasePattern(
    "NUMBER (MORE* (?= [IN EACH] [COLOURED NEXT ORDINAL LAST SAME EACH NOUN STITCH RING])"
    " | (?= IN CENTRE [NOUN STITCH] OF EACH CORNER))"
)  # "sc in next 3 sts, 2 in next st"

_CHAIN = PhrasePattern("NUMBER? CHAIN")  # "3 ch, ch 3"

_LENGTH_OF = PhrasePattern("OF (?= NUMBER)")
""" "chain of 3" """

_MULTIPLE = PhrasePattern(
    "NEXT? (?= WORD) MULTIPLE_WORD OF NUMBER NOUN* ([PLUS AND] NUMBER NOUN*)? (IN [BASE NOUN WORD]+)?"
)
""" "ch a multiple of 6 + 2" """

_EXAMPLE_LENGTH = PhrasePattern("[OPEN COMMA DASH] [WORD COLON AS IN CHAIN EQUALS WORK]* NUMBER NOUN* CLOSE?")
""" "ch a multiple of 6 + 2 (sample: 38)": the length that is made"""

_LENGTH_BEHIND = PhrasePattern("NUMBER (?! TIMES)")
""" "ch 3", but "ch 3 times" """

_IN_OTHERS = PhrasePattern("IN OTHER (?! [NOUN STITCH])")
""" "sc in others": said again of what was told already"""

_TIMES_BEFORE_PLACE = PhrasePattern("NUMBER TIMES (?= [IN NEXT SAME])")
""" "sc 3 times in next st" """

_THE_REST = PhrasePattern("REMAINING (?= [COMMA DOT CLOSE] | $)")
""" "inc, sc in next 3 sts, hdc remaining" """

_IN_LETTERS = PhrasePattern("IN (?= WORD) RING_LETTERS")
""" "6 sc in MC" """

_OTHER_SIDE_OF_CHAIN = PhrasePattern("[IN AROUND] SIDE [OF EACH]* (?= NUMBER)")
""" "sc in other side of 8 ch", "sc in underside of each of the 2 ch" """

_EACH_SIDE = PhrasePattern(
    "[EVENLY SPACE]* [IN AROUND OVER]* EACH (OF NUMBER? | NUMBER)? WORD? (?= WORD) SIDES (?! BASES)"
)
""" "33 sc along each side", "20 sc on each of 4 sides" """

_ONE_SIDE = PhrasePattern(
    "[EVENLY SPACE]* [IN AROUND]* [SAME OTHER LAST NEXT ORDINAL LEFT CENTRE]* ((?= WORD) LEFT_OR_RIGHT)?"
    " ((?= WORD) PARTS)+ (?= STOPS | AND | WITH | $)"
)
""" "28 sc down side", "14 sc up right front edge", "36 sc across back" """

_EACH_ALONE = PhrasePattern("EACH (?= STOPS | $)")
""" "48 sc each" """
_BEFORE_A_STITCH = (T.NUMBER, T.LOOP, T.BEGINNING, T.ORDINAL, T.MORE, T.OPEN)


def begins_phrase(cursor: Cursor) -> bool:
    """Whether a stitch phrase starts here (a count, a loop and a beginning word may come first)."""
    ahead = 0
    while cursor.peek(ahead) in _BEFORE_A_STITCH:
        if cursor.peek(ahead) is T.OPEN:  # other sizes behind a number
            if ahead == 0 or cursor.peek(ahead - 1) is not T.NUMBER:
                return False
            ahead = cursor.closing(cursor.place + ahead) - cursor.place
        ahead += 1
    if cursor.peek(ahead) is T.OF:
        ahead += 1
    return _is_bare_count(cursor, ahead) or is_head(cursor, ahead)


def _is_bare_count(cursor: Cursor, ahead: int) -> bool:
    """ "2 in next st": a count and a place, so that the stitch of the line is meant."""
    return 0 < ahead == cursor.length(_BARE_COUNT)


@dataclass(frozen=True, slots=True)
class _Named:
    """The first half of a stitch phrase: what is made, before it is told where."""

    head: Head
    count: int | None
    loop: Loop
    first: int
    """The number of the word that the phrase begins with."""
    behind: bool = False
    often: int = 1

    def act(self, cursor: Cursor, into: Into = Into.STITCH) -> Instruction:
        span = cursor.span(self.first)
        return self.head.act(self.loop, span, into)


_BEFORE_A_PART = (T.IN, T.AROUND, T.OVER, T.EVENLY)


def stitch_phrase(cursor: Cursor) -> list[Item]:
    """PHRASE := TWO WORDS | CHANGE OF ONE | NAMED (each side | PART | OTHER SIDE | [PLACE] [loop] [TIMES])"""
    first = cursor.place
    count = counts.count(cursor)
    if _is_two_words(cursor, count):
        return _two_words(cursor, first, count or 1)
    if count is None and cursor.begins(_CHANGE_OF_ONE) and cursor.token(1).number == 1:
        return _change_of_one(cursor, first)
    named = _named(cursor, first, count)
    if named.count is not None and (words := cursor.take_phrase(_EACH_SIDE)):
        sides = next((word.number for word in words if word.kind is T.NUMBER), 1)
        onto = "" if sides > 1 else EACH_SIDE
        return [Some(replace(named.act(cursor, Into.PART), onto=onto), Exactly(named.count * sides))]
    if named.count is not None and (_takes_side(cursor) or further_part(cursor)):
        return [Some(named.act(cursor, Into.PART), Exactly(named.count))]
    if named.count is not None and cursor.at(*_BEFORE_A_PART) and (takes_part(cursor) or _takes_edge(cursor)):
        return [Some(named.act(cursor, Into.PART), Exactly(named.count))]
    if cursor.take_phrase(_IN_OTHERS):
        return []
    if cursor.take_phrase(_OTHER_SIDE_OF_CHAIN):
        return _other_side(cursor, named)
    return _with_place(cursor, named)


def _takes_side(cursor: Cursor) -> bool:
    """SIDE: "28 sc down side" """
    goes_down_side = bool(cursor.take_phrase(_ONE_SIDE))
    cursor.on_parts = cursor.on_parts or goes_down_side
    return goes_down_side


def _takes_edge(cursor: Cursor) -> bool:
    """evenly PART: "32 sc evenly along the edge" """
    start = cursor.place
    if cursor.accept(T.EVENLY) and takes_part(cursor):
        return True
    cursor.place = start
    return False


def _named(cursor: Cursor, first: int, count: int | None) -> _Named:
    """NAMED := [n] [loop] HEAD [st] [n] [loop] [twice]"""
    loop = _loop(cursor) or cursor.loop
    if count is None:
        count = counts.count(cursor)
    cursor.skip(T.BEGINNING, T.MORE, T.OF, T.ORDINAL)
    stitch_head, count = head(cursor, count)
    if stitch_head.single:
        cursor.skip(T.NOUN)
    behind = count is None
    if count is None:
        count = _count_behind(cursor)
    if stitch_head.loop is not Loop.BOTH:
        loop = stitch_head.loop
    loop = loop_behind(cursor) or loop
    aside_before_place(cursor)
    takes_all_layers(cursor)
    often = how_many_times(cursor) if cursor.begins(_TIMES_BEFORE_PLACE) else often_in_place(cursor)
    if stitch_head.single and count is None and often > 1:
        count, often = often, 1  # "sc twice in each st" is 2 sc in each
    return _Named(stitch_head, count, loop, first, behind, often)


def _with_place(cursor: Cursor, named: _Named) -> list[Item]:
    """[PLACE [tog] | even [EXTENT]] [loop] [TIMES], behind what is made"""
    if (named.count or 0) >= TALL_GROUP:
        cursor.take_phrase(_EACH_ALONE)
    if named.head.technique in (Technique.INCREASE, Technique.DECREASE) and cursor.begins(_AT_ONE_END):
        return _at_one_end(cursor, named)
    if named.head.technique in (Technique.INCREASE, Technique.DECREASE) and cursor.begins(_AT_PLACES):
        number = cursor.take_phrase(_AT_PLACES)[1].number
        return [Some(replace(named.act(cursor), spread=Spread.EVENLY), Exactly(number))]
    where = _where(cursor)
    if where is None and named.head.name == CORNER and any(made.is_chain for made in named.head.makes):
        where = Where(Exactly(1), Into.SPACE, onto=CORNER_SPACE)  # the pattern calls so what goes around its chain
    even = where is None and bool(cursor.accept(T.EVEN))
    if even:
        extent(cursor)
    if where is not None and where.loop is not Loop.BOTH:
        named = replace(named, loop=where.loop)
    if where is not None and cursor.accept(T.TOG):
        over = where.bases.count if isinstance(where.bases, Exactly) else 2
        named = replace(named, head=together(named.head.makes[0].kind, max(over, 2)))
        where = Where(Exactly(1), has_number=True, loop=where.loop)
    loop = loop_behind(cursor)
    named = replace(named, loop=loop) if loop else named
    often = named.often * how_many_times(cursor)
    if often > 1 and where is None and _goes_all_round(cursor):
        named, often = replace(named, count=(named.count or 1) * often), 1
        where = Where(ToEnd())
    evenly = bool(cursor.accept(T.EVENLY)) or says_evenly(cursor, named.first)
    act = named.act(cursor)
    if even:
        items: list[Item] = [Some(act, Exactly(named.count) if named.count and named.count > 1 else ToEnd())]
    else:
        words = cursor.words(named.first)
        amount = Amount(act, named.count, named.head.single, words, named.behind, evenly)
        if where is not None and is_unshared(amount, where):
            message = f"'{words}' does not tell where each of the {amount.count} goes"
            raise cursor.fail("share-unclear", message, act.span, "write what goes into each of them")
        items = spread(amount, where)
        if where is not None and named.head.technique is Technique.TOGETHER and is_one_place(where):
            items = or_all_in_one(items, act, words)
    return oftener(items, often, where, cursor.words(named.first) * (named.often == 1)) if often > 1 else items


_AT_PLACES = PhrasePattern("IN NUMBER (?= [WORD NOUN]) POINTS")
""" "increase at 6 places" """

_AT_ONE_END = PhrasePattern(
    "IN (BEGINNING | (?= WORK) START_WORD) OF [SAME NEXT EACH]* ROUND"
    " | IN ((?= AROUND) ITS_END | END [SAME NEXT EACH]* ROUND)"
)
""" "inc 1 st at beginning of row", "dec at end of row" """


def _at_one_end(cursor: Cursor, named: _Named) -> list[Item]:
    """CHANGE at (beginning | end) of row: plain stitches are on its other side"""
    words = cursor.take_phrase(_AT_ONE_END)
    act = named.act(cursor)
    plain = stitch(act.makes[0].kind).act(named.loop, act.span)
    change = Some(act, Exactly(named.count or 1))
    if words[1].kind in (T.END, T.AROUND):
        return [Some(plain, ToEnd(act.takes * (named.count or 1))), change]
    return [change, Some(plain, ToEnd())]


def says_evenly(cursor: Cursor, first: int) -> bool:
    """Whether the words from number `first` on say that stitches are spread evenly."""
    return any(token.text.startswith("evenly") for token in cursor.tokens[first : cursor.place])


def _goes_all_round(cursor: Cursor) -> bool:
    """[evenly] (around | in this rnd), behind a number of times; taken if it stands here"""
    start = cursor.place
    cursor.accept(T.EVENLY)
    if cursor.take_phrase(IN_THIS_ROUND):
        return True
    return cursor.accept(T.AROUND) is not None or cursor.place > start


_THESE_ALONE = PhrasePattern("(?<= [INC STITCH]) ORDINAL ([COMMA AND]+ ORDINAL)* NOUN")
""" "inc 1st and 5th st", "double the 1st st" """


def _where(cursor: Cursor) -> Where | None:
    """PLACE := in MC | there | PLACE | [evenly] EXTENT | remaining; None if none stands here"""
    if _is_ring_in_letters(cursor):
        cursor.place += 2
        return RING
    if cursor.accept(T.IN_THERE):
        return Where(Exactly(1))
    begins = begins_place(cursor) or cursor.at(T.RING, T.TOP) or cursor.begins(_THESE_ALONE)
    if begins and not begins_part(cursor):
        return place(cursor)
    cursor.accept(T.EVENLY)
    first = cursor.place
    if of_part(cursor):
        return Where(ToEnd(), Into.PART)
    far = extent(cursor)
    if far is not None:
        edge = any(token.text in EDGES for token in cursor.tokens[first : cursor.place])
        return Where(far, Into.PART if edge else Into.STITCH)
    if cursor.take_phrase(_THE_REST):
        return Where(ToEnd(), each=True)
    return None


def _is_ring_in_letters(cursor: Cursor) -> bool:
    """ "in MC" is the magic circle in a round that starts there, unless the pattern has a yarn of that name."""
    if not cursor.begins(_IN_LETTERS):
        return False
    goes_round = any(token.kind in (T.EACH, T.NEXT, T.AROUND, T.REPEAT) for token in cursor.tokens)
    return cursor.token(1).text not in cursor.context.colours and not goes_round


def _loop(cursor: Cursor) -> Loop | None:
    token = cursor.accept(T.LOOP)
    return token.loop if token else None


def _count_behind(cursor: Cursor) -> int | None:
    """ "sc 5": a number behind the stitch that does not belong to what follows."""
    if not cursor.at(T.NUMBER):
        return None
    after = cursor.peek(1)
    if cursor.token().glued and cursor.token(-1).text.isalpha() and after not in (T.TOG, T.TIMES):
        return counts.count(cursor)
    if after is T.MORE and cursor.peek(2) in (T.AROUND, T.COMMA, T.IN, T.NOUN, None):
        number = counts.count(cursor)  # "sc 8 more around the leg"
        cursor.skip(T.MORE, T.NOUN)
        return number
    if after in (T.TIMES, T.MORE, T.TOG, T.RING) or (after in MADE and not _numbers_stand_behind(cursor)):
        return None
    number = counts.count(cursor)
    cursor.skip(T.NOUN)
    return number


def _numbers_stand_behind(cursor: Cursor) -> bool:
    """Whether this is a line such as "sc 2 inc sc 2 inc", without commas."""
    kinds = [token.kind for token in cursor.tokens]
    return kinds[0] in HEADS and kinds[1:2] == [T.NUMBER] and kinds[-1] is not T.NUMBER and T.COMMA not in kinds


def _other_side(cursor: Cursor, named: _Named) -> list[Item]:
    """OTHER SIDE := in other side [of] n [ch]: a stitch into each of them, from below"""
    number = cursor.number()
    cursor.skip(T.CHAIN, T.NOUN)
    return [Some(named.act(cursor, Into.PART), Exactly(number))]


def _is_two_words(cursor: Cursor, count: int | None) -> bool:
    """ "8 sc dec", or "sc inc" in a row of stitches that no comma parts, or that is worked several times."""
    if not cursor.at(T.INC, T.DEC):
        return False
    if cursor.token().text.rpartition(" ")[0] not in stitch_words(cursor.context.terms):
        return False
    if count is not None:
        return count > 1
    before, after = (cursor.peek(-1) if cursor.place else None), cursor.peek(1)
    if any(kind in (T.STITCH, T.INC, T.DEC) for kind in (before, after)):
        return True
    return after in {T.OPEN: (T.CLOSE,), T.MARK: (T.MARK, T.SEMI, T.REPEAT), None: (T.MARK, T.TIMES)}.get(before, ())


def _two_words(cursor: Cursor, first: int, count: int) -> list[Item]:
    """TWO WORDS := n stitch (inc | dec): eight decreases in sc, or eight sc and a decrease"""
    token = cursor.take()
    kind = str(token.value or MAIN)
    span = cursor.span(first)
    change_head = increase(kind) if token.kind is T.INC else decrease(kind)
    change, plain = change_head.act(cursor.loop, span), stitch(kind).act(cursor.loop, span)
    words = f"{count} {token.text}" if count > 1 else token.text
    as_two = f"read '{words}' as {count} {kind} and one {change_head.name}"
    apart = Option((Some(plain, Exactly(count)), Some(change)), as_two)
    as_one = Option((Some(change, Exactly(count)),), f"read '{words}' as {count} {change_head.name}")
    if first and cursor.tokens[first - 1].kind is T.STITCH:
        return [Choice(ChoiceKind.COUNT, (apart, replace(as_one, rescue=True)), words)]
    return [Choice(ChoiceKind.COUNT, (as_one, apart if count > 1 else replace(apart, rescue=True)), words)]


_CHANGE_OF_ONE = PhrasePattern("[INC DEC] NUMBER STITCH (?= STOPS | REPEAT | MARK | $)")
""" "sc in next 3 sc, dec 1 sc", "inc 1 sc, 2 sc" """


def _change_of_one(cursor: Cursor, first: int) -> list[Item]:
    """CHANGE OF ONE := (inc | dec) 1 stitch: one change where the line says where each stitch goes, as it would of a
    plain one too; else most likely a change and a stitch behind it"""
    change, _, named = cursor.take_phrase(_CHANGE_OF_ONE)
    span, words = cursor.span(first), cursor.words(first)
    changing = increase if change.kind is T.INC else decrease
    once = Some(changing(str(change.value or named.name)).act(cursor.loop, span))
    behind = Some(stitch(named.name).act(cursor.loop, span))
    one = Option((once,), f"read '{words}' as one {change.text}")
    two = Option((once, behind), f"read '{words}' as {change.text} and a stitch behind it")
    is_placed = any(token.kind in LEADS for token in cursor.tokens[:first])
    options = (one, two) if is_placed else (two, replace(one, rescue=True))
    return [Choice(ChoiceKind.COUNT, options, words)]


def skip_phrase(cursor: Cursor) -> list[Item]:
    """SKIP := sk [over] (n [next] [BASE] | PLACE | [next] [BASE])"""
    first = cursor.place
    cursor.take()
    cursor.skip(T.OVER, T.OTHER)
    number = counts.count(cursor)
    if number is None and (begins_place(cursor) or cursor.at(T.ORDINAL, T.LAST)):
        where = place(cursor)
        times = where.bases
    else:
        cursor.skip(T.NEXT)
        times = Exactly(number or 1)
        where = base(cursor, Exactly(1)) or Where(Exactly(1))
        cursor.take_phrase(_OF_BASE)
        if _is_beside_own_chain(cursor) and takes_part(cursor):
            return [Some(replace(skipping(cursor.span(first)), takes=0, into=Into.PART), times)]
    if where.every > 1:
        return [_skipping_every(where, cursor.span(first))]
    over_first = where.first or at_the_foot(cursor)
    act = replace(skipping(cursor.span(first)), into=where.into, onto=where.onto, over_first=over_first)
    if where.onto == of_kind(SLIP_STITCH):
        why = "read the slip stitches that are passed over as none of those that are there"
        beside = Option((), why, rescue=True)
        return [Choice(ChoiceKind.COUNT, (Option((Some(act, times),)), beside), cursor.words(first))]
    return [Some(act, times)]


_OF_BASE = PhrasePattern("OF (BASE | [NEXT SAME LAST]* (BUNCH | STITCH? (?= WORD) A_GROUP))")
""" "skip 1 st of base", of the round below in translated patterns; "skip 1 dc of next group" """


def _is_beside_own_chain(cursor: Cursor) -> bool:
    """ "ch 9, sc in 2nd ch from hook ..., skip 2 sts on body": what is worked along its own chain lies on a part"""
    return (
        cursor.at(T.IN) and cursor.token().text == "on" and T.HOOK in {t.kind for t in cursor.tokens[: cursor.place]}
    )


def _skipping_every(where: Where, span: Span) -> Item:
    """ "skip every 5th st": plain stitches into the others"""
    plain = stitch(MAIN).act(where.loop, span)
    passed_over = Some(skipping(span))
    return Group((Some(plain, Exactly(where.every - 1)), passed_over), ToEnd(), span)


def begins_chain(cursor: Cursor, ahead: int = 0) -> bool:
    """Whether a chain stands `ahead` words on, with or without its length before it."""
    return cursor.begins(_CHAIN, cursor.place + ahead)


def chain_phrase(cursor: Cursor) -> list[Item]:
    """CHAIN := (ch [of] [n] | n ch) [st] (over PLACE | [TIMES])"""
    first = cursor.place
    number = counts.count(cursor)
    cursor.take()
    if number is None and cursor.take_phrase(_MULTIPLE):
        return _length_of_sample(cursor, first)
    cursor.take_phrase(_LENGTH_OF)
    if number is None and cursor.begins(_LENGTH_BEHIND):
        number = counts.length(cursor)
    cursor.skip(T.NOUN)
    if cursor.at(T.OVER) and begins_place(cursor):
        where = place(cursor)
        made = _chain_of(cursor, number or 1, first)
        if where.into is Into.SPACE:
            return [Some(replace(made, takes=1, into=Into.SPACE, onto=where.onto), where.bases)]
        return [Some(made), Some(skipping(made.span), where.bases)]
    return [Some(_chain_of(cursor, number or 1, first), Exactly(how_many_times(cursor)))]


def _chain_of(cursor: Cursor, length: int, first: int) -> Instruction:
    made = Made("ch", length)
    span = cursor.span(first)
    return Instruction("ch", Role.CHAIN, (made,), into=Into.NOTHING, technique=Technique.CHAIN, span=span)


def _length_of_sample(cursor: Cursor, first: int) -> list[Item]:
    """[(sample: n)], behind "ch a multiple of m": nothing where the maker is to choose"""
    words = cursor.take_phrase(_EXAMPLE_LENGTH)
    cursor.remarks.append(cursor.words(first))
    length = next((word.number for word in words if word.kind is T.NUMBER), 0)
    return [Some(_chain_of(cursor, length, first))] if length else []
