"""Words that a page never explains, read by the sums of its rounds: "aum" is an increase, "pb" one stitch in each,
"18 points" are stitches, where several rounds come out over nothing else. Which stitch it is, the language tells.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import chain, islice, pairwise, product

from tracker.diagnostics import verdict_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import full_name
from tracker.notation.lexer import scan
from tracker.notation.own_words import meaning_of, with_own_words
from tracker.notation.parser.heading import heading_of
from tracker.notation.reader import read_line, read_once
from tracker.notation.token_kinds import MADE, PAUSES, T
from tracker.notation.vocabulary import meaning
from tracker.pattern.text_import.foreign_words import (
    WORDS_FOR_AND,
    foreign_words,
    is_stitch_abroad,
    meaning_abroad,
)
from tracker.pattern.text_import.materials import yarns_in
from tracker.pattern.text_import.page_words import places_named
from tracker.plural import number_of
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
        sums = f"as the sums of {number_of(self.rounds, 'round')} say" if self.rounds else ""
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
    joining = _joining(lines, context)
    by_sums = _sorts_by_sums(lines, _with_words(context, joining, "and"))
    explained = _explained(context)
    vouched = {**explained, **{word: sort.replace(PLAIN, "") for word, (sort, _) in by_sums.items()}}
    words = chain.from_iterable(_words(line, context) for line in lines) if vouched else ()
    unknown = dict.fromkeys((*(word for word in words if word not in WORDS_FOR_AND), *joining))
    foreign = foreign_words(vouched, unknown, context.terms)
    read: list[WordBySums] = []
    for word in (word for word in dict.fromkeys((*by_sums, *foreign)) if word not in explained):
        sort, number = by_sums.get(word, ("", 0))
        meaning, language = foreign.get(word, (sort, ""))
        read.append(WordBySums(word, meaning, number, language))
    settled = {*explained, *(word.phrase for word in read)}
    return (*read, *_strays(lines, settled, _with_words(context, joining, "and")))


def _strays(lines: Sequence[str], settled: Collection[str], context: Context) -> Iterator[WordBySums]:
    """Words of another language that slipped into a round or two of a page in ours: what all languages that have the
    word mean by it, if each of its rounds comes out over that and over nothing else."""
    unknown = {line: _unknown(line, context) - set(settled) for line in lines}
    for word in dict.fromkeys(word for line in lines for word in sorted(unknown[line])):
        meaning, languages = meaning_abroad(word, context.terms)
        if not meaning:
            continue
        sort = PLAIN if is_stitch_abroad(meaning) else meaning
        having = [line for line in lines if word in unknown[line]]
        alone = all(unknown[line] == {word} for line in having) and len(having) < _FEWEST
        rounds = list(_rounds(lines, unknown, _with_words(context, [word]))) if alone else []
        rounds = [(line, below) for line, below in rounds if line.text in having]
        agreed = [_agreeing(line, below, [word], context) if below else frozenset() for line, below in rounds]
        if len(agreed) == len(having) and all(sorts == {((word, sort),)} for sorts in agreed):
            yield WordBySums(word, meaning, len(having), languages)


def _joining(lines: Sequence[str], context: Context) -> list[str]:
    """The words for "and" of other languages that stand between two things that are made, and nowhere as a yarn
    does: "(e) 3 sc", "3 sc e, 2 sc f"."""
    between: set[str] = set()
    yarns: set[str] = set()
    for line in lines:
        head, folded = heading_of(line), fold(line)
        if not head.numbers or WORDS_FOR_AND.isdisjoint(folded[head.end :].split()):
            continue
        tokens = with_own_words(scan(folded[head.end :], context.terms), context.words, context.terms)
        kinds = [None, *(token.kind for token in tokens), None]
        for token, before, after in zip(tokens, kinds, kinds[2:], strict=False):
            if token.text in WORDS_FOR_AND:
                between |= {token.text} if before in _MADE_BEFORE and after in _MADE_BEHIND else set()
                yarns |= {token.text} if before is T.OPEN or after in _BEHIND_A_YARN else set()
    if between:
        yarns.update(yarn.key.lower() for line in lines for yarn in yarns_in(line))
    return sorted(between - yarns)


_MADE_BEFORE = MADE | {T.CLOSE, T.WORD, T.NOUN, T.TIMES}
_MADE_BEHIND = MADE | {T.OPEN, T.NUMBER}
_BEHIND_A_YARN = PAUSES | {None, T.CLOSE, T.COLON}


def _sorts_by_sums(lines: Sequence[str], context: Context) -> dict[str, tuple[str, int]]:
    """The words of which the sums tell the sort, with it and the number of rounds that do."""
    unknown = {line: _unknown(line, context) for line in lines}
    counts = Counter(word for line in lines for word in unknown[line])
    often = [word for word, number in counts.most_common(_MOST_TRIED) if number >= _FEWEST]
    if not often:
        return {}
    rounds_there = _rounds(lines, unknown, _with_words(context, often))
    different = {line.text: (line, below) for line, below in rounds_there if below}
    rounds = [
        (frozenset(words), _agreeing(line, below, sorted(words), context))
        for line, below in list(different.values())[:_MOST_ROUNDS]
        if (words := unknown[line.text]) <= set(often) and len(words) <= _MOST_IN_A_ROUND
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
    joining = tuple(word for word in context.words if word.meaning == "and")
    tokens = with_own_words(scan(fold(text)[head.end :], context.terms), joining, context.terms)
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


def _with_words(context: Context, words: Collection[str], meaning: str = "") -> Context:
    return replace(context, words=(*context.words, *(OwnWord(word, meaning) for word in words)))


def _rounds(
    lines: Sequence[str], words: Mapping[str, Collection[str]], context: Context
) -> Iterator[tuple[Line, int]]:
    """The rounds that state a total and have any of the words, each with the total of the round below, 0 for the
    first of a piece."""
    for above, text in pairwise(["", *(line for line in lines if heading_of(line).numbers)]):
        if words[text]:
            line, is_first = read_once(text, context), 1 in heading_of(text).numbers
            below = 0 if is_first else _left_by(read_once(above, context))
            if _total(line) and (is_first or below):
                yield line, below


def _total(line: Line) -> int:
    return (line.stated[-1].stitches or 0) if line.stated else 0


def _left_by(line: Line) -> int:
    """What a round leaves: its total, or what it makes of itself, "6 sc in ring"."""
    if line.stated or not line.heading.numbers:
        return _total(line)
    weighed = weigh(line, None)
    return weighed.leaves or 0 if verdict_of(weighed.problems) == "ok" else 0


def _agreeing(line: Line, below: int, words: Sequence[str], context: Context) -> frozenset[_Sorts]:
    """Over which sorts of its words the round comes out."""
    agreed: set[_Sorts] = set()
    for sorts in product(_SORTS, repeat=len(words)):
        named = tuple(zip(words, sorts, strict=True))
        own = (OwnWord(word) if sort == PLAIN else OwnWord(word, sort) for word, sort in named)
        if _comes_out(line.text, below, replace(context, words=(*context.words, *own))):
            agreed.add(named)
    return frozenset(agreed)


def _comes_out(text: str, below: int, context: Context) -> bool:
    """Whether a round uses all that is there and makes its total."""
    weighed = weigh(read_line(text, context), Base(below) if below else None)
    total = weighed.stated.stitches if weighed.stated is not None else None
    uses_all = weighed.uses == below or not below
    return verdict_of(weighed.problems) == "ok" and uses_all and weighed.leaves == total


# Words for any stitch

_NOUN = compile_later(
    r"\b(?:each|every|same|next|following)\s+(?P<placed>[^\W\d_]{1,14})\b"
    r"|(?:=|[-–:.,]|[(\[/])\s*\d{1,4}\s+(?P<counted>[^\W\d_]{1,14})\s*[)\]/]?\s*[.;!]?\s*$"
)
"""What a round goes into, and what the total at its end counts: "in each loop", "= 18 points"."""


def nouns_by_sums(lines: Sequence[str], context: Context, page: Sequence[str] = ()) -> tuple[str, ...]:
    """What the page calls a stitch, folded, in all its forms, as rounds come out with that and not without; empty if
    it uses the words of the trade. Of what the `page` says that an increase goes into no sum has to tell."""
    places = places_named(page, context.terms)
    nouns = {line: _nouns(line, context.terms) for line in lines}
    counts = Counter(noun[:_STEM] for line in lines for noun in nouns[line])
    named = set(places) if _are_no_spaces(places, lines, context) else set()
    for stem, number in counts.most_common(_MOST_TRIED):
        if number < _FEWEST:
            break
        having = {line: {noun for noun in nouns[line] if noun[:_STEM] == stem} for line in lines}
        forms = named.union(*having.values())
        without, with_it = _with_words(context, named, "st"), _with_words(context, forms, "st")
        rounds = list(islice(_rounds(lines, having, with_it), _MOST_ROUNDS))
        if any(_makes_spaces(line) for line, _ in rounds):
            continue  # its loops are of chains
        out = sum(
            _comes_out(line.text, below, with_it) - _comes_out(line.text, below, without) for line, below in rounds
        )
        if out >= _FEWEST:
            named = forms
    return tuple(sorted(named))


def _are_no_spaces(nouns: Collection[str], lines: Sequence[str], context: Context) -> bool:
    """Whether none of the rounds makes chains that such a word could be a space of, and some round goes into it."""
    having = [line for line in lines if not _nouns(line, context.terms).isdisjoint(nouns)]
    rounds = [read_once(line, context) for line in lines if having and heading_of(line).numbers]
    return having != [] and not any(_makes_spaces(line) for line in rounds)


def _makes_spaces(line: Line) -> bool:
    plan = weigh(line, None).plan
    return plan is not None and plan.tally.spaces > 0


_STEM = 3
"""Letters that the forms of a word share, "masche" and "maschen"."""


def _nouns(text: str, terms: str) -> set[str]:
    """The words that a round may call stitches: those that nobody knows, and those for a space, which pages call a
    stitch too."""
    head = heading_of(text)
    matches = _NOUN.finditer(fold(text), head.end) if head.numbers else ()
    nouns = {match[str(match.lastgroup)] for match in matches}
    return {noun for noun in nouns if (meaning((noun,), terms) or (T.WORD,))[0] in (T.WORD, T.SPACE)}
