"""Where stitches go: "in next 5 sts", "in each ch-3 sp around", "in 2nd ch from hook", "to last 2 sts"."""

from __future__ import annotations

from collections.abc import Callable

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Into, Loop, ToEnd
from tracker.notation.instructions import IN_THE_MIDDLE, KIND, SKIPPED
from tracker.notation.parser.bases_besides import is_one_space, with_bases_besides
from tracker.notation.parser.middle_place import middle_of_several
from tracker.notation.parser.place_owner import as_what, of_round, of_what
from tracker.notation.parser.quantity import extent, sizes
from tracker.notation.parser.worked_into import (
    BOTH_ENDS,
    OF_PETAL,
    OF_SPACE,
    OVER_A_THING,
    RING,
    UNDER_CHAINS,
    Where,
    at_the_foot,
    base,
    between,
    further_part,
    of_bunch,
    of_chain,
    of_part,
    of_space,
    skipped,
    takes_both_ends,
    under_chains,
)
from tracker.notation.token_kinds import BASES, ENDS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_PLACE = PhrasePattern(
    """
      (?= WORD) BACK_WORD (NUMBER CHAIN | [IN OVER]? [EACH ALL] CHAIN?)
    | ALL (?! [COLOURED IN])
    | (?= IN WORD) (?! FOR BOTH LIMBS) IN (?= [PASSED_OVER BOTH] | SIDES [CHAIN NUMBER]* SPACE)
    | (?! IN ( NEXT? NUMBER ROUND | NUMBER TIMES | LAST LAST_LOOP |
        [SIDE COLOURED WORD ONGOING AGAIN] | $ ) | ALL ) LEADS
    | FROM ORDINAL CHAIN ( HOOK | IN A_HOOK | STOPS | $ )
    | LOOP ( [OF NEXT EACH] | IN LEADS )
    | [LAST ORDINAL] NUMBER? BASES
    | ROUND [NOUN NEXT] | (?<= POSTED) [ROUND AROUND] [STITCH POSTED LAST ORDINAL]
    | IN_ALL ( NUMBER? BASES | OTHER ) | (?<= HEADS) (?<! NUMBER HEADS) IN_ALL NUMBER (STOPS | $)
    | [OVER AROUND] WORD* ((?= WORD) THINGS | RING)
    | AROUND ( NUMBER? (?= [WORD SKIP]) PASSED_OVER | NUMBER BASES | [NOUN NEXT EACH SAME]
      | [CHAIN NUMBER]* SPACE | STITCH OF )
    """
)
"""Where a place begins: "sl st back down 4 ch", "in all sts" but not "all red", "in both loops", "in next st" but not
"in next 4 rounds", "for 6 times", "for both arms", "in edge ch-sp", "in red" or "in other side",
"back loop of next st", "last 2 sts", "round next st", "dc in all 6 sts", "dc in all 6", "around next dc"."""

_BACK_ALONG_CHAIN = PhrasePattern("(?= WORD) BACK_WORD (NUMBER CHAIN NOUN? | [IN OVER]? [EACH ALL] CHAIN?)")
""" "ch 5, sl st back down 4 ch", "sl st back in each ch": over the chains just made, from the second one on"""

LOOP_ALONE = PhrasePattern(
    "[IN BEHIND FROM] LOOP ( OF? [NOUN SPACE] (?= STOPS | $) | (?= (?= IN) FOR WORD) | (?! [OF NEXT EACH IN]) )"
)
_FOR_WHAT = PhrasePattern("(?= IN) FOR WORD+ (?= STOPS | $)")
_OF_ALL_LAYERS = PhrasePattern("OF BOTH_OR_ALL LAYERS")
""" "sc in back loops only", "sc in front loops only for the trunk", "sc behind the back thread of stitch",
"sc behind the back wall", "sc for the back wall of the loop", "sc through both loops of both pieces in each st" """

_ENDS_OF_ROWS = PhrasePattern(
    "IN (END OF? [EACH ALL] OF? SAME* NUMBER WORD? ROUND (OF WORD (?= STOPS | $))? | EACH OF? SAME* NUMBER ROUND END)"
)
""" "sc in the end of each of the 32 rows", "sc in each of the 32 row ends" """

_STANDS_IN = PhrasePattern("IN [LOOP SPACE NOUN STITCH] IN (?= STOPS | MARK | $)")
""" "sc in the loop you are in" """

_JUST_MADE = PhrasePattern("( (?= WORK) JUST )? (?= TOTAL) MADE_BEFORE")
""" "sl st in the dc just made" """

_HOW_FORMED = PhrasePattern("((?= WORK) JUST)? FORMED ( [WITH FROM]? NUMBER? CHAIN NUMBER? )?")
""" "10 dc into the ring formed by the chain", "sc in loop just formed", with which the round below ended"""

_ALL_OTHERS = PhrasePattern("(?= OTHER) ALL_THE_OTHERS")
"""All that are left, where "every other" is every second one."""

_EVERY_NTH = PhrasePattern("ORDINAL (?= BASES | AND | [PLUS SLASH] ORDINAL | $)")
""" "2 sc in every 4th st" """

_OF_TURNING_CHAIN = PhrasePattern(
    "OF [SAME LAST FILLER]* ( BEGINNING+ CHAIN? | BEGINNING* CHAIN ) NUMBER? (?! SPACE)"
)
""" "dc in 3rd ch of turning ch", "sl st in 3rd ch of beg ch-6", "sl st in 3rd ch of ch 5" """

_TURNING_CHAIN = PhrasePattern("BEGINNING+ CHAIN (?! [NUMBER SPACE NOUN LOOP])")
""" "3 dc in top of turning ch": the stitch that the chain of the row below stands for"""

_IN_ALL_OF_THEM = PhrasePattern("(?= TOTAL) IN_ALL")
""" "dc in all 6 sts" """

_STILL_THERE = PhrasePattern("SAME? LEFT (?= STOPS | [CLOSE DASH OPEN] | $)")
""" "sc in each of the 13 that are left", "in the 6 sts left", "dc in each dc left" """

_PASSED_OVER_BEFORE = PhrasePattern("PASSED_OVER | LEFT (?= [NOUN STITCH])")
""" "dc in next st, dc in skipped st", "fptr around 2 sk sts", "sc in 4 unworked sts" """

_PASSED_OVER_NOW = PhrasePattern("((?= WORK) JUST)? (?= WORD) PASSED_OVER")
""" "dc in each of the 2 sts just skipped" """

_SEVERAL_AT_CENTRE = PhrasePattern("[CENTRE CORNER] NUMBER BASES")
""" "sc3tog over corner 3 sts": the one at the corner and those beside it"""

_SAME_PLACE = PhrasePattern("(?= WORK) PLACE_WORD")
""" "2 dc in same place" """

_FROM_THE_HOOK = PhrasePattern("([FROM IN]? HOOK | IN A_HOOK) RING?")
""" "sc in 2nd ch from hook", "6 sc in 2nd ch from hook or magic ring" """

_AND_NTH = PhrasePattern("[AND PLUS SLASH] ORDINAL")
""" "dec every 5th and 6th st" """

_LISTED = PhrasePattern("( [COMMA AND] ORDINAL )*")
""" "inc in 3rd, 5th and 7th st" """

_BETWEEN_WHAT = PhrasePattern(
    "(?<= BASES) BETWEEN (?= STOPS | $)"
    " | BETWEEN [NEXT SAME EACH]* NUMBER? (BASES | WORD)+ (?= STOPS | MARK | [OPEN REPEAT AROUND] | $)"
)
""" "sl st in the sl st between two petals", "1 sc in each st between": which one it is"""

_IN_ANY_ST = PhrasePattern("IN (?= NEXT) ANY [NOUN STITCH]")
_IN_NEXT = PhrasePattern("IN NEXT NUMBER")
""" "sc in any st of second leg, sc in next 14 sts": all of them along that leg"""

_IN_A_PART = PhrasePattern("IN (?= WORD) PARTS+ (?= STOPS | $)")
""" "fpdc around sc in star point": which one it is"""

_FROM_BEGINNING = PhrasePattern("FROM BEGINNING (?! OF? ROUND)")
""" "*sc, ch 4, sl st in sc from beg*": where what is repeated began"""

_ROUND_BY_NUMBER = PhrasePattern("ROUND NUMBER")
""" "dc in each front loop of rnd 3" """


def begins_place(cursor: Cursor) -> bool:
    """Whether a place phrase starts here."""
    return cursor.begins(_PLACE)


def loop_behind(cursor: Cursor) -> Loop | None:
    """[in] loop, with no place behind it: "sc blo", "sc in back loops only" """
    if cursor.at(T.LOOP) and not begins_place(cursor):
        return cursor.take().loop
    if words := cursor.take_phrase(LOOP_ALONE):
        _skip_its_round(cursor)
        cursor.remarks.extend(word.text for word in cursor.take_phrase(_FOR_WHAT)[1:])
        return words[1].loop
    return None


def _loop_of(cursor: Cursor) -> Loop:
    """LOOP [of] [rnd n]"""
    loop = cursor.take().loop
    cursor.skip(T.OF)
    _skip_its_round(cursor)
    return loop


def _skip_its_round(cursor: Cursor) -> None:
    if cursor.begins(_ROUND_BY_NUMBER):
        of_round(cursor)


def place(cursor: Cursor, taken_in: bool = False) -> Where:
    """PLACE := [in | around] [LOOP of] WHICH [in BASE] [of ...] [EXTENT]; `taken_in` if "to" stood before it"""
    first = cursor.place
    if cursor.take_phrase(_IN_ALL_OF_THEM):  # it says how many there are in total, but "sc in all sts" where
        if cursor.at(T.OTHER):
            return _each_of_others(cursor)
        return replace(_numbered(cursor) if cursor.at(T.NUMBER) else _all(cursor), each=True)
    if back := cursor.take_phrase(_BACK_ALONG_CHAIN):
        over = next((Exactly(word.number) for word in back if word.kind is T.NUMBER), ToEnd())
        return Where(over, Into.CHAIN, from_hook=2, has_number=over != ToEnd(), each=over == ToEnd())
    if cursor.take_phrase(OVER_A_THING):
        return RING
    if words := cursor.take_phrase(_ENDS_OF_ROWS):
        number = next(word.number for word in words if word.kind is T.NUMBER)
        return Where(Exactly(number), Into.PART, has_number=True, each=True)
    if words := cursor.take_phrase(_STANDS_IN):
        return Where(Exactly(1), Into.STITCH if words[1].kind in (T.NOUN, T.STITCH) else Into.SPACE, same=True)
    if words := cursor.take_phrase(UNDER_CHAINS):
        return _with_further_words(cursor, under_chains(words))
    around_post = bool(cursor.accept(T.AROUND, T.ROUND))
    is_over = cursor.at(T.OVER) and cursor.peek(1) is not T.EACH
    onward = cursor.at(T.FROM)
    taken_in = bool(cursor.accept(T.IN, T.OVER, T.FROM)) or around_post or taken_in
    loop = Loop.BOTH
    if cursor.at(T.BEHIND) and cursor.peek(1) is T.LOOP:
        cursor.take()  # "behind the back loop of each st"
    if cursor.at(T.LOOP):
        loop = cursor.take().loop
        cursor.take_phrase(_OF_ALL_LAYERS)
        cursor.skip(T.OF, T.IN)
    cursor.skip(T.TOTAL)
    where = BOTH_ENDS if takes_both_ends(cursor) else _place_named(cursor, taken_in)
    if where is None:
        raise cursor.fail(
            "no-place",
            f"where does this go? '{cursor.words(first, cursor.place + 1)}' names no stitch, space or ring",
            cursor.span(first, cursor.place + 1),
            "write for example: in next st, in each st around, in next ch-2 sp, in ring",
        )
    loop = where.loop if loop is Loop.BOTH else loop
    where = _with_further_words(cursor, replace(where, over=is_over, onward=onward, loop=loop))
    if cursor.along_part and where.has_number and where.into is Into.STITCH and cursor.begins(_IN_NEXT, first):
        return replace(where, into=Into.PART)
    cursor.along_part = where.into is Into.PART and cursor.begins(_IN_ANY_ST, first)
    if cursor.depth and where.into is Into.SPACE and where.bases == ToEnd():
        return replace(where, bases=Exactly(1))  # in a group that is repeated, "each" is the next one every time
    return where


def _with_further_words(cursor: Cursor, where: Where) -> Where:
    """What stands behind the bases: whose they are, and how far it goes."""
    if at_the_foot(cursor):
        where = replace(where, same=True)
    if (where.bases != Exactly(1) or not cursor.begins(OF_PETAL)) and of_part(cursor):
        where = replace(where, into=Into.PART)
    if where.has_number and further_part(cursor):
        where = replace(where, into=Into.PART)
    cursor.take_phrase(_IN_A_PART)
    if where.into in (Into.RING, Into.SPACE):
        formed = cursor.take_phrase(_HOW_FORMED)
        where = replace(where, same=where.same or (len(formed) > 1 and cursor.depth > 0 and where is not RING))
    where = of_space(cursor, of_bunch(cursor, where))
    if cursor.take_phrase(_FROM_BEGINNING):
        where = replace(where, same=cursor.open_marks > 0, first=not cursor.open_marks)
    of_what(cursor)
    cursor.take_phrase(_BETWEEN_WHAT)
    if cursor.take_phrase(_JUST_MADE) and where.bases == Exactly(1):
        where = replace(where, same=True, just_made=True)
    if where.into is Into.STITCH and cursor.take_phrase(_PASSED_OVER_NOW):
        where = replace(where, same=True, each=True, onto=SKIPPED)
    far = extent(cursor)
    if far is None or (isinstance(where.bases, Exactly) and where.has_number and where.bases.count > 1):
        return where
    return replace(where, bases=far, each=True)


def _place_named(cursor: Cursor, taken_in: bool) -> Where | None:
    """WHICH := BETWEEN | TOP | FOOT | EACH | SAME | NEXT | REMAINING | NTH | n BASE | BASE"""
    cursor.skip(T.WORK)
    if cursor.accept(T.BEHIND):
        return _place_named(cursor, True)
    kind = cursor.peek()
    if cursor.begins(_PASSED_OVER_BEFORE):
        return skipped(cursor, 1)
    if cursor.begins(_SEVERAL_AT_CENTRE):
        return _centre(cursor)
    if kind in _BY_FIRST_WORD:
        return _BY_FIRST_WORD[kind](cursor)
    if kind is T.JOIN and (cursor.peek(1) in BASES or cursor.peek(1) in ENDS):
        cursor.take()
        return replace(_one(cursor), same=True)
    if kind in (T.LAST, T.ORDINAL, T.BEGINNING) or (kind is T.END and cursor.peek(1) in BASES):
        return _nth(cursor)
    if kind is T.NUMBER and not is_one_space(cursor) and (taken_in or cursor.peek(1) in BASES):
        return _numbered(cursor)
    if taken_in:
        cursor.skip(T.OTHER)
        return base(cursor, Exactly(1))
    return None


def _one(cursor: Cursor) -> Where:
    """[BASE]: one, whatever it is called"""
    return base(cursor, Exactly(1)) or Where(Exactly(1))


def _all(cursor: Cursor) -> Where:
    """[BASE]: as many as there are"""
    return base(cursor, ToEnd()) or Where(ToEnd())


_SO_MANY_CHAINS = PhrasePattern("NUMBER CHAIN")
""" "ss to top of 3 ch" """


def _top(cursor: Cursor) -> Where:
    """TOP := top [of] [first | last | same] (n ch | BASE), as of the starting chain; "(fpdc around next st, dc in top
    of same st)" goes into a stitch twice"""
    first = cursor.place
    cursor.take()
    cursor.skip(T.OF, T.ORDINAL, T.LAST, T.NEXT, T.SAME, T.BEGINNING)
    is_same = cursor.peek(-1) is T.SAME and cursor.at(T.STITCH, T.POSTED, T.NOUN) and first > 0
    if cursor.begins(_SO_MANY_CHAINS):
        cursor.take()
    where = replace(_one(cursor), first=not is_same, same=is_same)
    in_chain = where.into is Into.CHAIN or (
        where.into is Into.SPACE and (not where.onto or where.onto.startswith("ch-"))
    )
    return replace(where, into=Into.STITCH, onto="") if in_chain else where  # the stitch that the chain stands for


def _foot(cursor: Cursor) -> Where:
    """FOOT := base of [same | first] BASE, where the stitch itself is worked into"""
    cursor.take()
    cursor.skip(T.OF, T.SAME)
    is_first = cursor.at(T.ORDINAL) and cursor.token().number == 1
    cursor.skip(T.ORDINAL)
    base(cursor, Exactly(1))
    return Where(Exactly(1), same=not is_first, first=is_first)


def _centre(cursor: Cursor) -> Where:
    """CENTRE := centre ([of] ring | [one] of n BASE | n BASE | BASE)"""
    if (where := middle_of_several(cursor)) is not None:
        return where
    cursor.take()
    if cursor.at(T.NUMBER) and not is_one_space(cursor):
        return _numbered(cursor)
    if cursor.peek(1) is T.RING:
        cursor.accept(T.OF)
    where = _one(cursor)
    return replace(where, onto=where.onto + IN_THE_MIDDLE) if where.onto.startswith(KIND) else where


def _same(cursor: Cursor) -> Where:
    """SAME := same [n] BASE [as joining]"""
    cursor.take()
    cursor.skip(T.SAME, T.NEXT)
    bases = Exactly(cursor.number() if cursor.at(T.NUMBER) else 1)
    where = base(cursor, bases) or Where(bases)
    cursor.take_phrase(_SAME_PLACE)
    as_what(cursor)
    return replace(where, same=True)


def _next(cursor: Cursor) -> Where:
    """NEXT := next (EACH | n BASE | NTH | BASE)"""
    cursor.take()
    cursor.skip(T.NEXT)
    if cursor.at(T.EACH):
        return _each(cursor)
    if cursor.at(T.NUMBER) and not is_one_space(cursor):
        return _numbered(cursor)
    if cursor.at(T.ORDINAL):
        return _nth(cursor)
    cursor.skip(T.SAME, T.MARKER, T.CENTRE, T.TOP)
    return _one(cursor)


def _remaining(cursor: Cursor) -> Where:
    """REMAINING := remaining [of] (n BASE | BASE)"""
    cursor.take()
    cursor.skip(T.OF)
    if cursor.at(T.NUMBER):
        return _numbered(cursor)
    return replace(_all(cursor), each=True)


def _numbered(cursor: Cursor) -> Where:
    """n [SIZES] [BASE]"""
    bases = Exactly(sizes(cursor, cursor.number()))
    if cursor.begins(_PASSED_OVER_BEFORE):
        return skipped(cursor, bases.count)
    cursor.skip(T.REMAINING, T.NEXT, T.MORE, T.LAST)
    where = replace(base(cursor, bases) or Where(bases), has_number=True)
    cursor.take_phrase(_STILL_THERE)
    return where


def _each(cursor: Cursor) -> Where:
    """EACH := each [of] (other BASE | nth BASE | NTH | [next] [of] (n BASE | LOOP [BASE] | ring | BASE AND))"""
    cursor.take()
    cursor.skip(T.OF, T.ALL)
    if cursor.at(T.OTHER) and cursor.peek(1) is not T.NUMBER:
        return _each_of_others(cursor)
    if cursor.begins(_EVERY_NTH):
        return _every_nth(cursor)
    if cursor.at(T.ORDINAL, T.LAST):
        return replace(_nth(cursor), each=True)
    cursor.skip(T.NEXT, T.REMAINING, T.OTHER)
    cursor.skip(T.OF)
    if cursor.begins(_SEVERAL_AT_CENTRE):
        cursor.take()
    if cursor.at(T.NUMBER) and not is_one_space(cursor):
        return replace(_numbered(cursor), each=True)
    if cursor.at(T.LOOP):
        loop = _loop_of(cursor)
        return replace(_all(cursor), each=True, loop=loop)
    where = replace(with_bases_besides(cursor, _all(cursor)), each=True)
    cursor.take_phrase(_STILL_THERE)
    return where


def _each_of_others(cursor: Cursor) -> Where:
    """every other BASE | all others"""
    others = cursor.begins(_ALL_OTHERS)
    cursor.take()
    return replace(_all(cursor), each=True, every=0 if others else 2)


def _every_nth(cursor: Cursor) -> Where:
    """nth [and nth] BASE, behind "every": the last one named is how far they are apart"""
    nth = cursor.take().number
    if words := cursor.take_phrase(_AND_NTH):
        nth = words[1].number
    return replace(_all(cursor), each=True, every=nth)


def _nth(cursor: Cursor) -> Where:
    """NTH := (nth | last | beginning) (of ch n | [remaining] [of] (n BASE | BASE [from hook])) | nth, nth ... BASE"""
    if cursor.take_phrase(_TURNING_CHAIN):
        return Where(Exactly(1))
    token = cursor.take()
    nth = token.number if token.kind is T.ORDINAL else 0
    is_first = nth == 1 or token.kind is T.BEGINNING
    if (where := of_chain(cursor)) is not None:
        return where
    cursor.skip(T.REMAINING, T.OF)
    if cursor.at(T.NUMBER) and not is_one_space(cursor):
        where = _numbered(cursor)
        cursor.skip(T.HOOK)
        return replace(where, first=is_first, each=where.bases != Exactly(1))
    if listed := cursor.take_phrase(_LISTED):
        bases = Exactly(1 + len(listed) // 2)
        return replace(base(cursor, bases) or Where(bases), has_number=True, each=True)
    where = _one(cursor)
    if where.into is Into.CHAIN and cursor.take_phrase(_OF_TURNING_CHAIN):
        return Where(Exactly(1), first=True)  # the stitch that the chain stands for
    if cursor.take_phrase(_FROM_THE_HOOK):
        return replace(where, from_hook=max(nth, 1), into=Into.CHAIN)
    if where.into is Into.CHAIN and nth > 1 and not cursor.begins(OF_SPACE):
        return replace(where, from_hook=nth)
    return replace(where, first=is_first)


_BY_FIRST_WORD: dict[T | None, Callable[[Cursor], Where]] = {
    T.RING: _one,
    T.CENTRE: _centre,
    T.MARKER: _one,
    T.BETWEEN: between,
    T.TOP: _top,
    T.BASE: _foot,
    T.EACH: _each,
    T.ALL: _each,
    T.SAME: _same,
    T.NEXT: _next,
    T.REMAINING: _remaining,
}
