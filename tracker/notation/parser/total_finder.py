"""Where a line states its total: "(18)", "[18 sts]", "= 18", "- 18 sts", "join. 26 dc", "(26 dc), join"."""

from __future__ import annotations

from tracker.diagnostics import NOWHERE, Lines
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Stated
from tracker.notation.parser.measured_number import is_decimal_point
from tracker.notation.parser.net_change import NetChange, begin_of_change, change_of
from tracker.notation.parser.plain_total import (
    HAVING,
    INSTRUCTS,
    MAKING,
    SMALLEST_ROUND,
    counts_groups,
    goes_all_round,
    has_letters,
    is_no_count,
    leads_to,
    names_stitches,
    plain_total,
)
from tracker.notation.parser.prose_behind import SAYS_HOW, is_sentence, sentence_kinds
from tracker.notation.parser.remark import begins_sentence
from tracker.notation.parser.side_share import SideShare, share_of, share_of_groups, tells_each_side
from tracker.notation.parser.total_ending import end_of_count
from tracker.notation.parser.total_frame import (
    BINDS,
    closes_star,
    is_count_of_rounds,
    tells_steps_alone,
    trimmed,
    with_bare_counts,
    with_plain_brackets,
)
from tracker.notation.parser.total_value import is_total, stated
from tracker.notation.token_kinds import MADE, PAUSES, T
from tracker.notation.token_stream import PhrasePattern, Token, opening_of, shape_of
from tracker.notation.yarn_names import changes_yarn

_LEADING = PAUSES | {T.COUNTS, T.TOTAL, T.EQUALS, T.DASH, T.COLON, T.NOT}
_MAKES = MADE | {T.REPEAT, T.AROUND, T.TIMES, T.EACH, T.TURN, T.ONGOING}
"""What no sentence for the maker has; behind a total that leaves no doubt it may count, and close an opening."""
_REPEATED = (T.TIMES, T.MARK)
"""Before a number of times, which no sizes follow at the end of a line: "x 6 (18, 24)" gives totals."""


@dataclass(frozen=True, slots=True)
class Totals:
    """The words without the totals, and the totals in the order written; `rounds` is n of "(n rnds)"."""

    body: list[Token]
    stated: tuple[Stated, ...]
    rounds: int | None = None


def take_totals(tokens: list[Token], lines: Lines, size: int = 0) -> Totals:
    """Split the stated totals off the words of an instruction; `size` is which of several sizes is made."""
    end = _End(*_without_how(with_plain_brackets(tokens)), lines, size)
    while (
        end.take_brackets()
        or end.take_plain_change()
        or end.take_share()
        or end.take_again()
        or (end.lacks_a_number and (end.drop_remark() or end.take_plain()))
    ):
        pass
    end.take_groups_before()
    if not end.stated:
        end.take_before_steps()
    if not end.stated:
        end.take_in_front()
    end.take_share_alone()
    end.add_what_else_is_told()
    return Totals(with_bare_counts(end.body) + end.yarn, tuple(end.stated), end.rounds)


def _without_how(words: list[Token], *, in_bracket: bool = False) -> tuple[list[Token], bool]:
    """The words without what their end tells of the counting, and whether that leaves the slip stitches out: "= 40
    with the chains", "25 sts, not counting sl sts", "20 dc counting ch-3 as one"; where they stand in a bracket of
    their own "44 sts, the chains count" too, which behind a round may be said of its first chain."""
    end = trimmed(words)
    for index in range(max(1, end - _LONGEST_HOW), end):
        word, behind = words[index], words[index + 1 : end]
        kinds = {each.kind for each in behind}
        counts = T.COUNTS in kinds or not _HOW_COUNTED.isdisjoint(each.text for each in behind)
        tells = word.text in _HOW_COUNTED or (word.kind is T.WITH and T.CHAIN in kinds)
        tells = tells or (in_bracket and word.kind is T.COMMA and counts)
        if not tells or not (in_bracket or kinds <= _IN_HOW):
            continue
        denied = words[index - 1].kind is T.NOT
        start = index - denied - (words[index - denied - 1].kind is T.COMMA)
        if words[start - 1].kind in (T.NUMBER, T.NOUN, T.STITCH):
            return words[:start], denied and any(word.value == "sl st" for word in words[index:])
    return words, False


_HOW_COUNTED = frozenset(("counting", "including", "incl", "counted", "included", "inclusive"))
_LONGEST_HOW = 12
"""Words of what a total says of its counting: "not counting the sl st in each of the corners"."""
_IN_HOW = frozenset((
    T.CHAIN, T.NOUN, T.EACH, T.AS, T.NUMBER, T.STITCH, T.SPACE, T.BUNCH, T.ALL, T.AND, T.BETWEEN,
))  # fmt: skip


class _End:
    """The end of an instruction, while totals and what stands behind them are taken off it."""

    def __init__(self, body: list[Token], without_slips: bool, lines: Lines, size: int) -> None:
        self.body = body
        self._without_slips = without_slips
        self.stated: list[Stated] = []
        self.yarn: list[Token] = []
        """The yarn of the round in brackets behind the total: "(18) (white)"."""
        self.rounds: int | None = None
        self.change: NetChange | None = None
        """How many more or fewer stitches there are than before: "(+6)", "(6 increases)"."""
        self._change_span = NOWHERE
        self.share: SideShare | None = None
        """How many stitches each side has, where it is told apart from the total."""
        self._share_span = NOWHERE
        self._lines = lines
        self._size = size

    @property
    def lacks_a_number(self) -> bool:
        """Whether no total was found yet, or only one of named things: "- 40 sts (10 bobbles)"."""
        return all(each.stitches is None and each.groups for each in self.stated)

    def _state(self, words: list[Token]) -> None:
        total = stated(words, self._lines, self._size)
        if self._without_slips:
            total = replace(total, without_slips=True)
        if self.stated and self.lacks_a_number and total.stitches is not None and not total.sizes:
            self.stated[0] = replace(total, groups=(*total.groups, *self.stated[0].groups))
        else:
            self.stated.insert(0, total)

    def take_brackets(self) -> bool:
        """'(' n rnds ')' | '(' TOTAL ')' '(' words ')' | '(' TOTAL ')'"""
        close = trimmed(self.body) - 1
        opening = opening_of(self.body, close)
        if opening is None:
            return False
        words = [word for word in self.body[opening + 1 : close] if word.kind is not T.NEWLINE]
        inner, slips = _without_how(words, in_bracket=True)
        self._without_slips |= slips
        if [word.kind for word in inner[:3]] == [T.FROM, T.NUMBER, T.TO]:
            inner = inner[3:]  # "(from 12 to 18 sts)"
        if self._takes_change(inner, self.body[:opening]):
            self.body = self.body[: trimmed(self.body[:opening])]
        elif (share := share_of(inner) or share_of_groups(inner, self.body[:opening])) and not share.before:
            self.share = share  # "(24 sc) (12 on each side)", "(9 dc in each group)"
            self._share_span = self._lines.span(inner[0].start, inner[-1].end)
            if share.sides and not self.stated:
                self.stated.append(
                    Stated(share.each * share.sides, span=self._share_span)
                )  # "(12 on each of the 2 sides)"
            self.body = self.body[: trimmed(self.body[:opening])]
        elif is_count_of_rounds(inner):
            self.rounds = next(word.number for word in inner if word.kind is T.NUMBER)
            self.body = self.body[: trimmed(self.body[:opening])]
        elif len(inner) > 2 and _ends_in_total(self.body, opening):
            self._keep_yarn(opening, close + 1)
            self.body = self.body[: trimmed(self.body[:opening])]
        elif _is_bracket_total(self.body, opening, inner):
            self._state(inner)
            self.body = _without_lead(self.body[:opening])
        else:
            return False
        return True

    def _takes_change(self, words: list[Token], before: list[Token]) -> bool:
        """Whether these words tell by how much the round widens or narrows, and nothing besides but its total."""
        change = change_of(words) if self.change is None and words else None
        if change is None or not change.stands_behind(before):
            return False
        beside = list(change.beside)
        if beside and (self.stated or not is_total(beside)):
            return False
        if beside:
            self._state(beside)
        self.change = change
        self._change_span = self._lines.span(words[0].start, words[-1].end)
        return True

    def take_plain_change(self) -> bool:
        """A change that a clause of its own tells: "- 6 increases", ". You increased 6 stitches"; nothing is worked
        that is called so"""
        end = trimmed(self.body)
        start = begin_of_change(self.body, end)
        change = change_of(self.body[start:end])
        sure = change is not None and change.is_sure and not change.beside and not change.by
        if not sure or not self._takes_change(self.body[start:end], self.body[: start - 1]):
            return False
        self.body = _without_lead(self.body[:start])
        return True

    def take_share(self) -> bool:
        """What each side has, told in a clause of its own: "You should have 15 dc along each side now" """
        end = trimmed(self.body)
        first = next((at for at in range(end, 0, -1) if self.body[at - 1].kind in _BEFORE_SHARE), 0)
        words = self.body[first:end]
        tells = first > 0 and (self.body[first - 1].kind is T.TOTAL or any(word.kind is T.NOUN for word in words))
        share = share_of(words) if tells and self.share is None else None
        if share is None or share.before:
            return False
        self.share = share
        self._share_span = self._lines.span(words[0].start, words[-1].end)
        self.body = _without_lead(self.body[:first])
        return True

    def take_share_alone(self) -> None:
        """What each side has, told of a round that is named again: "as last rnd, having 8 dc on each side of it" """
        having = next((at for at in range(len(self.body) - 1, 0, -1) if self.body[at].text == HAVING), 0)
        of = next((at for at in range(having, len(self.body)) if self.body[at].kind in _ENDS_SHARE), len(self.body))
        share = share_of(self.body[having + 1 : of]) if having else None
        if share is not None and not share.before and not self.stated:
            span = self._lines.span(self.body[having + 1].start, self.body[of - 1].end)
            self.stated.append(Stated(span=span, share=(share.each, share.sides)))
            behind = (at for at in range(of, len(self.body)) if self.body[at].kind in PAUSES)
            self.body = _without_lead(self.body[: having + 1]) + self.body[next(behind, len(self.body)) :]

    def add_what_else_is_told(self) -> None:
        """What was told of the change, with the total if there is one, and of each side's share in that."""
        if self.share is not None:
            last = self.stated[-1] if self.stated else Stated(span=self._share_span)
            self.stated[-1:] = [replace(last, share=(self.share.each, self.share.sides))]
        if self.change is not None:
            last = self.stated[-1] if self.stated else Stated(span=self._change_span)
            self.stated[-1:] = [replace(last, change=self.change.by, changes=self.change.changes)]

    def _keep_yarn(self, opening: int, end: int) -> None:
        if {word.kind for word in self.body[opening + 1 : end - 1]} <= {T.COLOURED, T.WITH, T.IN}:
            self.yarn = self.body[opening:end]

    def drop_remark(self) -> bool:
        """A remark that stands behind a total, in brackets or as a sentence: "= 18 (see picture)", "(18). Stuff"."""
        end = trimmed(self.body)
        opening = opening_of(self.body, end - 1) or 0
        before = trimmed(self.body[:opening]) if opening else 0
        if opening and _are_numbers(self.body[opening + 1 : end - 1]):
            return False  # "= 12 (16, 20)" gives a total for each size
        if before and (_ends_in_sure_total(self.body, before) or _ends_in_total(self.body, before)):
            self._keep_yarn(opening, end)
            self.body = self.body[:before]
            return True
        sentence = _remark_behind_total(self.body[:end]) or _remark_behind_equals(self.body[:end])
        if sentence is None or tells_each_side(self.body[sentence:end]):
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

    def take_again(self) -> bool:
        """The same total without brackets, in words, before the one in brackets: "- thirty-four stitches (34)" """
        end = trimmed(self.body)
        start = plain_total(self.body[:end]) if self.stated and self.stated[0].stitches is not None else None
        if start is None:
            return False
        words = self.body[start:end]
        if words[0].text.isdecimal() or stated(words, self._lines, self._size).stitches != self.stated[0].stitches:
            return False
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
        """A total, or a change, with nothing but joining, turning and chaining behind it: "(26 dc), join", "= 26 dc,
        join", "(6 increases), join"."""
        body = self.body
        for end in range(len(body) - 1, max(1, len(body) - _LONGEST_REMARK), -1):
            if not tells_steps_alone(body[end:]) or trimmed(body[:end]) < end or tells_each_side(body[end:]):
                continue
            self.body = body[:end]
            if body[end - 1].kind is T.CLOSE:
                taken = not _are_of_sizes(body, end) and self.take_brackets()
            elif taken := body[end].kind not in _IN_A_SUM and (start := _begin_of_sum(body, end)) > 0:
                self._state(body[start:end])
                self.body = _without_lead(body[:start])
            if taken:
                stops = [word for word in body[len(self.body) : end] if word.kind in PAUSES]
                self.body += stops[:1] + body[end:]  # "join. (6) Fasten off" are two steps
                return
        self.body = body

    def take_in_front(self) -> None:
        """A total before what is to be made, in brackets of its own, "(24 sts) ...", or with a colon behind it: "you
        should have 36: ..." """
        if (behind := _behind_bracket_in_front(self.body)) > 0:
            self._state(self.body[1 : behind - 1])
            self.body = self.body[behind:]
            return
        colon = next((i for i, word in enumerate(self.body[:_LONGEST_IN_FRONT]) if word.kind is T.COLON), 0)
        lead = next((i for i in range(colon) if self.body[i].kind not in _LEADING | {T.OPEN}), colon)
        end = next((i for i in range(colon, lead, -1) if self.body[i - 1].kind not in (T.CLOSE, T.EACH)), lead)
        words = self.body[lead:end]
        led = {word.kind for word in self.body[:lead]} | {word.kind for word in words if word.kind is T.NOUN}
        sure = not led.isdisjoint((T.TOTAL, T.EQUALS, T.NOUN)) or (T.OPEN in led and names_stitches(words))
        if words and sure and is_total(words) and any(word.kind in INSTRUCTS for word in self.body[colon:]):
            self._state(words)
            self.body = self.body[colon + 1 :]


def _behind_bracket_in_front(body: list[Token]) -> int:
    """How many words a bracket with a total takes at the beginning, before what is to be made; 0 if none does."""
    close = next((index for index, word in enumerate(body) if word.kind is T.CLOSE), 0)
    inner, behind = body[1:close], body[close + 1 :]
    if not inner or body[0].kind is not T.OPEN or not is_total(inner) or not behind:
        return 0
    kinds, after = {word.kind for word in inner}, behind[0].kind
    is_apart = after in (T.DASH, T.COLON)
    if after in BINDS or (after in MADE and kinds == {T.NUMBER}) or (kinds & MADE and not is_apart):
        return 0  # "(6 sc) in ring", "(6) sc" and "(6 sc), inc" are worked
    return close + 1 if any(word.kind in INSTRUCTS for word in behind) else 0


_LONGEST_IN_FRONT = 10
"""Words of a total before the instructions, its lead and brackets included; two kinds of stitch fit in."""


def _remark_behind_total(body: list[Token]) -> int | None:
    """Where a sentence for the maker begins that stands behind a total: "(18). Start to stuff"."""
    clauses = 0
    for index in range(len(body) - 1, max(0, len(body) - _LONGEST_REMARK), -1):
        kind = body[index].kind
        if kind is T.CLOSE and is_sentence(body[index + 1 :]) and _ends_in_total(body, index + 1):
            return None if changes_yarn(body[index + 1 :]) else index + 1
        if kind in (T.CLOSE, T.OPEN, T.MARK):
            return None
        if index + 1 < len(body) and is_decimal_point(body, index):
            continue
        if kind in PAUSES or kind in (T.DASH, T.OTHER_SIGN):
            clauses += 1
            if clauses > _MOST_CLAUSES:
                return None
            kinds = sentence_kinds(body[index + 1 :])
            if kinds & _MAKES or changes_yarn(body[index + 1 :]):
                return None
            if kinds.isdisjoint((T.WORD, T.STEP, T.WORK)):
                continue
            before = trimmed(body[:index])
            if body[index + 1].kind is T.STEP and not PAUSES.isdisjoint(word.kind for word in body[index + 2 :]):
                return None  # "Fasten off, leaving a tail" is that step
            is_sure, counts = _ends_in_sure_total(body, before), bool(kinds & SAYS_HOW)
            if (is_sure and (kind is T.DOT or not counts)) or (not counts and _ends_in_total(body, before)):
                return index
    return None


_EQUALS_AND_TELLS = PhrasePattern("EQUALS NUMBER [NOUN STITCH]? [AND THEN]* (?= [WORD JOIN STEP] .)")


def _remark_behind_equals(body: list[Token]) -> int | None:
    """Where a sentence for the maker begins right behind a total with its sign: "= 6 close the gap with a needle"."""
    sign = _EQUALS_AND_TELLS.first_in(body, 1)
    start = sign + _EQUALS_AND_TELLS.length(shape_of(body), sign)
    behind = body[start:]
    if not behind or sentence_kinds(behind) & _MAKES or T.NUMBER in {word.kind for word in behind}:
        return None
    return start if begins_sentence(" ".join(word.text for word in behind)) else None


_LONGEST_REMARK = 60
"""Words behind a total that are looked at for the sentence that they are, or for the steps."""
_MOST_CLAUSES = 12
"""Clauses of that sentence; what has more signs ("1-1-1-1 ...") would be weighed at each of them."""


def _ends_in_sure_total(body: list[Token], end: int) -> bool:
    """Whether a total without brackets stands before word `end`, and the sign or word before it leaves no doubt."""
    start = plain_total(body[:end])
    if start is None:
        return False
    lead = body[start - 1].kind
    if lead in (T.EQUALS, T.TOTAL):
        return True
    alone = end == start + 1 and lead is T.COMMA and goes_all_round(body[:start])  # "(sc, dec) 6 times, 12. Stuff"
    return start > 1 and (alone or lead in (T.DASH, T.DOT, T.SEMI, T.COLON) or _makes_nothing(body, start, end))


def _makes_nothing(body: list[Token], start: int, end: int) -> bool:
    """Whether the words are a number of stitches in a clause of their own, ", 18 sts"."""
    return body[start - 1].kind is T.COMMA and [word.kind for word in body[start:end]] == [T.NUMBER, T.NOUN]


def _ends_in_total(body: list[Token], end: int) -> bool:
    """Whether the bracket before word `end` is a total, so that what stands behind it is a remark."""
    close = trimmed(body[:end]) - 1
    opening = opening_of(body, close)
    if opening is None or opening == 0:
        return False
    return _is_bracket_total(body, opening, body[opening + 1 : close])


def _is_bracket_total(body: list[Token], opening: int, inner: list[Token]) -> bool:
    """Whether the words in the bracket are a total and not stitches, a number of times or sizes."""
    if not is_total(inner):
        return False
    if not any(word.kind in INSTRUCTS or word.kind in _STANDS_FOR_WORK for word in body[:opening]):
        return has_letters(body[:opening])
    before = body[opening - 1].kind
    if before is T.NUMBER and opening > 1 and body[opening - 2].kind in (T.EQUALS, T.TOTAL):
        # "= 50 [55]" gives a total for each size, "sc in all 50 [50]" one
        return opening > 2 and body[opening - 2].text == "in all" and body[opening - 3].kind in MADE
    small = max(word.number for word in inner if word.kind is T.NUMBER) < SMALLEST_ROUND
    if before in (T.COMMA, T.AND, T.THEN) and small and any(word.kind in (T.STITCH, T.POSTED) for word in inner):
        return False
    sorts = names_stitches(inner) and any(word.kind not in (T.NUMBER, T.NOUN) for word in inner)
    if before is T.MARK and sorts and not closes_star(body, opening - 1):
        return False  # "* (2 dc, ch 2, 2 dc)" is what is repeated
    if before is T.TIMES and body[opening - 2].kind is T.NUMBER and sorts:
        return opening > 2 and body[opening - 3].kind not in PAUSES  # "4 x [10 sc]" is a group
    if before is T.NUMBER and _are_numbers(inner):
        lead = body[opening - 2].kind if opening > 1 else None
        several = any(word.kind is T.COMMA for word in inner)  # "sc 28 (30, 34)": the counts of the other sizes
        return not several or lead in _REPEATED
    return True


_STANDS_FOR_WORK = (T.TIMES, T.RING, T.AGAIN, T.ONGOING)
"""What a round may be told by without naming what it makes: "continue in this way (48)"."""


def _are_numbers(inner: list[Token]) -> bool:
    return bool(inner) and all(word.kind in (T.NUMBER, T.COMMA, T.SLASH, T.DASH) for word in inner)


def _without_lead(body: list[Token]) -> list[Token]:
    """The words without what leads to a total: "= ", "total: ", "you should have". "Ch 3 does not count" leads to
    none."""
    end = len(body)
    while end and (body[end - 1].kind in _LEADING or body[end - 1].text in _LEADS_TO_COUNT):
        if body[end - 1].kind is T.COUNTS and end > 1 and body[end - 2].kind is T.NOT:
            break
        end -= 1
    return body[:end]


def _begin_of_sum(words: list[Token], end: int) -> int:
    """Where a total without brackets begins that the words before `end` end in, "= 26 dc", ". 26 dc", ", 26 sts"; 0
    if they end in none. Of a stitch that is named behind a comma as many may be worked before the round is joined."""
    body = words[: end_of_count(words[:end])]
    start = next((at for at in range(len(body) - 1, 1, -1) if body[at].kind not in _IN_A_SUM), 0)
    lead = body[start - 1].kind
    if not start or body[start].kind is not T.NUMBER or is_no_count(words, start):
        return 0
    apart = start + 1 < len(body) and lead in (T.DASH, T.DOT, T.SEMI, T.JOIN, T.NEWLINE)
    apart = apart and (lead is not T.JOIN or names_stitches(body[start:]))  # "closing the two sides together, cut"
    is_named = apart and leads_to(body[:start], body[start:])
    is_named = is_named or (start + 2 == len(body) and counts_groups(body[:start], body[start:]))
    is_sum = lead in (T.EQUALS, T.TOTAL) or is_named or _makes_nothing(body, start, len(body))
    return start if is_sum else 0


_LEADS_TO_COUNT = (MAKING, HAVING, "leaving", "for")
"""Words that lead to a total, where one stands behind them."""


_IN_A_SUM = (T.NOUN, T.STITCH, T.BUNCH, T.WORD, T.TOTAL)


def _are_of_sizes(body: list[Token], end: int) -> bool:
    """ "dc in next 24 (30) sts, join": whether the bracket before word `end` is for another size."""
    opening = opening_of(body, end - 1) or 0
    counts = _are_numbers(body[opening + 1 : end - 1]) and body[opening - 1].kind is T.NUMBER
    return counts and body[end].kind in (T.NOUN, T.STITCH, T.SPACE)


_ENDS_SHARE = PAUSES | {T.OF}

_BEFORE_SHARE = frozenset((T.DOT, T.SEMI, T.NEWLINE, T.DASH, T.TOTAL))
"""What stands before a sentence that only tells what each side has; behind a comma it may be made there."""
