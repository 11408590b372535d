"""What stands in a row besides stitches, joins and colours: sides, stitches left unworked, counts on their own."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Colour, Exactly, Group, Instruction, Item, Role, Some, ToEnd
from tracker.notation.instructions import MAIN, leaving, likeliest, other_side, skipping, stitch
from tracker.notation.parser.chain_count import counting
from tracker.notation.parser.last_repeat import LAST_OF_GROUP, cut_short, early_end
from tracker.notation.parser.remark import CLAUSE_ENDS, SENTENCE_ENDS, bracket_remark, rest_of_clause, says_counting
from tracker.notation.parser.total_inside import made_so_far
from tracker.notation.token_kinds import HEADS, MADE, STOPS, T
from tracker.notation.token_stream import Cursor, NotUnderstood, PhrasePattern, Token

_SIDE = PhrasePattern("[IN AROUND]? SIDE OF* CHAIN*")
""" "sc in next 5 ch, around other side of ch sc in 5 ch" """

DENIAL = PhrasePattern("NOT (?! COUNTS) | WORK? (?= WORD) (EXAMPLE | SURE) | (?<= STOPS) SAME? IN_THERE (?= STITCH)")
""" "Do not join, sc in each st around", "6 sc, i.e. one in each st", "..., making sure that you end with a dc", "...,
so there is a dc over each sc"; "does not count" says something of a chain"""

_COUNTED_OFF = PhrasePattern(
    "COUNTS NUMBER BASES [IN SIDE WORD]* [COMMA AND THEN]* (WORK | FROM | IN)+"
    " [NUMBER ORDINAL] ([NOUN SPACE] | BASES (?! NUMBER))?"
)
""" "ch 9, count off 9 stitches and starting from the 10th sc 8" """

IN_PASSING = PhrasePattern(
    """
      (WITH | CHANGE | (?<= AND) (?= WORD | NUMBER)) WORD? WORD? DOT? (NUMBER (DOT NUMBER)? MILLIMETRES?)?
      (?= WORD) A_HOOK
      ((?= WORD) IF ((?! STOPS | [DASH OPEN AND]) ..)*)?
    | (ONGOING COLOURED | CHANGE COLOURED?) EACH? NUMBER? ROUND (?= STOPS | $)
    | PREVIOUS COLOURED+ (?= STOPS | $)
    | WORK IN? SPACE BETWEEN [EACH ALL]* [NOUN STITCH BUNCH PREVIOUS]+ (?= DOT | COLON)
    """
)
"""How what follows is worked, a remark whatever follows it: "with a 3.5 mm hook ch 1, 8 dc in ring", "with red and
size H hook, ch 12", "change to a 5 mm hook", "alternating colours every 2 rows", "the last row is red"."""

IN_WHICH_STITCH = PhrasePattern("TOTAL? WITH WORD* [STITCH BUNCH] NOUN? WORD? (?= STOPS | [COLON OPEN DASH] | $)")
""" "using the split sc, sc in each st around", "still with front cluster stitch: ch 1, ...": how all that follows is
worked, and no stitch"""

HOW_IT_LIES = PhrasePattern("(?<! NUMBER | [EACH NEXT]) HOLDING (?! TOTAL? [COLOURED LOOP_DRAWN])")
""" "keeping the petals of rnd 3 in front, sc in next sc" """

LAID_TOGETHER = PhrasePattern("(?<! NUMBER) (?= [WORD WORK]) LAYING (?! NUMBER? [MADE NOUN MARKER TOG])")
""" "place the lid on the cup, wrong sides together, and work 1 sc through both edges" """

_MAKES = PhrasePattern("NUMBER HEADS | HEADS [NUMBER IN EACH NEXT] | [EACH TIMES AROUND REPEAT SKIP]")
"""What says that something is made, and how often or where."""

_HELD_WHERE = frozenset("behind front back forward forwards down toward towards away aside backward".split())

_LAID = frozenset("together facing top over onto against".split())

_SPREAD = PhrasePattern("(NUMBER STITCH? | STITCH) EVENLY (?= STOPS | $)")
""" "32 sc evenly around, 1 in each row end" """

_SAME_WAY = PhrasePattern("SAME WORD (?= STOPS) | ALL (?= COLOURED)")
""" "sc in each st around, all red" """

_UNWORKED = PhrasePattern("OMIT (?= [LAST REMAINING NUMBER OTHER NEXT] | ORDINAL ([NOUN STITCH] | STOPS | $))")
""" "sc in next 8 sts, leaving the last 2 sts unworked", "omit the first st, 12 sc, leave the last st" """

ON_THESE = PhrasePattern(
    "WORK? [IN OVER] [SAME NOUN]+ NUMBER BASES (?= STOPS | COLON | $)"
    " | WORK [IN OVER] [SAME ORDINAL NOUN]* NUMBER BASES"
    " (?= [COMMA COLON] WORD? (STEP | TURN | NUMBER? [CHAIN HEADS]))"
)
""" "10 sc, turn and work on these 10 sts only", "Working on first 10 sts only, sc across" """

_STOPPING_BEFORE = PhrasePattern("(?= [WORD END]) STOPPING NUMBER BASES [WORD FROM]+ [END AROUND]")
""" "sc across, stopping 3 sts before end" """

_FOR_ROUNDS = PhrasePattern(
    "IN (?= [NUMBER NEXT AGAIN ONGOING] | $) [NEXT NUMBER ROUND AGAIN ONGOING]* | NUMBER ROUND [OF WITH] (?= NUMBER)"
)
""" "sc in each st around for 4 rounds", "6 rounds of 30 sc" """

_TELLS_NOTHING = PhrasePattern("NUMBER COLOURED? ROUND | [TOTAL EVENLY AROUND MARKER TOP BASE ROUND]")
""" "(sc, inc) x 6, around" """

_BARE_NUMBER = PhrasePattern("(?<= [OPEN COMMA MARK]) NUMBER (?= [COMMA CLOSE MARK])")
""" "(1, inc) x 6" """

_BESIDE_A_CHANGE = PhrasePattern("(?<= [INC DEC] ..) NUMBER | NUMBER .. [INC DEC]")
""" "(inc, 1) x 6", "(1, inc) x 6" """

_PLAIN_COUNT = PhrasePattern("NOUN NUMBER | NUMBER NOUN (?! TOG) | NUMBER SPACE? (?= EVEN)")
""" "inc, 5 sts, inc", "36 without changes", "36 loops without changes" """


def side(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """SIDE := [in | around] other side [of ch]: from here on along the other side of the foundation chain"""
    first = cursor.place
    words = cursor.take_phrase(_SIDE)
    if words:
        first += words[0].kind is not T.SIDE
        items.append(Some(other_side(cursor.span(first))))
    return bool(words)


def counted_off(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """COUNTED OFF := count n BASE [words] from the (n + 1)th [BASE]: n are passed over, as the second number says"""
    first = cursor.place
    words = cursor.take_phrase(_COUNTED_OFF)
    numbers = [word.number for word in words if word.kind in (T.NUMBER, T.ORDINAL)]
    if not words or numbers[1] != numbers[0] + 1:
        cursor.place = first
        return False
    items.append(Some(skipping(cursor.span(first)), Exactly(numbers[0])))
    return True


def how_it_lies(cursor: Cursor, _items: list[Item], until: int) -> bool:
    """HOW IT LIES := holding words (in front | behind | ...) words, up to what is made: how the work lies"""
    return _takes_position(cursor, min(cursor.end_of(CLAUSE_ENDS | {T.COLON, T.DASH}), until), _HELD_WHERE)


def laid_together(cursor: Cursor, _items: list[Item], until: int) -> bool:
    """LAID TOGETHER := laying words (together | facing | on top | ...) words, up to what is made"""
    return _takes_position(cursor, min(cursor.end_of(SENTENCE_ENDS), until), _LAID)


def _takes_position(cursor: Cursor, end: int, positions: frozenset[str]) -> bool:
    """Whether the words up to what is made tell one of these positions; taken as a remark if they do."""
    first = cursor.place
    end = cursor.first_of(_MAKES, first, end)
    end -= cursor.tokens[end - 1].kind is T.WORK  # "keeping the petals to the front work 1 sc round next sc"
    words = {word for token in cursor.tokens[first:end] for word in token.text.split()}
    if not words & positions:
        return False
    cursor.take_remark(end)
    return True


def denial(cursor: Cursor, _items: list[Item], until: int) -> bool:
    """DENIAL := not ..., but for "does not count" | i.e. ...: a remark, whatever it names"""
    if not cursor.take_phrase(DENIAL):
        return False
    rest_of_clause(cursor, until, anything=True)
    return True


def spread_out(cursor: Cursor, _items: list[Item], _until: int) -> bool:
    """SPREAD := n [stitch] in each row end, behind "32 sc evenly ...": how it comes to that number, and no more"""
    is_spread = any("evenly" in token.text for token in cursor.tokens[: cursor.place])
    return is_spread and cursor.takes_remark(_SPREAD)


def same_again(cursor: Cursor, _items: list[Item], _until: int) -> bool:
    """ "same way,", "same as last rnd", "all red": taken, changes nothing"""
    if cursor.take_phrase(_SAME_WAY):
        return True
    end = cursor.end_of(CLAUSE_ENDS)
    if cursor.at(T.SAME) and any(token.kind is T.ROUND for token in cursor.tokens[cursor.place : end]):
        cursor.place = end
        return True
    return False


def on_these_only(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """work on these n BASE only: the others are left; not taken if other than n were made. Before all else it says
    how far the row goes"""
    start = cursor.place
    words = cursor.take_phrase(ON_THESE)
    number = next((word.number for word in words if word.kind is T.NUMBER), 0)
    made = made_so_far(items)
    left = leaving(cursor.span(start))
    if words and made == 0 and not cursor.depth:
        items.append(Some(replace(left, role=Role.STEP, length=number)))
        return True
    if not words or made not in (None, number):
        cursor.place = start
        return False
    if any(word.kind in HEADS and word.value != "sl st" for word in cursor.tokens[cursor.place :]):
        message = f"what stands behind '{cursor.words(start)}' is worked in the next row"
        raise cursor.fail("next-row", message, cursor.span(start), "write it as a row of its own")
    items.append(Some(left, ToEnd()))
    return True


def unworked(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """UNWORKED := stopping n BASE before end | (leaving | except) ([last] n | the rest) [sts] [unworked]: passed
    over, so that the round still accounts for them"""
    if words := cursor.take_phrase(_STOPPING_BEFORE):
        number = next(word.number for word in words if word.kind is T.NUMBER)
        items.append(Some(leaving(cursor.span(cursor.place - len(words))), Exactly(number)))
        return True
    if not cursor.begins(_UNWORKED):
        return False
    group = likeliest(items[-1]) if items and cursor.begins(LAST_OF_GROUP) else None
    if isinstance(group, Group) and group.times != Exactly(1):
        items[-1] = cut_short(items[-1], early_end(cursor, group, None))
        return True
    first, end = cursor.place, cursor.end_of(STOPS | {T.OPEN})
    clause = cursor.tokens[first:end]
    kinds = {token.kind for token in clause}
    cursor.place = end
    one = int(not kinds.isdisjoint((T.LAST, T.NEXT, T.ORDINAL)))
    number = next((token.number for token in clause if token.kind is T.NUMBER), one)
    left = leaving(cursor.span(first))
    if items and _goes_round(items[-1]) and _FIRST_ALONE.isdisjoint(kinds) and _ordinals(clause) == [1]:
        # The first one is passed over before the others are worked, wherever that is said.
        items.insert(-1, Some(replace(skipping(cursor.span(first)), over_first=True)))
        return True
    if number and kinds & {T.LEFT, T.NOUN, T.STITCH}:
        items.append(Some(left, Exactly(number)))
    elif kinds & {T.REMAINING, T.OTHER}:
        items.append(Some(left, ToEnd()))
    else:
        cursor.remarks.append(cursor.words(first))
    return True


_FIRST_ALONE = frozenset((T.LAST, T.NUMBER, T.REMAINING, T.OTHER))
"""With one of these more than the first stitch is left out."""


def _ordinals(clause: list[Token]) -> list[int]:
    return [token.number for token in clause if token.kind is T.ORDINAL]


def _goes_round(item: Item) -> bool:
    return isinstance(item, Some) and item.act.role is Role.WORK and item.times == ToEnd()


def bracket_behind(cursor: Cursor, items: list[Item]) -> None:
    """How the change before it is worked, "dec 1 (work 2 sc tog)", or a remark"""
    if not _says_change_again(cursor, items):
        bracket_remark(cursor, items)


def _says_change_again(cursor: Cursor, items: list[Item]) -> bool:
    """Whether a bracket makes what the one increase or decrease before it makes, over as many places, and is behind
    that for no other reason; taken then"""
    start, last = cursor.place, items[-1] if items else None
    close = cursor.closing(start)
    change = last.act if isinstance(last, Some) and last.times == Exactly(1) else None
    if change is None or not (change.is_increase or change.is_decrease) or not cursor.begins(_CLAUSE_OVER, close):
        return False
    cursor.take()
    try:
        inner = cursor.items(close)
    except NotUnderstood:
        inner = []
    inner = [item for item in inner if not isinstance(item, Colour) or item.key not in _ARTICLE]
    one = inner[0] if len(inner) == 1 else None
    again = isinstance(one, Some) and one.times == Exactly(1) and _size(one.act) == _size(change)
    cursor.place = close + 1 if again else start
    return again


def _size(act: Instruction) -> tuple[int, int]:
    return act.takes, act.stitches


_ARTICLE = ("a",)
"""In "(a decrease)" it is no yarn."""

_CLAUSE_OVER = PhrasePattern("CLOSE (STOPS | MARK | CLOSE | REPEAT | $)")


_SKIPPED_CHAINS = PhrasePattern(
    "(?<! OPEN) ([ORDINAL NUMBER]* (?= [WORD SKIP]) PASSED_OVER NUMBER? CHAIN NUMBER? (?= NOT | COUNTS)"
    " | ORDINAL NUMBER CHAIN (?= NOT? COUNTS))"
)
""" "2 dc in 4th ch from hook. The 3 skipped chs count as a dc." """


def counts_or_not(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """COUNTING on its own: "ch 3, dc in next st. Ch 3 counts as dc.", "The skipped chs do not count." """
    if not cursor.take_phrase(_SKIPPED_CHAINS) and not says_counting(cursor):
        return False
    end = cursor.end_of(CLAUSE_ENDS | {T.DASH})
    counting(cursor, items, end)
    cursor.place = end
    return True


def tells_nothing(cursor: Cursor, _items: list[Item], _until: int) -> bool:
    """ "for 4 rounds", "in next rnd", stray totals and extents: taken, the words kept as a remark"""
    if words := cursor.take_phrase(_FOR_ROUNDS):
        cursor.rounds = next((word.number for word in words if word.kind is T.NUMBER), cursor.rounds)
        return True
    if not cursor.begins(_TELLS_NOTHING):
        return False
    first = cursor.place
    end = max(cursor.end_of(CLAUSE_ENDS), first + 1)
    instructs = any(token.kind in MADE for token in cursor.tokens[first:end])
    cursor.place = first + 1 if instructs else end
    cursor.remarks.append(cursor.words(first))
    return True


def bare_number(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """n, beside increases or decreases in a bracket: "(1, inc) x 6" means the stitch of the line"""
    if not cursor.depth or not cursor.begins(_BARE_NUMBER) or not cursor.begins(_BESIDE_A_CHANGE):
        return False
    first = cursor.place
    act = stitch(MAIN).act(cursor.loop, cursor.span(first, first + 1))
    items.append(Some(act, Exactly(cursor.number())))
    return True


def plain_count(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """PLAIN COUNT := n sts [around] | sts n: so many of the stitch of the line"""
    if not cursor.begins(_PLAIN_COUNT):
        return False
    cursor.accept(T.NOUN)
    first = cursor.place
    number = cursor.number()
    cursor.skip(T.NOUN, T.SPACE)
    cursor.skip(T.AROUND, T.ROUND)
    act = stitch(MAIN).act(cursor.loop, cursor.span(first))
    items.append(Some(act, Exactly(number)))
    return True
