"""Words that the reader does not know: what may be an instruction is refused, what is said to the maker is kept."""

from __future__ import annotations

import pytest

from tracker.notation.context import Context
from tracker.notation.reader import read_line


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("6 sc, blorp 2", "'blorp'"),
        ("blorp around", "'blorp'"),
        ("blorp", "'blorp'"),
        ("sc 3, blorp, sc 3", "'blorp'"),
        ("6 sc, blorp st", "'blorp'"),
        ("6 sc, blorp in each st", "'blorp'"),
        ("6 sc, blorp in next st", "'blorp'"),
        ("sc in each st, blorp in last st", "'blorp'"),
        ("6 sc, blorp in same st", "'blorp'"),
        ("blorp in first st, 6 sc", "'blorp'"),
        ("6 sc, 2 blorp in next st", "'blorp'"),
        ("6 sc, 3 of blorp", "'blorp'"),
        ("6 sc around the blorp", "'blorp'"),
        ("6 sc, make it blorp", "'blorp'"),
        ("6 sc, blorp dc, 6 sc", "'blorp'"),
        ("6 sc, blorp ch 3, 6 sc", "'blorp'"),
        ("blorp 6 sc", "'blorp'"),
        ("6 sc, decc", "'decc': did you mean dec?"),
        ("6 sc, dcc in next st", "'dcc': did you mean dc?"),
        ("(icn, 2 sc) x 6", "'icn': did you mean inc?"),
    ],
)
def test_what_may_be_a_stitch_is_refused(text: str, word: str) -> None:
    assert [problem.message for problem in read_line(text).problems] == [f"unknown word {word}"]


@pytest.mark.parametrize(
    ("text", "remarks"),
    [
        ("Rnd 5: sc around, do not stuff the legs (18)", ("do not stuff legs",)),  # what denies it is part of it
        ("6 sc, the blorp should curl up now", ("blorp curl",)),
        ("6 sc. Admire what you have made so far", ("admire what you have made far",)),
        ("6 sc, snip the tail", ("snip tail",)),
        ("with the blorp side up, 6 sc", ("with blorp side",)),
        ("6 sc around using a smaller hook", ("using smaller hook",)),
        ("6 sc, insert hook in blorp, pull up a loop", ("insert hook in blorp , pull a loop",)),
        ("6 sc (see picture)", ("see picture",)),
        ("6 sc, stuff the head firmly", ("stuff head firmly",)),
    ],
)
def test_what_is_said_to_the_maker_is_kept(text: str, remarks: tuple[str, ...]) -> None:
    line = read_line(text)
    assert (line.problems, line.remarks) == ((), remarks)


@pytest.mark.parametrize(
    ("terms", "text", "word"),
    [("UK", "6 sc", "sc"), ("UK", "6 dc, 3 hdc", "hdc"), ("UK", "6 dc, single crochet in next st", "single crochet")],
)
def test_a_word_of_the_other_terms_is_named(terms: str, text: str, word: str) -> None:
    [problem] = read_line(text, Context(terms=terms)).problems
    assert problem.message == f"'{word}' does not exist in UK terms: are these US terms?"


def test_a_line_without_end_is_refused_and_not_followed() -> None:
    [problem] = read_line("sc " + "behind " * 1500).problems
    assert problem.message == "groups stand too deep inside each other"


def test_a_text_that_is_too_long_is_not_looked_into() -> None:
    line = read_line("Rnd 3: " + "sc, " * 6000)
    assert [problem.message for problem in line.problems] == ["this round has 24,007 characters"]
    assert (line.heading.numbers, line.heading.end, line.body) == ((), 0, ())
