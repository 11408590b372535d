"""The published list of abbreviations: each is explained on a sheet that uses it.

Source: the Craft Yarn Council's master list of crochet abbreviations, as publishers' pages restate it (read about);
BLO, FLO, esc, ea, alt and ps are from yarn makers' own lists.
"""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.phrasing.abbreviations import Texts, abbreviations

PUBLISHED = {
    "alt": "alternate",
    "approx": "approximately",
    "beg": "begin",
    "bet": "between",
    "BL": "back loop",
    "BLO": "back loop only",
    "bo": "bobble",
    "BPdc": "back post double crochet",
    "CC": "contrasting colour",
    "ch": "chain",
    "CL": "cluster",
    "cont": "continue",
    "dc": "double crochet",
    "dc2tog": "double crochet 2 together",
    "dec": "decrease",
    "dtr": "double treble",
    "ea": "each",
    "esc": "extended single crochet",
    "FL": "front loop",
    "FLO": "front loop only",
    "foll": "following",
    "FPdc": "front post double crochet",
    "hdc": "half double crochet",
    "hk": "hook",
    "inc": "increase",
    "lp": "loop",
    "MC": "main colour",
    "pat": "pattern",
    "pc": "popcorn",
    "pm": "place the marker",
    "prev": "previous",
    "ps": "puff",
    "rem": "remaining",
    "rep": "repeat",
    "rnd": "round",
    "RS": "right side",
    "sc": "single crochet",
    "sc2tog": "single crochet 2 together",
    "sk": "skip",
    "sl st": "slip stitch",
    "sp": "space",
    "st": "stitch",
    "tbl": "through the back loop",
    "tch": "turning chain",
    "tog": "together",
    "tr": "treble",
    "trtr": "triple treble",
    "WS": "wrong side",
    "yo": "yarn over",
    "yoh": "yarn over hook",
    "yrh": "yarn round hook",
}


@pytest.mark.parametrize("short", PUBLISHED)
def test_each_published_abbreviation_is_explained_where_it_is_used(short: str) -> None:
    listed = abbreviations(Texts((f"2 sc, {short} in next st",), ()), Context(), "US")
    meanings = [meaning for word, meaning in listed if word.casefold() == short.casefold()]
    assert meanings and PUBLISHED[short] in meanings[0]
