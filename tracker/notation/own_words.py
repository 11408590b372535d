"""The words that a pattern explains: "pf" is a puff stitch, "tc" a treble, and a stitch of which nothing is known but
how many places it takes and how many stitches it leaves."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import takewhile

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.context import OwnWord
from tracker.notation.lexer import scan, without_fillers
from tracker.notation.token_kinds import AND_IN_HEADS, PARTS_STITCHES, PAUSES, STOPS, T
from tracker.notation.token_stream import Token
from tracker.notation.vocabulary import phrase_words

MOST_WORDS = 3
"""Words of a phrase that a pattern explains."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """The sort and the value of the word that a phrase stands for."""

    kind: T
    value: object


@lru_cache(maxsize=4_096)
def meaning_of(meaning: str, terms: str) -> Meaning | None:
    """What a phrase of known words is as one word: a stitch, an increase of it, a loop; None if it is none."""
    tokens = without_fillers(scan(fold(meaning), terms))
    if len(tokens) == 1 and tokens[0].kind not in (T.WORD, T.NUMBER, T.FILLER, T.COLOURED):
        return Meaning(tokens[0].kind, tokens[0].value)
    if len(tokens) == 2 and tokens[0].kind in (T.STITCH, T.BUNCH) and tokens[1].kind in (T.INC, T.DEC):
        return Meaning(tokens[1].kind, tokens[0].value)
    kinds = {token.kind for token in tokens}
    if {T.CORNER, T.SPACE} <= kinds <= _OF_A_CORNER:
        return Meaning(T.CORNER, None)
    return None


_OF_A_CORNER = frozenset((T.CORNER, T.SPACE, T.CHAIN, T.NUMBER, T.IN))
"""Words of "the 2ch corner space", "the ch-3 space at the corner"."""


def may_name_group(name: str, terms: str) -> bool:
    """Whether a page may call a group of stitches so that it explains: "petal", "corner", "big fan"; what is said of
    the first one, "beg corner", is left to that."""
    kinds = {token.kind for token in scan(name, terms)}
    return len(name) >= _SHORTEST_NAME and len(name.split()) <= MOST_WORDS and kinds <= {T.WORD, T.CORNER, T.BUNCH}


_SHORTEST_NAME = 3
"""Letters of the name of a group; a shorter one is that of a yarn or a letter of a chart."""

_TAKES = compile_later(r"takes?\s+(\d{1,2})\s*(?:,|and|;)?\s*leaves?\s+(\d{1,3})", re.I)


def own_word(phrase: str, text: str, terms: str) -> OwnWord | None:
    """A phrase as it is explained: "puff stitch", or "takes 2, leaves 1"; None if that says nothing of it.

    What takes no place leaves no stitch.
    """
    match = _TAKES.fullmatch(text.strip())
    if match is not None:
        takes, leaves = int(match[1]), int(match[2])
        return OwnWord(phrase, takes=takes, leaves=leaves) if takes or not leaves else None
    return OwnWord(phrase, text) if meaning_of(text, terms) is not None else None


def own_words(lexicon: Iterable[tuple[str, str]], terms: str) -> tuple[OwnWord, ...]:
    """The phrases of a lexicon as they are explained, those of which nothing is said left out."""
    return tuple(filter(None, (own_word(phrase, text, terms) for phrase, text in lexicon)))


def with_round_words(text: str, words: tuple[OwnWord, ...], terms: str) -> str:
    """The text, of the same length, with "Rnd" for what the pattern calls a round at the head of its lines, "Runde
    3:" and "3rd lap:", and where it names one, "as Runde 3", if it explains that word: `runde = "rnd"`."""
    phrases = _round_phrases(words, terms) if words else ""
    if not phrases:
        return text
    folded = fold(text)
    spans = [match.span(str(match.lastgroup)) for match in _round_words(phrases).finditer(folded)]
    spans += [match.span("last") for match in _last_words(phrases).finditer(folded)]
    written = list(text)
    for start, end in spans:
        # A letter is a word for a round too.
        written[start:end] = ("Rnd" if end - start > 2 else "R").rjust(end - start)
    return "".join(written)


@lru_cache(maxsize=64)
def _round_phrases(words: tuple[OwnWord, ...], terms: str) -> str:
    """The words that mean a round, as a pattern; "" if none does."""
    named = [word.phrase for word in words if word.meaning and _is_round(meaning_of(word.meaning, terms))]
    return "|".join(re.escape(phrase) for phrase in sorted(named, key=len, reverse=True))


@lru_cache(maxsize=64)
def _last_words(phrases: str) -> re.Pattern[str]:
    """The word before the last number of a heading, "Giro 3 a giro 5. 12 sc"."""
    between = rf"[ ]?(?:[-~&+/]|\b(?:{_BETWEEN_ROUNDS})\b)[ ]?"
    return re.compile(
        rf"(?m)(?:(?P<first>^[^\w\n]*)|(?<=[\s/;]))(?:{phrases})\.?[ ]*(?:no\.?|#)?[ ]*{_NUMBER}{between}"
        rf"(?P<last>{phrases})(?=\.?[ ]*\d(?(first)|\d{{0,3}}[ ]?:))"
    )


_BETWEEN_ROUNDS = "|".join(("to", "thru", "through", "until", "till", "a", "bis", "t/m", *AND_IN_HEADS))


@lru_cache(maxsize=64)
def _round_words(phrases: str) -> re.Pattern[str]:
    """The heads of lines that have one of these words; "20 g of cotton" is none."""
    numbers = round_numbers(phrases)
    return re.compile(
        rf"(?m)(?:(?P<first>^[^\w\n]*)|(?P<next>(?<=[.;,/)\]|] ))|(?<=[\s/;-]))"
        rf"(?:(?P<worded>{phrases})(?=\b|\d)(?(first)(?=\.?[ ]*(?:no\.?|#)?[ ]*\d)"
        rf"|(?=\.?[ ]*{numbers}(?(next)(?:[ ]?:|[.)][ ]|[ ]-[ ])|[ ]?:)))"
        rf"|{ROUND_NUMBERS}[ ]*(?P<numbered>{phrases})\b(?(first)(?:(?<=\w{{3}})|(?=[ ]*[:=.)-]))|(?=[ ]?:)))"
        rf"|(?:(?<=\bas )|(?<=\blike )|(?<=\bof )|(?<=\brepeat ))(?P<named>{phrases})(?=\.?[ ]*\d)"
    )


_NUMBER = r"\d{1,4}(?:-?(?:st|nd|rd|th)|[.o])?"


def round_numbers(phrases: str = "(?!)") -> str:
    """The numbers of rounds in a heading, as a pattern: "3", "4th", "5.-7.", "5 to T8" where `phrases` has the "t";
    within a line a colon tells that they are such."""
    joiner = r"(?:[ ]?(?:[-~,&+]|to|and|a|t/m)[ ]?|/)"
    return rf"{_NUMBER}(?:{joiner}(?:(?:{phrases})\.?[ ]?)?{_NUMBER}){{0,3}}"


ROUND_NUMBERS = round_numbers()


def _is_letter_of_rounds(word: OwnWord, terms: str) -> bool:
    """Whether a letter heads rounds, "V3:", which within them may be another word: "6 V"."""
    return len(word.phrase) == 1 and bool(word.meaning) and _is_round(meaning_of(word.meaning, terms))


def _is_round(meaning: Meaning | None) -> bool:
    return meaning is not None and meaning.kind is T.ROUND


def with_own_words(tokens: list[Token], words: tuple[OwnWord, ...], terms: str) -> list[Token]:
    """The tokens, with every phrase that the pattern explains as the one word that it stands for."""
    by_phrase = {phrase_words(word.phrase): word for word in words if not _is_letter_of_rounds(word, terms)}
    firsts = {phrase[0] for phrase in by_phrase if phrase}
    read: list[Token] = []
    place = 0
    while place < len(tokens):
        begins = tokens[place].text.partition(" ")[0] in firsts
        for length in range(MOST_WORDS if begins else 0, 0, -1):
            run = tokens[place : place + length]
            word = by_phrase.get(tuple(" ".join(token.text for token in run).split()))
            ends = len(run) == length and run[-1].kind is not T.NEWLINE
            if word is not None and ends and _is_that_word(tokens, place):
                read.append(_as_one(run, word, terms))
                place += length
                place += [token.kind for token in tokens[place : place + 1]] == [T.DOT] and _goes_on(tokens, place)
                break
        else:
            read.append(tokens[place])
            place += 1
    return read


def _goes_on(tokens: list[Token], place: int) -> bool:
    """Whether the stop with this number makes a word of the page short and ends nothing: "2nd cad. from the hook",
    "every p. we knit 2 dc"."""
    after = tokens[place + 1 : place + 2]
    return tokens[place].glued and bool(after) and (after[0].kind in _NO_BEGINNING or after[0].text.startswith("we "))


_NO_BEGINNING = frozenset((
    T.HOOK, T.FROM, T.IN, T.OF, T.TO, T.AND, T.AROUND, T.UNTIL, T.OVER, T.BETWEEN, T.TOG, T.EACH, T.NEXT, T.SAME,
    T.LEFT, T.TIMES, T.OFTEN,
))  # fmt: skip
"""What hangs on the words before it, and begins no sentence."""


def _is_that_word(tokens: list[Token], place: int) -> bool:
    """Whether the page's own meaning counts here: in "(X, V) x 6" and "(X, V) rep 6x" the last x is no stitch."""
    kind = tokens[place].kind
    if kind is T.TIMES and place:
        before, after = [token.kind for token in tokens[:place]], [token.kind for token in tokens[place + 1 :]]
        if before[-1] in _BEFORE_A_NUMBER_OF_TIMES and after[:1] == [T.NUMBER]:
            return False
        if before[-2:] == [T.CLOSE, T.OPEN] and after[:2] == [T.NUMBER, T.CLOSE]:
            return False
        if before[-1] is T.NUMBER and len(before) > 1:
            closes = before[-2] is T.MARK and before.count(T.MARK) % 2 == 0
            if closes or before[-2] in (T.CLOSE, T.REPEAT):
                return False
        return before[-1] is not T.NUMBER or not _begins_group(tokens[place + 1 :])
    return kind is not T.CORNER or _is_made(tokens, place)


def _begins_group(tokens: list[Token]) -> bool:
    """Whether a bracket with more than one thing in it begins here, as in "6x (2X, V)"; "24x (24 sc)" has a total."""
    inner = {token.kind for token in takewhile(lambda token: token.kind is not T.CLOSE, tokens)}
    return bool(tokens) and tokens[0].kind is T.OPEN and bool(inner & PARTS_STITCHES) and T.TOTAL not in inner


_BEFORE_A_NUMBER_OF_TIMES = frozenset((T.CLOSE, T.MARK, T.WORD, T.FILLER, T.STITCH, T.INC, T.DEC))


def _is_made(tokens: list[Token], place: int) -> bool:
    """Whether "corner" is a group to be made here, "*corner in next sp", and not where something goes."""
    before = tokens[place - 1] if place else None
    after = tokens[place + 1].kind if place + 1 < len(tokens) else None
    begins = before is None or before.kind in _BEFORE_A_GROUP or (before.kind is T.NUMBER and before.value == 1)
    return begins and (after is None or after in _BEHIND_A_GROUP)


_BEFORE_A_GROUP = PAUSES | {T.OPEN, T.MARK, T.COLON, T.DASH, T.AND, T.THEN, T.WORK, T.BEGINNING, T.FILLER}
_BEHIND_A_GROUP = STOPS | {T.IN, T.MARK, T.THEN, T.AND}


def _as_one(run: list[Token], word: OwnWord, terms: str) -> Token:
    meaning = meaning_of(word.meaning, terms) if word.meaning else Meaning(T.BUNCH, word.phrase)
    if meaning is None:
        return run[0]
    return run[0]._replace(kind=meaning.kind, value=meaning.value, end=run[-1].end)
