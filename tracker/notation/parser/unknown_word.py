"""Words that are not known: what they may have been meant for, and how the maker is told."""

from __future__ import annotations

from functools import cache, lru_cache

from tracker.notation.bunches import BUNCHES
from tracker.notation.glossary import OTHER_TERMS, STITCHES
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, NotUnderstood
from tracker.notation.vocabulary import meaning, vocabulary
from tracker.suggestion import suggestion

_EVERYDAY = ("inc", "dec", "ch", "sk", "miss", "join", "turn", "rep", "around", "next", "each", "times", "ring")


def unknown(cursor: Cursor, index: int, near: str | None) -> NotUnderstood:
    """The refusal of word number `index`, with the known word that is `near` to it."""
    word = cursor.tokens[index].text
    span = cursor.span(index, index + 1)
    terms = cursor.context.terms
    phrase = of_other_terms(cursor, index)
    if phrase:
        word, span = phrase, cursor.span(index, index + len(phrase.split()))
        other = OTHER_TERMS[terms]
        message = f"'{word}' does not exist in {terms} terms: are these {other} terms?"
        return cursor.fail("mixed-terms", message, span, f'set terms = "{other}", or write the {terms} name')
    if meaning(tuple(word.split()), terms) is not None and cursor.tokens[index].kind is not T.WORD:
        message = f"'{word}' makes no sense here"
        return cursor.fail("not-understood", message, span, "expected a stitch, a group or a repeat")
    if near:
        return cursor.fail("unknown-word", f"unknown word '{word}': did you mean {near}?", span)
    shortest = "sc, inc, dec, ch, sk" if terms == "US" else "dc, inc, dec, ch, miss"
    return cursor.fail("unknown-word", f"unknown word '{word}'", span, f"expected a stitch such as {shortest}")


def of_other_terms(cursor: Cursor, index: int) -> str:
    """The words from number `index` on that are not known in these terms and name a stitch in the other ones; "" if
    none do."""
    terms = cursor.context.terms
    words = [token.text for token in cursor.tokens[index : index + LONGEST_NAME]]
    for length in range(len(words), 0, -1):
        phrase = tuple(" ".join(words[:length]).split())
        if is_stitch_of_others(phrase, terms):
            return " ".join(phrase)
    return ""


LONGEST_NAME = 3
"""Words of a stitch's full name: "half treble crochet"."""


def is_stitch_of_others(words: tuple[str, ...], terms: str) -> bool:
    """Whether words that are not known in these terms are a stitch in the other ones."""
    other = meaning(words, OTHER_TERMS[terms])
    return other is not None and other[0] is T.STITCH and meaning(words, terms) is None


_LIKE_A_PHRASE = 0.8
"""Long names share most of their letters ("half double crochet", "double crochet"), so likeness says less."""


@lru_cache(maxsize=500)  # tolerant reading asks for the words of one line again and again
def nearest(word: str, terms: str) -> str | None:
    """The known short word most like this one, if any is like it."""
    near = suggestion(word, short_words(terms))
    # Shorter words are alike to too many others.
    if not near and len(word) > 3:
        near = suggestion(word, _phrases(terms), _LIKE_A_PHRASE)
    return near or None


def is_nearly_worked(word: str) -> bool:
    """Whether a word has the letters of "inc" or "dec", or of a stitch of three letters or more, in another order."""
    return len(word) > 2 and sorted(word) in _LETTERS and word not in _WORKED


_WORKED = frozenset(("inc", "dec", *(name for stitch in STITCHES for name in (stitch.us, stitch.uk))))
_LETTERS = [sorted(word) for word in _WORKED]


@cache
def short_words(terms: str) -> list[str]:
    """The words of a line that are abbreviated, or short anyway."""
    stitches = [stitch.uk if terms == "UK" else stitch.us for stitch in STITCHES]
    groups = [bunch.id for bunch in BUNCHES if bunch.usual]
    return [*(name for name in (*stitches, *groups) if " " not in name), "sl st", *_EVERYDAY]


@cache
def _phrases(terms: str) -> list[str]:
    """Phrases of one or two words and more than three letters."""
    # Three letters and fewer are alike to too many others.
    return [text for words in vocabulary(terms) if len(words) <= 2 and len(text := " ".join(words)) > 3]
