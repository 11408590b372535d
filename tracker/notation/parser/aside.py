"""What stands in a row besides stitches, joins and colours: sides, stitches left unworked, counts on their own."""

from __future__ import annotations

from tracker.notation.ast import Exactly, Instruction, Item, Rest, Role, Some, Technique
from tracker.notation.parser.chain_count import counting
from tracker.notation.parser.remark import CLAUSE_ENDS, rest_of_clause, says_counting
from tracker.notation.parser.stitch_head import MAIN, stitch
from tracker.notation.token_kinds import ENDS, MADE, STOPS, T
from tracker.notation.token_stream import Cursor
from tracker.notation.traversal import other_side

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
    found.append(Some(other_side(cursor.span(first))))
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


def spread_out(cursor: Cursor, _found: list[Item], _until: int) -> bool:
    """SPREAD := n [stitch] in each row end, behind "32 sc evenly ...": how it comes to that number, and no more"""
    ahead = 1 if cursor.at(T.NUMBER) else 0
    ahead += cursor.peek(ahead) is T.STITCH
    told_before = any("evenly" in token.text for token in cursor.tokens[: cursor.place])
    if not ahead or cursor.peek(ahead) is not T.EVENLY or cursor.peek(ahead + 1) not in ENDS or not told_before:
        return False
    first = cursor.place
    cursor.place += ahead + 1
    cursor.remarks.append(cursor.words(first))
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
    """UNWORKED := (leaving | except) ([last] n | the rest) [sts] [unworked]: passed over, so that the round still
    accounts for them"""
    if not cursor.at(T.OMIT) or cursor.peek(1) not in (T.LAST, T.REMAINING, T.NUMBER, T.OTHER):
        return False
    first, end = cursor.place, cursor.end_of(STOPS | {T.OPEN})
    clause = cursor.tokens[first:end]
    kinds = {token.kind for token in clause}
    cursor.place = end
    number = next((token.number for token in clause if token.kind is T.NUMBER), int(T.LAST in kinds))
    leaving = Instruction("leave", Role.SKIP, (), 1, technique=Technique.LEAVE, span=cursor.span(first))
    if number and kinds & {T.LEFT, T.NOUN, T.STITCH}:
        found.append(Some(leaving, Exactly(number)))
    elif kinds & {T.REMAINING, T.OTHER}:
        found.append(Some(leaving, Rest()))
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
    end = max(cursor.end_of(CLAUSE_ENDS), first + 1)
    instructs = any(token.kind in MADE for token in cursor.tokens[first:end])
    cursor.place = first + 1 if instructs else end
    cursor.remarks.append(cursor.words(first))
    return True


def bare_number(cursor: Cursor, found: list[Item], _until: int) -> bool:
    """n, beside increases or decreases in a bracket: "(1, inc) x 6" means the stitch of the line"""
    beside = (cursor.peek(-2), cursor.peek(2))
    in_row = cursor.peek(-1) in (T.OPEN, T.COMMA, T.MARK) and cursor.peek(1) in (T.COMMA, T.CLOSE, T.MARK)
    if not cursor.at(T.NUMBER) or not cursor.depth or not in_row or not {T.INC, T.DEC} & set(beside):
        return False
    first = cursor.place
    act = stitch(MAIN).act(cursor.loop, cursor.span(first, first + 1))
    found.append(Some(act, Exactly(cursor.number())))
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
    act = stitch(MAIN).act(cursor.loop, cursor.span(first))
    found.append(Some(act, Exactly(number)))
    return True
