"""`rounds read` on pages of many styles: which pieces, how often each is made, what each round leaves.

The figures are worked out by hand from the instructions; that the styles are met is common practice, no source.
"""

from __future__ import annotations

import pytest
from pattern import pasted_styles as styles

from tracker.pattern.draft import as_toml
from tracker.pattern.from_text import FromText, from_text
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.model import Pattern
from tracker.pattern.text_sorting import Fate

Pieces = list[tuple[str, int, list[int]]]

PLACED: dict[str, tuple[str, Pieces]] = {
    "a name ends a list, and may say what each of its copies is": (
        styles.GARLAND,
        [("Fern (4 of each colour)", 8, [6, 11]), ("Cord", 1, [101, 100])],
    ),
    "a body joined of two legs is a piece, though its numbers go on": (
        styles.RABBIT,
        [("LEGS - cream", 2, [6, 12, 12, 12, 12]), ("BODY - cream", 1, [30, 30, 30, 30, 24])],
    ),
    "numbered notes are no rounds, and lines broken for the page are": (
        styles.POUCH,
        [("Body", 1, [7, 14, 14, 14, 14, 14, 14]), ("Flap", 1, [6, 3, 4])],
    ),
    "numbered parts are no rounds, and a ring of chains is worked into": (
        styles.COWL,
        [("Piece 1", 1, [60, 60, 60, 60, 60, 60, 60])],
    ),
    "letters that stand for stitches are no yarns": (
        styles.CHICK,
        [("Body (gray, from the head down)", 1, [6, 12, 9]), ("Foot (orange)", 2, [6, 6])],
    ),
    "the first part of a piece made twice is not the piece": (
        styles.SHOE,
        [("SHOE", 2, [5, 12, 12]), ("STRAP", 2, [9, 8])],
    ),
    "ornaments are no part of a name": (
        styles.BROOCH,
        [("Centre (yellow)", 1, [6, 12]), ("Leaf (green)", 2, [6, 5])],
    ),
    "totals of other sizes on the next line are no heading": (styles.BEANIE, [("Crown", 1, [8, 16, 24])]),
    "rows until there are so many, a border, and a name with a stitch in it": (
        styles.PUMPKIN,
        [("PUMPKIN BODY", 1, [11, *[10] * 36, 72]), ("SHELL TOP – in brown", 1, [6, 12])],
    ),
}


def file_of(found: FromText) -> Pattern:
    return loads(as_toml(found.draft))


@pytest.mark.parametrize(("text", "pieces"), [pytest.param(*case, id=name) for name, case in PLACED.items()])
def test_every_round_is_placed_and_nothing_is_found(text: str, pieces: Pieces) -> None:
    found = from_text(text)
    pattern = file_of(found)
    assert [(p.name, p.make, [r.leaves for r in p.rounds]) for p in pattern.pieces] == pieces
    assert all_problems(pattern) == []
    assert [told.text for told in found.told if told.fate is Fate.EYE] == []


@pytest.mark.parametrize("text", [pytest.param(case[0], id=name) for name, case in PLACED.items()])
def test_every_line_is_told_once(text: str) -> None:
    lines = {number: line for number, line in enumerate(text.split("\n"), 1) if line.strip()}
    told = from_text(text).told
    assert [one.line for one in told] == sorted(lines)
    assert all(one.text in lines[one.line] for one in told)


def test_a_misprint_is_found_where_it_was_planted() -> None:
    pattern = file_of(from_text(styles.GARLAND.replace("first sc: 11 sts", "first sc: 13 sts")))
    assert [problem.message for problem in all_problems(pattern)] == [
        "the instruction makes 11, and the total says 13"
    ]


def test_materials_end_where_sentences_about_the_pattern_begin() -> None:
    draft = from_text(styles.BROOCH).draft
    assert draft.notions == ("cotton in yellow and pink", "2.5mm hook")
    assert draft.notes[0] == "Pattern is in US terms."
    assert draft.making_up == ("sew the leaves to the back.",)


def test_materials_may_have_a_label_each() -> None:
    draft = from_text(styles.RABBIT).draft
    assert draft.hook == "3 mm"
    assert draft.notions == ("{Yarn} DK cotton: cream", "{Hook} 3 mm", "{Also} fibrefill, needle, markers")


def test_a_tip_between_rounds_stays_there() -> None:
    assert file_of(from_text(styles.BROOCH)).pieces[0].rounds[1].remark == "TIP: hide the end now."


def test_page_numbers_are_kept_out_of_the_rounds() -> None:
    found = from_text(styles.POUCH)
    assert [note for note in found.draft.notes if "page" in note] == ["www.example.com          page 4"]
    assert "page" not in found.draft.pieces[0].text


def test_letters_of_a_glossary_are_kept_as_notes() -> None:
    draft = from_text(styles.CHICK).draft
    assert draft.yarns == ()
    assert draft.notes == ("MR: magic ring", "X: single crochet", "V: increase", "A: decrease")


def test_a_chain_joined_to_a_ring_is_a_start_only_if_its_chains_are_worked_into() -> None:
    ring = "Ch 6, join with sl st to form a ring."
    into_ring = f"Doily\n\n{ring}\nRnd 1: Ch 3 (counts as dc), 15 dc in ring; join. (16)\n"
    (piece,) = file_of(from_text(into_ring, "US")).pieces
    assert [r.leaves for r in piece.rounds] == [16]
    assert piece.rounds[0].remark == ring
    assert piece.rounds[0].problems == ()


REPEATED = {
    "Repeat row 2 until you have 12 rows.": 12,
    "Rep Row 2 until there are 12 rows in all.": 12,
    "Rep row 2 for 10 more rows.": 12,
    "Repeat row 2 another 10 times.": 12,
    "Rep 2nd row 10 times.": 12,
    "Rep rows 1 and 2 for a total of 12 rows.": 12,
    "3rd to 12th rows: Rep 2nd row.": 12,
    "Rep last row until you have 2 rows.": 3,
    "Rep row 2 until it measures 45 cm.": 3,
}


@pytest.mark.parametrize(("line", "rows"), REPEATED.items())
def test_rows_are_repeated_as_often_as_they_say(line: str, rows: int) -> None:
    text = f'[[piece]]\nname = "Strip"\nrounds = """\nRow 1: 8 sc (8)\nRow 2: ch 1, turn, 8 sc (8)\n{line}\n"""\n'
    (piece,) = loads(f'title = "Strip"\nterms = "US"\n{text}').pieces
    assert [r.number for r in piece.rounds] == list(range(1, rows + 1))
    assert {r.leaves for r in piece.rounds} == {8}
