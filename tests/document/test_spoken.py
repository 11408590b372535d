"""Rounds as they are said to a class: whole sentences without digits or abbreviations."""

from __future__ import annotations

import re

import pytest
from support.document_patterns import SHIPPED, generated

from tracker.document.builder import written_lines
from tracker.document.spoken import spoken
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Pattern
from tracker.phrasing.numbers import digits_in_words, in_words, times_in_words


def aloud(pattern: Pattern, terms: str = "") -> list[str]:
    terms = terms or pattern.terms
    return [
        spoken(pattern, piece, line, terms)
        for piece in pattern.pieces
        for line in written_lines(pattern, piece, piece.rounds, terms)
    ]


SAID = {
    "a group": ("(1 sc, inc) x 6", 12, "one single crochet, then an increase; do that six times; you have eighteen"),
    "the same everywhere": ("inc in each st around", 6, "an increase in every stitch around; you have twelve"),
    "a group between other stitches": (
        "2 sc, inc, (4 sc, inc) x 5, 2 sc",
        30,
        "two single crochet, then an increase; do this five times: four single crochet, then an increase; "
        "after that two single crochet; you have thirty-six",
    ),
    "a group in a group": (
        "[(1 sc, inc) x 2, 2 sc] x 3",
        18,
        "do this twice: one single crochet, then an increase; after that two single crochet; "
        "do all of that three times; you have twenty-four",
    ),
    "one half of the stitches": (
        "BLO sc around",
        6,
        "in the back loops only: one single crochet in every stitch around; you have six",
    ),
    "a joined round": (
        "ch 1, sc in each st around, sl st to first sc",
        6,
        "chain one; one single crochet in every stitch around; join with a slip stitch; you have six",
    ),
    "a chain that counts": (
        "ch 3 (counts as dc), dc in next 5 sts, sl st to top of ch-3",
        6,
        "chain three which counts as a double crochet, five double crochet, then join with a slip stitch; "
        "you have six",
    ),
    "chain spaces": (
        "(sc, ch 2, sk 1) x 3",
        6,
        "one single crochet, chain two, then skip one stitch; do that three times; "
        "you have three stitches and three chain spaces",
    ),
    "several in one place": (
        "(sc, (2 dc, ch 1, 2 dc) in next st) x 3",
        6,
        "one single crochet, then two double crochet, chain one and two double crochet in one stitch; "
        "do that three times; you have fifteen stitches and three chain spaces",
    ),
}


@pytest.mark.parametrize(("written", "before", "said"), SAID.values(), ids=SAID)
def test_a_round_is_said_so_that_it_is_clear_what_is_repeated(written: str, before: int, said: str) -> None:
    rounds = f"Rnd 1: {before} sc in magic ring\nRnd 2: {written}"
    pattern = loads(f'title = "Any"\n[[piece]]\nname = "Any"\nrounds = """\n{rounds}\n"""\n')
    assert aloud(pattern)[1] == f"round two: {said}"


def test_yarns_rows_and_ranges_are_said_and_uk_terms_spoken() -> None:
    said = aloud(load(next(path for path in SHIPPED if path.stem == "face-cloth")))
    assert "in the second chain from the hook, thirty-five double crochet, one in each chain" in said[0]
    assert said[1] == (
        "rows two and three: chain one; one double crochet in every stitch to the end; turn; "
        "you have thirty-six each time"
    )
    assert "miss one stitch, then one double crochet and one half treble in one stitch" in said[2]
    assert said[3].startswith("row eighteen: with slate blue, chain one;")


def test_yarns_that_change_inside_a_round_are_said_with_their_stitches() -> None:
    said = aloud(load(next(path for path in SHIPPED if path.stem == "lighthouse")))
    assert any("four single crochet in navy, thirteen single crochet in white" in words for words in said)


def test_nothing_that_is_said_has_digits_brackets_or_abbreviations() -> None:
    patterns = [*map(load, SHIPPED), *generated(20, 5)]
    for pattern in patterns:
        for terms in ("US", "UK"):
            for words in aloud(pattern, terms):
                assert not re.search(r"[\d()\[\]]|\b(?:sc|hdc|dc|tr|htr|inc|dec|sk|sts?|rep)\b", words), words


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0, "zero"),
        (13, "thirteen"),
        (40, "forty"),
        (42, "forty-two"),
        (100, "one hundred"),
        (108, "one hundred and eight"),
        (1042, "one thousand and forty-two"),
        (20_300, "twenty thousand three hundred"),
        (10**10, "ten billion"),
    ],
)
def test_numbers_are_said_in_words(number: int, words: str) -> None:
    assert in_words(number) == words


def test_times_and_sentences_are_said_in_words() -> None:
    assert [times_in_words(times) for times in (1, 2, 6)] == ["once", "twice", "six times"]
    assert digits_in_words("1,200 stitches, then 3") == "one thousand two hundred stitches, then three"
