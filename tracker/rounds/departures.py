"""What could be read otherwise in a line that cannot be read, and what each departure from the printed words costs.

Signs cost least: a full stop behind a short word, a bracket too many or too few. Then comes a word of a place that is
mistyped, then a clause or a bracket of prose taken as a remark. Above `SMALL` stand the guesses that the maker is
always asked about: a word where a stitch should be, taken for a known one or for a stitch that nobody knows, and a
sentence that names stitches. What carries a number, a stitch or a place is never left out of a clause.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import islice, pairwise

from tracker.diagnostics import Severity, Span
from tracker.lazy_dataclass import dataclass
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.notation.lexer import scan_behind
from tracker.notation.parser.unknown_word import nearest, short_words
from tracker.notation.token_kinds import BASES, LEADS, MADE, PAUSES, T
from tracker.notation.token_stream import Token

# What a departure costs: the more it gives up of the printed words, the more; the sum decides whether the maker is
# asked. A sign that is passed over, ...
SIGN = 1
# ... a word mistyped that tells of a place, or a clause that carries nothing, ...
MISTYPED_PLACE = REMARK = 2
# ... prose in brackets in which a stitch is named, ...
BRACKET_WITH_STITCHES = 3
# ... or a word behind a chain that is like "skip": chains lie over what is skipped.
SKIP_UNDER_CHAIN = 4

SMALL = 4
"""Two remarks, or one and a few full stops: as many as a printed round has. Above it the maker is asked."""

# All above what may be left out without a question. The worse the guess, the more: a letter mistyped, ...
LIKE_WORD = 5
# ... a stitch that nobody knows, ...
UNKNOWN_STITCH = 6
# ... a word between others that is left out though it is like a known one, ...
QUALIFIER_LIKE_A_WORD = 6
# ... a sentence with stitches in it.
SENTENCE_WITH_STITCHES = 7


@dataclass(frozen=True, slots=True)
class Departure:
    """Characters written over some of those there, column by column. `words` are what was taken as a remark, "" where
    only signs changed, and `why` says what changed besides; `stitch` is a phrase that is taken for a stitch,
    `corrections` a word taken for another, and `places` where it stands."""

    cost: int
    written: tuple[tuple[int, str], ...] = ()
    words: str = ""
    why: str = ""
    stitch: str = ""
    corrections: tuple[OwnWord, ...] = ()
    places: tuple[Span, ...] = ()
    is_asked: bool = False
    """Whether the maker has to agree, whoever else does: where a bracket is missing, more may be missing with it."""

    def applied(self, text: str) -> str:
        """The text with the characters of this departure in it."""
        for start, characters in self.written:
            text = text[:start] + characters + text[start + len(characters) :]
        return text


def departures(current: Line, typed: Line, context: Context) -> Iterator[Departure]:
    """What could be read otherwise so that the first error of the line goes away."""
    errors = [problem for problem in current.problems if problem.severity is Severity.ERROR]
    if not errors or current.reference is not None:
        return
    begin = current.heading.end
    tokens = scan_behind(fold(current.text), begin, context.terms, context.colours)
    error = offset_of(current.text, errors[0].span.line, errors[0].span.start)
    index = next((number for number, token in enumerate(tokens) if token.end > error), None)
    if index is None or error < begin:
        return
    page = _Page(typed, tokens)
    dots = page.abbreviation_dots()
    if dots:
        yield Departure(SIGN, dots)
    if errors[0].code in _OF_BRACKETS:
        yield from islice(page.brackets_mended(index), MOST_BRACKETS)
    for first, end, is_sentence in page.stretches(index):
        cost = page.cost(first, end, is_sentence=is_sentence)
        if cost:
            start, stop = tokens[first].start, tokens[end - 1].end
            words = " ".join(typed.text[start:stop].split())
            yield Departure(cost, page.blanks(*page.with_its_stops(first, end)), words)
    yield from page.qualifiers(index, context)
    if errors[0].code == "unknown-word":
        yield from _other_words(tokens, index, errors[0].span, context)


def _other_words(tokens: list[Token], index: int, span: Span, context: Context) -> Iterator[Departure]:
    """Word number `index` as another that is like it, or as a stitch that nobody knows."""
    is_made = index == 0 or tokens[index - 1].kind in _BEFORE_A_STITCH
    word = tokens[index]
    likes = _like_words(word.text, context.terms, is_made=is_made)
    for like in likes or _far_likes(word.text, context.terms):
        if like == "the":
            why = f"read '{word.text}' as 'the'"
            yield Departure(MISTYPED_PLACE, ((word.start, " " * (word.end - word.start)),), why=why)
            continue
        cost = UNKNOWN_STITCH
        if like in _SKIPPING and [token.kind for token in tokens[max(index - 3, 0) : index]] == _CHAIN_BEFORE:
            cost = SKIP_UNDER_CHAIN
        elif likes:
            cost = MISTYPED_PLACE if not is_made and _is_word_of_a_place(like) else LIKE_WORD
        yield Departure(cost, corrections=(OwnWord(word.text, like),), places=(span,))
    behind_number = index > 0 and tokens[index - 1].kind is T.NUMBER
    kinds = {token.kind for token in tokens}
    if behind_number and T.HOOK in kinds and T.CHAIN not in kinds:  # what is counted from the hook is a chain
        yield Departure(UNKNOWN_STITCH, corrections=(OwnWord(word.text, "ch"),), places=(span,))
    for name in _names_of_stitches(tokens, index):
        yield Departure(UNKNOWN_STITCH, stitch=name)


_SKIPPING = ("sk", "skip", "miss")
_CHAIN_BEFORE = [T.CHAIN, T.NUMBER, T.COMMA]
""" "ch 1, " in front of what may be a skip"""

_OF_BRACKETS = ("stray-bracket", "open-bracket", "crossed-brackets")

MOST_BRACKETS = 6
"""Ways of mending a bracket that are tried: as many places as a group has where it may begin."""

_MOST_OFF = 2
"""Letters by which a word may be longer or shorter than the one that is meant."""


def _far_likes(word: str, terms: str) -> tuple[str, ...]:
    """The known word with the same first letter that is suggested for this one, though more than a letter is off."""
    if len(word) <= _MOST_OFF or word in _FUNCTION_WORDS:
        return ()
    near = nearest(word, terms)
    if near is None or near[0] != word[0] or " " in near:
        return ()
    return (near,) if abs(len(near) - len(word)) <= _MOST_OFF or word.startswith(near) else ()


@lru_cache(maxsize=500)
def _like_words(word: str, terms: str, *, is_made: bool) -> tuple[str, ...]:
    """The known short words that this one is a slip of the keyboard away from; `is_made` where a stitch is likelier
    to stand than a word of a place."""
    if len(word) < 2:
        return ()  # one letter is one off from too many
    stitches, of_a_place = dict.fromkeys(short_words(terms)), dict.fromkeys(_OF_A_PLACE)
    words = {**stitches, **of_a_place} if is_made else {**of_a_place, **stitches}
    same_letters = [each for each in words if sorted(each) == sorted(word)]
    near = [each for each in words if _is_one_letter_off(each, word)]
    return tuple(same_letters or sorted(near, key=lambda each: each[0] != word[0]))


def _is_one_letter_off(like: str, word: str) -> bool:
    """One letter lost, doubled, added or changed."""
    if len(like) == len(word):
        return sum(map(str.__ne__, like, word)) == 1
    short, long = sorted((like, word), key=len)
    return any(long[:index] + long[index + 1 :] == short for index in range(len(long)))


_OF_A_PLACE = (
    "of", "in", "st", "sts", "sp", "sps", "next", "each", "last", "same", "first", "corner", "to", "and", "then",
    "the",
)  # fmt: skip


def _is_word_of_a_place(word: str) -> bool:
    """Whether a word tells of a place, and cannot be a stitch."""
    return word in _OF_A_PLACE


def _names_of_stitches(tokens: list[Token], index: int) -> Iterator[str]:
    """What a stitch may be called whose name begins with word number `index`: the word, with "stitch" or a known
    stitch behind it, or with the next word; nothing where no stitch is named in the trade's way."""
    word = tokens[index]
    if not word.text.isalpha() or word.text in _FUNCTION_WORDS:
        return
    after = tokens[index + 1] if index + 1 < len(tokens) else None
    named = after is not None and not after.typed and after.kind in (T.NOUN, T.STITCH, T.BUNCH, T.WORD)
    if after is not None and named and after.text not in _FUNCTION_WORDS:
        yield f"{word.text} {after.text}"
    yield word.text


def offset_of(text: str, row: int, column: int) -> int:
    """Where a row and a column are in the whole text."""
    rows = text.split("\n")
    return sum(len(each) + 1 for each in rows[:row]) + column


def bounds_of(text: str, span: Span) -> tuple[int, int]:
    """Where a span starts and ends in the whole text."""
    offset = offset_of(text, span.line, 0)
    return offset + span.start, offset + span.end


# What may be left out.

_NEVER_LEFT_OUT = frozenset((
    T.NUMBER, T.ORDINAL, T.OFTEN, T.TIMES, T.MORE, T.STITCH, T.POSTED, T.INC, T.DEC, T.TOG, T.BUNCH, T.CHAIN,
    T.CHAINLESS, T.SKIP, T.LOOP, T.NOUN, T.SPACE, T.RING, T.CORNER, T.EACH, T.NEXT, T.SAME, T.LAST, T.AROUND,
    T.REPEAT, T.REMAINING, T.EVENLY, T.OMIT, T.COUNTS, T.TOTAL, T.TURN, T.JOIN, T.STEP, T.CHANGE, T.COLOURED,
    T.BETWEEN, T.PREVIOUS, T.MARK, T.OPEN, T.CLOSE, T.EQUALS, T.PLUS,
))  # fmt: skip
"""What carries a number, a stitch, a place or a step: a clause that has one is no remark."""

_OF_THE_WORK = frozenset((T.CHAIN, T.SPACE, T.NOUN, T.LOOP, T.ROUND, T.PREVIOUS, T.BUNCH, T.LAST, T.CORNER, T.SAME))
"""What a clause on how the work is held may name: "holding the ch-loops behind the shells of rnd 5, ..."."""

_NEVER_IN_A_SENTENCE = frozenset((
    T.REPEAT, T.TIMES, T.MORE, T.OFTEN, T.COUNTS, T.TOTAL, T.TURN, T.JOIN, T.STEP, T.MARK, T.EQUALS, T.PLUS,
))  # fmt: skip
"""What tells the hands what to do, however many words stand around it."""

_BEFORE_A_STITCH = PAUSES | {T.NUMBER, T.OPEN, T.MARK, T.COLON}
"""Behind these a word that nobody knows is a stitch more likely than a part of a place."""

_CLAUSE_ENDS = PAUSES | {T.OPEN, T.CLOSE, T.MARK, T.COLON, T.DASH}

_LEFT_OUT_ALONE = (T.WORD, T.FILLER, T.AS)
"""Words that may stand in a qualifier: those that nobody knows, and those that carry nothing."""

_MOST_QUALIFYING = 4
"""Words of a qualifier, "oh so very snugly"; what is longer is a clause of its own."""

_BEHIND_A_STITCH = _CLAUSE_ENDS | LEADS | {T.AROUND, T.LOOP}
"""What stands behind a stitch and how it is worked."""

_BEFORE_A_VERB = PAUSES | {T.COLON, T.DASH, T.AND, T.THEN, T.WORK, T.RING, T.NOUN, T.SPACE}
"""Behind these a word with a number and a stitch behind it says that they are made, "and pop 9 sc into it"."""

_BEGINS_A_PLACE = LEADS | {T.LAST, T.ORDINAL}
"""Behind these stands which base is meant, or the base."""

_BEHIND_A_GROUP = (T.TIMES, T.AROUND, T.OFTEN, T.REPEAT, T.IN)
"""What tells how often a group is worked, or where it goes."""

_SHORT = 4
"""Letters of a word that is written with a full stop: "st.", "nx.", "hdc.", "3rd."."""

_FUNCTION_WORDS = frozenset((
    "this that these those he she they them can could may might must need needs want wants like likes not no if when "
    "while where there then for as at on off with without from into your our their its my more most fewer less "
    "little bit enough until before after once again also too just still over under out make sure"
).split())  # fmt: skip
"""Words that hold an English sentence together and name nothing that is made."""


class _Page:
    """The words of a round as they stand, for judging what may be read otherwise."""

    def __init__(self, typed: Line, tokens: list[Token]) -> None:
        self.text = typed.text
        self.tokens = tokens
        self._totals = [bounds_of(typed.text, stated.span) for stated in typed.stated]
        marks = sum(token.kind is T.MARK for token in tokens)
        self._lone_mark = marks == 1 and not any(token.kind is T.REPEAT for token in tokens)

    def abbreviation_dots(self) -> tuple[tuple[int, str], ...]:
        """Full stops behind short words with the sentence going on after them: "into each st. around"."""
        return tuple(
            (dot.start, " ")
            for before, dot in pairwise(self.tokens)
            if dot.kind is T.DOT
            and dot.text == "."
            and before.end == dot.start
            and (before.text[0].isalpha() or before.kind is T.ORDINAL)
            and len(before.text.split()[-1]) <= _SHORT
            and self._goes_on(dot.end)
        )

    def _goes_on(self, place: int) -> bool:
        behind = self.text[place:].lstrip(" ")
        return bool(behind) and (behind[0].islower() or behind[0].isdigit())

    def brackets_mended(self, index: int) -> Iterator[Departure]:
        """The bracket at word number `index`, which has no other one or that of another sign: taken away, or given
        the one that it lacks, wherever a group may begin or end."""
        sign = self.tokens[index]
        opener = self._opener_of(index) if sign.kind is T.CLOSE else None
        if opener is not None:
            fitting = _CLOSED_BY.get(self.tokens[opener].text, ")")
            yield from self._brackets_closed(opener, index)
            yield Departure(SIGN, ((sign.start, fitting),), why=f"read '{sign.text}' as '{fitting}'", is_asked=True)
            return
        why = f"left out a '{sign.text}' that has no other one"
        yield Departure(SIGN, ((sign.start, " "),), why=why, is_asked=sign.kind is T.OPEN)
        if sign.kind is T.CLOSE:
            yield from self._brackets_opened(index)
        else:
            yield from self._brackets_closed(index, len(self.tokens))

    def _opener_of(self, index: int) -> int | None:
        """Which bracket is open where this one closes it, if there is one."""
        opened: list[int] = []
        for number, token in enumerate(self.tokens[:index]):
            if token.kind is T.OPEN:
                opened.append(number)
            elif token.kind is T.CLOSE and opened:
                opened.pop()
        return opened[-1] if opened else None

    def _brackets_opened(self, index: int) -> Iterator[Departure]:
        """A bracket that opens before a clause in front of word number `index`, or one that closes left out there."""
        opening = {closed: opened for opened, closed in _CLOSED_BY.items()}.get(self.tokens[index].text, "(")
        for first in range(index - 1, -1, -1):
            token = self.tokens[first]
            before = self.tokens[first - 1].kind if first else None
            if token.kind is T.CLOSE:
                yield Departure(SIGN, ((token.start, " "),), why=f"left out a '{token.text}' that has no other one")
            elif (before is None or before in _CLAUSE_ENDS) and self._is_blank(token.start - 1):
                why = f"read a '{opening}' before '{token.text}'"
                yield Departure(SIGN, ((token.start - 1, opening),), why=why, is_asked=True)

    def _brackets_closed(self, index: int, end: int) -> Iterator[Departure]:
        """A bracket that closes behind a clause between word number `index` and `end`, or before how often it is
        worked."""
        closing = _CLOSED_BY.get(self.tokens[index].text, ")")
        for place in range(index + 2, end):
            token, after, *behind = self.tokens[place - 1 : place + 2]
            often = after.kind is T.NUMBER and any(each.kind is T.TIMES for each in behind)
            ends = after.kind in _CLAUSE_ENDS or after.kind in _BEHIND_A_GROUP or often
            if ends and self._is_blank(token.end) and token.kind not in _CLAUSE_ENDS:
                why = f"read a '{closing}' behind '{token.text}'"
                yield Departure(SIGN, ((token.end, closing),), why=why, is_asked=True)

    def _is_blank(self, place: int) -> bool:
        return 0 <= place < len(self.text) and self.text[place] == " "

    def stretches(self, index: int) -> Iterator[tuple[int, int, bool]]:
        """The clause, the bracket and the sentence that word number `index` stands in, as first and end word; the
        bracket too that ends before it."""
        yield (*self._stretch_around(index, self._ends_clause), False)
        bracket = self._bracket_around(index - (index > 0 and self.tokens[index - 1].kind is T.CLOSE))
        if bracket is not None:
            yield (*bracket, False)
        first, end = self._stretch_around(index, self._ends_sentence)
        yield first, end, True

    def _stretch_around(self, index: int, ends: Callable[[int], bool]) -> tuple[int, int]:
        first, end = index, index + 1
        while first > 0 and not ends(first - 1):
            first -= 1
        while end < len(self.tokens) and not ends(end):
            end += 1
        return first, end

    def _ends_clause(self, index: int) -> bool:
        return self.tokens[index].kind in _CLAUSE_ENDS

    def _ends_sentence(self, index: int) -> bool:
        token = self.tokens[index]
        if token.kind is T.NEWLINE or (token.kind is T.MARK and self._lone_mark):
            return True
        if token.kind is T.DOT:
            return not self._goes_on(token.end)
        if token.kind is T.CLOSE:
            return self.text[token.end :].lstrip(" ")[:1].isupper()
        return any(start <= token.start < end for start, end in self._totals)

    def _bracket_around(self, index: int) -> tuple[int, int] | None:
        depth = 0
        for first in range(index, -1, -1):
            depth += (self.tokens[first].kind is T.CLOSE and first < index) - (self.tokens[first].kind is T.OPEN)
            if depth < 0:
                ends = (i for i in range(index, len(self.tokens)) if self.tokens[i].kind is T.CLOSE)
                end = next(ends, None)
                return None if end is None else (first, end + 1)
        return None

    def qualifiers(self, index: int, context: Context) -> Iterator[Departure]:
        """Words in the clause of word number `index` that nobody knows and that say how, or which, of what stands
        beside them: "sc snugly in each st", "in the coming 3 sts", "squeeze 9 sc into the ring"."""
        first, end = self._stretch_around(index, self._ends_clause)
        place = first
        while place < end:
            stop = place
            while stop < end and (self.tokens[stop].kind in _LEFT_OUT_ALONE):
                stop += 1
            words = self.tokens[place:stop]
            if any(word.kind is T.WORD for word in words) and self._qualifies(place, stop):
                remark = " ".join(self.text[words[0].start : words[-1].end].split())
                unknown = (word.text for word in words if word.kind is T.WORD)
                is_like_one = any(_like_words(word, context.terms, is_made=True) for word in unknown)
                cost = QUALIFIER_LIKE_A_WORD if is_like_one else REMARK
                yield Departure(cost, self.blanks(words[0].start, words[-1].end), remark)
            place = stop + 1

    def _qualifies(self, first: int, end: int) -> bool:
        """Whether what stands around some words is whole without them, and no stitch can be lost with them."""
        if end - first > _MOST_QUALIFYING:
            return False
        before = self.tokens[first - 1].kind if first else None
        after, behind = (self.tokens[at].kind if at < len(self.tokens) else None for at in (end, end + 1))
        if before is None or before in _BEFORE_A_VERB:
            return after is T.NUMBER and behind in MADE
        if before in MADE or before is T.TOG:
            return after is None or after in _BEHIND_A_STITCH
        if before is T.AROUND:
            return after is None or after in _CLAUSE_ENDS
        if before in _BEGINS_A_PLACE:
            return after in BASES or after in (T.NUMBER, T.ORDINAL, T.LOOP, T.RING)
        return False

    def cost(self, first: int, end: int, *, is_sentence: bool) -> int:
        """What it costs to take these words as a remark; 0 where they are none."""
        words = self.tokens[first:end]
        if any(start < words[-1].end and words[0].start < stop for start, stop in self._totals):
            return 0
        bracketed = words[0].kind is T.OPEN and words[-1].kind is T.CLOSE
        inner = words[1:-1] if bracketed else words
        spoken = [token for token in inner if token.text[0].isalpha()]
        joints = sum(_holds_together(token) for token in spoken)
        if not any(token.kind in _NEVER_LEFT_OUT and not _is_pronoun(inner, at) for at, token in enumerate(inner)):
            is_spoken = len(spoken) >= 2 and joints
            return REMARK if is_spoken or (first == 0 and self._is_label(words, end)) else 0
        if self._tells_how_it_is_held(first, end):
            return REMARK
        if joints < FEWEST_JOINTS or first == 0 or _instructs(inner):
            return 0
        if bracketed and not any(token.kind in (T.NUMBER, T.SKIP) for token in inner):
            return BRACKET_WITH_STITCHES
        return SENTENCE_WITH_STITCHES if is_sentence else 0

    def _is_label(self, words: list[Token], end: int) -> bool:
        """Whether a round begins with words that nobody knows and a full stop or a colon, "Edging. Sc in each st"."""
        after = self.tokens[end] if end < len(self.tokens) else None
        labels = after is not None and after.kind in (T.DOT, T.COLON) and not self._goes_on(after.end)
        return labels and all(word.kind is T.WORD and len(word.text) > _SHORT for word in words)

    def _tells_how_it_is_held(self, first: int, end: int) -> bool:
        """Whether a clause at the start of a sentence says how the work is held, before the comma behind it:
        "holding the ch-loops behind the points of rnd 5, ..." """
        before = self.tokens[first - 1].kind if first else None
        after = self.tokens[end].kind if end < len(self.tokens) else None
        lead, *others = self.tokens[first:end]
        if before not in (None, T.DOT, T.COLON) or after is not T.COMMA or lead.kind is not T.WORD:
            return False
        if not lead.text.endswith("ing") or len(lead.text) <= _SHORT:
            return False
        rounds = {index + 1 for index, token in enumerate(others) if token.kind is T.ROUND}
        telling = [token.kind for i, token in enumerate(others) if token.kind is not T.NUMBER or i not in rounds]
        return all(kind not in _NEVER_LEFT_OUT or kind in _OF_THE_WORK for kind in telling)

    def with_its_stops(self, first: int, end: int) -> tuple[int, int]:
        """Where these words start and end, with the signs that nothing else needs: a mark before, a stop behind."""
        before = self.tokens[first - 1] if first else None
        after = self.tokens[end] if end < len(self.tokens) else None
        start, stop = self.tokens[first].start, self.tokens[end - 1].end
        if before is not None and (before.kind is T.MARK or (before.kind is T.COMMA and after is None)):
            start = before.start
        if after is not None and after.kind is T.DOT and before is not None and self._ends_sentence(first - 1):
            stop = after.end
        return start, stop

    def blanks(self, start: int, end: int) -> tuple[tuple[int, str], ...]:
        """Blanks for the characters between two places, line by line: line ends stay."""
        breaks = [place for place in range(start, end) if self.text[place] == "\n"]
        rows = zip([start, *(place + 1 for place in breaks)], [*breaks, end], strict=True)
        return tuple((first, " " * (stop - first)) for first, stop in rows)


FEWEST_JOINTS = 2
"""So many words of speech make prose of words that name stitches."""

_CLOSED_BY = {"(": ")", "[": "]", "{": "}"}


def _is_pronoun(words: list[Token], index: int) -> bool:
    """Whether "one" stands for a thing and counts nothing: "the far one", "the one behind"."""
    if words[index].text != "one" or not index:
        return False
    after = words[index + 1].kind if index + 1 < len(words) else None
    return words[index - 1].text[0].isalpha() and (after is None or after is T.BEHIND)


def _instructs(words: list[Token]) -> bool:
    """Whether a sentence says how many stitches are made, or into what."""
    if any(token.kind in _NEVER_IN_A_SENTENCE for token in words):
        return True
    pairs = pairwise(token.kind for token in words)
    return any(
        (one in MADE and other in (T.NUMBER, T.IN)) or (one is T.NUMBER and other in MADE) for one, other in pairs
    )


def _holds_together(token: Token) -> bool:
    """Whether this is a word of speech: no name of a stitch that nobody knows has one in it."""
    return token.kind is T.FILLER or token.text in _FUNCTION_WORDS
