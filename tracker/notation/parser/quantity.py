"""Numbers: how many of a stitch, how many times, and which of the numbers for several sizes."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Choice, ChoiceKind, Exactly, Group, Into, Item, Option, Some, Technique, Times, ToEnd
from tracker.notation.instructions import ANY_SPACE
from tracker.notation.token_kinds import BASES, STOPS, WORD_GROUPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern

_BETWEEN_SIZES = (T.NUMBER, T.COMMA, T.SEMI, T.DASH, T.SLASH)


def count(cursor: Cursor) -> int | None:
    """COUNT := n [SIZES]; None if no number stands here"""
    return _something(cursor, sizes(cursor, cursor.number())) if cursor.at(T.NUMBER) else None


def length(cursor: Cursor) -> int:
    """LENGTH := n [SIZES], for a chain: brackets behind it are sizes whatever follows"""
    return _something(cursor, sizes(cursor, cursor.number(), anywhere=True))


def _something(cursor: Cursor, number: int) -> int:
    if number == 0:
        raise cursor.fail("nothing", "a count of 0 makes nothing", cursor.span(cursor.place - 1), "leave it out")
    return number


def times(cursor: Cursor) -> int:
    """n, as a number of times"""
    return not_never(cursor, cursor.number(), cursor.span(cursor.place - 1))


def times_for_size(cursor: Cursor) -> int:
    """n [SIZES], as a number of times"""
    number = sizes(cursor, cursor.number())
    return not_never(cursor, number, cursor.span(cursor.place - 1))


def not_never(cursor: Cursor, number: int, span: Span) -> int:
    """The number of times, unless it is 0."""
    if number == 0:
        raise cursor.fail("nothing", "0 times makes nothing", span, "leave it out")
    return number


def sizes(cursor: Cursor, number: int, *, anywhere: bool = False) -> int:
    """SIZES := '(' n { , n } ')'; the number for the size that is made: "5 (6, 7)"

    A bracket at the end may be the total instead, so there it is left alone unless `anywhere`.
    """
    if not cursor.at(T.OPEN):
        return number
    close = cursor.closing(cursor.place)
    inner = cursor.inside(cursor.place)
    numbers = [token.number for token in inner if token.kind is T.NUMBER]
    after = cursor.peek(close + 1 - cursor.place)
    if not numbers or any(token.kind not in _BETWEEN_SIZES for token in inner):
        return number
    # One number alone behind a chain is no total where another size than the first is made, and more follows.
    listed = len(numbers) > 1 or (cursor.context.size > 0 and after is not None)
    so_often = after is T.TIMES and cursor.token(close + 1 - cursor.place).text.startswith("time")
    if not (anywhere and listed) and not so_often and not _goes_on(after, len(numbers)):
        return number
    cursor.place = close + 1
    return [number, *numbers][min(cursor.context.size, len(numbers))]


def _goes_on(after: T | None, listed: int) -> bool:
    """Whether what stands behind the bracket goes on from a number; the totals have been taken from the line by now,
    but one number alone needs a base or a total behind it."""
    return listed > 1 or after in BASES or after in (T.EQUALS, T.MORE)


# How often something is worked: "x 6", "6 times", "twice", "5 more times", "around", "to last 2 sts".

_FACTOR = PhrasePattern("TIMES NUMBER")
""" "(sc, inc) x 6" """

_NUMBER_LOST = PhrasePattern("TIMES (STOPS | EQUALS | OPEN | $)")
""" "(sc, inc) x (18)", "2 sc, inc, repeat times" """

_STAR_FACTOR = PhrasePattern(
    "(?= MARK) ONE_STAR NUMBER (TIMES (?! OPEN) | (?= [COMMA SEMI DOT CLOSE OPEN EQUALS JOIN STEP WORD] | $))"
)
""" "(sc, inc) * 6 (18)", "(sc, inc) * 6 times" """

_SO_MANY_TIMES = PhrasePattern("((?= IN) FOR)? NUMBER TIMES (?! MORE)")
""" "sc in next st 3 times", "2 sc, inc for 6 times" """

_ONCE_OR_TWICE = PhrasePattern("OFTEN (?! MORE)")
""" "inc twice" """

_OFTEN_IN_PLACE = PhrasePattern("OFTEN (?= [IN NEXT SAME])")
""" "sc twice in next st" """

_ALONE_IN_BRACKETS = PhrasePattern("OPEN ( NUMBER TIMES | TIMES NUMBER | OFTEN | MARK NUMBER ) CLOSE")
""" "sc, inc (6 times)", "(sc, inc) (x 6)" """

_TIMES_IN_BRACKETS = PhrasePattern("OPEN NUMBER [TIMES MORE]")
""" "rep (5 times)" """

ANOTHER = PhrasePattern("(?= WORD) ANOTHER")
""" "repeat rnd 4 another 3 times" """

_BEFORE_TIMES = PhrasePattern("(TOTAL | MORE | (?= WORD) ANOTHER)+ (?= NUMBER TIMES | OFTEN)")
""" "repeat from * another 5 times", "in all 6 times" """

SO_MANY_TIMES = "(TOTAL | MORE | (?= WORD) ANOTHER)* (NUMBER MORE? TIMES MORE? | OFTEN MORE?) TOTAL?"
""" "5 times more", "twice more", "in all 6 times", whatever stands first: part of a pattern"""

_IN_EACH_OF = PhrasePattern(
    "[IN OVER AROUND]? (EACH | ALL (?! IN)) [NUMBER NOUN STITCH BUNCH CHAIN SPACE CORNER WORD OTHER]"
)
""" "rep from * to * into each 4 dc group to the end", "rep from * in each corner" """

_IN_THE_OTHERS = PhrasePattern(
    "[IN OVER AROUND]? [REMAINING OTHER NEXT]+ NUMBER ([CORNER SPACE BUNCH] | (?= WORD) PARTS) [SPACE NOUN]*"
)
""" "rep from * on remaining 3 sides", "rep from * in other 3 corners" """

_ENDS_REPEAT = STOPS | {T.OPEN, T.JOIN, T.END}
"""Where what is said of a repeat ends."""

_AROUND_SO_OFTEN = PhrasePattern("AROUND (?= [NUMBER OFTEN])")
""" "*sc, inc; rep from * around 6 times" """

_ALONE_BEHIND_BRACKET = PhrasePattern("(?<= [CLOSE MARK] NUMBER) (COLON | STOPS | $)")
""" "(sc, inc) 6, join", "*sc, inc* 6" """

_EDGE = PhrasePattern(
    "(?= WORD) WHOLE_OF_IT? (?= WORD) EDGES (OF WORD)? | (?= WORD) WHOLE_OF_IT WORD"
    " | (?= WORD) WHOLE_PIECE (?= STOPS | $)"
)
""" "sc around opening of leg", "sc around the outer edge", "sc around the whole blanket", "sc round the hat" """

IN_THIS_ROUND = PhrasePattern("IN SAME ROUND")
""" "inc 6 times in this rnd", "work all sts for this rnd in back loops, sc around" """

_AROUND_SIDE = PhrasePattern("AROUND SIDE")
""" "sc in next 5 ch, around other side of ch sc in 5 ch" """

_WITHIN = PhrasePattern("(?= IN) WITHIN")
""" "sc in each st to within last 2 sts" """

_UNTIL_DONE = PhrasePattern("UNTIL [WORD SPACE RING CORNER]")
""" "dec until the hole closes" """

_TO_CORNER = PhrasePattern(
    "AROUND? [TO UNTIL] [NEXT EACH SAME ORDINAL FILLER CENTRE]* (CENTRE [NOUN STITCH] [OF IN] [NEXT EACH SAME]*)? "
    "([LAST BEGINNING]? [NUMBER CHAIN]* CORNER (CHAIN NUMBER)? [SPACE NOUN STITCH]* | CHAIN NUMBER? SPACE |"
    " NUMBER CHAIN SPACE)"
    " | TO [NEXT SAME ORDINAL CENTRE]* SPACE | UNTIL [NEXT SAME ORDINAL CENTRE]* SPACE (?= STOPS | OPEN | $)"
)
""" "sc in each st to next corner", "dc in each dc to the space" """

_CHAIN_SPACE = PhrasePattern("CHAIN NUMBER SPACE")
""" "rep from * to last ch-4 sp" """

_TO_LAST_SIDE = PhrasePattern("AROUND? [TO UNTIL] [LAST REMAINING] (?= WORD) SIDES")
""" "*3 dc in next sp, (3 dc, ch 2, 3 dc) in corner; rep from * to last side, 3 dc in next sp" """

_WHOSE_END = PhrasePattern("OF [ROUND END]")
""" "sc to last 2 sts of rnd" """


@dataclass(frozen=True, slots=True)
class Often:
    """A written multiplier. `besides` says "n more times": the group as written comes on top of it."""

    times: Times
    besides: bool = False


def how_many_times(cursor: Cursor) -> int:
    """TIMES := FACTOR | n x | n times | twice; 1 if nothing of the sort stands here"""
    inside = _bracketed_times(cursor)
    if inside is not None:
        return inside
    if cursor.begins(_ONCE_OR_TWICE):
        return cursor.take().number
    if cursor.begins(_SO_MANY_TIMES):
        cursor.accept(T.IN)
        number = times(cursor)
        cursor.take()
        return number
    if is_factor(cursor):
        cursor.take()
        return times(cursor)
    return 1


def _bracketed_times(cursor: Cursor) -> int | None:
    """'(' (n times | x n | twice) ')', and nothing else in it: taken if it stands here"""
    words = cursor.take_phrase(_ALONE_IN_BRACKETS)
    if not words:
        return None
    number = next(token.number for token in words if token.kind in (T.NUMBER, T.OFTEN))
    return not_never(cursor, number, cursor.span(cursor.place - len(words)))


def often_in_place(cursor: Cursor) -> int:
    """twice, before a place, as in "sc twice in next st": so many in the one place; 1 if nothing of the sort"""
    if cursor.begins(_OFTEN_IN_PLACE):
        return cursor.take().number
    return 1


def is_factor(cursor: Cursor) -> bool:
    """FACTOR := x n | * n; a star is a sign of multiplication if there is nothing to be made behind the number and it
    does not close what another star began, "*sc, inc* 6" """
    if cursor.begins(_FACTOR):
        return True
    if not cursor.begins(_STAR_FACTOR):
        return False
    return cursor.open_marks == 0 or any(token.kind is T.REPEAT for token in cursor.tokens[cursor.place :])


def multiplier(cursor: Cursor) -> Often | None:
    """OFTEN := [another | more | in all] (FACTOR [times] [more] | twice [more] | n [more] times [more]) | n
    | [evenly] EXTENT

    None if none stands here; a number alone is one only behind a bracket.
    """
    if words := cursor.take_phrase(_BEFORE_TIMES):
        often = multiplier(cursor)
        more = any(word.kind is not T.TOTAL for word in words)
        return replace(often, besides=True) if often is not None and more else often
    if cursor.begins(_NUMBER_LOST):
        sign = cursor.token().text
        raise cursor.fail(
            "times-lost", f"how many times? the number at '{sign}' is missing", help="write for example: x 6, 6 times"
        )
    if is_factor(cursor):
        cursor.take()
        number = times_for_size(cursor)
        cursor.skip(T.TIMES)
        return _with_more(cursor, number)
    if cursor.at(T.OFTEN):
        return _with_more(cursor, cursor.take().number)
    inside = _bracketed_times(cursor)
    if inside is not None:
        return Often(Exactly(inside))
    if cursor.at(T.NUMBER):
        return _counted(cursor)
    cursor.accept(T.EVENLY)
    far = extent(cursor)
    return Often(far) if far is not None else None


def _with_more(cursor: Cursor, number: int) -> Often:
    if cursor.accept(T.MORE):
        cursor.skip(T.TIMES)
        return Often(Exactly(number), besides=True)
    cursor.skip(T.TOTAL, T.AROUND)
    return Often(Exactly(number))


def _counted(cursor: Cursor) -> Often | None:
    """n [more] times [more] [in all], or n alone behind a bracket or a closing star"""
    start = cursor.place
    number = times_for_size(cursor)
    more = bool(cursor.accept(T.MORE))
    if cursor.accept(T.TIMES):
        more = bool(cursor.accept(T.MORE)) or more
        cursor.skip(T.TOTAL)
        return Often(Exactly(number), more)
    if not more and cursor.begins(_ALONE_BEHIND_BRACKET):
        return Often(Exactly(number))
    cursor.place = start
    return None


def how_often_repeated(cursor: Cursor) -> Often:
    """'(' n times ')' | in each ... | [around] OFTEN | n [more] | and so on | nothing, which is all around; behind
    "repeat" """
    bracketed = cursor.begins(_TIMES_IN_BRACKETS)
    close = cursor.closing(cursor.place) if bracketed else 0
    if bracketed:
        cursor.take()
    cursor.skip(T.ALL, T.FROM, T.TOTAL)
    if cursor.begins(_IN_EACH_OF):
        cursor.place = cursor.end_of(_ENDS_REPEAT)
        return Often(ToEnd())
    if words := cursor.take_phrase(_IN_THE_OTHERS):
        return Often(Exactly(next(word.number for word in words if word.kind is T.NUMBER)), besides=True)
    around = bool(cursor.take_phrase(_AROUND_SO_OFTEN))
    often = multiplier(cursor)
    if often is None and cursor.at(T.NUMBER) and not around:
        often = Often(Exactly(cursor.number()), besides=bool(cursor.accept(T.MORE)))
    if bracketed:
        cursor.place = close + 1
    cursor.skip(T.AROUND, T.TOTAL, T.ONGOING, T.EVENLY)
    return often or Often(ToEnd())


def repeated(body: tuple[Item, ...], often: Often, span: Span) -> Item:
    """The items in a group `often` over."""
    body = (*body[:-1], _in_one_stitch_or_the_same(body[-1])) if body else body
    if isinstance(often.times, ToEnd):
        return Group(body, often.times, span)
    return Group(body, Exactly(often.times.count + often.besides), span)


def _in_one_stitch_or_the_same(last: Item) -> Item:
    """ "(3 sc, 2 sc in same st) x 6": two more where the third went, or both into one stitch of their own."""
    if not isinstance(last, Some) or last.act.into is not Into.SAME or last.act.technique is not Technique.INCREASE:
        return last
    if last.act.same_space or last.times != Exactly(1):
        return last
    of_its_own = replace(last, act=replace(last.act, takes=1, into=Into.STITCH))
    in_one_stitch = Option((of_its_own,), "read 'in same st' as all of them in one stitch", rescue=True)
    return Choice(ChoiceKind.COUNT, (Option((last,)), in_one_stitch), "in same st")


def repeated_again(body: tuple[Item, ...], often: Often, span: Span, *, besides_first: bool, is_in_all: bool) -> Item:
    """The items `often` over where the words leave open whether they were worked once already ("rep 5 times").

    `besides_first`: that is the likelier reading. `is_in_all`: it is an unlikely one ("and so 5 times").
    """
    if isinstance(often.times, ToEnd) or often.besides:
        return repeated(body, often, span)
    count = often.times.count
    all_why = f"read the repeat as {count} times in all, because that uses the stitches that are there"
    more_why = (
        f"read the repeat as {count} more times, {count + 1} in all, because that uses the stitches that are there"
    )
    in_all = Option((repeated(body, often, span),), all_why)
    besides = Option((repeated(body, Often(often.times, besides=True), span),), more_why, rescue=is_in_all)
    return Choice(ChoiceKind.REPEAT, (besides, in_all) if besides_first else (in_all, besides), span)


# How far something goes: "around", "to last 2 sts", "until 1 st remains", "until the hole closes".

EDGES = frozenset(WORD_GROUPS["EDGES"].split("|"))
"""What is gone around that is no round: how many stitches go there is not told by the round below."""


def extent(cursor: Cursor) -> ToEnd | None:
    """EXTENT := to corner | around [LEAVING] | LEAVING | UNTIL DONE; taken if it stands here"""
    if cursor.begins(_AROUND_SIDE):
        return None
    if words := cursor.take_phrase(_TO_CORNER):
        number = next((word.number for word in words if word.kind is T.NUMBER), 0)
        if any(word.kind is T.CORNER for word in words):
            return ToEnd(to_corner=True)
        of_chains = any(word.kind is T.CHAIN for word in words)
        return ToEnd(to_corner=True, onto=f"ch-{number}" if number else "" if of_chains else ANY_SPACE)
    if cursor.take_phrase(_TO_LAST_SIDE):
        return ToEnd()
    if cursor.at(T.AROUND) or (cursor.at(T.ROUND) and cursor.peek(1) is not T.NUMBER):
        cursor.take()
        cursor.skip(T.AROUND)
        cursor.take_phrase(_WHOSE_END)
        cursor.take_phrase(_EDGE)
        tells_result = cursor.at(T.UNTIL)
        leaving = _leaving(cursor)
        return ToEnd() if leaving is None or tells_result else leaving
    if cursor.at(T.TO, T.UNTIL):
        return _leaving(cursor) or _until_done(cursor)
    return None


def _leaving(cursor: Cursor) -> ToEnd | None:
    """LEAVING := (to | until) [within] (end [of rnd] | LAST ONES)"""
    start = cursor.place
    if not cursor.accept(T.TO, T.UNTIL):
        return None
    cursor.skip(T.TO, T.ALL, T.REMAINING)
    cursor.take_phrase(_WITHIN)
    if cursor.accept(T.END):
        cursor.skip(T.OF, T.ROUND)
        return ToEnd()
    leaving = _last_ones(cursor)
    if leaving is None:
        cursor.place = start
    return leaving


def _last_ones(cursor: Cursor) -> ToEnd | None:
    """LAST ONES := (last [n] | n) [base] [remain] [of rnd]"""
    is_last = bool(cursor.accept(T.LAST))
    if is_last and cursor.at(T.ROUND):
        return None
    number = sizes(cursor, cursor.number()) if cursor.at(T.NUMBER) else None
    onto = _base_named(cursor)
    if not is_last and number is None:
        return None
    cursor.skip(T.LEFT, T.REMAINING)
    cursor.take_phrase(_WHOSE_END)
    return ToEnd(1 if number is None else number, onto=onto)


def _base_named(cursor: Cursor) -> str:
    """BASE, taken; what it is called if it is a space of so many chains"""
    if words := cursor.take_phrase(_CHAIN_SPACE):
        return f"ch-{words[1].number}"
    if cursor.peek() in BASES:
        cursor.take()
        cursor.skip(T.NOUN, T.SPACE)
    return ""


def _until_done(cursor: Cursor) -> ToEnd | None:
    """UNTIL DONE := until the hole closes, however it is put: to the end of the round"""
    if not cursor.begins(_UNTIL_DONE):
        return None
    cursor.place = cursor.end_of(STOPS | {T.OPEN})
    return ToEnd()
