"""Numbers of rounds that are written in words: "Round nine", "Rounds nine through twenty-one"."""

from __future__ import annotations

import re

from tracker.notation.token_kinds import NUMBERS

_SPELT = "|".join(word for word, number in NUMBERS.items() if number)
_SPELT_NUMBER = re.compile(rf"\b({_SPELT})\b(?:[- ]({_SPELT})\b)?")
_SPELT_NUMBERS = re.compile(
    rf"\b(?:rnd|round|row|rd)s?\s+(?P<list>(?:{_SPELT})\b(?:\W+(?:(?:to|through|thru|and|until)\W+)?(?:{_SPELT})\b)*)"
)


def rounds_in_figures(text: str, most: int = 0) -> str:
    """The folded text with the numbers of "Rounds nine through twenty-one" in figures, every word in its place; of
    the first `most` such lists (0: of all)."""
    return _SPELT_NUMBERS.sub(_figures, text, count=most)


def _figures(listed: re.Match[str]) -> str:
    behind = listed.start("list") - listed.start()
    return listed[0][:behind] + _SPELT_NUMBER.sub(_digits, listed["list"])


def _digits(spelt: re.Match[str]) -> str:
    first, second = (NUMBERS.get(word or "", 0) for word in spelt.groups())
    if not second:
        return str(first).ljust(len(spelt[0]))
    # "twenty-one" to "ninety-nine" are one number.
    if first >= 20 and first % 10 == 0 and second < 10:
        return str(first + second).ljust(len(spelt[0]))
    behind = spelt.start(2) - spelt.start()  # two numbers, "six-ten"
    return str(first).ljust(behind - 1) + spelt[0][behind - 1] + str(second).ljust(len(spelt[2]))
