"""Words that are not known: what they may have been meant for, and how the maker is told."""

from __future__ import annotations

from difflib import get_close_matches
from functools import cache

from tracker.notation.cursor import Cursor, NotUnderstood
from tracker.notation.glossary import BUNCHES, STITCHES
from tracker.notation.lexicon import T
from tracker.notation.vocabulary import vocabulary

_EVERYDAY = ("inc", "dec", "ch", "sk", "miss", "join", "turn", "rep", "around", "next", "each", "times", "ring")


def unknown(cursor: Cursor, index: int, near: str | None) -> NotUnderstood:
    """The refusal of word number `index`, with the known word that is `near` to it."""
    word = cursor.tokens[index].text
    span = cursor.span(index, index + 1)
    terms = cursor.context.terms
    phrase = of_other_terms(cursor, index)
    if phrase:
        word, span = phrase, cursor.span(index, index + len(phrase.split()))
        other = _other(terms)
        message = f"'{word}' does not exist in {terms} terms: are these {other} terms?"
        return cursor.fail("mixed-terms", message, span, f'set terms = "{other}", or write the {terms} name')
    if (word,) in vocabulary(terms):
        message = f"'{word}' makes no sense here"
        return cursor.fail("not-understood", message, span, "expected a stitch, a group or a repeat")
    if near:
        return cursor.fail("unknown-word", f"unknown word '{word}': did you mean {near}?", span)
    return cursor.fail(
        "unknown-word", f"unknown word '{word}'", span, "expected a stitch such as sc, inc, dec, ch, sk"
    )


def of_other_terms(cursor: Cursor, index: int) -> str:
    """The words from number `index` on that are not known in these terms and name a stitch in the other ones; "" if
    none do."""
    terms = cursor.context.terms
    words = [token.text for token in cursor.tokens[index : index + _LONGEST_NAME]]
    for length in range(len(words), 0, -1):
        phrase = tuple(" ".join(words[:length]).split())
        if phrase not in vocabulary(terms) and vocabulary(_other(terms)).get(phrase, (None, None))[0] is T.STITCH:
            return " ".join(phrase)
    return ""


_LONGEST_NAME = 3
"""Words of a stitch's full name: "half treble crochet"."""


def is_of_other_terms(word: str, terms: str) -> bool:
    """Whether a word that is not known in these terms is a stitch in the other ones."""
    return vocabulary(_other(terms)).get((word,), (None, None))[0] is T.STITCH and (word,) not in vocabulary(terms)


def _other(terms: str) -> str:
    return "US" if terms == "UK" else "UK"


def nearest(word: str, terms: str) -> str | None:
    """The known short word most like this one, if any is like it."""
    found = get_close_matches(word, _short_words(terms), n=1, cutoff=0.6)
    if not found and len(word) > 3:
        found = get_close_matches(word, _phrases(terms), n=1, cutoff=0.8)
    return found[0] if found else None


def is_nearly_worked(word: str) -> bool:
    """Whether a word has the letters of "inc" or "dec", or of a stitch of three letters or more, in another order."""
    return len(word) > 2 and sorted(word) in _LETTERS and word not in _WORKED


_WORKED = frozenset(("inc", "dec", *(name for stitch in STITCHES for name in (stitch.us, stitch.uk))))
_LETTERS = [sorted(word) for word in _WORKED]


@cache
def _short_words(terms: str) -> list[str]:
    stitches = [stitch.uk if terms == "UK" else stitch.us for stitch in STITCHES]
    return [*stitches, *(bunch.id for bunch in BUNCHES), *_EVERYDAY]


@cache
def _phrases(terms: str) -> list[str]:
    """Phrases of one or two words and more than three letters."""
    return [text for words in vocabulary(terms) if len(words) <= 2 and len(text := " ".join(words)) > 3]
