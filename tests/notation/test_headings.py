"""Headings in the ways they are written, and lines that only look as if they had one."""

from __future__ import annotations

import pytest

from tracker.normalize import fold
from tracker.notation.parser.heading import heading, heading_and_rest
from tracker.notation.reader import read_line

NUMBERED: dict[str, tuple[tuple[int, ...], str]] = {
    "Rnd 5: sc": ((5,), "sc"),
    "Rnd 5 - sc": ((5,), "sc"),
    "Rnd 5. sc": ((5,), "sc"),
    "Rnd 5 sc": ((5,), "sc"),
    "R5 sc": ((5,), "sc"),
    "R5) sc": ((5,), "sc"),
    "5) sc": ((5,), "sc"),
    "5. sc": ((5,), "sc"),
    "5: sc": ((5,), "sc"),
    "(5) sc": ((5,), "sc"),
    "**Rnd 5:** sc": ((5,), "sc"),
    "5th round: sc": ((5,), "sc"),
    "Fifth round: sc": ((5,), "sc"),
    "1st brim round: sc": ((1,), "sc"),
    "2nd and 3rd cuff rounds: sc": ((2, 3), "sc"),
    "4th to 6th rib rnds: sc": ((4, 5, 6), "sc"),
    "First edging round: sc": ((1,), "sc"),
    "2nd main colour rnd - sc in each st": ((2,), "sc in each st"),
    "Round five: sc": ((5,), "sc"),
    "Body, Rnd 5: sc": ((5,), "sc"),
    "Body Rnd 5: sc": ((5,), "sc"),
    "Rnd 5 (RS): sc": ((5,), "(rs): sc"),
    "Rnds 5-8: sc": ((5, 6, 7, 8), "sc"),
    "Rnds 3 & 4 - 30 sc": ((3, 4), "30 sc"),
    "Rounds 6, 7 - 1 sc in each st": ((6, 7), "1 sc in each st"),
    "Rnds 2, 5 - 7: sc": ((2, 5, 6, 7), "sc"),
    "4)5)6) 21 sc": ((4, 5, 6), "21 sc"),
    "Rnds 5 - 8: sc": ((5, 6, 7, 8), "sc"),
    "Rnds 5 to 8: sc": ((5, 6, 7, 8), "sc"),
    "Rnds 5 through 8: sc": ((5, 6, 7, 8), "sc"),
    "R5-R8: sc": ((5, 6, 7, 8), "sc"),
    "R5-8. sc": ((5, 6, 7, 8), "sc"),
    "5-8) sc": ((5, 6, 7, 8), "sc"),
    "(5) - (8) sc": ((5, 6, 7, 8), "sc"),
    "5th to 8th round: sc": ((5, 6, 7, 8), "sc"),
    "Rnds 5 & 6: sc": ((5, 6), "sc"),
    "Rnds 5, 7, 9: sc": ((5, 7, 9), "sc"),
    "Rnds 5, 7 and 9: sc": ((5, 7, 9), "sc"),
    "Rnds 2-4 and 6: sc": ((2, 3, 4, 6), "sc"),
    "Rnd 2 - 3 ch, sc": ((2,), "3 ch, sc"),
    "Rd 3 to Rd 6 - 1 sc in each st": ((3, 4, 5, 6), "1 sc in each st"),
    "Rounds 3-5 - 2 sc, inc": ((3, 4, 5), "2 sc, inc"),
    "3R-6R: sc": ((3, 4, 5, 6), "sc"),
    "Career 3: sc": ((3,), "sc"),
    "3 p. sc": ((3,), "sc"),
    "3 p. - 5 p. 9 sc": ((3, 4, 5), "9 sc"),
    "C3: sc": ((3,), "sc"),
    "C3 to C5: sc": ((3, 4, 5), "sc"),
    "T3 at T5 : sc": ((3, 4, 5), "sc"),
    "3R~5R) sc": ((3, 4, 5), "sc"),
    "R3~R5) sc": ((3, 4, 5), "sc"),
    "3-rd to 5-th rnd: sc": ((3, 4, 5), "sc"),
    "2-nd rnd: sc": ((2,), "sc"),
    "Toer 3 t/m 5: sc": ((3, 4, 5), "sc"),
    "T3, T4, T5 : sc": ((3, 4, 5), "sc"),
    "V3, 4 and 5. sc": ((3, 4, 5), "sc"),
    "Rnds 3 til 5: sc": ((3, 4, 5), "sc"),
    "R3 do R5 - sc": ((3, 4, 5), "sc"),
    "Tour 3 au 5 : sc": ((3, 4, 5), "sc"),
    "Rnd 5 at 10 cm: sc": ((5,), "at 10 cm: sc"),
    "3rd rnd to 5th rnd: sc": ((3, 4, 5), "sc"),
    "Rnd 2 - 6 sc": ((2,), "6 sc"),
    "Rnd 12-3 sc": ((12,), "3 sc"),
    "Round 4 - 7 esc around": ((4,), "7 esc around"),
    "Round 4 - 7 blo fpdc": ((4,), "7 blo fpdc"),
    "Round 4 - 7 half trebles": ((4,), "7 half trebles"),
    "Round 4 - 7 bobbles": ((4,), "7 bobbles"),
    "Round 4 - (17 single crochet) around": ((4,), "(17 single crochet) around"),
    "Rounds 4 - 7 esc around": ((4, 5, 6, 7), "esc around"),
    "Round 5 a 8: sc": ((5, 6, 7, 8), "sc"),
    "5. - 8. sc": ((5, 6, 7, 8), "sc"),
    "5. - 8 sc": ((5,), "8 sc"),
    "Brim. Round 5: sc": ((5,), "sc"),
}


@pytest.mark.parametrize("text", NUMBERED)
def test_a_heading_is_told_from_what_is_to_be_made(text: str) -> None:
    folded = fold(text)
    head = heading(folded)
    numbers, rest = NUMBERED[text]
    assert (head.numbers, folded[head.end :].strip()) == (numbers, rest)
    assert (head.first, head.last) == (numbers[0], numbers[-1])
    assert (head.is_row, head.is_next) == (False, False)


@pytest.mark.parametrize(
    "text", ["Row 5: sc", "Rows 5-6: sc", "5th row: sc", "Rwo 5: sc", "Row five: sc", "Next row: sc"]
)
def test_rows_are_told_from_rounds(text: str) -> None:
    assert heading(fold(text)).is_row


@pytest.mark.parametrize(
    ("text", "ahead", "rest"),
    [
        ("Next rnd: sc", 1, "sc"),
        ("Next 4 rounds: sc", 4, "sc"),
        ("Next round - sc", 1, "sc"),
        ("Dec. Round 5: sc", 1, "sc"),
        ("Inc rnds 2-3: sc", 2, "sc"),
        ("Decrease row 1 - sc", 1, "sc"),
    ],
)
def test_next_rounds_have_no_number_yet(text: str, ahead: int, rest: str) -> None:
    folded = fold(text)
    head = heading(folded)
    assert (head.numbers, head.is_next, head.rounds_ahead, folded[head.end :].strip()) == ((), True, ahead, rest)


@pytest.mark.parametrize(
    "text",
    [
        "6 sc in ring",
        "12 sc",
        "sc around",
        "ch 12",
        "(sc, inc) x 6",
        "place sc in rnd 5",
        "sew the leg to rnd 5",
        "the big brown bear rnd 5: sc",
    ],
)
def test_what_only_looks_like_a_heading_is_none(text: str) -> None:
    head = heading(fold(text))
    assert (head.end, head.numbers, head.is_next) == (0, (), False)


@pytest.mark.parametrize(
    ("text", "numbers", "rest"),
    [
        ("Base: chain 13. R1 sc", (1,), "chain 13.    sc"),
        ("Chain 13. Rnd 1: sc", (1,), "chain 13.        sc"),
        ("Join amber. R4: sc", (4,), "join amber.     sc"),
        ("Join amber. Rnds 8-5: sc", (), ""),
    ],
)
def test_a_chain_or_a_yarn_before_the_heading_belongs_to_the_round(
    text: str, numbers: tuple[int, ...], rest: str
) -> None:
    folded, head = heading_and_rest(fold(text))
    assert head.numbers == numbers
    assert len(folded) == len(text)
    if numbers:
        assert folded[head.end :] == rest
    else:
        assert (folded, head.end) == (fold(text), 0)


@pytest.mark.parametrize(
    ("text", "message", "help_line"),
    [
        ("Rnds 8-5: sc", "the range runs backwards, from 8 to 5", "did you mean 5-8?"),
        ("Rnds 1-100002: sc", "the range from 1 to 100002 is too long", "check the numbers"),
    ],
)
def test_a_range_that_cannot_be_is_told_where_it_stands(text: str, message: str, help_line: str) -> None:
    problem = read_line(text).problems[0]
    assert (problem.message, problem.help) == (message, help_line)
    assert (problem.span.start, problem.span.end) == (0, text.index("sc"))


@pytest.mark.parametrize(
    ("text", "numbers", "is_row", "fills"),
    [
        ("All odd rounds: sc", (), False, "odd"),
        ("Even rounds: sc", (), False, "even"),
        ("All even rows: sc", (), True, "even"),
        ("Even rounds 4-10: sc", (4, 6, 8, 10), False, ""),
        ("Odd rounds 2-9: sc", (3, 5, 7, 9), False, ""),
        ("Odd rounds 3-9: sc", (3, 5, 7, 9), False, ""),
        ("Even rows 3 to 7: sc", (4, 6), True, ""),
    ],
)
def test_every_other_round_is_named_by_odd_and_even(
    text: str, numbers: tuple[int, ...], is_row: bool, fills: str
) -> None:
    head = heading(fold(text))
    assert (head.numbers, head.is_row, head.fills, fold(text)[head.end :]) == (numbers, is_row, fills, "sc")
    assert numbers == () or (head.first, head.last) == (numbers[0], numbers[-1])


def test_no_round_is_even_between_five_and_five() -> None:
    assert heading(fold("Even rounds 5-5: sc")).numbers == ()
    assert len(heading(fold("Odd rnds 1-40000: sc")).numbers) <= 10_001


@pytest.mark.parametrize(
    ("text", "is_row", "ahead"),
    [
        ("Next rnd: sc", False, 1),
        ("Next 3 rows: sc", True, 3),
        ("Dec rnd 1: sc", False, 1),
        ("Inc rnds 2-3: sc", False, 2),
        ("Dec row 1: sc", True, 1),
    ],
)
def test_a_round_may_only_be_the_next_one(text: str, is_row: bool, ahead: int) -> None:
    head = heading(fold(text))
    assert (head.numbers, head.is_next, head.is_row, head.rounds_ahead) == ((), True, is_row, ahead)
    assert (fold(text)[head.end :], head.span[0]) == ("sc", 0)


def test_a_number_in_brackets_behind_a_heading_is_kept_with_its_place() -> None:
    head = heading(fold("Body, Rnd 5 (6): sc"))
    assert (head.numbers, fold("Body, Rnd 5 (6): sc")[slice(*head.bracketed)]) == ((5,), "6")
    assert fold("Body, Rnd 5 (6): sc")[slice(*head.span)] == "rnd 5 (6): "
    assert heading(fold("Rnd 5 onwards: sc")).is_open and not heading(fold("Rnd 5: sc")).is_open
