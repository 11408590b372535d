"""Words that a page never explains, read by the sums of its rounds: "aum" is an increase where several rounds come
out over nothing else."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain

from tracker.diagnostics import verdict_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.notation.lexer import scan
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import PAUSES, T
from tracker.rounds.bases import Base
from tracker.rounds.checks import weigh


@dataclass(frozen=True, slots=True)
class WordBySums:
    """A word, what it is read as, and how many rounds come out by that."""

    phrase: str
    meaning: str
    rounds: int

    @property
    def sentence(self) -> str:
        """What is said of it to the maker."""
        return f"'{self.phrase}' is {self.meaning}, as the sums of {self.rounds} rounds say"


_MEANINGS = ("increase", "decrease")
"""What an unknown word may be: no other stitch makes two of one or one of two, so that the sums leave no doubt."""

_FEWEST = 3
"""Rounds that have to come out: one may be a misprint, and two the same one made twice."""

_MOST_TRIED = 4
"""Words of a page that are tried, those of most rounds first."""

_MOST_ROUNDS = 60
"""Different rounds that a word is tried in; what they say is said by then."""

_LONGEST = 14
"""Letters of the word for an increase or a decrease, in full."""


def words_by_sums(lines: Sequence[str], context: Context) -> tuple[WordBySums, ...]:
    """The unknown words of rounds whose sums come out over one meaning in three of them at least, in four of five of
    those that state a total, and in none over the other meaning."""
    unknown = [_unknown(line, context) for line in lines]
    often = [
        word for word, number in Counter(chain.from_iterable(unknown)).most_common(_MOST_TRIED) if number >= _FEWEST
    ]
    any_stitch = replace(context, words=(*context.words, *map(OwnWord, often)))
    rounds = tuple(_rounds(lines, unknown, any_stitch)) if often else ()
    by_sums: list[WordBySums] = []
    for word in often:
        different = {line.text: (line, below) for line, below, words in rounds if word in words}
        having = list(different.values())[:_MOST_ROUNDS]
        agreed = {each: _agreeing(having, OwnWord(word, each), context) for each in _MEANINGS}
        likely, least = max(_MEANINGS, key=lambda each: agreed[each]), min(agreed.values())
        if not least and agreed[likely] >= max(_FEWEST, 4 * len(having) // 5):
            by_sums.append(WordBySums(word, likely, agreed[likely]))
    return tuple(by_sums)


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


def _agreeing(rounds: Sequence[tuple[Line, int]], word: OwnWord, context: Context) -> int:
    """In how many of the rounds this meaning uses all that is there and makes the total."""
    trying = replace(context, words=(*context.words, word))
    agreed = 0
    for typed, below in rounds:
        line = read_line(typed.text, trying)
        weighed = weigh(line, Base(below))
        total = weighed.stated.stitches if weighed.stated is not None else None
        agreed += verdict_of(weighed.problems) == "ok" and weighed.uses == below and weighed.leaves == total
    return agreed
