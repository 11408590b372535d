"""Where stitches go: "in next 5 sts", "in each ch-3 sp around", "in 2nd ch from hook", "to last 2 sts"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tracker.notation.ast import Exactly, Into, Loop, Rest
from tracker.notation.parser.base import BOTH_ENDS, RING, Where, base, between, of_part
from tracker.notation.parser.quantity import extent, sizes
from tracker.notation.token_kinds import BASES, ENDS, MADE, STOPS, T
from tracker.notation.token_stream import Cursor

_LEADS = frozenset((T.IN, T.OVER, T.EACH, T.ALL, T.NEXT, T.SAME, T.REMAINING, T.BETWEEN, T.BEHIND))


def begins_place(cursor: Cursor) -> bool:
    """Whether a place phrase starts here."""
    kind, after = cursor.peek(), cursor.peek(1)
    if _is_back_along_chain(cursor):
        return True
    if kind is T.ALL and after is T.COLOURED:
        return False
    if kind in _LEADS:
        return not _is_colour_or_rounds(cursor)
    if kind is T.LOOP:
        return after in (T.OF, T.NEXT, T.EACH) or (after is T.IN and cursor.peek(2) in _LEADS)
    if kind in (T.LAST, T.ORDINAL):
        return after in BASES or (after is T.NUMBER and cursor.peek(2) in BASES)
    if kind is T.ROUND:
        return after in (T.NOUN, T.NEXT)
    if kind is T.TOTAL:
        counted = after is T.NUMBER and cursor.peek(2) in BASES
        return cursor.token().text == _IN_ALL and (after in BASES or after is T.OTHER or counted)
    if kind is T.AROUND and after is T.NUMBER:
        return cursor.peek(2) in BASES or (cursor.peek(2) is T.WORD and cursor.token(2).text in _PASSED_OVER)
    return kind is T.AROUND and after in (T.NOUN, T.NEXT, T.EACH, T.SAME)


def _is_colour_or_rounds(cursor: Cursor) -> bool:
    """ "in red", "in A", "for 4 rounds", "in other side": IN, but not a place."""
    if not cursor.at(T.IN) or (cursor.sees(T.IN, T.WORD) and cursor.token(1).text in (*_PASSED_OVER, "both")):
        return False
    if cursor.sees(T.IN, T.NUMBER, T.ROUND) or cursor.sees(T.IN, T.NEXT, T.NUMBER, T.ROUND):
        return True
    return cursor.peek(1) in (T.SIDE, T.COLOURED, T.WORD, T.ONGOING, None, T.AGAIN)


def _is_back_along_chain(cursor: Cursor) -> bool:
    """ "sl st back down 4 ch": over the chains just made, from the second one on"""
    return cursor.sees(T.WORD, T.NUMBER, T.CHAIN) and cursor.token().text == "back"


def loop_behind(cursor: Cursor) -> Loop | None:
    """[in] loop, with no place behind it: "sc blo", "sc in back loops only" """
    if cursor.at(T.LOOP) and not begins_place(cursor):
        return cursor.take().loop
    if cursor.sees(T.IN, T.LOOP) and cursor.peek(2) not in (T.OF, T.NEXT, T.EACH, T.IN):
        cursor.take()
        return _loop_of(cursor)
    return None


def _loop_of(cursor: Cursor) -> Loop:
    """LOOP [of] [rnd n]"""
    loop = cursor.take().loop
    cursor.skip(T.OF)
    if cursor.sees(T.ROUND, T.NUMBER):
        of_round(cursor)
    return loop


_PASSED_OVER = ("skipped", "missed")
_IN_ALL = "in all"
"""Says how many there are in total, but "sc in all sts" where."""


def place(cursor: Cursor, taken_in: bool = False) -> Where:
    """PLACE := [in | around] [LOOP of] WHICH [in BASE] [of ...] [EXTENT]; `taken_in` if "to" stood before it"""
    first = cursor.place
    if cursor.at(T.TOTAL) and cursor.token().text == _IN_ALL:
        cursor.take()
        if cursor.at(T.OTHER):
            return _each_of_others(cursor)
        return replace(_numbered(cursor) if cursor.at(T.NUMBER) else _all(cursor), each=True)
    if _is_back_along_chain(cursor):
        cursor.take()
        number = cursor.number()
        cursor.skip(T.CHAIN, T.NOUN)
        return Where(Exactly(number), Into.CHAIN, from_hook=2, told=True)
    around_post = bool(cursor.accept(T.AROUND, T.ROUND))
    taken_in = bool(cursor.accept(T.IN, T.OVER, T.FROM)) or around_post or taken_in
    loop = Loop.BOTH
    if cursor.at(T.LOOP):
        loop = cursor.take().loop
        cursor.skip(T.OF, T.IN)
    cursor.skip(T.TOTAL)
    where = BOTH_ENDS if takes_both_ends(cursor) else _which(cursor, taken_in)
    if where is None:
        raise cursor.fail(
            "no-place",
            f"where does this go? '{cursor.words(first, cursor.place + 1)}' names no stitch, space or ring",
            cursor.span(first, cursor.place + 1),
            "write for example: in next st, in each st around, in next ch-2 sp, in ring",
        )
    where = _told_further(cursor, where if loop is Loop.BOTH else replace(where, loop=loop))
    if cursor.depth and where.into is Into.SPACE and where.bases == Rest():
        return replace(where, bases=Exactly(1))  # in a group that is repeated, "each" is the next one every time
    return where


def _takes_made(cursor: Cursor) -> bool:
    """[just] made, behind a stitch; taken if it stands here"""
    ahead = 1 if cursor.at(T.WORK) and cursor.token().text == "just" else 0
    if cursor.peek(ahead) is T.TOTAL and cursor.token(ahead).text == "made":
        cursor.place += ahead + 1
        return True
    return False


def _told_further(cursor: Cursor, where: Where) -> Where:
    """What stands behind the bases: whose they are, and how far it goes."""
    if cursor.sees(T.IN, T.BASE):
        cursor.place += 2
        base(cursor, Exactly(1))
        where = replace(where, same=True)
    if of_part(cursor):
        where = replace(where, into=Into.PART)
    where = of_bunch(cursor, where)
    of_what(cursor)
    if _takes_made(cursor) and where.bases == Exactly(1):
        where = replace(where, same=True, just_made=True)
    far = extent(cursor)
    if far is None or (isinstance(where.bases, Exactly) and where.told and where.bases.count > 1):
        return where
    return replace(where, bases=far, each=True)


def _which(cursor: Cursor, taken_in: bool) -> Where | None:
    """WHICH := RING | BETWEEN | TOP | FOOT | CENTRE | EACH | SAME | NEXT | REMAINING | NTH | n BASE | BASE"""
    cursor.skip(T.WORK)
    if cursor.accept(T.BEHIND):
        return _which(cursor, True)
    kind = cursor.peek()
    if not cursor.finished and cursor.token().text in _PASSED_OVER:
        return _skipped(cursor, 1)
    if kind in _BY_FIRST_WORD:
        return _BY_FIRST_WORD[kind](cursor)
    if kind is T.JOIN and (cursor.peek(1) in BASES or cursor.peek(1) in ENDS):
        cursor.take()
        return replace(_one(cursor), same=True)
    if kind in (T.LAST, T.ORDINAL, T.BEGINNING) or (kind is T.END and cursor.peek(1) in BASES):
        return _nth(cursor)
    if kind is T.NUMBER and not _is_chain_space(cursor) and (taken_in or cursor.peek(1) in BASES):
        return _numbered(cursor)
    if cursor.accept(T.MARKER):
        return _one(cursor)
    if cursor.at(T.OTHER) and cursor.token().text.endswith(_ALL_OTHERS):
        return _each_of_others(cursor)
    if taken_in:
        cursor.skip(T.OTHER)
        return base(cursor, Exactly(1))
    return None


def _skipped(cursor: Cursor, number: int) -> Where:
    """skipped BASE: passed over before, so that it takes no base any more"""
    cursor.take()
    base(cursor, Exactly(number))
    return Where(Exactly(number), same=True, each=True)


def _one(cursor: Cursor) -> Where:
    """[BASE]: one, whatever it is called"""
    return base(cursor, Exactly(1)) or Where(Exactly(1))


def _all(cursor: Cursor) -> Where:
    """[BASE]: as many as there are"""
    return base(cursor, Rest()) or Where(Rest())


def _ring(cursor: Cursor) -> Where:
    cursor.take()
    return RING


def _top(cursor: Cursor) -> Where:
    """TOP := top [of] [first | last | same] BASE, as of the starting chain"""
    cursor.take()
    cursor.skip(T.OF, T.ORDINAL, T.LAST, T.NEXT, T.SAME, T.BEGINNING)
    return replace(_one(cursor), first=True)


def _foot(cursor: Cursor) -> Where:
    """FOOT := base of [same] BASE, where the stitch itself is worked into"""
    cursor.take()
    cursor.skip(T.OF, T.SAME)
    base(cursor, Exactly(1))
    return Where(Exactly(1), same=True)


def _centre(cursor: Cursor) -> Where:
    """CENTRE := centre (ring | BASE)"""
    cursor.take()
    return RING if cursor.accept(T.RING) else _one(cursor)


def _same(cursor: Cursor) -> Where:
    """SAME := same [n] BASE [as joining]"""
    cursor.take()
    cursor.skip(T.SAME, T.NEXT)
    bases = Exactly(cursor.number() if cursor.at(T.NUMBER) else 1)
    where = base(cursor, bases) or Where(bases)
    if cursor.at(T.WORK) and cursor.token().text == "place":
        cursor.take()
    as_what(cursor)
    return replace(where, same=True)


def _next(cursor: Cursor) -> Where:
    """NEXT := next (EACH | n BASE | NTH | BASE)"""
    cursor.take()
    cursor.skip(T.NEXT)
    if cursor.at(T.EACH):
        return _each(cursor)
    if cursor.at(T.NUMBER) and not _is_chain_space(cursor):
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
    if not cursor.finished and cursor.token().text in _PASSED_OVER:
        return _skipped(cursor, bases.count)
    cursor.skip(T.REMAINING, T.NEXT, T.MORE)
    return replace(base(cursor, bases) or Where(bases), told=True)


def _is_chain_space(cursor: Cursor) -> bool:
    """ "2ch-sp" and "next 2 ch sp" are one space of two chains; "2 ch-sps" are two spaces."""
    if not cursor.sees(T.NUMBER, T.CHAIN, T.SPACE):
        return False
    return cursor.token(1).glued or (cursor.peek(-1) is not T.OF and cursor.token(2).text in ("sp", "space"))


def _each(cursor: Cursor) -> Where:
    """EACH := each [of] (other BASE | nth BASE | NTH | [next] [of] (n BASE | LOOP [BASE] | ring | BASE AND))"""
    cursor.take()
    cursor.skip(T.OF, T.ALL)
    if cursor.at(T.OTHER):
        return _each_of_others(cursor)
    if cursor.at(T.ORDINAL) and (cursor.peek(1) in BASES or cursor.peek(1) in (T.AND, None)):
        return _every_nth(cursor)
    if cursor.at(T.ORDINAL, T.LAST):
        return replace(_nth(cursor), each=True)
    cursor.skip(T.NEXT, T.REMAINING)
    cursor.skip(T.OF)
    if cursor.at(T.NUMBER) and not _is_chain_space(cursor):
        return replace(_numbered(cursor), each=True)
    if cursor.at(T.LOOP):
        loop = _loop_of(cursor)
        return replace(_all(cursor), each=True, loop=loop)
    if cursor.accept(T.RING):
        return RING
    return replace(_and_each(cursor, _all(cursor)), each=True)


def _each_of_others(cursor: Cursor) -> Where:
    """every other BASE | all others"""
    others = cursor.take().text.endswith(_ALL_OTHERS)
    return replace(_all(cursor), each=True, every=0 if others else 2)


_ALL_OTHERS = ("others", "other sts", "other stitches")
"""All that are left, where "every other" is every second one."""


def _every_nth(cursor: Cursor) -> Where:
    """nth [and nth] BASE, behind "every": the last one named is how far they are apart"""
    nth = cursor.take().number
    if cursor.sees(T.AND, T.ORDINAL):
        cursor.take()
        nth = cursor.take().number
    return replace(_all(cursor), each=True, every=nth)


def _and_each(cursor: Cursor, where: Where) -> Where:
    """AND := [and [in] [each] BASE], as in "each dc and ch-1 sp around": both are bases, the space by its name"""
    if not (cursor.at(T.AND) and cursor.peek(1) in (T.EACH, T.IN, T.SPACE, T.CHAIN, T.STITCH)):
        return where
    start = cursor.place
    cursor.take()
    cursor.skip(T.IN, T.EACH)
    other = base(cursor, Rest())
    if other is None or other.into is where.into or cursor.at(T.FROM):
        cursor.place = start
        return where
    besides = where if other.into is Into.STITCH else other
    onto = "ch" if besides.into is Into.CHAIN else besides.onto
    return replace(where, into=Into.STITCH, also_spaces=True, onto=onto)


def _nth(cursor: Cursor) -> Where:
    """NTH := (nth | last | beginning) (of ch n | [remaining] [of] (n BASE | BASE [from hook])) | nth, nth ... BASE"""
    token = cursor.take()
    nth = token.number if token.kind is T.ORDINAL else 0
    is_first = nth == 1 or token.kind is T.BEGINNING
    if cursor.at(T.OF) and T.CHAIN in (cursor.peek(1), cursor.peek(2)):
        return _of_chain(cursor)
    cursor.skip(T.REMAINING, T.OF)
    if cursor.at(T.NUMBER):
        where = _numbered(cursor)
        cursor.skip(T.HOOK)
        return replace(where, first=is_first, each=where.bases != Exactly(1))
    listed = _listed_besides(cursor)
    if listed:
        bases = Exactly(1 + listed)
        return replace(base(cursor, bases) or Where(bases), told=True, each=True)
    where = _one(cursor)
    if _from_hook(cursor):
        return replace(where, from_hook=max(nth, 1), into=Into.CHAIN)
    if where.into is Into.CHAIN and nth > 1:
        return replace(where, from_hook=nth)
    return replace(where, first=is_first)


def _of_chain(cursor: Cursor) -> Where:
    """of [n] ch [n]: a chain of the starting chain"""
    cursor.take()
    cursor.skip(T.NUMBER, T.BEGINNING)
    base(cursor, Exactly(1))
    return Where(Exactly(1), Into.CHAIN, first=True)


def _listed_besides(cursor: Cursor) -> int:
    """{ (, | and) nth }: how many more are listed, as in "3rd, 5th and 7th st" """
    listed = 0
    while cursor.at(T.COMMA, T.AND) and cursor.peek(1) is T.ORDINAL:
        cursor.place += 2
        listed += 1
    return listed


def _from_hook(cursor: Cursor) -> bool:
    """ "from hook", taken if it stands here."""
    if cursor.sees(T.FROM, T.HOOK):
        cursor.place += 2
        return True
    return bool(cursor.accept(T.HOOK))


_BY_FIRST_WORD: dict[T | None, Callable[[Cursor], Where]] = {
    T.RING: _ring,
    T.BETWEEN: between,
    T.TOP: _top,
    T.BASE: _foot,
    T.CENTRE: _centre,
    T.EACH: _each,
    T.ALL: _each,
    T.SAME: _same,
    T.NEXT: _next,
    T.REMAINING: _remaining,
}


# What a place belongs to: a shell, another part, an earlier round, the stitch just joined in.


def of_bunch(cursor: Cursor, where: Where) -> Where:
    """ "in the centre dc of each shell": one place in every group of that name."""
    ahead = 2 if cursor.peek(1) in (T.EACH, T.NEXT) else 1
    if not cursor.at(T.OF) or cursor.peek(ahead) is not T.BUNCH:
        return where
    each = cursor.peek(1) is T.EACH
    name = cursor.token(ahead).name
    cursor.place += ahead + 1
    return replace(where, into=Into.SPACE, onto=name, bases=Rest() if each else where.bases, each=each or where.each)


def of_what(cursor: Cursor) -> None:
    """ "of next shell", "of Rnd 5", "below", "of previous round": tells which, changes no number."""
    while cursor.at(T.OF, T.PREVIOUS, T.BEHIND) or (cursor.at(T.FROM) and cursor.peek(1) in (T.ROUND, T.PREVIOUS)):
        cursor.take()
        cursor.skip(T.EACH, T.NEXT, T.SAME, T.LAST, T.ORDINAL, T.PREVIOUS, T.CENTRE, T.BEGINNING)
        if not of_round(cursor):
            cursor.accept(T.NUMBER)
            base(cursor, Exactly(1))


def of_round(cursor: Cursor) -> bool:
    """ "rnd 12": taken, and remembered that the bases are those of an earlier round."""
    if not cursor.accept(T.ROUND):
        return False
    if cursor.at(T.NUMBER):
        cursor.worked_into = cursor.number()
    return True


def as_what(cursor: Cursor) -> None:
    """ "same st as joining", "as sl st", "as last dc", "where you joined": tells which, changes no number."""
    if cursor.accept(T.AS):
        cursor.skip(
            T.JOIN, T.STITCH, T.LAST, T.ORDINAL, T.PREVIOUS, T.CHAIN, T.TURN, T.BEGINNING, T.NOUN, T.INC, T.TOP
        )  # fmt: skip
        if cursor.peek(-1) is T.CHAIN and cursor.peek(1) not in MADE:
            cursor.accept(T.NUMBER)  # "as ch-1"
    elif cursor.at(T.WORD) and cursor.token().text in ("where", "used"):
        cursor.place = cursor.end_of(STOPS | {T.OPEN, T.AND})


# Both ends of a round or row: "at each end", "in the first and last st", "at the beginning and end of the row".


def takes_both_ends(cursor: Cursor) -> bool:
    """BOTH ENDS := (each | both) end [of row] | beginning and end [of row]; taken if it stands here"""
    start = cursor.place
    if cursor.at(T.ORDINAL) and cursor.token().number == 1 and cursor.sees(T.ORDINAL, T.AND, T.LAST):
        cursor.place += 3
        base(cursor, Exactly(1))
        return True
    if cursor.accept(T.BEGINNING):
        begun = bool(cursor.accept(T.AND))
    else:
        begun = bool(cursor.accept(T.EACH)) or _takes_both(cursor)
    if begun and (cursor.accept(T.END) or (cursor.at(T.AROUND) and cursor.take().text.startswith("end"))):
        cursor.skip(T.OF, T.SAME, T.ROUND)
        return True
    cursor.place = start
    return False


def _takes_both(cursor: Cursor) -> bool:
    if cursor.at(T.WORD) and cursor.token().text == "both":
        cursor.take()
        return True
    return False
