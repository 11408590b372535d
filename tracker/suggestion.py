"""The nearest word to one that nobody knows: one measure of likeness for all that is typed or written wrongly."""

from __future__ import annotations

from collections.abc import Iterable

LIKENESS = 0.6
"""From 0 to 1, as the standard library's difflib reckons it: a letter left out of three is still like the word, two
other letters in four are not."""


def suggestion(word: str, known: Iterable[str], likeness: float = LIKENESS) -> str:
    """The known word most like this one, whatever the case of either; "" if none is like it."""
    from difflib import get_close_matches  # only what is wrong needs it

    form = word.casefold()
    by_form = {each.casefold(): each for each in reversed(list(known))}
    long_enough = [each for each in by_form if 2 * min(len(each), len(form)) >= likeness * (len(each) + len(form))]
    near = get_close_matches(form, long_enough, 1, likeness)
    return by_form[near[0]] if near else ""
