"""Where a line states its total: "(18)", "[18 sts]", "= 18", "- 18 sts", "join. 26 dc", "(26 dc), join"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Stated
from tracker.notation.parser.total_value import is_of_a_round, is_total, open_brackets, stated
from tracker.notation.token import Token
from tracker.notation.token_kinds import HEADS, MADE, PAUSES, STOPS, T
from tracker.span import Lines

_TRAILING = PAUSES | {T.DASH, T.MARK, T.COLON, T.OTHER_SIGN, T.FILLER}
_LEADING = PAUSES | {T.COUNTS, T.TOTAL, T.EQUALS, T.DASH, T.COLON, T.NOT}
_SAYS_HOW = MADE | {T.REPEAT, T.AROUND, T.TIMES, T.EACH, T.NOUN, T.JOIN, T.TURN, T.NUMBER, T.ONGOING}
_COUNTED = (T.TIMES, T.STITCH, T.INC, T.DEC, T.MARK)
"""Before a number that belongs to the instruction and not to a total in brackets behind it."""


@dataclass(frozen=True, slots=True)
class Totals:
    """The words without the totals, and the totals in the order written; `rounds` is n of "(n rnds)"."""

    body: list[Token]
    stated: tuple[Stated, ...]
    rounds: int | None = None


def take_totals(tokens: list[Token], lines: Lines, size: int = 0) -> Totals:
    """Split the stated totals off the words of an instruction; `size` is which of several sizes is made."""
    end = _End(*_how_counted(tokens), lines, size)
    while end.take_brackets() or (end.lacks_a_number and (end.drop_remark() or end.take_plain())):
        pass
    end.take_groups_before()
    if not end.stated:
        end.take_before_steps()
    return Totals(end.body, tuple(end.stated), end.rounds)


def _how_counted(body: list[Token]) -> tuple[list[Token], bool]:
    """The words without what the end tells of the counting, and whether that leaves the slip stitches out: "= 40 with
    the chains", "25 sts, not counting sl sts", "20 dc counting ch-3 as one"."""
    end = trimmed(body)
    closing = body[end - 1 : end] if end and body[end - 1].kind is T.CLOSE else []
    last = end - len(closing)
    for index in range(last - 1, max(1, last - _LONGEST_HOW), -1):
        word = body[index]
        tells = word.text in _HOW_COUNTED or (word.kind is T.WITH and T.CHAIN in {w.kind for w in body[index:last]})
        if not tells or any(w.kind not in _IN_HOW for w in body[index + 1 : last]):
            continue
        start = index - (body[index - 1].kind is T.NOT)
        start -= body[start - 1].kind is T.COMMA
        if body[start - 1].kind not in (T.NUMBER, T.NOUN, T.STITCH):
            return body, False
        slips = body[index - 1].kind is T.NOT and any(w.value == "sl st" for w in body[index:last])
        return body[:start] + closing + body[end:], slips
    return body, False


_LONGEST_HOW = 7
"""Words of what a total says of its counting: "not counting the sl st in each corner"."""
_IN_HOW = frozenset((T.CHAIN, T.NOUN, T.EACH, T.AS, T.NUMBER, T.STITCH, T.SPACE, T.BUNCH, T.ALL, T.AND))


class _End:
    """The end of an instruction, while totals and what stands behind them are taken off it."""

    def __init__(self, body: list[Token], without_slips: bool, lines: Lines, size: int) -> None:
        self.body = body
        self._without_slips = without_slips
        self.stated: list[Stated] = []
        self.rounds: int | None = None
        self._lines = lines
        self._size = size

    @property
    def lacks_a_number(self) -> bool:
        """Whether no total was found yet, or only one of named things: "- 40 sts (10 bobbles)"."""
        return all(each.stitches is None and each.groups for each in self.stated)

    def _state(self, words: list[Token]) -> None:
        found = replace(stated(words, self._lines, self._size), without_slips=self._without_slips)
        if self.stated and self.lacks_a_number and found.stitches is not None and not found.sizes:
            self.stated[0] = replace(found, groups=(*found.groups, *self.stated[0].groups))
        else:
            self.stated.insert(0, found)

    def take_brackets(self) -> bool:
        """'(' n rnds ')' | '(' TOTAL ')' '(' words ')' | '(' TOTAL ')'"""
        close = trimmed(self.body) - 1
        opening = opening_of(self.body, close)
        if opening is None:
            return False
        inner = _without_how(self.body[opening + 1 : close])
        if _is_rounds(inner):
            self.rounds = next(word.number for word in inner if word.kind is T.NUMBER)
            self.body = self.body[: trimmed(self.body[:opening])]
        elif len(inner) > 2 and _ends_in_total(self.body, opening):
            self.body = self.body[: trimmed(self.body[:opening])]
        elif _is_bracket_total(self.body, opening, inner):
            self._state(inner)
            self.body = _without_lead(self.body[:opening])
        else:
            return False
        return True

    def drop_remark(self) -> bool:
        """A remark that stands behind a total, in brackets or as a sentence: "= 18 (see picture)", "(18). Stuff"."""
        end = trimmed(self.body)
        opening = opening_of(self.body, end - 1)
        before = trimmed(self.body[:opening]) if opening else 0
        if opening and _are_numbers(self.body[opening + 1 : end - 1]):
            return False  # "= 12 (16, 20)" gives a total for each size
        if before and (_ends_in_sure_total(self.body, before) or _ends_in_total(self.body, before)):
            self.body = self.body[:before]
            return True
        sentence = _remark_behind_total(self.body[:end])
        if sentence is None:
            return False
        self.body = self.body[:sentence]
        return True

    def take_plain(self) -> bool:
        """TOTAL without brackets"""
        end = trimmed(self.body)
        start = plain_total(self.body[:end])
        if start is None:
            return False
        self._state(self.body[start:end])
        self.body = _without_lead(self.body[:start])
        return True

    def take_groups_before(self) -> None:
        """Named things that are counted before the stitches: "- 6 scallops (36 sts)" """
        start = len(self.body) - 2
        if not self.stated or start < 2 or self.body[start - 1].kind not in (T.DASH, T.DOT, T.SEMI):
            return
        number, name = self.body[start:]
        if number.kind is T.NUMBER and (name.kind is T.BUNCH or (name.kind is T.WORD and name.text.endswith("s"))):
            groups = stated([number, name], self._lines, self._size).groups
            self.stated[0] = replace(self.stated[0], groups=(*groups, *self.stated[0].groups))
            self.body = _without_lead(self.body[:start])

    def take_before_steps(self) -> None:
        """A total with nothing but joining, turning and chaining behind it: "(26 dc), join"."""
        found = _bracket_before_steps(self.body) or _plain_before_steps(self.body)
        if found is not None:
            before, words, behind = found
            self._state(words)
            self.body = before + behind


def _remark_behind_total(body: list[Token]) -> int | None:
    """Where a sentence for the maker begins that stands behind a total: "(18). Start to stuff"."""
    for index in range(len(body) - 1, 0, -1):
        kind = body[index].kind
        if kind is T.CLOSE and _is_sentence(body[index + 1 :]) and _ends_in_total(body, index + 1):
            return index + 1
        if kind in (T.CLOSE, T.OPEN, T.MARK):
            return None
        if kind in PAUSES or (kind is T.DASH and body[index - 1].kind is T.CLOSE):
            said = {word.kind for word in body[index + 1 :]}
            if not said & {T.WORD, T.STEP, T.WORK} or said & _SAYS_HOW:
                return None
            before = trimmed(body[:index])
            return index if _ends_in_total(body, before) or _ends_in_sure_total(body, before) else None
    return None


def _is_sentence(words: list[Token]) -> bool:
    """Whether the words say something and make nothing; the only number in them is that of a round."""
    rounds = {index + 1 for index, word in enumerate(words) if word.kind is T.ROUND}
    numbers = {index for index, word in enumerate(words) if word.kind is T.NUMBER}
    said = {word.kind for word in words}
    makes = said & (_SAYS_HOW - {T.NUMBER, T.NOUN})
    return T.WORD in said and len(words) >= _SENTENCE and not makes and numbers <= rounds


_SENTENCE = 4
"""Words of the shortest sentence that is taken for one without a full stop before it."""


def _ends_in_sure_total(body: list[Token], end: int) -> bool:
    """Whether a total without brackets stands before word `end`, and the sign or word before it leaves no doubt."""
    start = plain_total(body[:end])
    if start is None:
        return False
    lead = body[start - 1].kind
    return lead in (T.EQUALS, T.TOTAL) or (start > 1 and lead in (T.DASH, T.DOT))


def _ends_in_total(body: list[Token], end: int) -> bool:
    """Whether the bracket before word `end` is a total, so that what stands behind it is a remark."""
    close = trimmed(body[:end]) - 1
    opening = opening_of(body, close)
    if opening is None or opening == 0:
        return False
    return _is_bracket_total(body, opening, body[opening + 1 : close])


def trimmed(body: list[Token]) -> int:
    """Where the words end without the signs at their end."""
    end = len(body)
    while end and body[end - 1].kind in _TRAILING and not _closes_star(body, end - 1):
        end -= 1
    return end


def _closes_star(body: list[Token], index: int) -> bool:
    """Whether this is a star with a twin before it; one that has none is a footnote."""
    if body[index].kind is not T.MARK:
        return False
    return sum(token.kind is T.MARK for token in body[:index]) % 2 == 1


def _is_rounds(inner: list[Token]) -> bool:
    """ "(4 rnds)": how many rounds the line is for; "(24 sts in rnd)" is a total."""
    kinds = [word.kind for word in inner]
    if T.ROUND not in kinds or T.NUMBER not in kinds or MADE.intersection(kinds):
        return False
    return T.NOUN not in kinds or (T.NUMBER, T.ROUND) in pairwise(kinds)


def _without_how(inner: list[Token]) -> list[Token]:
    """The total in "56 sts, counting each ch as a st", "44 sts, the chains count"."""
    for index, word in enumerate(inner[1:], 1):
        if word.text in _HOW_COUNTED and inner[index - 1].kind in (T.COMMA, T.NOUN, T.NUMBER, T.STITCH):
            return inner[: index - (inner[index - 1].kind is T.COMMA)]
        if word.text in _HOW_COUNTED and [w.kind for w in inner[index - 2 : index]] == [T.COMMA, T.CHAIN]:
            return inner[: index - 2]
        if word.kind is T.COMMA and any(behind.kind is T.COUNTS for behind in inner[index:]):
            return inner[:index]
    return inner


_HOW_COUNTED = ("counting", "including", "incl", "counted", "included", "inclusive")


def _is_bracket_total(body: list[Token], opening: int, inner: list[Token]) -> bool:
    """Whether the words in the bracket are a total and not stitches, a number of times or sizes."""
    if not is_total(inner):
        return False
    if not any(word.kind in INSTRUCTS or word.kind in (T.TIMES, T.RING) for word in body[:opening]):
        return has_letters(body[:opening])
    before = body[opening - 1].kind
    if before is T.NUMBER and opening > 1 and body[opening - 2].kind in (T.EQUALS, T.TOTAL):
        return False  # "= 50 [55]" gives a total for each size
    small = max(word.number for word in inner if word.kind is T.NUMBER) < SMALLEST_ROUND
    if before in (T.COMMA, T.AND, T.THEN) and small and any(word.kind in (T.STITCH, T.POSTED) for word in inner):
        return False
    if before is T.TIMES and body[opening - 2].kind is T.NUMBER and _names(inner):
        return opening > 2 and body[opening - 3].kind not in PAUSES  # "4 x [10 sc]" is a group
    if before is T.NUMBER and _are_numbers(inner) and (opening < 2 or body[opening - 2].kind not in _COUNTED):
        return all(word.kind is not T.COMMA for word in inner)
    return True


def _are_numbers(inner: list[Token]) -> bool:
    return bool(inner) and all(word.kind in (T.NUMBER, T.COMMA, T.SLASH, T.DASH) for word in inner)


def _without_lead(body: list[Token]) -> list[Token]:
    """The words without what leads to a total: "= ", "total: ", "you should have"."""
    end = len(body)
    while end and body[end - 1].kind in _LEADING:
        end -= 1
    return body[:end]


_Parted = tuple[list[Token], list[Token], list[Token]]
"""The words before a total, those of it, and those behind it."""


def _bracket_before_steps(body: list[Token]) -> _Parted | None:
    """ "(26 dc), join" """
    for close in range(len(body) - 1, 0, -1):
        opening = opening_of(body, close)
        if body[close].kind is not T.CLOSE or opening is None or opening == 0:
            continue
        inner = body[opening + 1 : close]
        if _is_bracket_total(body, opening, inner) and _only_steps(body[close + 1 :]):
            return body[:opening], inner, body[close + 1 :]
        if not _only_steps(body[close:]):
            return None
    return None


def _plain_before_steps(body: list[Token]) -> _Parted | None:
    """ "= 26 dc, join" """
    for start in range(len(body) - 1, 1, -1):
        lead = body[start - 1].kind
        if body[start].kind is not T.NUMBER or lead not in (T.EQUALS, T.DASH, T.TOTAL, T.DOT, T.SEMI):
            continue
        end = start + 1
        while end < len(body) and body[end].kind in (T.NOUN, T.STITCH, T.BUNCH, T.WORD):
            end += 1
        led_to = lead in (T.EQUALS, T.TOTAL) or (end > start + 1 and leads_to(body[:start], body[start:end]))
        if led_to and _only_steps(body[end:]):
            return body[: start - 1], body[start:end], body[end:]
    return None


_CLOSES = (T.JOIN, T.TO)
"""What a stitch behind it is only the place of: "join to first dc", "ss to top of tr"."""


_BINDS = (T.AROUND, T.IN, T.EACH, T.NEXT, T.OVER, T.TIMES, T.ALL, T.OFTEN)
"""What belongs to the bracket before it, which is no total then: "(12 sc, 12 hdc) around"."""


def _only_steps(rest: list[Token]) -> bool:
    """Whether nothing but joining, turning and chaining is said here, and that is said."""
    kinds = {word.kind for word in rest}
    if kinds & {T.INC, T.DEC, T.BUNCH, T.POSTED, T.SKIP, T.REPEAT, T.MARK, T.TIMES, T.OPEN}:
        return False
    slips = any(word.value == "sl st" for word in rest)
    if rest and rest[0].kind in _BINDS and not (rest[0].kind is T.IN and {T.CENTRE} & {w.kind for w in rest[1:2]}):
        return False
    if not slips and not kinds & {T.JOIN, T.TURN, T.CHAIN, T.STEP, T.CHANGE, T.WORD, T.EVEN}:
        return False
    named = [index for index, word in enumerate(rest) if word.kind is T.STITCH and word.value != "sl st"]
    closes = [index for index, word in enumerate(rest) if word.kind in _CLOSES or word.value == "sl st"]
    return not named or (bool(closes) and closes[0] < named[0])


# Totals without brackets at the end of a line: "= 18", "- 18 sts", "join. 26 dc", "72 sc and 8 picots".

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

INSTRUCTS = MADE | {T.NOUN, T.REPEAT, T.AS, T.EVEN}
_ENDS_A_ROUND = frozenset(
    (T.AROUND, T.EACH, T.JOIN, T.TIMES, T.MARK, T.CLOSE, T.TURN, T.REPEAT, T.OFTEN, T.LAST, T.EVEN)
)  # fmt: skip


def opening_of(body: list[Token], close: int) -> int | None:
    """Where the bracket opens that closes at word `close`; None if none closes there."""
    if close < 0 or body[close].kind is not T.CLOSE:
        return None
    depth = 0
    for index in range(close, -1, -1):
        if body[index].kind is T.CLOSE:
            depth += 1
        elif body[index].kind is T.OPEN:
            depth -= 1
            if depth == 0:
                return index if body[index].value == body[close].value else None
    return None


def has_letters(body: list[Token]) -> bool:
    """Whether letter notation may stand here: "3X, V"."""
    return any(word.text in ("x", "v", "a", "w") for word in body)


def plain_total(body: list[Token]) -> int | None:
    """Where a total without brackets begins at the end of these words; None if there is none."""
    for start in range(len(body) - 1, max(0, len(body) - 1 - _LONGEST_PLAIN), -1):
        if body[start].kind is not T.NUMBER or body[start - 1].kind is T.CHAIN or not is_total(body[start:]):
            continue
        before = body[:start]
        if open_brackets(before) > 0 > open_brackets(body[start:]):
            continue  # the bracket holds more than the total
        instructs = any(word.kind in INSTRUCTS for word in before) or has_letters(before)
        if instructs and leads_to(before, body[start:]) and not is_of_a_round(body, start):
            return _with_what_else_is_counted(body, start)
    return None


def _with_what_else_is_counted(body: list[Token], start: int) -> int:
    """ "6 petals, 24 sts", "72 sc and 8 picots": the total from its first number on, where that begins a sentence."""
    if body[start - 1].kind not in (T.COMMA, T.AND, T.COLON):
        return start
    for first in range(start - 2, max(0, start - _LONGEST_PLAIN), -1):
        if body[first].kind in PAUSES and body[first].kind is not T.COMMA:
            counts = body[first + 1].kind is T.NUMBER and is_total(body[first + 1 :])
            return first + 1 if counts and _counts_what_is_no_stitch(body[first + 1 : start]) else start
    return start


def _counts_what_is_no_stitch(words: list[Token]) -> bool:
    return any(word.kind in (T.WORD, T.BUNCH, T.SPACE) for word in words) or T.STITCH in {w.kind for w in words[1:2]}


def leads_to(before: list[Token], total: list[Token]) -> bool:
    """Whether the words before a total without brackets lead to it; most of all the last one of them."""
    lead = before[-1].kind
    kinds = [word.kind for word in total]
    number = total[0].number
    if before[-1].text == "in all" and len(before) > 1 and before[-2].kind in MADE:
        return False  # "increase in all 6 sts" tells where
    if before[-1].text == "|" and len(total) == 1:
        return True  # the last column of a table
    if lead in (T.EQUALS, T.TOTAL) or T.TOTAL in kinds[1:]:
        return True
    if lead in PAUSES or lead is T.COLON:
        made = plainly_made(before)
        if made == number and (T.NOUN in kinds or (lead is not T.COMMA and len(total) > 1)):
            return True
        if made is not None and lead is T.SEMI and T.NOUN not in kinds:
            return False  # "inc x 3; 7 sc" goes on
    if lead is T.COLON and len(before) > 1 and before[-2].kind in (T.TOTAL, T.COUNTS):
        return True
    if len(total) == 1 and number >= FEWEST_AT_ALL and (lead in PAUSES or lead is T.COLON):
        return True
    if (
        lead is T.COLON
        and _names(total)
        and (_closes_round(before) or (number >= SMALLEST_ROUND and _goes_all_round(before)))
    ):
        return True
    if lead is T.COLON and T.NOUN in kinds and _works_at_once(before):
        return True
    if lead is T.COMMA and number >= SMALLEST_ROUND and _names(total) and _closes_round(before):
        return True
    if lead is T.DASH:
        return _behind_dash(before, total)
    if lead in (T.DOT, T.NEWLINE, T.SEMI):
        return _behind_stop(before, total)
    if lead in (T.AROUND, T.TURN, T.JOIN, T.EVENLY):
        return T.CHAIN not in kinds or T.SPACE in kinds
    if lead is T.NUMBER:
        return _behind_number(before, kinds)
    if lead is T.CLOSE and len(total) == 1:
        return number > MOST_TIMES_UNSAID
    if lead in (T.COMMA, T.AND, T.CLOSE, T.TIMES, T.MARK, T.NOUN, T.OFTEN):
        plain = [kind for kind in kinds if kind not in (T.LEFT, T.REMAINING)] == [T.NUMBER, T.NOUN]
        return plain and number >= SMALLEST_ROUND and _ends_a_round(before)
    return False


def plainly_made(words: list[Token]) -> int | None:
    """How many stitches a list of counts makes, "3 sc, inc x 2"; None for words that say more than that."""
    made = 0
    clauses: list[list[Token]] = [[]]
    for word in words:
        if word.kind in PAUSES or word.kind in (T.COLON, T.AND, T.PLUS):
            clauses.append([])
        else:
            clauses[-1].append(word)
    for clause in filter(None, clauses):
        kinds = [word.kind for word in clause if word.kind is not T.TIMES]
        head = next((word for word in clause if word.kind in (T.STITCH, T.INC, T.DEC)), None)
        if head is None or sorted(kind.value for kind in kinds) not in (
            [head.kind.value],
            sorted((head.kind.value, T.NUMBER.value)),
        ):
            return None
        count = next((word.number for word in clause if word.kind is T.NUMBER), 1)
        made += 2 * count if head.kind is T.INC else count
    return made


def _works_at_once(before: list[Token]) -> bool:
    """ "4 sc in ring:", "(sc, inc) x 6:", where the clause begins with what is worked or how often; "in next dc: 4
    sts" begins with its place."""
    begins = next((index for index in range(len(before) - 1, 0, -1) if before[index - 1].kind in STOPS), 0)
    first = next((word.kind for word in before[begins:-1] if word.kind not in (T.NUMBER, T.WORK)), None)
    return first is T.TIMES or first in HEADS


def _goes_all_round(before: list[Token]) -> bool:
    """ "... evenly spaced around:", "[...] 7 times:" """
    last = before[-2].kind if len(before) > 1 else None
    return last in (T.AROUND, T.EVENLY) or (last is T.TIMES and T.CLOSE in {word.kind for word in before})


def _names(total: list[Token]) -> bool:
    return any(word.kind in (T.NOUN, T.STITCH, T.BUNCH, T.SPACE, T.POSTED) for word in total)


def _names_in_plural(total: list[Token]) -> bool:
    """ "6 petals": nothing that is known, but a number of something."""
    return any(word.kind is T.WORD for word in total) and total[-1].text.endswith("s")


def _ends_a_round(before: list[Token]) -> bool:
    return any(word.kind in _ENDS_A_ROUND for word in before)


def _behind_dash(before: list[Token], total: list[Token]) -> bool:
    """ "- 18 sts", or another total behind the only dash."""
    if any(word.kind is T.NOUN for word in total):
        return True
    only_dash = sum(word.kind is T.DASH for word in before) == 1
    return only_dash and (len(total) == 1 or _names(total) or _names_in_plural(total))


def _behind_stop(before: list[Token], total: list[Token]) -> bool:
    """ "around. 18 sts", "join. 26 dc"."""
    kinds = {word.kind for word in total}
    ends = _ends_a_round(before)
    if T.NOUN in kinds and (ends or any(word.kind is T.NUMBER for word in before)):
        return True
    if not ends and all(word.value != "sl st" for word in before):
        return False
    sizes = kinds <= {T.NUMBER, T.TOTAL, T.OPEN, T.CLOSE, T.COMMA, T.SLASH}
    return sizes or _names(total) or _names_in_plural(total)


def _behind_number(before: list[Token], kinds: list[T]) -> bool:
    """ "x 6 36", "x 6 36 sts": behind the number of times."""
    if len(kinds) == 1:
        return len(before) > 2 and before[-2].kind is T.TIMES
    return T.NOUN in kinds and any(word.kind in (T.TIMES, T.MARK) for word in before)


def _closes_round(before: list[Token]) -> bool:
    """Whether the clause before the comma closes the round: "..., ss to 1st htr, 48 htr", not "2 sl sts, 10 sc"."""
    opening = opening_of(before, len(before) - 2)
    said = before[:-1] if opening is None else before[:opening]
    clause: list[Token] = []
    for word in reversed(said):
        if word.kind in STOPS:
            break
        clause.insert(0, word)
    if any(word.kind is T.JOIN or word.text in _FASTENS_OFF for word in clause):
        return True
    slips = any(word.value == "sl st" for word in clause)
    made = any(word.kind in MADE and word.value != "sl st" for word in before)
    return made and slips and clause[0].kind is not T.NUMBER and all(word.kind is not T.NEXT for word in clause)


_FASTENS_OFF = ("fasten off", "finish off", "fo", "cast off", "bind off")
