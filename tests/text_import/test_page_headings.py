"""What a page calls its rounds where that is no word of the trade.

That pages are translated, with the word for a round left as it was, is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.notation.context import OwnWord
from tracker.notation.own_words import with_round_words
from tracker.notation.parser.heading import heading_of
from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.page_headings import round_words_of
from tracker.pattern.text_import.round_starts import round_starts
from tracker.pattern.toml_writer import as_toml

MADE = ("6 sc in magic ring (6)", "inc x 6 (12)", "(sc, inc) x 6 (18)", "sc in each st (18)", "dec x 9 (9)")


def page(heads: tuple[str, ...]) -> str:
    return "\n".join(["Dew Drop", "", *(f"{head}{made}" for head, made in zip(heads, MADE, strict=True))])


MANNERS = {
    "runde": ("Runde 1: ", "Runde 2: ", "Runde 3: ", "Runde 4: ", "Runde 5: "),
    "its other form": ("Giro 1 - ", "Giro 2 - ", "Giro 3 - ", "Giri 4-6 - ", "Giro 7 - "),
    "a short one": ("Kr. 1 ~ ", "Kr. 2 ~ ", "Kr. 3 ~ ", "Kr. 4 ~ ", "Kr. 5 ~ "),
    "behind its number": ("1st kolo: ", "2nd kolo: ", "3rd kolo: ", "4th kolo: ", "5th kolo: "),
    "with stops and a range": ("1. kor: ", "2. kor: ", "3. kor: ", "4.-6. kor: ", "7.kor : "),
    "behind three blanks": ("1st dan   ", "2nd dan   ", "3rd dan   ", "4th-6th dan   ", "7th dan   "),
    "a letter, and again in a range": ("G1: ", "G2: ", "G3: ", "G4-G6: ", "G7: "),
    "before a spaced dash": ("Kol. 1 – ", "Kol. 2 – ", "Kol. 3 – ", "Kol. 4–6 – ", "Kol. 7 – "),
    "circles that are no rings": ("Circle 1: ", "Circle 2: ", "Circle 3: ", "Circles 4-6: ", "Circle 7: "),
    "a letter behind its number": ("1k: ", "2k: ", "3k: ", "4-6k: ", "7k: "),
    "a letter with a stop": ("1 q. ", "2 q. ", "3 q. ", "4-6 q. ", "7 q. "),
    "a word glued to its number": ("1dan - ", "2dan - ", "3dan - ", "4-6dan - ", "7dan - "),
    "in capitals": ("VARV 1. ", "VARV 2. ", "VARV 3. ", "VARV 4. ", "VARV 5. "),
}


@pytest.mark.parametrize("manner", MANNERS)
def test_rounds_are_read_by_the_word_of_the_page(manner: str) -> None:
    heads = MANNERS[manner]
    found = from_text(page(heads), "US")
    pattern = loads(as_toml(found.draft))
    (piece,) = pattern.pieces
    assert [round_.verdict for round_ in piece.rounds] == ["ok"] * len(piece.rounds)
    assert [piece.rounds[i].leaves for i in (0, 1, 2, -1)] == [6, 12, 18, 9]
    assert {meaning for _, meaning in found.draft.words} == {"rnd"}
    kept = found.draft.pieces[0].text
    assert all(f"{head}{made}" in kept for head, made in zip(heads, MADE, strict=True)), "as it was printed"


def test_numbered_steps_behind_the_rounds_stay_as_they_were_printed() -> None:
    steps = ("Step 1: ch 12 and sew", "Step 2: sew sc to sc", "Step 3: weave in the ends", "Step 4: 3 ch for a loop")
    text = "\n".join(["Cup", "", "Body", "Rnd 1: 6 sc in MR (6)", "Rnd 2: inc x 6 (12)", "", "Assembly", *steps])
    draft = from_text(text, "US").draft
    assert (draft.words, draft.making_up) == ((), steps)
    assert draft.pieces[0].text == "Rnd 1: 6 sc in MR (6)\nRnd 2: inc x 6 (12)"


def test_what_is_sewn_keeps_the_word_of_the_page() -> None:
    text = page(MANNERS["runde"]) + "\n\nAssembly\nRunde 6: sew it shut"
    draft = from_text(text, "US").draft
    assert "Rnd 6" not in as_toml(draft)
    assert "Runde 6: sew it shut" in as_toml(draft)


UNKNOWN = """Plum
gk – short pole (sc), D – widening (2 gk in one eyelet), U – narrowing (2 eyelets together)
Pas. 1 – 5 gk into magic ring, Pas. 2 – D x 5: 10 gk
Pas. 3 – 1 gk, D and so 5 x: 15 gk
Pas. 4, 5 – 15 gk
Pas. 6 – without changes
Pas. 7 – narrowing in every third: 10
Pas. 8-9. As Pas. 6
"""


def test_a_word_is_that_of_rounds_by_the_words_that_the_page_explains() -> None:
    (piece,) = loads(as_toml(from_text(UNKNOWN, "US").draft)).pieces
    assert [round_.leaves for round_ in piece.rounds[:7]] == [5, 10, 15, 15, 15, 15, 10]
    assert [round_.verdict for round_ in piece.rounds[:7]] == ["ok"] * 7


def test_a_letter_heads_rounds_and_is_a_stitch_within_them() -> None:
    rows = ("V1: 6X in mr (6)", "V2: 6V (12)", "V3: 6(X, V) (18)", "V4-V5: 18X (18)")
    (piece,) = loads(as_toml(from_text("\n".join(["Nut", *rows]), "US").draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [(n, "ok") for n in (6, 12, 18, 18, 18)]


def test_a_letter_heads_both_ends_of_a_range_within_a_line() -> None:
    rows = (
        "T1 : 6 sc in MR (6)",
        "T2 : 6 inc (12)",
        "T3 : 12 sc    T4 to T6 : in grey, 12 sc (12)",
        "T7: 6 dec (6)",
        "T8: 6 sc",
    )
    (piece,) = loads(as_toml(from_text("\n".join(["Nut", *rows]), "US").draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [
        (n, "ok") for n in (6, 12, 12, 12, 12, 12, 6, 6)
    ]


def test_an_amount_by_the_letter_of_the_rounds_stays_as_it_is() -> None:
    words = (OwnWord("g", "rnd"),)
    assert with_round_words("20 g of yarn", words, "US") == "20 g of yarn"
    assert with_round_words("G3: as G2 / G4: sc", words, "US") == "R3: as R2 / R4: sc"


def test_a_word_between_stitches_is_read_as_a_round_too() -> None:
    text = "\n".join(["Omg 1: 6 sc in magic ring", "Omg 2: *inc* omg around /12", "Omg 3: *sc, inc* omg around /18"])
    (piece,) = loads(as_toml(from_text(text, "US").draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [(6, "ok"), (12, "ok"), (18, "ok")]


@pytest.mark.parametrize(
    "lines",
    [
        ("Petal 1: ch 3, 2 dc", "Petal 2: ch 3, 2 dc"),  # too few
        ("Rnd 1: 6 sc in MR", "Rnd 2: inc x 6", "Part 1: sc", "Part 2: sc", "Part 3: sc"),  # rounds have their word
        ("Size 5: ch 40", "Size 3: ch 30", "Size 9: ch 60"),  # in no order
        ("Step 1: choose a yarn", "Step 2: find a hook", "Step 3: sit down"),  # nothing is worked
        ("sc 1, inc", "sc 2, inc", "sc 3, inc"),  # a word of the trade
        ("Rnd 1: 6 sc in MR", "Photo 1: the 6 sc", "Photo 2: inc", "Photo 3: 12 sc"),
        ("Motif 1: 12 dc in ring", "Motif 2: 16 dc in ring", "Motif 3: 10 dc in ring"),  # parts, each from the start
    ],
)
def test_other_numbered_lines_are_no_rounds(lines: tuple[str, ...]) -> None:
    assert round_words_of(lines, "US") == ()


@pytest.mark.parametrize(
    ("line", "numbers"),
    [
        ("Third round: sc", (3,)),
        ("Fourth to sixth rounds: sc", (4, 5, 6)),
        ("Tenth and last round: sc", (10,)),
        ("Twenty-second rnd - sc", (22,)),
        ("Thirteenth and fourteenth rows: sc", (13, 14)),
        ("ROUND TWENTY-TWO: sc", (22,)),
        ("Then the fifth round: sc", (5,)),
    ],
)
def test_a_number_in_words_is_that_of_the_round(line: str, numbers: tuple[int, ...]) -> None:
    assert heading_of(line).numbers == numbers


def test_a_heading_in_brackets_and_a_range_in_a_paragraph_begin_rounds() -> None:
    lines = ["Pea", "[Rnd 1] 5 sc in MR {5}", "[Rnd 2] inc x 5 {10}. R3-R5: sc around (10). R6: dec x 5 {5}."]
    (piece,) = loads(as_toml(from_text("\n".join(lines), "US").draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [(n, "ok") for n in (5, 10, 10, 10, 10, 5)]
    assert piece.rounds[0].text.startswith("[Rnd 1]")


def test_a_word_that_says_what_to_make_is_not_asked_for() -> None:
    page = "Abbreviations\nhdc2tog: half double crochet 2 together\n\nRnd 1: 12 hdc in MR\nRnd 2: hdc2tog 6 times"
    assert from_text(page, "US").unexplained_words == ()


SEVERAL = {
    "a stroke": ("Kolo", "1. kolo: 8 sc in MR = 8 / 2. kolo: 8 inc = 16 / 3.-5. kolo: 16 sc / 6. kolo: 8 dec = 8"),
    "a stop": ("Putaran", "Putaran 1: 8 sc in MR. Putaran 2: 8 inc (16). Putaran 3-5: 16 sc. Putaran 6: 8 dec (8)"),
    "semicolons": ("Row", "1 row: 8 sc in MR; 2 row: 8 inc = 16 sts; 3 - 5 row: without changes; 6 row: 8 dec = 8"),
    "a bracket": ("Rnd", "1R) MR, 8 sc [8] 2R) inc*8 [16] 3R~5R) sc*16 [16] 6R) dec*8 [8]"),
    "ordinals": (
        "Rnd",
        "1st Rd: 8 sc in MR. 2nd Rd: double each st = 16. 3rd-5th Rd: 16 sc. 6th Rd: 8 x 2 sts together = 8",
    ),
    "numbers alone": ("Rnd", "1. 8 sc in MR   2. 8 inc (16)   3-5. 16 sc   6. 8 dec (8)"),
}
"""What a page calls its rounds where they have lines of their own, and several on one line, as they are parted."""


@pytest.mark.parametrize("parted_by", SEVERAL)
def test_several_rounds_on_a_line_are_read_one_by_one(parted_by: str) -> None:
    word, several = SEVERAL[parted_by]
    dome = [f"{word} 1: 6 sc in MR (6)", f"{word} 2: 6 sc (6)", f"{word} 3: 6 sc (6)", f"{word} 4: 6 sc (6)"]
    text = "\n".join(["Bell", "", "Dome", *dome, "", "Clapper", several])
    clapper = loads(as_toml(from_text(text, "US").draft)).pieces[-1]
    assert [round_.leaves for round_ in clapper.rounds] == [8, 16, 16, 16, 16, 8]
    assert {round_.verdict for round_ in clapper.rounds} == {"ok"}


@pytest.mark.parametrize(
    "line",
    [
        "You need: 1. wool   2. a hook   3. scissors",
        "Widths: 1. 12 cm   2. 14 cm   3. 16 cm",
        "1. 12 cm   2. 14 cm   3. 16 cm",
        "1. Join the two parts. 2. Stuff them. 3. Sew them up.",
        "Work the last 2 rows: they are alike, and 3 rows: they are not.",
        "1. 6 sc in MR   2. 6 inc (12)",  # two may be two steps
        "1. 6 sc in MR   3. 6 inc (12)   4. 12 sc",  # one is missing
    ],
)
def test_other_numbers_on_a_line_begin_no_round(line: str) -> None:
    assert round_starts(line, 0) == []


def test_a_word_of_the_page_is_found_beside_rows_with_a_word_of_the_trade() -> None:
    heads = MANNERS["runde"]
    text = page(heads) + "\n\nFlap\nRow 1: ch 6, sc in 2nd ch from hook and in next 4 ch (5)\nRow 2: ch 1, 5 sc (5)"
    bell, flap = loads(as_toml(from_text(text, "US").draft)).pieces
    assert [round_.leaves for round_ in (bell.rounds[0], bell.rounds[-1], *flap.rounds)] == [6, 9, 5, 5]


def test_a_round_like_the_one_before_and_one_in_every_stitch_borrow_nothing() -> None:
    lines = (
        "Row 1: ch 8, 7 sc (7)",
        "Row 2: from every st 2 sc (14)",
        "Row 3: 14 sc",
        "Row 4: the same as the previous (14)",
    )
    (cap,) = loads(as_toml(from_text("\n".join(["Pod", "", "Cap", *lines]), "US").draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in cap.rounds] == [(n, "ok") for n in (7, 14, 14, 14)]


EXPLAINED = """Plum Stone
G = gang (round), K = kant (row)
{0}
Stone
G1. 7 sc in a magic ring = 7
G2. 7 inc = 14
G3 a G5. 14 sc = 14

Strap
K1: ch 8, sc in 2nd ch from hook and in each ch, turn = 7
K2 a K4: ch 1, 7 sc, turn = 7
"""


def test_a_page_that_says_what_its_rounds_and_rows_are_called_needs_no_more_of_them() -> None:
    draft = from_text(EXPLAINED.format("Rnd = round"), "US").draft
    assert dict(draft.words) == {"g": "rnd", "k": "row"}
    stone, strap = loads(as_toml(draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in stone.rounds] == [(n, "ok") for n in (7, 14, 14, 14, 14)]
    assert [(round_.leaves, round_.verdict) for round_ in strap.rounds] == [(7, "ok")] * 4


def test_a_word_for_rounds_that_heads_none_is_no_word() -> None:
    assert (
        dict(from_text("Stone\nG = gang (round)\nRnd 1: 7 sc in MR (7)\nRnd 2: 7 inc (14)", "US").draft.words) == {}
    )
