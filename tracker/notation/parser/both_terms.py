"""Stitches told in US and in UK terms at once, "2 dc (UK) / 2 sc (US)": those of the other terms are blanked."""

from __future__ import annotations

import re
from functools import cache

from tracker.notation.glossary import any_stitch


def in_one(folded: str, terms: str) -> str:
    """The folded text with the stitches of these terms alone, at the places where they stood."""
    if "uk)" not in folded or "/" not in folded:
        return folded
    return _pairs().sub(lambda pair: _chosen(pair, terms), folded)


@cache
def _pairs() -> re.Pattern[str]:
    said = rf"(?:(?:inc|dec)\s+)?(?:\d+\s*)?\b(?:{any_stitch()})"
    return re.compile(rf"({said})\s*\((uk|usa?)\)\s*/\s*({said})\s*\((uk|usa?)\)")


def _chosen(pair: re.Match[str], terms: str) -> str:
    if (pair[2] == "uk") == (pair[4] == "uk"):
        return pair[0]
    group = 1 if (pair[2] == "uk") == (terms == "UK") else 3
    start, end = pair.start(group) - pair.start(), pair.end(group) - pair.start()
    return " " * start + pair[group] + " " * (len(pair[0]) - end)
