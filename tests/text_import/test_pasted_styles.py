"""`rounds read` on pages of many styles: which pieces, how often each is made, what each round leaves.

The figures are worked out by hand from the instructions; that the styles are met is common practice, no source.
"""

from __future__ import annotations

import pytest
from text_import import pasted_styles as styles

from tracker.notation.context import Context
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.model import Pattern
from tracker.pattern.text_import.draft_assembly import FromText, from_text
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.text_import.piece_names import piece_name, times_made
from tracker.pattern.toml_writer import as_toml

Pieces = list[tuple[str, int, list[int]]]

PLACED: dict[str, tuple[str, Pieces]] = {
    "a name ends a list, and may say what each of its copies is": (
        styles.GARLAND,
        [("Fern (4 of each colour)", 8, [6, 11]), ("Cord", 1, [101, 100])],
    ),
    "a body joined of two legs is a piece, though its numbers go on": (
        styles.RABBIT,
        [("LEGS", 2, [6, 12, 12, 12, 12]), ("BODY", 1, [30, 30, 30, 30, 24])],
    ),
    "numbered notes are no rounds, and lines broken for the page are": (
        styles.POUCH,
        [("Body", 1, [7, 14, 14, 14, 14, 14, 14]), ("Flap", 1, [6, 3, 4])],
    ),
    "numbered parts are no rounds, and a ring of chains is worked into": (
        styles.COWL,
        [("Slow Cowl", 1, [60, 60, 60, 60, 60, 60, 60])],
    ),
    "letters that stand for stitches are no yarns": (
        styles.CHICK,
        [("Body (gray, from the head down)", 1, [6, 12, 9]), ("Foot", 2, [6, 6])],
    ),
    "the first part of a piece made twice is not the piece": (
        styles.SHOE,
        [("SHOE", 2, [5, 12, 12]), ("STRAP", 2, [9, 8])],
    ),
    "ornaments are no part of a name": (
        styles.BROOCH,
        [("Centre", 1, [6, 12]), ("Leaf", 2, [6, 5])],
    ),
    "totals of other sizes on the next line are no heading": (styles.BEANIE, [("Crown", 1, [8, 16, 24])]),
    "rows until there are so many, a border, and a name with a stitch in it": (
        styles.PUMPKIN,
        [("PUMPKIN BODY", 1, [11, *[10] * 36, 72]), ("SHELL TOP", 1, [6, 12])],
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
    assert [told.text for told in found.outcomes if told.fate is Fate.EYE] == []


@pytest.mark.parametrize("text", [pytest.param(case[0], id=name) for name, case in PLACED.items()])
def test_every_line_is_told_once(text: str) -> None:
    lines = {number: line for number, line in enumerate(text.split("\n"), 1) if line.strip()}
    told = from_text(text).outcomes
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
    assert [(piece.name, piece.yarn) for piece in draft.pieces][1] == ("Foot", "orange")
    assert [yarn.key for yarn in draft.yarns] == ["gray", "orange"]
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


BORROWED = """Otter
US terms

BODY
Ch 9.
Rnd 1: Sc in 2nd ch from hook and in each ch across (8)
Rnd 2: Inc in each
st around. (16)
Rnds 3-6: Sc around (16)
Switch to red.
Rnd 7: Dec around (8)

LEGS (2)
{line}
"""

FROM_THE_BODY = {
    "Rounds 1-5: work as for the body. (16 sts)": [8, 16, 16, 16, 16],
    "Rnds 1-2: as for body": [8, 16],
    "Rnds 1-4: same as body": [8, 16, 16, 16],
    "Rnds 1-4: the same that the body [16]": [8, 16, 16, 16],
    "R1 to R3: do like the body (16)": [8, 16, 16],
    "Work as for Body to end of Rnd 2. Leave a tail.": [8, 16],
    "Work Rnds 1-3 of the body.": [8, 16, 16],
    "Repeat Rnds 1 to 7 of body": [8, 16, 16, 16, 16, 16, 8],
    "R1-R4: repeat R1-R4 of the body": [8, 16, 16, 16],
    "Make as for body.": [8, 16, 16, 16, 16, 16, 8],
    "Rnds 1-2: With red only, work same as Rnds 1-2 of BODY.": [8, 16],
}


@pytest.mark.parametrize(("line", "leaves"), FROM_THE_BODY.items())
def test_rounds_of_another_piece_are_written_out(line: str, leaves: list[int]) -> None:
    found = from_text(BORROWED.format(line=line))
    legs = file_of(found).pieces[1]
    assert (legs.name, legs.make, [r.leaves for r in legs.rounds]) == ("LEGS", 2, [9, *leaves])
    assert [told.why for told in found.outcomes if told.text == line] == [
        "the rounds of 'BODY' are written out in its place"
    ]
    assert line in found.draft.notes


@pytest.mark.parametrize(
    "line",
    ["| R1-R3 | same as body, all in red | 16 |", "Rnds 1-3: as body with red yarn", "R1-3: same as body, in red"],
)
def test_rounds_that_are_borrowed_in_another_yarn_need_an_eye(line: str) -> None:
    page = BORROWED.format(line=f"{line}\nRnd 4: sc around (16)")
    found = from_text(page)
    assert [r.leaves for r in file_of(found).pieces[1].rounds] == [9, 8, 16, 16, 16]
    (outcome,) = (told for told in found.outcomes if told.text == line.strip("| "))
    assert outcome.fate is Fate.EYE
    assert outcome.why.startswith("written out with the yarns of 'BODY': ") and "red" in outcome.why


def test_a_total_that_the_borrowed_rounds_do_not_have_needs_an_eye() -> None:
    found = from_text(BORROWED.format(line="Rnds 1-3: as body (18)\nRnd 4: sc around"))
    (outcome,) = (told for told in found.outcomes if told.text == "Rnds 1-3: as body (18)")
    assert (outcome.fate, outcome.why) == (Fate.EYE, "the rounds of 'BODY' end with 16, and not 18")


@pytest.mark.parametrize("line", ["Work as for the arms.", "Work rounds 1 to 8 as for the body"])
def test_rounds_that_are_not_there_are_not_written_out(line: str) -> None:
    found = from_text(BORROWED.format(line=line))
    assert len(found.draft.pieces) == 1
    assert line in found.draft.notes


def test_a_line_that_takes_rounds_may_be_broken() -> None:
    found = from_text(BORROWED.format(line="Rnds 1-2: work the same as Rnds 1-2 of\nBODY. Do not fasten off."))
    assert [r.leaves for r in file_of(found).pieces[1].rounds] == [9, 8, 16]
    assert found.draft.notes[-1] == "BODY. Do not fasten off."


LOST = """Bunting
[Page 1]
US terms
GAUGE:   Rnds 1-3 = 7 cm

TRIANGLE: make 9 alike
Rnd 1: 8 sc in magic ring [8]
Joining rnd: With wrong sides together, ch 1, sc in
each sc around; join. [8]

STRING
Ch 30, *sc in each of the 8 sc of a pennon, ch 5*; repeat from * to * 8 more times, ch 25. Fasten off.
"""


def test_a_line_of_stitches_that_found_no_place_needs_an_eye() -> None:
    found = from_text(LOST)
    assert [told.text.split(",")[0] for told in found.outcomes if told.fate is Fate.EYE] == ["Ch 30"]
    assert [(p.name, p.make, [r.leaves for r in p.rounds]) for p in file_of(found).pieces] == [
        ("TRIANGLE", 9, [8, 8]),
        ("STRING", 1, [None]),
    ]


def test_rounds_that_tell_the_gauge_are_no_rounds_to_make() -> None:
    assert "Rnds 1-3 = 7 cm" in from_text(LOST).draft.notes


NAMES = {
    "~ Leaf ~ (green, make two)": ("Leaf (green)", 2),
    "Fern (make 12: 4 of each colour)": ("Fern (4 of each colour)", 12),
    "LEGS (x2) - cream": ("LEGS - cream", 2),
    "Wings (2)": ("Wings", 2),
    "Star: make 2 the same": ("Star", 2),
    "And now the wings (two of them) ~": ("Wings", 2),
    "Left arm (yarn A)": ("Left arm (yarn A)", 1),
    "SHELL TOP – in brown": ("SHELL TOP – in brown", 1),
    "Leg 2 (make 3)": ("Leg 2", 3),
    "Square 4 - red": ("Square 4 - red", 1),
    "Photo 2": ("", 1),
    "Hook 4": ("", 1),
    "Rnd 3": ("", 1),
    "sl st (16)": ("", 1),
    "{Also} fibrefill, needle, markers": ("", 1),
    "Corner: (3 dc, ch 2, 3 dc) in one space": ("", 1),
    "– a pinch of stuffing": ("", 1),
}


@pytest.mark.parametrize(("line", "named"), NAMES.items())
def test_what_the_name_of_a_piece_is(line: str, named: tuple[str, int]) -> None:
    name = piece_name(line, Context())
    assert (name, times_made(line) if name else 1) == named


def test_pieces_of_one_kind_are_told_apart_by_their_numbers() -> None:
    rounds = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)"
    page = f"Moth\n\nWing 1 (make 2)\n{rounds}\n\nWing 2 (make 2)\n{rounds}\nPhoto 3\n\nLeg 1\n{rounds}\n"
    pieces = file_of(from_text(page)).pieces
    assert [(piece.name, piece.make) for piece in pieces] == [("Wing 1", 2), ("Wing 2", 2), ("Leg 1", 1)]


@pytest.mark.parametrize("line", ["Rnd 3: With red.", "Rnd 3: stuff firmly", "Rnd 3: in red, as for the hat"])
def test_a_round_that_says_nothing_to_do_is_told(line: str) -> None:
    text = f'[[piece]]\nname = "Ball"\nrounds = """\nRnd 1: 6 sc in MR (6)\nRnd 2: inc around (12)\n{line}\n"""\n'
    (piece,) = loads(f'title = "Ball"\nterms = "US"\n{text}').pieces
    assert [r.verdict == "ok" for r in piece.rounds] == [True, True, False]


@pytest.mark.parametrize("line", ["Rnd 3: fasten off", "Rnd 3: dec around (6)"])
def test_a_round_that_ends_the_piece_is_no_such_round(line: str) -> None:
    text = f'[[piece]]\nname = "Ball"\nrounds = """\nRnd 1: 6 sc in MR (6)\nRnd 2: inc around (12)\n{line}\n"""\n'
    (piece,) = loads(f'title = "Ball"\nterms = "US"\n{text}').pieces
    assert [r.verdict for r in piece.rounds] == ["ok", "ok", "ok"]
