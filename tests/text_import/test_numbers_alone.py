"""Rounds that have their numbers alone, with no blank behind them, several on a line, and with a word of the page's
own for how many they are.

The pages are invented, their figures worked out by hand; that pages are set so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.page_headings import round_words_counted
from tracker.pattern.text_import.round_starts import round_starts
from tracker.pattern.toml_writer import as_toml

LETTERS = "x : sc\nv : increase\na : decrease\n\n"


def _rounds(page: str) -> list[tuple[str, list[int | None]]]:
    pattern = loads(as_toml(from_text(page, "US").draft))
    return [(piece.name, [one.plan.leaves if one.plan else None for one in piece.rounds]) for piece in pattern.pieces]


def test_two_rounds_on_a_line_need_no_blank_behind_their_numbers() -> None:
    page = f"Puffin\n{LETTERS}BODY\n1)7x MR (7)\n2)7v (14)  3)7(x,v) (21)\n4)7(x,2v) (35) 5)35x (35)\n"
    assert _rounds(page) == [("BODY", [7, 14, 21, 35, 35])]


@pytest.mark.parametrize(
    ("line", "starts"),
    [
        ("4) 5(2x,a) = 15   5) 15x (15) fill", [0, 18]),
        ("4)15x (15);5)15x (15)", [0, 11]),
        ("1) 2 black eyes 2) 3 hooks", []),  # two things on a list, which come to nothing
        ("sc 4) 6 sc (10) 5) 3 sc", []),
    ],
)
def test_two_numbers_begin_rounds_where_the_first_states_its_total(line: str, starts: list[int]) -> None:
    assert round_starts(line, 0) == starts


def test_numbers_alone_go_on_with_those_that_have_a_word() -> None:
    page = (
        "Mole\n\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\n3 to 5. Sc all round. (12)\n6. (sc, inc) 6 times, 18\n"
    )
    assert _rounds(page) == [("Mole", [6, 12, 12, 12, 12, 18])]
    steps = (
        "Mole\n\nRnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)\n3. Fasten off and hide the ends.\n4. Sew on the nose.\n"
    )
    assert _rounds(steps) == [("Mole", [6, 12])]


def test_what_a_page_calls_its_rounds_is_told_by_how_many_a_range_is() -> None:
    lines = ["4-7)24x  4 kat", "8) 6(2x,a) (18)", "9-14) 18x ( 6 kat )"]
    assert round_words_counted(lines, "US") == ("kat",)
    page = f"Puffin\n{LETTERS}BODY\n1) 6x MR (6)\n2) 6v (12)\n3) 6(x,v) (18)\n4-7)18x  4 kat\n8-9) 18x ( 2 kat )\n"
    assert _rounds(page) == [("BODY", [6, 12, *[18] * 7])]


@pytest.mark.parametrize(
    "lines",
    [
        ["4-7) 4 knop", "8-9) 5 knop"],  # stitches, of which there happened to be four
        ["4-7) 24x 4 kat"],
        ["4-7) 24x 4 kat", "9-12) 18x 4 kat"],  # four times the same may be anything
        ["4-7) 24x 4 kat", "9-14) 18x 5 kat"],
        ["4-7) 24x 4 rounds", "9-14) 18x 6 rounds"],
    ],
)
def test_a_number_that_a_range_does_not_bear_out_counts_no_rounds(lines: list[str]) -> None:
    assert round_words_counted(lines, "US") == ()


def test_a_line_that_ends_in_which_goes_on_with_what() -> None:
    page = (
        "Puffin\n\nFINS\n1) 6 sc in MR (6)\n2-4) sc around (6)\n\nBODY\n"
        "5) ch 2, sc in 6 sts of the first fin, sc in 2 ch, sc in 6 sts of the second\n"
        "fin, sc in 2 ch (16)\n6) 16 sc (16)\n"
    )
    (_, body) = from_text(page, "US").draft.pieces
    assert body.text.splitlines()[0].endswith("second")
    (_, read) = loads(as_toml(from_text(page, "US").draft)).pieces
    assert read.rounds[0].stated.stitches == 16  # type: ignore[union-attr]


@pytest.mark.parametrize(("above", "pieces"), [("PAWS", ["PAWS", "BODY"]), ("SECOND PAW", ["SECOND PAW"])])
def test_a_body_that_joins_paws_of_which_a_sentence_says_that_they_are_two_is_a_piece(
    above: str, pieces: list[str]
) -> None:
    page = (
        f"Puffin\n\n{above}\n1) 6 sc in MR (6)\n2-4) sc around (6)\nMake the other one too.\n\nBODY\n"
        "5) 6 sc, ch 2, 6 sc on the first paw, 2 sc in ch (16)\n6) 16 sc (16)\n"
    )
    assert [piece.name for piece in from_text(page, "US").draft.pieces] == pieces


def test_one_piece_in_the_singular_says_how_many_too() -> None:
    page = "Puffin\n\nWINGS 2 piece\n1) 6 sc in MR (6)\n2) 6 inc (12)\n"
    assert [(piece.name, piece.make) for piece in from_text(page, "US").draft.pieces] == [("WINGS", 2)]
