"""Numbers of rounds that are written in words: "Round nine", "Rounds nine through twenty-one", "Fourth round"."""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later
from tracker.notation.token_kinds import NUMBERS, ORDINALS

_SPELT = "|".join(word for word, number in NUMBERS.items() if number)
_SPELT_NUMBER = compile_later(rf"\b({_SPELT})\b(?:[- ]({_SPELT})\b)?")
_ROUND = r"(?:rnd|round|row|rd)s?"
_SPELT_NUMBERS = compile_later(
    rf"\b{_ROUND}\s+(?P<list>(?:{_SPELT})\b(?:\W+(?:(?:to|through|thru|and|until)\W+)?(?:{_SPELT})\b)*)"
)
# From thirteen on they are formed by "-th", the tens by "-ieth"; words of those before are a list.
_TENS = {word: number for word, number in NUMBERS.items() if number >= 20}
_TEENS = {word: number for word, number in NUMBERS.items() if len(ORDINALS) < number and word not in _TENS}
_ENDINGS = {
    **ORDINALS,
    **{f"{word}th": number for word, number in _TEENS.items()},
    **{f"{word[:-1]}ieth": number for word, number in _TENS.items()},
}
_ORDINAL = rf"(?:(?:{'|'.join(_TENS)})[- ])?(?:{'|'.join(_ENDINGS)})"
_SPELT_ORDINALS = compile_later(
    rf"(?P<list>\b{_ORDINAL}(?:(?:,? (?:to|through|thru|and|until) |, | ?- ?){_ORDINAL}){{0,9}})"
    rf"(?P<last> (?:and|&) (?:last|final))?(?= {_ROUND}\b| [a-z]+ {_ROUND}\s?:)"
)

_NTH = rf"(?:{_ORDINAL}|\d+(?:st|nd|rd|th)|last|final|next)"
_TIME_ROUND = compile_later(
    rf"(?P<which>^\W*(?:the\s+)?{_NTH}(?:\s*(?:-|to|through|and|&|,)\s*{_NTH})?\s+)(?:time|go|trip)\s+a?round\b"
    r"(?=\s*(?:\([^()\n]{1,40}\)\s*)?[.:,;-]|\s*\n)"
)
""" "Third time round.", "Third time round (in red):", as rounds are counted aloud"""


_ROMAN = r"(?=[ivx])x{0,3}(?:ix|iv|v?i{0,3})"
_ROMAN_HEAD = compile_later(
    rf"^\W*(?:(?P<word>{_ROUND})\s+)?(?P<first>{_ROMAN})(?:(?P<joiner>\s*-\s*)(?P<last>{_ROMAN}))?"
    r"(?(word)\b(?=\s*[.:)-])|(?=[.)]\s))(?P<sign>[.)]?)(?P<gap>\s?)"
)
""" "Round IV:", "IV. ch 1", "V - VII) ": Roman numbers up to those of forty rounds"""


def rounds_in_figures(text: str, most: int = 0) -> str:
    """The folded text with the numbers of "Rounds nine through twenty-one", "Fourth to sixth rounds" and "IV." in
    figures, every word in its place; of the first `most` such lists (0: of all)."""
    text = _ROMAN_HEAD.sub(_in_figures, text, count=1)
    text = _TIME_ROUND.sub(_round_alone, text, count=1)
    return _SPELT_ORDINALS.sub(_ordinals, _SPELT_NUMBERS.sub(_figures, text, count=most), count=most)


def _in_figures(head: re.Match[str]) -> str:
    """As long as what was there: the blank behind "x." makes room for the second figure."""
    numbers = [str(_value(head[part])) for part in ("first", "last") if head[part]]
    figures = (head["joiner"] or "").join(numbers) + head["sign"]
    before = head.start("first") - head.start()
    return head[0][:before] + figures.ljust(len(head[0]) - before)


_ROMAN_DIGITS = {"i": 1, "v": 5, "x": 10}


def _value(roman: str) -> int:
    digits = [_ROMAN_DIGITS[letter] for letter in roman]
    return sum(-one if one < after else one for one, after in zip(digits, [*digits[1:], 0], strict=True))


def _round_alone(time: re.Match[str]) -> str:
    return time["which"] + "round".ljust(len(time[0]) - len(time["which"]))


def _ordinals(listed: re.Match[str]) -> str:
    figures = re.sub(rf"\b{_ORDINAL}\b", _nth, listed["list"])
    return figures + " " * len(listed["last"] or "")


_IRREGULAR = 3
"""First, second and third have endings of their own, also behind tens."""


def _nth(spelt: re.Match[str]) -> str:
    tens, _, units = spelt[0].replace(" ", "-").rpartition("-")
    number = NUMBERS.get(tens, 0) + _ENDINGS[units]
    ending = "th" if not tens and number > _IRREGULAR else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}".ljust(len(spelt[0]))


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
