"""A total without brackets: where it begins behind what is made, "..., sc around, 18 sts"."""

from __future__ import annotations

from itertools import pairwise

from tracker.notation.parser.prose_behind import without_whereabouts
from tracker.notation.parser.total_value import is_of_a_round, is_total
from tracker.notation.token_kinds import HEADS, MADE, PAUSES, STOPS, WORD_GROUPS, WORKED, T
from tracker.notation.token_stream import Token, open_brackets, opening_of

_LONGEST_PLAIN = 13
"""Words of the longest total without brackets: three kinds of stitch with a chain space, and a sum."""


FEWEST_AT_ALL = 4
"""A number alone behind a comma or a stop is a total from here on. No round is begun on fewer stitches (common
practice, no source); a smaller one is mostly the count of a stitch that was left out: "inc, 3, inc"."""

SMALLEST_ROUND = 6
"""Where stitches are named with it ("..., 5 sts"), a number is a total from here on: rounds begin with six (common
practice, no source), and fewer of them behind a comma are still to be worked."""

MOST_TIMES_UNSAID = 12
"""A number alone behind a bracket is how often it is worked up to here: a round is hardly ever parted into more than
twelve (common practice, no source), and "(5 sc, inc) 42" states a total."""


MAKING = "making"
"""A word for work that, right before a number at the end, leads to a total: "inc x 6, making 12 sts"."""


HAVING = "having"
"""Another one, before a number of anything: "inc 6 evenly, having 48 sc"."""

INSTRUCTS = MADE | {T.NOUN, T.REPEAT, T.AS, T.SAME, T.EVEN, T.TOG}


_ENDS_A_ROUND = frozenset(
    (T.AROUND, T.EACH, T.JOIN, T.TIMES, T.MARK, T.CLOSE, T.TURN, T.REPEAT, T.OFTEN, T.LAST, T.EVEN, T.ONGOING)
)  # fmt: skip


def has_letters(body: list[Token]) -> bool:
    """Whether letter notation may stand here: "3X, V"."""
    return any(word.text in ("x", "v", "a", "w") for word in body)


def plain_total(body: list[Token]) -> int | None:
    """Where a total without brackets begins at the end of these words; None if there is none."""
    column = next((index for index in range(len(body) - 1, 0, -1) if body[index - 1].text == "|"), 0)
    if column and is_total(body[column:]) and any(word.kind in INSTRUCTS for word in body[:column]):
        return column  # the last column of a table
    for start in range(len(body) - 1, max(0, len(body) - 1 - _LONGEST_PLAIN), -1):
        if body[start].kind is not T.NUMBER or body[start - 1].kind is T.CHAIN or not is_total(body[start:]):
            continue
        if body[start - 1].kind is T.JOIN and any(word.value == "sl st" for word in body[start:]):
            continue  # "close by 1 sl st"
        if is_no_count(body, start):
            continue
        before = body[:start]
        if open_brackets(before) > 0 > open_brackets(body[start:]):
            continue  # the bracket holds more than the total
        instructs = any(word.kind in INSTRUCTS for word in before) or has_letters(before) or _fills_each(before)
        if instructs and leads_to(before, body[start:]) and not is_of_a_round(body, start):
            return _with_what_else_is_counted(body, start)
    return None


def _is_left(before: list[Token]) -> bool:
    """ "take up two together all around, leaving six": of a round that narrows to its end nothing else is left"""
    kinds = [word.kind for word in before if word.kind not in PAUSES]
    return kinds[-2:] == [T.AROUND, T.OMIT] and bool({T.TOG, T.DEC} & {*kinds})


def _fills_each(before: list[Token]) -> bool:
    """ "two in each, ten in all": the stitch and its place are those of the line"""
    return [word.kind for word in before if word.kind not in PAUSES][:4] in _EACH_FILLED


_EACH_FILLED = ([T.NUMBER, T.IN, T.EACH], [T.NUMBER, T.IN, T.EACH, T.NOUN])


def _with_what_else_is_counted(body: list[Token], start: int) -> int:
    """ "6 petals, 24 sts", "72 sc and 8 picots", "= 20 sc, 20 loops": the total from its first number on, where that
    begins a sentence or stands behind a sign."""
    if body[start - 1].kind not in (T.COMMA, T.AND, T.COLON):
        return start
    for first in range(start - 2, max(0, start - _LONGEST_PLAIN), -1):
        if body[first].text == "in all" and body[first - 1].kind in MADE:
            return start  # "inc in all 8 sts, 16 sts"
        if body[first].kind in (T.EQUALS, T.TOTAL):
            return first + 1 if body[first + 1].kind is T.NUMBER and is_total(body[first + 1 :]) else start
        if body[first].kind in _SIGNS_BEFORE:
            counts = body[first + 1].kind is T.NUMBER and is_total(body[first + 1 :])
            return first + 1 if counts and _counts_what_is_no_stitch(body[first + 1 : start]) else start
    return start


_SIGNS_BEFORE = PAUSES - {T.COMMA} | {T.COLON, T.DASH}
"""What parts a total of several things from what is worked; a comma parts the things."""


def _counts_what_is_no_stitch(words: list[Token]) -> bool:
    return any(word.kind in (T.WORD, T.BUNCH, T.SPACE) for word in words) or T.STITCH in {w.kind for w in words[1:2]}


def leads_to(before: list[Token], total: list[Token]) -> bool:
    """Whether the words before a total without brackets lead to it; most of all the last one of them."""
    lead = before[-1].kind
    kinds = [word.kind for word in total]
    number = total[0].number
    if before[-1].text == "in all" and len(before) > 1 and before[-2].kind in MADE:
        return False  # "increase in all 6 sts" tells where
    if before[-1].text in ("these", "those"):
        return False  # "work on these 10 sts"
    if lead in (T.EQUALS, T.TOTAL) or T.TOTAL in kinds[1:] or before[-1].text == HAVING or _is_left(before):
        return True
    if lead is T.COMMA and number >= FEWEST_AT_ALL and _fills_each(before):
        return True
    if before[-1].text in ("count", "again") and {word.kind for word in before[-2:-1]} & (STOPS | PAUSES):
        return T.CHAIN not in kinds and T.STITCH not in kinds  # "2 in each st. Count 16", "again 18 sts"
    if lead in PAUSES or lead is T.COLON:
        made = plainly_made(before)
        if made == number and (T.NOUN in kinds or (lead is not T.COMMA and len(total) > 1)):
            return True  # "3 sc, inc, 5 sts": just what stands before it makes; where stitches are named
        if made is not None and lead is T.SEMI and T.NOUN not in kinds and before[-2].kind is not T.JOIN:
            return False  # "inc x 3; 7 sc" goes on, and "23 dc in ring, join; 24 dc" does not
    if lead is T.COLON and len(before) > 1 and before[-2].kind in (T.TOTAL, T.COUNTS):
        return True  # "total: 18", and no smallest number is asked of it
    if len(total) == 1 and number >= FEWEST_AT_ALL and (lead in PAUSES or lead is T.COLON):
        return True
    ends = _closes_round(before) or (number >= SMALLEST_ROUND and goes_all_round(before))
    if lead is T.COLON and names_stitches(total) and ends:
        return True
    if lead is T.COLON and T.NOUN in kinds and _works_at_once(before):
        return True  # one clause is worked and nothing can follow a colon in it
    if lead is T.COMMA and number >= SMALLEST_ROUND and names_stitches(total) and _closes_round(before):
        return True
    if lead is T.COMMA and number >= SMALLEST_ROUND and before[-2].kind is T.AROUND and kinds == [T.NUMBER, T.STITCH]:
        return True  # "rep from * around, 24 sc": the round is over
    if counts_groups(before, total):
        return True
    if (
        lead is T.COLON and before[-2].kind is T.TURN
    ):  # "sc in last 5 sts, ch 1, turn: 26 sc"; "ch 7, turn: 6 sc" begins
        return T.CHAIN not in kinds and any(word.kind in WORKED - {T.CHAIN} for word in before)
    if lead is T.DASH:
        return _behind_dash(before, total)
    if lead in (T.DOT, T.NEWLINE, T.SEMI):
        return _behind_stop(before, total)
    if lead in (T.AROUND, T.TURN, T.JOIN, T.EVENLY, T.EVEN):
        # With these the round is done, so a number is what it leaves; "turn, ch 3" only begins the next one.
        return T.CHAIN not in kinds or T.SPACE in kinds
    if lead is T.NUMBER:
        return _behind_number(before, kinds)
    if lead is T.CLOSE and len(total) == 1:
        return number > MOST_TIMES_UNSAID
    counted_kinds = [kind for kind in kinds if kind not in (T.LEFT, T.REMAINING)]
    plain = counted_kinds == [T.NUMBER, T.NOUN]
    if before[-1].text == MAKING:
        return T.NOUN in kinds or (len(total) == 1 and {word.kind for word in before[-2:-1]} <= PAUSES)
    if lead is T.COMMA:  # no stitch is named and no place: nothing is worked
        sure = number >= SMALLEST_ROUND or before[-2].kind is T.AROUND
        return counted_kinds[:2] == [T.NUMBER, T.NOUN] and sure and T.WORD not in counted_kinds[2:3]
    if lead in (T.AND, T.CLOSE, T.TIMES, T.MARK, T.NOUN, T.OFTEN):
        return plain and number >= SMALLEST_ROUND and _ends_a_round(before)
    return False


def is_no_count(body: list[Token], start: int) -> bool:
    """Whether the words from `start` on count what is no stitch: how far apart eyes are, "8 sts of distance", or what
    words of their own line stand before, "hair = 3 loops of yarn"."""
    line = next((at for at in range(start, 0, -1) if body[at - 1].kind is T.NEWLINE), 0)
    named = body[line : start - 1] if line and body[start - 1].kind is T.EQUALS else []
    stop = next((at for at in range(start, len(body)) if body[at].kind in PAUSES), len(body))
    return (named != [] and all(word.kind is T.WORD for word in named)) or not without_whereabouts(body[start:stop])


def counts_groups(before: list[Token], total: list[Token]) -> bool:
    """ "around, 20 scallops", "around for 8 loops": what a round has come to, and nothing to be made"""
    number, *named = total
    leads = before[-1].kind is T.COMMA or before[-1].text == "for"
    if not leads or number.kind is not T.NUMBER or len(named) != 1:
        return False
    is_group = named[0].kind in (T.BUNCH, T.SPACE) or named[0].text in _GROUPS
    return is_group and named[0].text.endswith("s") and goes_all_round(before)


_GROUPS = frozenset(WORD_GROUPS["PETALS"].split("|"))


def plainly_made(words: list[Token]) -> int | None:
    """How many stitches a list of counts makes, "3 sc, inc x 2", "magic ring, 6 sc", "sc2tog x 5"; None for words
    that say more than that."""
    made = 0
    clauses: list[list[Token]] = [[]]
    for word in words:
        if word.kind in PAUSES or word.kind in (T.COLON, T.AND, T.PLUS):
            clauses.append([])
        else:
            clauses[-1].append(word)
    for clause in clauses:
        kinds = [word.kind for word in clause if not _makes_nothing(word)]
        if T.IN in kinds and set(kinds[kinds.index(T.IN) :]) <= _IN_ONE_PLACE:
            del kinds[kinds.index(T.IN) :]
        if T.TOG in kinds and kinds.index(T.TOG):  # the number before it tells how many of them become one
            del kinds[kinds.index(T.TOG) - 1 : kinds.index(T.TOG) + 1]
        if kinds[:1] == [T.OPEN] and kinds[2:3] == [T.CLOSE]:  # one stitch alone in brackets, "(inc) x 6"
            kinds = [kinds[1], *kinds[3:]]
        if T.JOIN in kinds[:1] or kinds == [T.CHAIN, T.NUMBER] or _LEADS_UP.issuperset(kinds):
            continue
        head = next((word for word in clause if word.kind in (T.STITCH, T.INC, T.DEC)), None)
        if head is None or sorted(kind.value for kind in kinds) not in (
            [head.kind.value],
            sorted((head.kind.value, T.NUMBER.value)),
        ):
            return None
        count = next((word.number for word in reversed(clause) if word.kind is T.NUMBER), 1)
        made += 2 * count if head.kind is T.INC else count
    return made


def _makes_nothing(word: Token) -> bool:
    return word.kind in (T.TIMES, T.WORK, T.WITH, T.RING) or word.text in _RING_LETTERS


_LEADS_UP = frozenset((T.WORD, T.COLOURED, T.IN, T.FILLER))
"""The words of a clause that only leads up to what is made: "wrap the yarn for a magic ring"."""
_RING_LETTERS = WORD_GROUPS["RING_LETTERS"].split("|")
_IN_ONE_PLACE = frozenset((T.IN, T.NEXT, T.SAME, T.ORDINAL, T.NOUN, T.CHAIN, T.HOOK))
"""The words of one place, without a number of its own: "in 2nd ch from hook"."""


def _works_at_once(before: list[Token]) -> bool:
    """ "4 sc in ring:", "(sc, inc) x 6:", where the clause begins with what is worked or how often; "in next dc: 4
    sts" begins with its place. "... next 2 dc together:" is worked whatever it begins with."""
    begins = next((index for index in range(len(before) - 1, 0, -1) if before[index - 1].kind in STOPS), 0)
    first = next((word.kind for word in before[begins:-1] if word.kind not in (T.NUMBER, T.WORK)), None)
    return first in (T.TIMES, T.SKIP) or first in HEADS or before[-2].kind is T.TOG


def goes_all_round(before: list[Token]) -> bool:
    """ "... evenly spaced around:", "[...] 7 times:", "sc, inc and so 6 times:", "sc, inc - 6 x:" """
    last = before[-2].kind if len(before) > 1 else None
    opening = opening_of(before, len(before) - 2)
    if opening and T.TIMES in (before[opening - 1].kind, before[opening + 1].kind, before[-3].kind):
        return True  # "6 x (2 sc, inc):", "(2 sc, inc) (x 6):"
    if last is T.NOUN:
        return T.EACH in {word.kind for word in before[-5:-2]}  # "inc in every st:"
    return last in (T.AROUND, T.EVENLY, T.ONGOING) or (
        last is T.TIMES and bool({T.CLOSE, T.MARK, T.REPEAT, T.DASH} & {w.kind for w in before})
    )


def names_stitches(total: list[Token]) -> bool:
    return any(word.kind in (T.NOUN, T.STITCH, T.BUNCH, T.SPACE, T.POSTED) for word in total)


def _names_in_plural(total: list[Token]) -> bool:
    """ "6 petals", "6 clumps of 3": nothing that is known, but a number of something."""
    named = total[: next((at for at, word in enumerate(total) if word.kind is T.OF), len(total))]
    return any(word.kind is T.WORD for word in named) and named[-1].text.endswith("s")


def _ends_a_round(before: list[Token]) -> bool:
    return any(word.kind in _ENDS_A_ROUND for word in before)


def _behind_dash(before: list[Token], total: list[Token]) -> bool:
    """ "- 18 sts", or another total behind the only dash."""
    if any(word.kind is T.NOUN for word in total):
        return True
    repeats = before[-2].kind is T.TIMES or [word.kind for word in before[-3:-1]] == [T.TIMES, T.NUMBER]
    only_dash = repeats or sum(word.kind is T.DASH for word in before) == 1
    return only_dash and (len(total) == 1 or names_stitches(total) or _names_in_plural(total))


def _behind_stop(before: list[Token], total: list[Token]) -> bool:
    """ "around. 18 sts", "join. 26 dc"."""
    kinds = {word.kind for word in total}
    again = before[0].kind is T.AS and {T.ROUND, T.PREVIOUS} & {word.kind for word in before}  # "as last rnd. 12 dc"
    ends = again or _ends_a_round(before) or _sums_up(before, total[0].number)
    if T.NOUN in kinds and (ends or any(word.kind is T.NUMBER for word in before)):
        return True
    if not ends and all(word.value != "sl st" for word in before):
        return False
    sizes = kinds <= {T.NUMBER, T.TOTAL, T.OPEN, T.CLOSE, T.COMMA, T.SLASH}
    return sizes or names_stitches(total) or _names_in_plural(total)


def _sums_up(before: list[Token], number: int) -> bool:
    """ "sc in next 21 sts, sc3tog, sc in next 21 sts. 43 sc": about as many as the places that were named, and more
    than are worked into any of them."""
    into = [w.number for w, noun in pairwise(before) if w.kind is T.NUMBER and noun.kind in (T.NOUN, T.STITCH)]
    placed = T.NEXT in {word.kind for word in before[-5:]}
    return placed and len(into) > 1 and max(into) < number and sum(into) <= 2 * number <= 4 * sum(into)


def _behind_number(before: list[Token], kinds: list[T]) -> bool:
    """ "x 6 36", "x 6 36 sts": behind the number of times."""
    if len(kinds) == 1:
        return len(before) > 2 and before[-2].kind is T.TIMES
    return T.NOUN in kinds and any(word.kind in (T.TIMES, T.MARK) for word in before)


def _closes_round(before: list[Token]) -> bool:
    """Whether the clause before the comma closes the round: "..., ss to 1st htr, 48 htr", not "2 sl sts, 10 sc"; and
    whether all that is said is which round is worked again, "as 2nd row, 12 dc"."""
    kinds = {word.kind for word in before}
    if before[0].kind in (T.AS, T.REPEAT) and kinds <= (_NAMES_ROUND | _GAP if T.BETWEEN in kinds else _NAMES_ROUND):
        return True
    opening = opening_of(before, len(before) - 2)
    outside = before[:-1] if opening is None else before[:opening]
    clause: list[Token] = []
    for word in reversed(outside):
        if word.kind in STOPS:
            break
        clause.insert(0, word)
    made = any(word.kind in MADE and word.value != "sl st" for word in before)
    if any(word.kind is T.JOIN or word.text in _FASTENS_OFF for word in clause):
        return made or T.EVEN in {word.kind for word in before}
    slips = any(word.value == "sl st" for word in clause)
    return made and slips and clause[0].kind is not T.NUMBER and all(word.kind is not T.NEXT for word in clause)


_NAMES_ROUND = PAUSES | {
    T.AS, T.REPEAT, T.LAST, T.PREVIOUS, T.ORDINAL, T.NUMBER, T.ROUND, T.TO, T.AND, T.DASH, T.COLON, T.TIMES, T.OFTEN,
}  # fmt: skip
_GAP = frozenset((T.BETWEEN, T.WITH, T.WORK, T.STITCH, T.NOUN, T.EVEN, T.INC, T.DEC, T.EACH))
"""What tells of the gap that such a round has this time: "as 2nd row, with 3 sc between the incs, 24 sc"."""
_FASTENS_OFF = ("fasten off", "finish off", "fo", "cast off", "bind off")
