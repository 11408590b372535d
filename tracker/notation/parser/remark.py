"""What is said to the maker: remarks in brackets, clauses behind "fasten off", sentences between instructions."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Colour, Item, Role, Some, Technique
from tracker.notation.context import Context
from tracker.notation.instructions import each_act, is_plain_work, other_side
from tracker.notation.parser.chain_count import counting
from tracker.notation.parser.total_inside import note_total_inside
from tracker.notation.parser.unknown_word import (
    LONGEST_NAME,
    is_nearly_worked,
    is_stitch_of_others,
    nearest,
    of_other_terms,
    unknown,
)
from tracker.notation.token_kinds import HEADS, LEADS, MADE, PAUSES, STOPS, WORKED, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token, opening_of
from tracker.notation.yarn_names import BEHIND_STITCHES, are_runs, change_in_bracket, is_colour, key_of, stands_behind

SENTENCE_ENDS = frozenset((T.DOT, T.SEMI, T.NEWLINE, T.OPEN, T.CLOSE, T.MARK))
"""Where a sentence ends, commas in it or not."""

CLAUSE_ENDS = STOPS | {T.OPEN, T.MARK}
"""Where a remark ends, if not before."""

_BEGINS_ITEMS = MADE | {
    T.NUMBER, T.MARK, T.OPEN, T.IN, T.LOOP, T.NEXT, T.REPEAT, T.JOIN, T.WITH, T.CHANGE, T.COLOURED, T.TIMES, T.WORK,
    T.BEGINNING, T.EACH, T.LAST, T.OFTEN, T.THEN,
}  # fmt: skip
PARTS = frozenset("body head arm arms leg legs ear ears tail".split())
"""Parts of a toy: what a sentence is about, or the name of a piece."""

_TELLING = PARTS.union(
    (
        "stuff stuffing insert sew leave fasten add embroider fold flip push pull hold secure keep remember "
        "note thread weave hide tie sewing fill attach pin mark assemble press block finish lightly firmly "
        "eyes eye safety wire if when once before after check adjust tighten see repeat tip don't dont be "
        "these those he she they we hook part piece pattern photo "
        "picture invisible close flatten cut stuffed beads bead pipe cleaner cardboard felt glue sts optional "
        "careful move gather gathering pinch pinching draw drawing tug ready set aside proceed tuck yes no "
        "darn pop about apart wrap bring squeeze squash filling fill end ends loose long short size row shape"
    ).split()
)
"""Words that begin a sentence for the maker, or stand in one."""


def begins_sentence(text: str) -> bool:
    """Whether the text begins as a sentence for the maker does: "Insert the eyes ...", "You should now be at ..."."""
    first = re.match(r"\W*(?:(?:do not|don't) [a-z ]+[.!;,]\W*)?([a-z']+)(?: should(?: now)? be\b)?", text.lower())
    return first is not None and (first[1] in _TELLING or first[0].endswith(" be"))


def is_remark_bracket(cursor: Cursor) -> bool:
    """Whether the bracket that opens here is a remark, a colour or a loop and not stitches."""
    inner = cursor.inside(cursor.place)
    kinds = [token.kind for token in inner]
    if kinds and T.EQUALS in kinds and (T.NUMBER not in kinds or kinds[0] is T.EQUALS):
        return True  # "(X = sc, V = inc)" tells the letters, "(= ch 3, sl st in first ch)" the group before it
    if not inner or T.COUNTS in _outside_brackets(kinds) or inner[0].text in ("skipped", "missed", "unworked"):
        return True
    if T.NOT in kinds and {*kinds} <= {T.NUMBER, T.CHAIN, T.COMMA, T.NOT}:
        return True  # "(1 ch to begin, not 3)" tells of the chain that leads up to the round
    if not any(kind in MADE for kind in kinds) and not is_letters(inner):
        return T.TOG not in kinds and not are_runs(inner, cursor.context) and not _is_slip(inner, cursor.context)
    if inner[-1].text == "made" or (
        T.EVENLY in kinds and any("evenly" in t.text for t in cursor.tokens[: cursor.place])
    ):
        return True  # "(1 in each row end)" tells how it comes to the number before
    if kinds[0] is T.ORDINAL:
        return T.NUMBER not in kinds and T.IN not in kinds
    if (kinds[:2] == [T.WORD, T.COMMA] and inner[0].text not in _TELLING) or cursor.begins(_LOOPS_HELD):
        return False
    return kinds[0] not in _BEGINS_ITEMS and not (kinds[0] is T.WORD and inner[0].text in "vaw")


def _outside_brackets(kinds: list[T]) -> Iterator[T]:
    """The kinds that stand in no bracket of their own: "(ch 3 (counts as dc), 2 dc) in next sp" holds stitches."""
    depth = 0
    for kind in kinds:
        depth += (kind is T.OPEN) - (kind is T.CLOSE)
        if not depth:
            yield kind


def _is_slip(inner: list[Token], context: Context) -> bool:
    """A stitch mistyped, alone in the bracket: "(icn)"."""
    word = inner[0]
    if len(inner) > 1 or word.kind is not T.WORD or word.text in _TELLING or word.text in context.colours:
        return False
    return is_stitch_of_others((word.text,), context.terms) or is_nearly_worked(word.text)


def is_letters(inner: list[Token]) -> bool:
    """Letter notation: "(3X, V)"."""
    kinds = {token.kind for token in inner}
    if not kinds <= {T.NUMBER, T.COMMA, T.TIMES, T.WORD, T.FILLER, T.PLUS}:
        return False
    texts = [token.text for token in inner]
    return all(text in "xvaw,+" or text.isdigit() for text in texts) and (T.COMMA in kinds or "v" in texts)


def bracket_remark(cursor: Cursor, items: list[Item], *, behind_chain: bool = False) -> None:
    """REMARK := '(' COUNTING | LOOP | COLOUR | words ')'; about what stands before it

    One stitch in brackets `behind_chain` says what the chain stands for: "ch 3 (dc)", "ch 4 (1 dc, 1 ch)".
    """
    if cursor.at(T.OPEN):
        close = cursor.closing(cursor.place)
        first = cursor.token(1)
        is_one = first.kind is not T.NUMBER or first.number == 1
        stands_for = behind_chain and is_one and cursor.begins(_STANDS_FOR)
        if is_remark_bracket(cursor) or stands_for:
            cursor.take()
            _inside_remark(cursor, items, close)
            cursor.place = close + 1


_STANDS_FOR = PhrasePattern(
    "OPEN (STITCH CLOSE | NUMBER? STITCH ([AND PLUS COMMA]+ (NUMBER CHAIN | CHAIN NUMBER))? CLOSE"
    " (?! [TIMES IN NUMBER OFTEN EACH NEXT REPEAT AROUND]))"
)


def aside_before_place(cursor: Cursor) -> None:
    """REMARK := '(' words ')', between a stitch and its place: "hdc (or dc if you like it taller) in each st"; taken
    if it stands here, and is prose"""
    if not cursor.at(T.OPEN):
        return
    close = cursor.closing(cursor.place)
    inner = cursor.inside(cursor.place)
    is_spoken = len(inner) >= _FEWEST_SPOKEN and any(word.kind is T.WORD and len(word.text) > 1 for word in inner)
    if is_spoken and cursor.peek(close + 1 - cursor.place) in LEADS and not _instructs(inner):
        cursor.take()
        cursor.take_remark(close)
        cursor.take()


_FEWEST_SPOKEN = 3  # the name of a yarn is shorter


def _instructs(inner: list[Token]) -> bool:
    """Whether a bracket tells how many, or what a chain counts as."""
    return any(token.kind in (T.NUMBER, T.COUNTS, T.EQUALS, T.SKIP, T.CHANGE, T.COLOURED) for token in inner)


_LOOPS_HELD = PhrasePattern("OPEN HELD_BACK BACK_WORD? (IN A_HOOK)? LAST SPACE")
_COUNTS = PhrasePattern("NOT? COUNTS")
""" "ch 3. Ch 3 counts as dc." """

_CHAIN_TITLE = PhrasePattern("[WORD BASE WORK BEGINNING] CHAIN COLON")
""" "Foundation chain: ch 20" """


def says_counting(cursor: Cursor) -> bool:
    """Whether "counts as ..." or "does not count ..." stands here."""
    return cursor.begins(_COUNTS)


def _inside_remark(cursor: Cursor, items: list[Item], close: int) -> None:
    inner = cursor.tokens[cursor.place : close]
    kinds = [token.kind for token in inner]
    if T.EQUALS in kinds and kinds[0] in (T.TIMES, T.WORD):
        cursor.remarks.append(cursor.words(cursor.place, close))
    elif kinds == [T.SIDE]:
        items.append(Some(other_side(cursor.span(cursor.place, close))))
    elif items and (side := cursor.first_of(_ONWARD_ALONG, cursor.place, close)) < close:
        cursor.remarks.append(cursor.words(cursor.place, close))
        items.append(Some(other_side(cursor.span(side, close))))
    elif _is_counting(items, kinds):
        counting(cursor, items, close)
    elif kinds == [T.LOOP]:
        _loop(cursor, items, inner[0])
    elif (change := change_in_bracket(cursor, close)) or is_colour(cursor, inner):
        named = Colour(change or key_of(inner), cursor.span(cursor.place, close))
        items.insert(len(items) if change else _where_coloured(cursor, items, inner, close), named)
    else:
        note_total_inside(cursor, items, close)
        cursor.remarks.append(cursor.words(cursor.place, close))


def _where_coloured(cursor: Cursor, items: list[Item], inner: list[Token], close: int) -> int:
    """Where among the items a yarn in brackets begins: before what follows, "(B) 2 sc", or before what it stands
    behind, "3 sc (white), 3 sc (black)"; one behind all of a round, "(2 sc, inc) x 6 (white)", is for the round."""
    if inner[0].kind is T.CHANGE or not stands_behind(cursor, items, cursor.place - 1):
        return len(items)
    ends = cursor.begins(BEHIND_STITCHES, close + 1)
    last = opening_of(cursor.tokens, len(cursor.tokens) - 1)
    if not ends and (last is None or not is_colour(cursor, cursor.tokens[last + 1 : -1])):
        return len(items)
    is_last = all(token.kind in STOPS for token in cursor.tokens[close + 1 :])
    return 0 if is_last and not any(isinstance(item, Colour) for item in items) else len(items) - 1


_ONWARD_ALONG = PhrasePattern("(WORK | ONGOING | [IN AROUND])+ SIDE OF* CHAIN* CLOSE")
"""The end of "(do not turn, continue working along other side of ch)"."""


def _is_counting(items: list[Item], kinds: list[T]) -> bool:
    """ "counts as dc", "= 1 dc", "not a stitch", or a stitch named behind a chain: "beg ch-3 (is first dc)"."""
    last = items[-1] if items else None
    if isinstance(last, Some) and last.act.technique is Technique.PICOT and kinds[:1] == [T.EQUALS]:
        return False  # "picot (= ch 3, sl st in first ch)"
    if T.COUNTS in kinds or T.EQUALS in kinds or (T.NOT in kinds and (T.STITCH in kinds or T.NOUN in kinds)):
        return True
    chain = isinstance(last, Some) and last.act.role is Role.CHAIN
    return chain and T.STITCH in kinds and _OF_A_STAND_IN.issuperset(kinds)


_OF_A_STAND_IN = frozenset((T.ORDINAL, T.STITCH, T.AS, T.NUMBER, T.CHAIN, T.AND, T.PLUS, T.COMMA))
"""Kinds of words that name a stitch behind a chain, "(is first dc)", "(1 dc, 1 ch)"."""


def _loop(cursor: Cursor, items: list[Item], token: Token) -> None:
    """ "6 sc (BLO)": the loop of what stands before it, or of what follows."""
    apart = cursor.peek(-2) is None or cursor.peek(-2) in PAUSES
    if items and not apart and is_plain_work(items[-1]):
        items[-1:] = each_act((items[-1],), lambda act: replace(act, loop=token.loop))
    else:
        cursor.loop = token.loop


def rest_of_clause(cursor: Cursor, until: int, *, anything: bool = False) -> None:
    """What a clause says after "fasten off" and the like: a remark, unless it makes stitches (or `anything`)"""
    end = min(cursor.end_of(CLAUSE_ENDS), until)
    if not anything and any(token.kind in MADE for token in cursor.tokens[cursor.place : end]):
        return
    if end > cursor.place:
        cursor.take_remark(end)


def remark(cursor: Cursor, until: int) -> None:
    """A sentence for the maker is kept as a remark; a word that should have been a stitch is refused."""
    first = cursor.place
    if _takes_advice(cursor, until) or _takes_inner_title(cursor):
        return
    telling = cursor.at(T.WORD) and (cursor.token().text in _TELLING or _is_allowed(cursor))
    makes = cursor.peek(1) is T.NUMBER and cursor.peek(2) in WORKED  # "pop 9 sc into it" is no sentence
    if telling and (makes or cursor.peek(-1) in _BEGUN_PLACE):
        raise unknown(cursor, first, None)
    end = min(cursor.end_of(STOPS - {T.COMMA} if telling else CLAUSE_ENDS), until)
    if telling:
        end = _before_stitches(cursor, first, end)
    side = next((index for index in range(first, end) if cursor.tokens[index].kind is T.SIDE), None)
    if side is not None:
        cursor.place = side
        return
    _refuse_unknown(cursor, first, end, telling)
    cursor.remarks.append(cursor.words(first, end))
    cursor.place = max(end, first + 1)


def _is_allowed(cursor: Cursor) -> bool:
    """ "You can stuff the head", "you could now add the eyes": what is done then is no stitch"""
    words = cursor.tokens[cursor.place : cursor.place + 3]
    after = next((word for word in words[1:] if word.kind is not T.TO), None)
    return words[0].text in _ALLOWING and after is not None and after.text in _TELLING


_ALLOWING = ("can", "could", "might", "must")


_BEGUN_PLACE = frozenset((T.EACH, T.NEXT, T.IN, T.OF))
"""What no sentence stands behind: "hdc in each if next 3 sts" has a word mistyped in the middle of a place."""


_ADVICE = PhrasePattern("(?= WORD | FILLER) ADVICE_WORD COLON")
""" "Tip: work over the tail end." """


_NEVER_IN_ADVICE = HEADS | {T.SKIP, T.NUMBER, T.REPEAT}
"""What tells the hands what to make."""


def _takes_advice(cursor: Cursor, until: int) -> bool:
    """ADVICE := (tip | hint | note): sentence; taken if it names nothing that is made"""
    if not cursor.begins(_ADVICE):
        return False
    end = min(cursor.end_of(SENTENCE_ENDS), until)
    advice = cursor.tokens[cursor.place + 2 : end]
    if not advice or any(token.kind in _NEVER_IN_ADVICE for token in advice):
        return False
    if advice[0].kind is T.WORD and _is_like_stitches(advice):
        return False
    cursor.take_remark(end)
    return True


def _takes_inner_title(cursor: Cursor) -> bool:
    """ "*lemon peel: 1 sc, 1 dc*", "Petals! In each ...": words that are no stitches, and what sets them off; taken
    if they stand here"""
    end = cursor.end_of(CLAUSE_ENDS | {T.COLON})
    title = cursor.tokens[cursor.place : end]
    if end == len(cursor.tokens) or cursor.tokens[end].text not in _SETS_OFF or len(title) > _LONGEST_TITLE:
        return False
    if not title or any(word.kind is not T.WORD or nearest(word.text, cursor.context.terms) for word in title):
        return False
    cursor.take_remark(end)
    cursor.take()
    return True


_SETS_OFF = (":", "!")
"""What stands behind a title within a round."""


def _before_stitches(cursor: Cursor, first: int, end: int) -> int:
    """A sentence that goes on to stitches ("hold the arm to the body, 4 sc ...") ends at the comma before them."""
    kinds = [token.kind for token in cursor.tokens[first:end]]
    for index, (kind, after) in enumerate(pairwise(kinds)):
        if (kind is T.NUMBER and after in MADE) or (kind in MADE and after in _SAYS_WHERE):
            stops = [i for i, stop in enumerate(kinds[:index]) if stop in (T.COMMA, T.COLON, T.AND, T.THEN)]
            return first + stops[-1] if stops else end
    return end


_SAYS_WHERE = (T.NUMBER, T.EACH, T.AROUND, T.IN, T.LOOP)
"""What stands behind a stitch that is to be made: its number or its place."""


def _refuse_unknown(cursor: Cursor, first: int, end: int, telling: bool) -> None:
    """Refuse words of the other terms, and clauses that are more likely instructions than sentences."""
    terms = cursor.context.terms
    clause = cursor.tokens[first:end]
    words = [index for index in range(first, end) if cursor.tokens[index].kind is T.WORD]
    for index in words:
        if of_other_terms(cursor, index):
            raise unknown(cursor, index, None)
    if cursor.begins(_BROKEN_PLACE):
        raise unknown(cursor, words[0] if words else first, None)
    lead = cursor.token()
    makes = any(token.kind in MADE for token in clause)
    if not makes and (lead.text in _SAYS_HOW or any(token.text in ("hook", "mm") for token in clause)):
        return
    counts = lead.kind is T.NUMBER or makes
    if lead.kind is not T.WORD and (counts or not words):
        index = words[0] if words else first
        raise unknown(cursor, index, nearest(cursor.tokens[index].text, terms))
    index = words[0]
    word = cursor.tokens[index].text
    is_short = len(clause) <= _NO_SENTENCE
    if 0 < cursor.total_end <= clause[0].start and not any(token.kind in _MAKES_MORE for token in clause):
        names = [cursor.tokens[index].text for index in words]
        if not any(nearest(name, terms) for name in names) and max(map(len, names)) > _LONGEST_SHORT:
            return  # "(30) cheeks": what it comes to has been said
    if not telling and (len(clause) <= 1 or _is_like_stitches(clause) or (is_short and nearest(word, terms))):
        raise unknown(cursor, index, nearest(word, terms))


_MAKES_MORE = _NEVER_IN_ADVICE | LEADS | {T.AROUND, T.LAST, T.TIMES, T.OFTEN, T.CHAIN, T.MARK, T.OPEN}
"""What the words behind a total may not have if they only say what has been made."""

_LONGEST_SHORT = 3
"""Letters of a word that may be short for a stitch."""

_BROKEN_PLACE = PhrasePattern("IN [WORD OF IN]* ([EACH NEXT LAST SAME]+ NUMBER? BASES | NUMBER BASES)")
""" "sc in teh next 20 sts", "sc. in last 6 st": a place that is cut off from its stitch, which is no remark"""


def _is_like_stitches(clause: list[Token]) -> bool:
    """Whether a clause that begins with a word that is not known says how often: "blorp 2", "blorp around"."""
    kinds = [kind for token in clause for kind in ((T.NOUN, T.IN) if token.text in _STITCH_IN else (token.kind,))]
    if any(kind in WORKED for kind in kinds[1:]):
        return True
    named = next((index for index, kind in enumerate(kinds) if kind not in (T.WORD, T.NOUN)), len(kinds))
    placed = kinds[named : named + 1] in ([T.IN], [T.OVER]) and kinds[named + 1 : named + 2] != []
    if named <= LONGEST_NAME and placed and kinds[named + 1] in (T.EACH, T.NEXT, T.LAST, T.SAME, T.ORDINAL):
        return True
    if len(kinds) > _LONGEST_UNKNOWN:
        return False
    ends_in_st = kinds[-1] is T.NOUN and set(kinds[:-1]) == {T.WORD}
    return ends_in_st or any(kind in _SAYS_HOW_OFTEN for kind in kinds)


_STITCH_IN = ("st in", "stitch in")
"""What is a place behind a word that is not known, "blorp st in next st", and work to do anywhere else."""

_SAYS_HOW = ("with", "using")
"""Words that begin a clause on how it is worked: "with right side facing"."""

_LONGEST_TITLE = 4
"""Words before a colon that name a part of a round; more are a sentence."""

_NO_SENTENCE = 3
"""A clause up to here with a word like a stitch in it is a slip of the keyboard: no sentence is as short."""

_LONGEST_UNKNOWN = 4
"""Words of a clause that may be a stitch with its count and place; a longer one is a sentence."""

_SAYS_HOW_OFTEN = (T.NUMBER, T.AROUND, T.EACH, T.TIMES, T.OFTEN)
_IN_A_TITLE = (
    T.WORD, T.BUNCH, T.NOUN, T.INC, T.DEC, T.CORNER, T.SPACE, T.OF, T.SIDE, T.BEGINNING, T.WORK, T.TO, T.JOIN, T.AND,
    T.ROUND, T.IN, T.LOOP, T.EVEN,
)  # fmt: skip


def _is_strange(words: list[Token], cursor: Cursor) -> bool:
    """Whether none of these words is known, or near to one that is, or the last of several is that for a round."""
    is_round = len(words) > 1 and words[-1].kind is T.ROUND
    return is_round or all(word.kind is T.WORD and not nearest(word.text, cursor.context.terms) for word in words)


_SORT_OF_ROUND = PhrasePattern(
    "OPEN ([INC DEC] CLOSE NUMBER? CHAIN | ([INC DEC EVEN BUNCH] | [BUNCH INC DEC] [WORD ROUND] |"
    " [WORD ROUND] [BUNCH INC DEC]) [WORD ROUND NOUN]* CLOSE COLON)"
)
"""What sort of round it is, before the chain that begins it or a colon: "(Inc) ch 1, ...", "(picot edge): ..." """

_FOR_SIZES = PhrasePattern(
    "[COMMA OPEN IN DASH]? ((?! [COLON NUMBER STITCH]) ..)* SIZE_WORD ((?! [COLON NUMBER STITCH]) ..)* COLON"
)
""" "Last row, all sizes: ...": for which sizes the round is"""


TITLING = frozenset((T.COLON, T.DASH, T.CHAIN))
"""What stands behind the name of a round, and before what is to be made."""


def skip_title(cursor: Cursor) -> None:
    """ "Rnd 7 - scallops: ...", "Edging row.. 12 sc", "Foundation chain: ...": its name, without a number."""
    if words := cursor.take_phrase(_CHAIN_TITLE) or cursor.take_phrase(_FOR_SIZES):
        cursor.remarks.append(cursor.words(cursor.place - len(words), cursor.place - 1))
        return
    end = 1 if cursor.at(T.DASH) else 0
    start = end
    if cursor.begins(_SORT_OF_ROUND, cursor.place + end):
        close = cursor.closing(cursor.place + end)
        cursor.remarks.append(cursor.words(cursor.place + end + 1, close))
        cursor.place = close + 1
        return
    while cursor.peek(end) in _IN_A_TITLE and end < start + 5:
        end += 1
    named = any(cursor.peek(index) is not T.INC for index in range(start, end))
    single = end == start + 1 and cursor.peek(start) is T.WORD and len(cursor.token(start).text) <= 2
    title = cursor.tokens[cursor.place + start : cursor.place + end]
    two_dots = (cursor.peek(end), cursor.peek(end + 1)) == (T.DOT, T.DOT)
    ends = cursor.peek(end) is T.COLON or ((two_dots or cursor.peek(end) is T.DASH) and _is_strange(title, cursor))
    if start < end and ends and named and not single and not _names_yarn(cursor, start, end):
        cursor.remarks.append(cursor.words(cursor.place + start, cursor.place + end))
        cursor.place += end + 1 + two_dots


def _names_yarn(cursor: Cursor, start: int, end: int) -> bool:
    return cursor.peek(start) is T.CHANGE or is_colour(cursor, cursor.tokens[start:end])
