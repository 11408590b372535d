"""What stands in a row besides stitches, joins and colours: sides, stitches left unworked, counts on their own."""

from __future__ import annotations

from tracker.notation.counting import counting
from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import STOPS, T
from tracker.notation.remarks import CLAUSE_ENDS, rest_of_clause, says_counting
from tracker.notation.tree import Act, Exactly, Into, Item, Made, Rest, Role, Some

_TELLS_NOTHING = (T.TOTAL, T.EVENLY, T.AROUND, T.MARKER, T.TOP, T.BASE, T.ROUND)


def side(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """SIDE := [in | around] other side [of ch]: from here on along the other side of the foundation chain"""
    if cursor.sees(T.IN, T.SIDE) or cursor.sees(T.AROUND, T.SIDE):
        cursor.take()
    if not cursor.at(T.SIDE):
        return False
    first = cursor.place
    cursor.take()
    cursor.skip(T.OF, T.CHAIN)
    found.append(Some(Act("other side", Role.STEP, into=Into.NOTHING, span=cursor.span(first))))
    return True


def denial(cursor: Cursor, _found: list[Item], until: int) -> bool:
    """DENIAL := not ..., but for "does not count": a remark, whatever it names"""
    if not cursor.at(T.NOT) or cursor.peek(1) is T.COUNTS:
        return False
    cursor.take()
    rest_of_clause(cursor, until, anything=True)
    return True


def explanation(cursor: Cursor, _found: list[Item], until: int) -> bool:
    """EXPLANATION := i.e. ...: a remark, whatever it names"""
    if not cursor.at(T.WORD) or cursor.token().text not in ("ie", "eg", "viz"):
        return False
    cursor.take()
    rest_of_clause(cursor, until, anything=True)
    return True


def same_again(cursor: Cursor, _found: list[Item], _until: int) -> bool:
    """ "same way,", "same as last rnd", "all red": taken, changes nothing"""
    if cursor.sees(T.SAME, T.WORD) and cursor.peek(2) in STOPS:
        cursor.place += 2
        return True
    end = cursor.end_of(CLAUSE_ENDS)
    if cursor.at(T.SAME) and any(token.kind is T.ROUND for token in cursor.tokens[cursor.place : end]):
        cursor.place = end
        return True
    if cursor.sees(T.ALL, T.COLOURED):
        cursor.take()
        return True
    return False


def unworked(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """UNWORKED := leaving [last] n sts unworked: passed over, so that the round still accounts for them"""
    if not cursor.at(T.OMIT) or cursor.peek(1) not in (T.LAST, T.REMAINING, T.NUMBER):
        return False
    first, end = cursor.place, cursor.end_of(STOPS | {T.OPEN})
    number = 0
    for token in cursor.tokens[first:end]:
        if token.kind is T.NUMBER:
            number = token.number
        elif token.kind is T.LAST:
            number = number or 1
    cursor.place = end
    if cursor.tokens[end - 1].kind is T.LEFT:
        times = Exactly(number) if number else Rest()
        found.append(Some(Act("leave", Role.SKIP, (), 1, span=cursor.span(first)), times))
    return True


def counts_or_not(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """COUNTING on its own: "ch 3, dc in next st. Ch 3 counts as dc." """
    if not says_counting(cursor):
        return False
    end = cursor.end_of(CLAUSE_ENDS | {T.DASH})
    counting(cursor, found, end)
    cursor.place = end
    return True


def tells_nothing(cursor: Cursor, _found: list[Item], _until: int) -> bool:
    """ "for 4 rounds", "in next rnd", stray totals and extents: taken, the words kept as a remark"""
    if cursor.at(T.IN) and cursor.peek(1) in (T.NUMBER, T.NEXT, T.AGAIN, T.ONGOING, None):
        cursor.take()
        cursor.skip(T.NEXT, T.NUMBER, T.ROUND, T.AGAIN, T.ONGOING)
        return True
    if not cursor.sees(T.NUMBER, T.ROUND) and not cursor.at(*_TELLS_NOTHING):
        return False
    first = cursor.place
    cursor.place = max(cursor.end_of(CLAUSE_ENDS), first + 1)
    cursor.remarks.append(cursor.words(first))
    return True


def plain_count(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """PLAIN COUNT := n sts [around] | sts n: so many of the stitch of the line"""
    if cursor.sees(T.NOUN, T.NUMBER):
        cursor.take()
    elif not cursor.sees(T.NUMBER, T.NOUN) or cursor.peek(2) is T.TOG:
        return False
    first = cursor.place
    number = cursor.number()
    cursor.skip(T.NOUN)
    cursor.skip(T.AROUND, T.ROUND)
    act = Act("", Role.WORK, (Made(""),), 1, loop=cursor.loop, span=cursor.span(first))
    found.append(Some(act, Exactly(number)))
    return True
