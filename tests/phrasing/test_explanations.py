"""Every word of the trade that is said can be explained."""

from __future__ import annotations

import re

import pytest
from support.screens import SHIPPED, shipped

from tracker.phrasing.explanations import TRADE, explanation_of, words_explained_in
from tracker.phrasing.stitches import names_for, stretch_words
from tracker.rounds.next_step import between, breath_end

ORDINARY = set(
    "a an the in of then and all into each next from hook where it begins over more first with next more on one go "
    "to times as st around".split()
)
"""Words that need no explaining."""


@pytest.mark.parametrize("name", sorted(path.stem for path in SHIPPED.glob("*.toml")))
def test_every_word_that_is_said_of_a_step_is_explained(name: str) -> None:
    pattern = shipped(name)
    for plan in {item.plan for piece in pattern.pieces for item in piece.rounds if item.plan}:
        move = 0
        while move < plan.moves:
            end = breath_end(plan, move)
            _all_is_explained(stretch_words(between(plan, move, end), names_for(pattern.terms)), pattern.terms)
            move = end


def _all_is_explained(said: str, terms: str) -> None:
    left, called = said.casefold(), []
    for word in words_explained_in(said, terms):
        assert explanation_of(word, terms) is not None
        called += next((each.names for each in TRADE if word in each.names), (word,))
    for name in sorted(called, key=len, reverse=True):
        left = re.sub(rf"\b{re.escape(name)}(?:e?s)?\b", " ", left)
    assert set(re.findall(r"[a-z]+", left)) <= ORDINARY, (said, left)


@pytest.mark.parametrize(
    ("word", "terms", "name", "how"),
    [
        ("dc", "US", "double crochet", "yarn over"),
        ("dc", "UK", "double crochet", "pull through both loops"),
        ("6 increases"[2:], "US", "increase", "into the same place"),
        ("the magic ring", "US", "magic ring", "drawn tight"),
        ("BLO", "US", "back loop only", "further from you"),
        ("sc3tog", "US", "sc3tog", "3 stitches together"),
        ("shells", "US", "shell", "into one place"),
        ("miss", "UK", "miss", "pass over"),
        ("skip", "US", "skip", "pass over"),
        ("gauge", "UK", "tension", "decides the size"),
    ],
)
def test_words_by_any_of_their_names(word: str, terms: str, name: str, how: str) -> None:
    """US and UK names: the two-column table of terms of the published standards (from memory)."""
    told = explanation_of(word, terms)
    assert told is not None and told[0] == name and how in told[1]


def test_a_word_that_is_not_known_is_not_guessed() -> None:
    assert explanation_of("blorg", "US") is None and words_explained_in("blorg", "US") == ()


def test_no_word_has_two_meanings() -> None:
    names = [name for each in TRADE for name in each.names]
    assert len(names) == len(set(names))
