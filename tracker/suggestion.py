"""The nearest word to one that nobody knows: one measure of likeness for all that is typed or written wrongly."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache, reduce
from operator import or_

LIKENESS = 0.6
"""From 0 to 1, as the standard library's difflib reckons it: a letter left out of three is still like the word, two
other letters in four are not."""


def suggestion(word: str, words: Iterable[str], likeness: float = LIKENESS) -> str:
    """The known word most like this one, whatever the case of either; "" if none is like it."""
    form = word.casefold()
    by_form, by_length = _prepared(tuple(words))
    near = [each for length in by_length for each in _alike(form, length, by_length[length], likeness)]
    if not near:
        return ""
    from difflib import get_close_matches  # only what is wrong needs it

    order = {each: place for place, each in enumerate(by_form)}
    nearest = get_close_matches(form, sorted(near, key=order.__getitem__), 1, likeness)
    return by_form[nearest[0]] if nearest else ""


@lru_cache(maxsize=8)  # the reader asks for words of the same few lists again and again
def _prepared(names: tuple[str, ...]) -> tuple[dict[str, str], dict[int, list[tuple[str, int]]]]:
    """The known words by their form, and by length every form with its letters."""
    by_form = {each.casefold(): each for each in reversed(names)}
    by_length: dict[int, list[tuple[str, int]]] = {}
    for form in by_form:
        by_length.setdefault(len(form), []).append((form, _letters(form)))
    return by_form, by_length


def _letters(form: str) -> int:
    """Which letters a form has, as bits; letters that share one only make it look more alike than it is."""
    return reduce(or_, map(_BITS.__getitem__, form), 0) if form.isascii() else reduce(or_, map(_bit, form), 0)


def _bit(letter: str) -> int:
    return 1 << (ord(letter) & 63)


_BITS = {letter: _bit(letter) for letter in map(chr, range(128))}


def _alike(form: str, length: int, others: list[tuple[str, int]], likeness: float) -> list[str]:
    """The words of this length that may be as like as that: what one has of letters that the other lacks is not
    alike."""
    shared = likeness * (len(form) + length) / 2
    if shared > min(len(form), length):
        return []
    letters, may_lack, may_add = _letters(form), len(form) - shared, length - shared
    return [
        other
        for other, its in others
        if (letters & ~its).bit_count() <= may_lack and (its & ~letters).bit_count() <= may_add
    ]
