"""Numbers in words, as they are spoken: "forty-two", "one hundred and eight"."""

from __future__ import annotations

import re

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen"
).split()
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
_GREAT = ((10**12, "trillion"), (10**9, "billion"), (10**6, "million"), (1000, "thousand"))


def in_words(number: int) -> str:
    """A whole number from 0 up to a thousand trillion.

    >>> in_words(1042)
    'one thousand and forty-two'
    """
    for size, name in _GREAT:
        if number >= size:
            return _with_remainder(f"{in_words(number // size)} {name}", number % size)
    # Hundreds are said before the rest.
    if number >= 100:
        return _with_remainder(f"{_SMALL[number // 100]} hundred", number % 100)
    # Numbers up to twenty are words of their own.
    if number < 20:
        return _SMALL[number]
    tens, units = _TENS[number // 10 - 2], number % 10
    return f"{tens}-{_SMALL[units]}" if units else tens


def _with_remainder(words: str, remainder: int) -> str:
    if not remainder:
        return words
    # "a thousand and five", but "a thousand two hundred".
    return f"{words} and {in_words(remainder)}" if remainder < 100 else f"{words} {in_words(remainder)}"


def times_in_words(times: int) -> str:
    """ "once", "twice", "six times"."""
    return {1: "once", 2: "twice"}.get(times, f"{in_words(times)} times")


def digits_in_words(text: str) -> str:
    """A sentence with every number spelt out."""
    return re.sub(r"\d[\d,]*", lambda match: in_words(int(match[0].replace(",", ""))), text)
