"""What a pattern says beside its rounds, made true for another size: rewritten where that can be, else marked.

A sentence about a length, an amount of yarn or a round follows the new size by arithmetic. One that counts stitches,
or names what is bought in a size (eyes, hooks), cannot be reckoned anew and is marked to be checked.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

TO_BE_CHECKED = "to be checked, it is from the first size: "
"""Stands before a sentence that nobody can reckon anew."""

_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9])")
_NUMBER = r"(?P<number>\d+(?:[.,]\d+)?)"
_LENGTH = re.compile(rf"{_NUMBER}(?P<between>[ -]?)(?P<unit>cm|inch(?:es)?|in|\")(?!\w)")
_YARN = re.compile(rf"{_NUMBER}(?P<between> ?)(?P<unit>g|grams?|m|metres?|meters?|yds?|yards?)\b")
_ROUNDS = re.compile(
    r"(?P<word>\b(?:Rnds?|Rounds?|R))(?P<gap>\.? ?)(?P<first>\d+)"
    r"(?P<more>(?:\s*(?:-|–|to|and|,|&)\s*\d+(?!\s*(?:st|sc|cm)))*)",
    re.IGNORECASE,
)
_COUNTS = re.compile(
    r"\b\d+ ?(?:mm|sts?|stitch(?:es)?|sc|hdc|dc|tr|htr|dtr|ch|chains?|repeats?|rows?|spaces?|times)\b"
    r"|\b(?:eye|hook|bead|button)s?\b.*\d",
    re.IGNORECASE,
)
_TAIL = re.compile(r"\b(?:tail|end|gauge|tension|swatch|hook|needle)s?\b", re.IGNORECASE)
"""Lengths of these do not follow the size of the piece."""


def rewrite_sentences(text: str, factor: float, rounds: Mapping[int, int] | None) -> str:
    """A note, a making-up step or a title at `factor` times the size.

    `rounds` gives the new number of each round of the piece that is spoken of; None where it is not known which piece
    that is, so that a sentence with round numbers is marked. Text without numbers comes back as it was.
    """
    return " ".join(_rewrite_sentence(part, factor, rounds) for part in _SENTENCE.split(text))


def _rewrite_sentence(sentence: str, factor: float, rounds: Mapping[int, int] | None) -> str:
    if not re.search(r"\d", sentence):
        return sentence
    if _COUNTS.search(sentence) or _names_unknown_rounds(sentence, rounds):
        return TO_BE_CHECKED + sentence
    new = _ROUNDS.sub(lambda match: _new_rounds(match, rounds or {}), sentence)
    if _TAIL.search(sentence):
        return new
    new = _LENGTH.sub(_scaled(factor), new)
    return _YARN.sub(_scaled(factor**2), new)  # yarn goes with the surface


def _names_unknown_rounds(sentence: str, rounds: Mapping[int, int] | None) -> bool:
    numbers = [int(number) for match in _ROUNDS.finditer(sentence) for number in re.findall(r"\d+", match[0])]
    return any(rounds is None or number not in rounds for number in numbers)


def _new_rounds(match: re.Match[str], rounds: Mapping[int, int]) -> str:
    more = re.sub(r"\d+", lambda number: str(rounds[int(number[0])]), match["more"])
    return f"{match['word']}{match['gap']}{rounds[int(match['first'])]}{more}"


def _scaled(factor: float) -> Callable[[re.Match[str]], str]:
    def scale(match: re.Match[str]) -> str:
        number = match["number"].replace(",", ".")
        digits = len(number.partition(".")[2])
        return f"{float(number) * factor:.{digits}f}{match['between']}{match['unit']}"

    return scale


def round_numbers(old: list[float], new: list[float]) -> dict[int, int]:
    """The new round for each old one, both from 1: the one that ends nearest at the same share of the whole way.

    `old` and `new` are the heights of the rounds along the fabric.
    """
    ends = [sum(new[: index + 1]) / sum(new) for index in range(len(new))]
    shares = [sum(old[: index + 1]) / sum(old) for index in range(len(old))]
    return {
        number: 1 + min(range(len(ends)), key=lambda index: abs(ends[index] - share))
        for number, share in enumerate(shares, 1)
    }
