"""Rounds named again: "Rep Rnds 5-6 three more times", "as Rnd 8 but in back loops", "continue increasing in this
way until there are 60 sts"."""

from __future__ import annotations

from tracker.diagnostics import Lines
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Heading, Reference
from tracker.notation.parser.aside import DENIAL
from tracker.notation.parser.quantity import ANOTHER
from tracker.notation.parser.total_value import stated
from tracker.notation.token_kinds import MADE, PAUSES, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token

_LONGEST_RANGE = 1000
"""Rounds in a range; beyond that the second number is taken for a round on its own."""


_LAST_ROUNDS = PhrasePattern("[LAST PREVIOUS] | SAME ROUND")
""" "Rnd 5: repeat last 2 rnds" """

THE_SAME_AGAIN = PhrasePattern(
    "( (?= SAME) THE_SAME AGAIN? | (?<= AS) (?= WORD) BEFORE_WORD ) COMMA?"
    " (?= DOT? $ | IN? LOOP | [PAUSES AND THEN]* [STEP TURN JOIN] ((?! MADE | NUMBER) ..)* $"
    " | [PAUSES AND]+ ((?! [MADE NUMBER LOOP IN WITH COLOURED EACH CHANGE BETWEEN ONGOING]) ..)* $"
    " | [WITH CHANGE IN JOIN]+ COLOURED | IN? EACH ORDINAL BASES? DOT? $"
    " | [WITH WORK]* NUMBER EVEN? [STITCH NOUN]+ ([BETWEEN WORD] | [AROUND IN EACH OF]+ [SIDE WORD]))"
    " | (?= IN EACH ORDINAL BASES? DOT? $)"
)
""" "r4 same, but both loops", "Rnd 5: same as before", "Rnd 5: likewise", "ditto, but every 5th st", "same again with
9 dc along the sides"; "in every 5th" alone is what the round before has in every 4th"""

_AGAIN = PhrasePattern("(?<! ..) REPEAT DOT? $")
""" "Rnd 6: repeat" """

_SO_MANY_ROUNDS = PhrasePattern("NUMBER ROUND")
""" "rep last 2 rnds" """

_NTH_ROUNDS = PhrasePattern(
    "ORDINAL [ORDINAL DASH TO AND COMMA]* (ROUND | (?= DOT) | $) | ORDINAL (?= COMMA [WITH WORK])"
)
""" "Rnd 5: repeat 3rd rnd", "Rnd 5: as 3rd", "Rnd 5: like the third, but with 3 sc between incs" """

_THIS_ROUND = PhrasePattern("(?= REPEAT) REPEAT_THIS SAME? ROUND ((?= NUMBER [TIMES MORE]) | (?! NUMBER))")
""" "repeat this rnd 3 times" """

_FOR_MORE_ROUNDS = PhrasePattern("IN NEXT? NUMBER MORE? ROUND (STOPS | $)")
""" "repeat for 3 more rnds": the round that stands before"""

_ALTERNATING = PhrasePattern("[OTHER ONGOING] BETWEEN? (?= ROUND NUMBER)")
""" "Rows 4-25: alternate rows 2 and 3" """

_FOR_ROUNDS = PhrasePattern("IN NEXT? NUMBER MORE? ROUND (?! NUMBER)")
""" "Rnd 5: repeat rnd 4 for 3 more rnds" """

_UNTIL_ROUNDS = PhrasePattern("[UNTIL TOTAL] TOTAL? NUMBER MORE? ROUND (?! NUMBER)")
""" "Rnd 5: repeat rnds 3-4 until there are 12 rnds" """

_BY_NUMBER_ALONE = PhrasePattern(
    "(?<= [REPEAT AS]) NUMBER ([DASH TO AND COMMA] NUMBER)*"
    " (DOT | SEMI | CLOSE | $ | COMMA [WORD OVER IN AND]+ DOT? $)"
)
""" "14) repeat 13.", "5: as 4", "5: as 4, rib on rib" """

_SO_OFTEN = PhrasePattern("NUMBER [TIMES MORE] | TIMES NUMBER")
""" "Rnd 5: repeat rnd 4 3 times" """

_NUMBER_OF_TIMES = PhrasePattern("NUMBER [TIMES MORE] (?! NUMBER)")
""" "Rnd 5: repeat rnds 3, 4 2 times": the last number is none of a round"""

_GOAL = PhrasePattern(
    """UNTIL [TOTAL COUNTS WORD]* NUMBER (OPEN NUMBER ([COMMA SLASH] NUMBER)* CLOSE)? [NOUN STITCH]
       [TOTAL LEFT REMAINING]* (IN SAME? ROUND)? (?= STOPS | [OPEN DASH] | $)
     | UNTIL WORD* TOTAL [TOTAL WORD]* NUMBER (OPEN NUMBER ([COMMA SLASH] NUMBER)* CLOSE)? (?= DOT | $)"""
)
""" "repeat rnds 3-4 until there are 48 (54, 60) sts", "repeat last row until 5 sts remain" """

_BARE_GOAL = PhrasePattern("UNTIL NUMBER (?= DOT | $)")
""" "continue increasing in this way until 48" """

_ONWARD = PhrasePattern("ONGOING | (?= WORD) KEEP ((?= WORD) ADDING NUMBER)? [INC DEC]")
""" "Continue increasing in this way", "Keep decreasing", "keep adding 6 increases" """

_ADDED = PhrasePattern(
    "[COMMA WITH AND]* ((?= WORD) ADDING NUMBER MORE? | NUMBER MORE | (?= NUMBER .. MORE) NUMBER) [STITCH NOUN]"
    " MORE? BETWEEN ([EACH ALL]* [INC DEC] | (?= STOPS | $)) [EACH TIMES IN ROUND]*"
)
""" "repeat, adding one sc between increases": what is more in each round than in the one before"""

_TITLE = PhrasePattern("OPEN ((?! [NUMBER CLOSE MADE]) ..)* CLOSE [COMMA COLON DASH DOT]")
""" "Rnds 3-8 (inclusive): as rnd 2", "Rnd 10 (wrong side). As 1st" """

_GAP = PhrasePattern(
    "[COMMA DASH AND]* [WITH WORK THEN]* NUMBER EVEN? [STITCH NOUN]*"
    " (BETWEEN | (?= WORD) (AFTER_WORD | BEFORE_WORD)) [EACH ALL]* ([INC DEC] | (?= DOT) | $)"
    " [IN EACH TIMES]* DOT? $"
)
""" "like the third, but having two plain between the widenings", "same again but only 3 sc after each dec" """

_SO_OFTEN_AS = PhrasePattern("(NUMBER TIMES | OFTEN | AGAIN) AS? (?= ROUND NUMBER)")
""" "Rnds 5-8: four times rnd 3", "twice row 2", "again row 6" """

_OTHER_GAP = PhrasePattern("[AND WITH THEN COMMA]* (?= NUMBER)")
""" "Rnd 5: and now 3 sc between", as it is told behind a round with another gap"""

_GAINS = PhrasePattern(
    "DOT [WORD TOTAL SAME EACH ROUND INC DEC IN_THERE IN TIMES]* NUMBER MORE? [STITCH NOUN]? MORE?"
    " [IN EACH TIMES ROUND WORD]* DOT? $"
    " | [COMMA SEMI DASH OPEN]* ([INC DEC] | (?= WORD) GAINS_WORD) NUMBER MORE? [STITCH NOUN] MORE?"
    " (EACH [TIMES ROUND])? CLOSE? DOT? $"
    " | [COMMA SEMI DASH OPEN]* WITH? NUMBER MORE [STITCH NOUN] (EACH [TIMES ROUND])? CLOSE? DOT? $"
)
""" "repeat rnd 3. You gain 6 sts every round", ", with 6 more dc every time": a witness to what comes again"""

_CHANGES_AS_BEFORE = PhrasePattern("[WORK INC DEC]* AS (?= WORD) BEFORE_WORD")
""" "inc as before, having 3 sc between incs" """

_BY_SO_MANY = PhrasePattern("[INC DEC] NUMBER NOUN? $")
""" "Rnds 4-6: increase by 6 each round": no increase in each stitch, where a line is for several rounds"""

_TO_GOAL = PhrasePattern("COMMA? TO NUMBER ([NOUN STITCH] (?= STOPS | [OPEN DASH] | $) | (?= DOT | $))")
""" "continue increasing to 48 sts" """

_ONWARD_FOR = PhrasePattern("IN NEXT? NUMBER MORE? ROUND")
""" "continue in this way for 5 more rnds" """

_HOW_ONWARD = frozenset((
    T.ONGOING, T.INC, T.DEC, T.TO, T.IN, T.EACH, T.ROUND, T.NUMBER, T.NOUN, T.COMMA, T.DOT, T.TIMES, T.MORE, T.NEXT,
    T.WORD, T.SAME, T.OTHER, T.EVENLY, T.AROUND, T.ORDINAL,
))  # fmt: skip
"""What is said of rounds that go on as those before them, and no more is made."""

_MORE_ROUNDS = PhrasePattern(
    "(WORK ((?= WORD) ANOTHER)? MORE? NUMBER MORE? | NUMBER MORE) ROUND (?! NUMBER) | NUMBER ROUND (?= EVEN)"
)
""" "Work 6 more rounds in dc", "4 more rounds the same way", "Three rows plain" """

_THE_SAME_WAY = PhrasePattern("([IN AS]* SAME WORD? | ONGOING)? DOT? $")

_EVENLY_ON = PhrasePattern("EVEN? ([IN OF] STITCH)? DOT? $")
""" "Work 6 more rounds in dc", "Work 4 rounds even" """

_OVER_THESE = PhrasePattern("[IN OF] STITCH [IN OVER] [SAME NOUN]* NUMBER [NOUN STITCH] (?= STOPS | $)")
""" "Work 8 rounds in dc on these 60 sts": how many there are is said once more"""

_CLOSES_OFF = PhrasePattern(
    "((PAUSES | AND | THEN)* (JOIN | STEP | STITCH [IN TO] [NEXT ORDINAL]* [STITCH NOUN]))* DOT? $"
)
""" ", ss into next dc and fasten off" behind the last of so many rounds"""

_EVEN_FOR = PhrasePattern("EVEN ([IN OF] STITCH)? IN NEXT? NUMBER MORE? ROUND ([IN OF] STITCH)? DOT? $")
""" "Work even in hdc for 5 rounds" """

_CHANGE = PhrasePattern(
    "IN? LOOP (?= STOPS | $) | (WITH | CHANGE | IN | JOIN WITH) COLOURED (?= STOPS | $) | IN? EACH ORDINAL"
)
""" "Rnd 6: as rnd 4 but in back loops only", "Rnd 5: as rnd 4 but with grey", "as rnd 4 but every 5th st" """


_OTHER_NUMBER = PhrasePattern(
    "[COMMA DASH]* [WITH WORK] NUMBER [STITCH NOUN] ((?! STOPS | [NUMBER REPEAT MARK OPEN]) ..)* DOT? $"
)
""" "as rnd 3, but with 9 dc between the corners": one number of it is another this time"""


_INTO_EACH_SPACE = PhrasePattern(
    "[COMMA DASH WORD]* WORK [NUMBER STITCH CHAIN COMMA AND BUNCH OPEN CLOSE]*"
    " IN EACH [NUMBER CHAIN]* SPACE ((?! STOPS) ..)* DOT? $"
)
""" "as rnd 3, working 3 dc, ch 1 in each ch-1 sp along the sides": as often as there are any"""


_GROUPS_ON_SIDES = PhrasePattern(
    "[COMMA DASH AND]* WITH? NUMBER MORE? (BUNCH | (?= WORD) A_GROUP (OF NUMBER? STITCH)?)"
    " [IN AROUND EACH ALL OF]* (SIDE | (?= WORD) SIDES) ((?! [COMMA MADE]) ..)* DOT? $"
)
""" "as rnd 3, but with two groups of 3 dc along each side": how far the sides have grown, a witness"""


def split_goal(cursor: Cursor, lines: Lines) -> tuple[list[Token], int]:
    """The words of a line without the count of stitches that it is worked up to, and that count; 0 if it has none."""
    words = cursor.tokens
    widens = any(word.kind in (T.INC, T.DEC) for word in words)
    for cursor.place in (index for index, word in enumerate(words) if word.kind is T.UNTIL):
        start, goal = cursor.place, cursor.take_phrase(_GOAL) or (cursor.take_phrase(_BARE_GOAL) if widens else [])
        if goal:
            count = stated(goal[1:], lines, cursor.context.size).stitches
            return [*words[:start], *words[start + len(goal) :]], count or 0
    if cursor.begins(_ONWARD, 0) or cursor.first_of(_ADDED, 0, len(words)) < len(words):
        for cursor.place in (index for index, word in enumerate(words) if word.kind in (T.TO, T.COMMA)):
            start, goal = cursor.place, cursor.take_phrase(_TO_GOAL)
            if goal:
                count = next(word.number for word in goal if word.kind is T.NUMBER)
                return [*words[:start], *words[start + len(goal) :]], count
    return words, 0


def onward(cursor: Cursor, head: Heading) -> Reference | None:
    """ONWARD := (continue | keep) [increasing | decreasing] [in this way] [n sts each rnd] [ADDED] [for n more rnds]
    | repeat ADDED | increase by n, for several rounds

    None for any other line.
    """
    words = cursor.tokens
    added = cursor.first_of(_ADDED, 0, len(words))
    is_more = added < len(words)
    if is_more:
        cursor.place = added
        behind = added + len(cursor.take_phrase(_ADDED))
        words = [*words[:added], *words[behind:]]
    counted = {index + 2 for index in range(len(words) - 2) if _is_by_so_many(words[index : index + 3])}
    words = [word for index, word in enumerate(words) if index not in counted]
    sorts = {word.kind for word in words if word.kind not in PAUSES}
    if is_more:
        goes_on = sorts <= _HOW_ONWARD or sorts <= {T.REPEAT, T.ROUND, T.NUMBER, T.SAME, T.LAST, T.PREVIOUS, T.EACH}
        return Reference(onward=True) if sorts & {T.ONGOING, T.REPEAT} and goes_on else None
    if cursor.begins(_BY_SO_MANY, 0) and (len(head.numbers) > 1 or head.is_open):
        return Reference(onward=True)
    kinds = [token.kind for token in cursor.tokens]
    cursor.skip(T.THEN)
    sorts = {word.kind for word in words} - {T.THEN}
    if not cursor.begins(_ONWARD) or not sorts <= _HOW_ONWARD or not (sorts & {T.INC, T.DEC} or _says_how(cursor)):
        return None
    if T.AROUND in sorts and not sorts & {T.INC, T.DEC}:
        return None
    cursor.place = cursor.first_of(_ONWARD_FOR, 0, len(kinds))
    numbers = [word.number for word in cursor.take_phrase(_ONWARD_FOR) if word.kind is T.NUMBER]
    return Reference(onward=True, rounds=numbers[0] if numbers else 0)


def _is_by_so_many(words: list[Token]) -> bool:
    """ "increasing 8 sc" in every other round: how many more there are, a witness to what goes on"""
    change, number, stitch = (word.kind for word in words)
    return change in (T.INC, T.DEC) and number is T.NUMBER and stitch in (T.STITCH, T.NOUN)


def _says_how(cursor: Cursor) -> bool:
    """Whether "continue" says "in this way", "as established", and not only that something goes on."""
    kinds = [token.kind for token in cursor.tokens]
    return kinds.count(T.ONGOING) > 1 or T.SAME in kinds or " " in cursor.tokens[0].text


def reference(cursor: Cursor) -> Reference | None:
    """REFERENCE := MORE ROUNDS | (rep | as | like) (LAST ROUNDS | NTH ROUNDS | ROUNDS) [TIMES] [CHANGE], alone in its
    round

    None for any other line.
    """
    if cursor.at(T.OPEN) and cursor.begins(_TITLE):
        cursor.remarks.append(cursor.words(0, len(cursor.take_phrase(_TITLE))))
    cursor.skip(T.COMMA, T.COLON, T.DASH, T.DOT, T.OPEN)
    start = cursor.place
    if cursor.take_phrase(_ALTERNATING):
        return _with_times(cursor, named) if (named := _rounds(cursor)) else None
    if (more := _more_rounds(cursor)) is not None:
        return more
    if cursor.take_phrase(_CHANGES_AS_BEFORE):
        words = cursor.take_phrase(_GAP)
        if words and cursor.place == len(cursor.tokens):
            return Reference(last=1, gap=_number(words))
        cursor.place = start
    if cursor.take_phrase(_AGAIN):
        return Reference(last=1)
    if cursor.begins(_OTHER_GAP) and cursor.begins(_GAP):
        words = cursor.take_phrase(_GAP)
        return Reference(last=1, gap=_number(words)) if cursor.place == len(cursor.tokens) else None
    if words := cursor.take_phrase(_SO_OFTEN_AS):
        often = next((word.number for word in words if word.kind in (T.NUMBER, T.OFTEN)), 1)
        return replace(named, times=often) if (named := _rounds(cursor)) else None
    if not cursor.at(T.REPEAT, T.AS, T.WORK, T.SAME) and not cursor.begins(THE_SAME_AGAIN):
        return None
    cursor.skip(T.WORK)
    this = cursor.begins(_THIS_ROUND) or (cursor.at(T.REPEAT) and cursor.begins(_FOR_MORE_ROUNDS, cursor.place + 1))
    cursor.skip(T.REPEAT, T.AS, T.FROM, T.ALL)
    named = _this_round(cursor) if this else _last_rounds(cursor) or _nth_round(cursor) or _rounds(cursor)
    if named is None:
        return None
    named = _with_times(cursor, named)
    if words := cursor.take_phrase(_GAP):
        return replace(named, gap=_number(words)) if cursor.place == len(cursor.tokens) else None
    if words := cursor.take_phrase(_GAINS):
        named = replace(named, gains=_number(words))
    if words := cursor.take_phrase(_OTHER_NUMBER):
        return replace(named, change=cursor.words(cursor.place - len(words)))
    remarks = (index for index in range(cursor.place, len(cursor.tokens)) if cursor.begins(DENIAL, index))
    behind = cursor.tokens[cursor.place : next(remarks, None)]  # "..., so that there is a dc over each sc"
    if cursor.begins(_INTO_EACH_SPACE):
        cursor.take_remark(len(cursor.tokens))
        return named
    made = (token.kind in (T.STITCH, T.INC, T.DEC, T.BUNCH) for token in behind)
    if any(made) and not cursor.begins(_GROUPS_ON_SIDES):
        return None
    until = next((index for index, word in enumerate(behind) if word.kind is T.UNTIL), None)
    if until is not None and (named.times, named.rounds) == (1, 0):
        return replace(named, by_eye=cursor.words(cursor.place + until, len(cursor.tokens)))
    return _changed(cursor, named)


def _number(words: list[Token]) -> int:
    return next(word.number for word in words if word.kind is T.NUMBER)


def _more_rounds(cursor: Cursor) -> Reference | None:
    """MORE ROUNDS := [work] n more rnds [in STITCH | even | the same way] | work even [in STITCH] for n rnds"""
    start = cursor.place
    words = cursor.take_phrase(_EVEN_FOR) or cursor.take_phrase(_MORE_ROUNDS)
    times = next((word.number for word in words if word.kind is T.NUMBER), 0)
    stitch = next((word.text for word in cursor.tokens[start:] if word.kind is T.STITCH), "")
    worked = f"work even in {stitch}" if stitch else "work even"
    if words and cursor.place == len(cursor.tokens) and words[0].kind is T.EVEN:
        return Reference(last=1, times=times, worked=worked)
    if words and cursor.begins(_OVER_THESE):
        number = _number(cursor.take_phrase(_OVER_THESE))
        if _closes_off(cursor):
            return Reference(last=1, times=times, worked=f"{stitch} in next {number} sts")
    if words and cursor.take_phrase(_THE_SAME_WAY):
        return Reference(last=1, times=times)
    if words and cursor.take_phrase(_EVENLY_ON):
        return Reference(last=1, times=times, worked=worked)
    cursor.place = start
    return None


def _closes_off(cursor: Cursor) -> bool:
    """Whether nothing but slip stitches and steps stands behind; the words are kept as a remark."""
    behind = cursor.tokens[cursor.place :]
    if any(word.kind in MADE and word.value != "sl st" for word in behind[:1]) or not cursor.begins(_CLOSES_OFF):
        return False
    cursor.remarks.append(cursor.words(cursor.place, len(cursor.tokens)))
    return True


def _changed(cursor: Cursor, named: Reference) -> Reference:
    """CHANGE := [but] (in LOOP | with NAME | change to NAME): what is other than in the rounds that are named"""
    cursor.skip(T.COMMA, T.DASH)
    words = cursor.take_phrase(_CHANGE)
    return replace(named, change=cursor.words(cursor.place - len(words))) if words else named


def _this_round(cursor: Cursor) -> Reference:
    """THIS ROUND := rnd, behind "repeat this": the one that stands before"""
    cursor.skip(T.SAME, T.ROUND)
    return Reference(last=1)


def _last_rounds(cursor: Cursor) -> Reference | None:
    """LAST ROUNDS := last [n] rnds | same rnd | previous rnd | the same [again] | as before"""
    if cursor.begins(THE_SAME_AGAIN):
        cursor.take_phrase(THE_SAME_AGAIN)
        return Reference(last=1)
    if not cursor.begins(_LAST_ROUNDS):
        return None
    names_round = cursor.take().kind is T.PREVIOUS
    last = cursor.number() if cursor.begins(_SO_MANY_ROUNDS) else 1
    return Reference(last=last) if cursor.accept(T.ROUND) or names_round else None


def _nth_round(cursor: Cursor) -> Reference | None:
    """NTH ROUNDS := nth { (- | to | and | ,) nth } rnds"""
    if not cursor.begins(_NTH_ROUNDS):
        return None
    named = _numbered(cursor)
    cursor.skip(T.ROUND)
    return named


def _rounds(cursor: Cursor) -> Reference | None:
    """ROUNDS := rnds n { (- | to | and | ,) n }"""
    return _numbered(cursor) if cursor.at(T.ROUND) or cursor.begins(_BY_NUMBER_ALONE) else None


def _numbered(cursor: Cursor) -> Reference | None:
    """The rounds that are named by their numbers, one by one and from one to another."""
    numbers: list[int] = []
    joiner: T | None = None
    while cursor.at(T.ROUND, T.NUMBER, T.ORDINAL, T.DASH, T.TO, T.AND, T.COMMA, T.PLUS):
        if cursor.begins(_NUMBER_OF_TIMES) or (joiner is T.NUMBER and cursor.at(T.NUMBER)):
            break  # "as rnd 3 (but) 2 sc between incs"
        token = cursor.take()
        if token.kind in (T.NUMBER, T.ORDINAL):
            first = numbers[-1] + 1 if numbers and joiner in (T.DASH, T.TO) else token.number
            in_range = first <= token.number < first + _LONGEST_RANGE
            numbers.extend(range(first, token.number + 1) if in_range else [token.number])
        joiner = token.kind
    return Reference(tuple(numbers)) if numbers else None


def _with_times(cursor: Cursor, named: Reference) -> Reference:
    """TIMES := x n | [another] n [more] times [more] | twice [more] | for n [more] rnds | until there are n rnds"""
    cursor.skip(T.CLOSE, T.COMMA)
    cursor.take_phrase(ANOTHER)
    if words := cursor.take_phrase(_FOR_ROUNDS):
        return replace(named, rounds=next(word.number for word in words if word.kind is T.NUMBER))
    if words := cursor.take_phrase(_UNTIL_ROUNDS):
        return replace(named, until=next(word.number for word in words if word.kind is T.NUMBER))
    if cursor.at(T.OFTEN):
        return replace(named, times=cursor.take().number)
    if cursor.begins(_SO_OFTEN):
        cursor.skip(T.TIMES)
        return replace(named, times=cursor.number())
    return named
