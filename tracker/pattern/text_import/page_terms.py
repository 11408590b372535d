"""Whether a page speaks US or UK terms, by all that it says: each sign has a weight, and the weightier side is taken.

The names of stitches and the heights of turning chains: Craft Yarn Council, "Crochet abbreviations master list" and
its table of US and UK names (from memory). Hook letters are US (standards of the same body, from memory). Which words
the two sides use besides (miss, tension, worsted, colour) is common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from tracker.lazy_dataclass import dataclass
from tracker.normalize import fold
from tracker.notation.glossary import OTHER_TERMS, only_in


class TermsUnclear(Exception):
    """The words do not tell whether the text is in US or UK terms."""


@dataclass(frozen=True, slots=True)
class Sign:
    """One sort of words that speaks for one side, how much, and how the maker is told of it ("{}": what was met)."""

    terms: str
    weight: float
    words: re.Pattern[str]
    reason: str


# The page says it in words: more than all habits together.
_NAMES_TERMS = 6.0
# A stitch that only one side has.
_NAMES = 3.0
# A chain of the height of a stitch, which some make otherwise.
_CHAIN = 1.5
# A spelling of one side that the other also uses.
_HABIT = 0.8
# A sign that decides only where nothing else does.
_HINT = 0.4
_LEAST = 1.0
"""By how much one side must be weightier; one habit or two hints decide nothing."""


_LETTERED = r"\b[b-p](?:\s*[/-]\s*\d{1,2}(?:\.\d)?)?\s+(?:crochet\s+)?hook\b|\bhook\b[^.\n]{0,12}?\b[b-p]\s*[/-]\s*\d"


@cache
def _signs() -> tuple[Sign, ...]:
    def sign(terms: str, weight: float, words: str, reason: str) -> Sign:
        return Sign(terms, weight, re.compile(words), reason)

    kinds = r"(?:terms?|terminology|abbreviations|format|standard|instructions|notation)\b"
    naming = rf"\b(?:{{}})\b\W{{{{0,3}}}}(?:crochet\s+)?{kinds}"
    tall = r"\b(?:3\s*ch|ch\s*-?\s*3)\b[^.;\n]{{0,24}}?\b\d*\s?{}\b"
    return (
        sign("US", _NAMES_TERMS, naming.format(r"us|u\.s\.|usa|american"), "the text says '{}'"),
        sign("UK", _NAMES_TERMS, naming.format(r"uk|u\.k\.|british|english"), "the text says '{}'"),
        sign("US", _NAMES, _names("US"), "it uses '{}'"),
        sign("UK", _NAMES, _names("UK"), "it uses '{}'"),
        sign("US", _CHAIN, tall.format(r"d\s?c"), "three chains stand before a dc"),
        sign("UK", _CHAIN, tall.format(r"t[rc]"), "three chains stand before a tr"),
        sign(
            "UK",
            _CHAIN,
            r"[:-]\s+(?:1\s*ch|ch\s*-?\s*1)\b[^.;*\n]{0,14}?\b\d*\s?dc\b",
            "one chain stands before a dc",
        ),
        sign("UK", _CHAIN, r"\b\d{1,2}\s?dc\b[^.;\n]{0,20}?\b(?:magic|mr)\b", "it works small rounds in dc"),
        sign("UK", _CHAIN, r"\bmiss(?:\s+(?:a|the|\d+|next|first|one))|\btension\b|\byrh\b", "it says '{}'"),
        sign("US", _HABIT, r"\bskip\b|\bsk\b|\bgauge\b", "it says '{}'"),
        sign("US", _HABIT, _LETTERED, "its hook has a letter, '{}'"),
        sign("US", _HINT, r"\bworsted\b|\bsport[ -]weight\b|\bfingering\b|\bcolor\b", "it says '{}'"),
        sign("UK", _HINT, r"\baran\b|\bdouble knit(?:ting)?\b|\bcolours?\b", "it says '{}'"),
    )


def _names(terms: str) -> str:
    """The names of stitches that only these terms have, with a count before them or so many closed together."""
    other = OTHER_TERMS[terms]
    words = sorted(set(only_in(terms)) - set(only_in(other)), key=len, reverse=True)
    spaced = "|s c" if terms == "US" else ""
    return rf"\b\d*\s?(?:{'|'.join(map(re.escape, words))}{spaced})(?:\d?tog)?\b"


def terms_of(text: str) -> tuple[str, str]:
    """US or UK, and the sign that weighs most, in words. Raises `TermsUnclear` where no side is the weightier."""
    folded = fold(text)
    matches = [(sign, match) for sign in _signs() if (match := sign.words.search(folded)) is not None]
    weight = {terms: sum(sign.weight for sign, _ in matches if sign.terms == terms) for terms in ("US", "UK")}
    terms = max(weight, key=lambda side: weight[side])
    if weight["US"] + weight["UK"] - 2 * min(weight.values()) < _LEAST:
        raise TermsUnclear
    sign, match = max(((s, m) for s, m in matches if s.terms == terms), key=lambda pair: pair[0].weight)
    return terms, sign.reason.format(match[0].strip())
