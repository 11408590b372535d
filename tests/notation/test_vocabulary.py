"""The words that a line is looked up in."""

from __future__ import annotations

import pytest

from tracker.notation.ast import Loop
from tracker.notation.token_kinds import T
from tracker.notation.vocabulary import Meaning, beginning_with, meaning, vocabulary


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_every_phrase_is_found_by_its_first_word_as_the_whole_list_has_it(terms: str) -> None:
    """A word is looked up without writing down the whole list, so that both have to say the same."""
    whole = vocabulary(terms)
    found: dict[tuple[str, ...], Meaning] = {}
    for first in {words[0] for words in whole}:
        phrases = beginning_with(first, terms)
        assert phrases.longest == max(map(len, phrases.meanings))
        found |= phrases.meanings
    assert found == whole


@pytest.mark.parametrize(
    ("phrase", "told"),
    [
        ("sc", (T.STITCH, "sc")),
        ("scdec", (T.DEC, "sc")),
        ("inv sc dec", (T.DEC, "sc")),
        ("fpdc", (T.POSTED, ("dc", Loop.FRONT_POST))),
        ("raised dc back", (T.POSTED, ("dc", Loop.BACK_POST))),
        ("rdcf", (T.POSTED, ("dc", Loop.FRONT_POST))),
        ("fsc", (T.CHAINLESS, "sc")),
        ("foundation half double crochet", (T.CHAINLESS, "hdc")),
        ("acorn", None),
        ("finc", None),
    ],
)
def test_a_stitch_is_known_with_what_is_made_of_it(phrase: str, told: Meaning | None) -> None:
    """Common practice, no source: "fp" and "bp" are in the abbreviations of the Craft Yarn Council, the rest is seen
    in patterns."""
    assert meaning(tuple(phrase.split()), "US") == told
