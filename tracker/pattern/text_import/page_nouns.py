"""What a page calls a stitch, where that is no word of the trade, or one for something else: "= 18 points", "(21
maschen)", "1 sc in each loop". The sums decide: the rounds come out with the word as a stitch, and not without."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.context import Context
from tracker.notation.own_words import own_word, with_round_words
from tracker.notation.parser.heading import heading
from tracker.notation.reader import read_line
from tracker.notation.token_kinds import T
from tracker.notation.vocabulary import meaning
from tracker.pattern.text_import.page_headings import round_words_of
from tracker.pattern.text_import.page_words import Lexicon, lexicon_of
from tracker.rounds.bases import Base
from tracker.rounds.checks import weigh

_PLACED = compile_later(r"\b(?:each|every|same|next|following)\s+(?P<noun>[^\W\d_]{1,14})\b")
_COUNTED = compile_later(
    r"(?:=|[-–:.,]|[(\[/])\s*(?P<number>\d{1,4})(?:\s+(?P<noun>[^\W\d_]{1,14}))?\s*[)\]/]?\s*[.;!]?\s*$"
)
"""A total at the end of a line, with what it counts."""

_FEWEST = 3
"""Rounds that have the word, and that come out only with it: one or two may do so by accident."""

_MOST_ROUNDS = 60
"""Rounds that are tried; a page that has a word of its own for a stitch has it in all of them."""

_MOST_WORDS = 3
"""Words that are tried, the ones met most often."""


@dataclass(frozen=True, slots=True)
class _Round:
    """A line with the number of a round and a total."""

    number: int
    text: str
    total: int


def page_lexicon(lines: Sequence[str], texts: Sequence[str], terms: str) -> Lexicon:
    """All that a page says of its own words: what it calls its rounds and its stitches by its `lines`, and what its
    units of these `texts` explain."""
    rounds = round_words_of(lines, terms)
    heads = tuple(filter(None, (own_word(word, "rnd", terms) for word in rounds)))
    nouns = stitch_words_of([with_round_words(line, heads, terms) for line in lines], terms)
    explained = lexicon_of((_with_stitch_words(text, nouns) for text in texts), terms)
    return tuple({**dict(explained), **dict.fromkeys(rounds, "rnd"), **dict.fromkeys(nouns, "st")}.items())


def stitch_words_of(lines: Sequence[str], terms: str) -> tuple[str, ...]:
    """The words, folded, that the page has for a stitch, in all their forms; empty if it uses those of the trade."""
    rounds = list(_rounds(lines))[:_MOST_ROUNDS]
    counts: Counter[str] = Counter()
    forms: dict[str, set[str]] = {}
    for one in rounds:
        nouns = {match["noun"] for match in (*_PLACED.finditer(one.text), _COUNTED.search(one.text)) if match}
        for noun in filter(None, nouns):
            if _may_be_stitch(noun, terms):
                forms.setdefault(_singular(noun), set()).add(noun)
        counts.update({_singular(noun) for noun in nouns if noun and _singular(noun) in forms})
    named: set[str] = set()
    plain = -1
    for noun, times in counts.most_common(_MOST_WORDS):
        if times < _FEWEST:
            break
        if plain < 0:
            plain = _coming_out(lines, rounds, named, terms)
        tried = named | forms[noun]
        with_it = _coming_out(lines, rounds, tried, terms)
        if with_it >= plain + _FEWEST:
            named, plain = tried, with_it
    return tuple(sorted(named))


def _rounds(lines: Sequence[str]) -> Iterator[_Round]:
    for line in lines:
        folded = fold(line)
        head, total = heading(folded), _COUNTED.search(folded)
        if head.numbers and total is not None and total.start() >= head.end:
            yield _Round(head.numbers[0], folded, int(total["number"]))


def _may_be_stitch(noun: str, terms: str) -> bool:
    """Whether nobody knows the word, or it is one for a space, which pages call a stitch too."""
    sense = meaning((noun,), terms)
    return sense is None or sense[0] in (T.WORD, T.SPACE)


def _singular(noun: str) -> str:
    return re.sub(r"(?<=sh)es$|(?<=\w{2})s$", "", noun)


def _coming_out(lines: Sequence[str], rounds: Sequence[_Round], nouns: set[str], terms: str) -> int:
    """How many rounds make their total, to the letter, over that of the round before; -1 where a word for a space is
    taken for a stitch though chain spaces are made."""
    lexicon = lexicon_of([_with_stitch_words(line, nouns) for line in lines], terms)
    words = tuple(filter(None, (own_word(phrase, explanation, terms) for phrase, explanation in lexicon)))
    context = Context(terms=terms, words=words)
    count = 0
    before: _Round | None = None
    for one in rounds:
        follows = before is not None and one.number > before.number
        base = Base(before.total) if follows and before is not None else None
        weighed = weigh(read_line(_with_stitch_words(one.text, nouns), context), base)
        if nouns and weighed.plan is not None and weighed.plan.tally.spaces:
            return -1
        count += weighed.leaves == one.total and not weighed.problems
        before = one
    return count


def _with_stitch_words(text: str, nouns: Sequence[str] | set[str]) -> str:
    """The text with "st" for every one of the page's words for a stitch."""
    any_noun = "|".join(re.escape(noun) for noun in sorted(nouns, key=len, reverse=True))
    return re.sub(rf"(?<![\w-])(?:{any_noun})(?![\w-])", "st", text, flags=re.IGNORECASE) if any_noun else text
