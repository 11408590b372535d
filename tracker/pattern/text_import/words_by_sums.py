"""Words that a page never explains, read by the sums of its rounds: "aum" is an increase, "pb" one stitch in each,
where several rounds come out over nothing else. Which stitch that is, the language of the page tells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain, product

from tracker.diagnostics import verdict_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import full_name
from tracker.notation.lexer import scan
from tracker.notation.own_words import meaning_of
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import PAUSES, T
from tracker.pattern.text_import.foreign_words import foreign_words
from tracker.rounds.bases import Base
from tracker.rounds.checks import weigh


@dataclass(frozen=True, slots=True)
class WordBySums:
    """A word, what it is read as, how many rounds come out by that, and the language that has it, if that told."""

    phrase: str
    meaning: str
    rounds: int
    language: str = ""

    @property
    def sentence(self) -> str:
        """What is said of it to the maker."""
        if self.meaning == PLAIN:
            return f"'{self.phrase}' is some stitch, one in each, as the sums of {self.rounds} rounds say: which one?"
        sums = f"as the sums of {self.rounds} rounds say" if self.rounds else ""
        abroad = f"as {self.language} pages have it" if self.language else ""
        return f"'{self.phrase}' is {self.meaning}, {' and '.join(filter(None, (abroad, sums)))}"


PLAIN = "takes 1, leaves 1"
"""A stitch of which the sums say no more than that."""

_SORTS = ("increase", "decrease", PLAIN)
"""What an unknown word may be: the sums part two of one, one of two and one of one."""

_FEWEST = 3
"""Rounds that have to come out: one may be a misprint, and two the same one made twice."""

_MOST_TRIED = 4
"""Words of a page that are tried, those of most rounds first."""

_MOST_ROUNDS = 40
"""Different rounds that words are tried in; what they say is said by then."""

_MOST_IN_A_ROUND = 2
"""Unknown words of a round that is tried: each one more is tried over three sorts."""

_LONGEST = 14
"""Letters of the word for an increase or a decrease, in full."""

_Sorts = tuple[tuple[str, str], ...]
"""Words, each with a sort."""

_Tried = tuple[frozenset[str], frozenset[_Sorts]]
"""The unknown words of a round, and the sorts of them over which it comes out."""


def words_by_sums(lines: Sequence[str], context: Context) -> tuple[WordBySums, ...]:
    """The unknown words of rounds whose sums come out over one sort in three of them at least, in four of five of
    those that state a total, and in none over another sort; and what the language that has these, and what the page
    explains, has for the others."""
    by_sums = _sorts_by_sums(lines, context)
    explained = _explained(context)
    vouched = {**explained, **{word: sort.replace(PLAIN, "") for word, (sort, _) in by_sums.items()}}
    unknown = dict.fromkeys(chain.from_iterable(_words(line, context) for line in lines)) if vouched else {}
    foreign = foreign_words(vouched, unknown, context.terms)
    read: list[WordBySums] = []
    for word in (word for word in dict.fromkeys((*by_sums, *foreign)) if word not in explained):
        sort, number = by_sums.get(word, ("", 0))
        meaning, language = foreign.get(word, (sort, ""))
        read.append(WordBySums(word, meaning, number, language))
    return tuple(read)


def _sorts_by_sums(lines: Sequence[str], context: Context) -> dict[str, tuple[str, int]]:
    """The words of which the sums tell the sort, with it and the number of rounds that do."""
    unknown = [_unknown(line, context) for line in lines]
    often = [
        word for word, number in Counter(chain.from_iterable(unknown)).most_common(_MOST_TRIED) if number >= _FEWEST
    ]
    if not often:
        return {}
    any_stitch = replace(context, words=(*context.words, *map(OwnWord, often)))
    different = {line.text: (line, below, words) for line, below, words in _rounds(lines, unknown, any_stitch)}
    rounds = [
        (frozenset(words), _agreeing(line, below, sorted(words), context))
        for line, below, words in list(different.values())[:_MOST_ROUNDS]
        if words <= set(often) and len(words) <= _MOST_IN_A_ROUND
    ]
    likely = dict(_likely(often, rounds))
    return {word: (sort, number) for word, sort in likely.items() if (number := _sure(word, likely, rounds))}


def _explained(context: Context) -> dict[str, str]:
    """What the page explains of its words, as the languages have it: a stitch by its full name, or its sort."""
    sorts: dict[str, str] = {}
    for word in context.words:
        meaning = meaning_of(word.meaning, context.terms) if word.meaning else None
        if meaning is not None and meaning.kind is T.STITCH:
            sorts[word.phrase] = full_name(str(meaning.value), context.terms)
        elif meaning is not None and meaning.kind in _SORT_NAMES:
            sorts[word.phrase] = _SORT_NAMES[meaning.kind]
    return sorts


_SORT_NAMES = {T.INC: "increase", T.DEC: "decrease", T.CHAIN: "chain"}


def _likely(words: Sequence[str], rounds: Sequence[_Tried]) -> _Sorts:
    """The sorts of the words over which most rounds come out."""

    def coming_out(sorts: tuple[str, ...]) -> int:
        named = dict(zip(words, sorts, strict=True))
        return sum(tuple((word, named[word]) for word in sorted(having)) in agreed for having, agreed in rounds)

    best = max(product(_SORTS, repeat=len(words)), key=coming_out)
    return tuple(zip(words, best, strict=True))


def _sure(word: str, likely: Mapping[str, str], rounds: Sequence[_Tried]) -> int:
    """How many rounds come out with all words as they are likely, if those are enough, and none with this word of
    another sort; else 0."""

    def agrees(one: _Tried, sort: str) -> bool:
        having, agreed = one
        return tuple((each, sort if each == word else likely[each]) for each in sorted(having)) in agreed

    having = [one for one in rounds if word in one[0]]
    number = sum(agrees(one, likely[word]) for one in having)
    others = any(agrees(one, sort) for one in having for sort in _SORTS if sort != likely[word])
    return number if not others and number >= max(_FEWEST, 4 * len(having) // 5) else 0


def _unknown(text: str, context: Context) -> set[str]:
    """The words of a round that are not known and stand where a stitch may."""
    head = heading_of(text)
    if not head.numbers:
        return set()
    own_phrases = {word.phrase for word in context.words}
    tokens = scan(fold(text)[head.end :], context.terms)
    kinds = [None, *(token.kind for token in tokens), None]
    return {
        token.text
        for token, before, after in zip(tokens, kinds, kinds[2:], strict=False)
        if token.kind is T.WORD
        and token.text.isalpha()
        and 1 < len(token.text) <= _LONGEST
        and before in _BEFORE
        and after in _BEHIND
    } - own_phrases


def _words(text: str, context: Context) -> list[str]:
    """All words of a round that are not known, wherever they stand."""
    head = heading_of(text)
    own = {word.phrase for word in context.words}
    tokens = scan(fold(text)[head.end :], context.terms) if head.numbers else ()
    return [token.text for token in tokens if token.kind is T.WORD and token.text not in own]


_BEFORE = frozenset((None, T.NUMBER, T.OPEN, T.MARK, T.COLON, T.DASH, T.AND, T.PLUS)) | PAUSES
_BEHIND = _BEFORE | {T.TIMES, T.EQUALS, T.IN, T.EACH, T.CLOSE}


def _rounds(
    lines: Sequence[str], unknown: Sequence[set[str]], context: Context
) -> Iterator[tuple[Line, int, set[str]]]:
    """The rounds that state a total and have unknown words: the line, the total of the round below, and the words."""
    below = 0
    for text, words in zip(lines, unknown, strict=True):
        if not heading_of(text).numbers:
            continue
        line = read_line(text, context)
        total = line.stated[-1].stitches if line.stated else None
        if total and below and words and 1 not in line.heading.numbers:
            yield line, below, words
        below = total or 0


def _agreeing(line: Line, below: int, words: Sequence[str], context: Context) -> frozenset[_Sorts]:
    """Over which sorts of its words the round uses all that is there and makes its total."""
    agreed: set[_Sorts] = set()
    for sorts in product(_SORTS, repeat=len(words)):
        named = tuple(zip(words, sorts, strict=True))
        own = (OwnWord(word) if sort == PLAIN else OwnWord(word, sort) for word, sort in named)
        read = read_line(line.text, replace(context, words=(*context.words, *own)))
        weighed = weigh(read, Base(below))
        total = weighed.stated.stitches if weighed.stated is not None else None
        if verdict_of(weighed.problems) == "ok" and weighed.uses == below and weighed.leaves == total:
            agreed.add(named)
    return frozenset(agreed)
