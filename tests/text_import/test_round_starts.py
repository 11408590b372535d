"""Rounds that follow one another in a paragraph whose lines are broken anywhere.

The pages are invented, their figures worked out by hand; that pages are set so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.round_starts import round_starts, with_whole_headings
from tracker.pattern.toml_writer import as_toml

RUN_ON = {
    "parts of a piece whose numbers go on, each with its name": (
        "Pot\nBase: Rnd 1: 7 sc in magic ring. (7) Rnd 2: 2 sc in each sc, join. (14)\n"
        "Wall: Rnd 3: ch 1, sc in each sc, join. (14) Rnds 4-6: sc in each sc, join. (14)\n"
        "Rim: Rnd 7: (sc, inc) x 7 (21) Rnd 8: sl st in each st (21)\n",
        "US",
        [7, 14, 14, 14, 14, 14, 21, 21],
    ),
    "the same with a comma and a dash": (
        "Pot\nRnd 1 - 6 dc in magic ring (6) Rnd 2 - inc in each st (12)\n"
        "Rim, Rnd 3 - dc in each st (12) Rnd 4 - (2 dc, inc) x 4 (16)\n",
        "UK",
        [6, 12, 12, 16],
    ),
    "a full stop behind the word and one behind the number": (
        "PLUM: Ch. 2. Rnd. 1. 4 sc in 2nd ch. from hook. Rnd. 2. 2\nsc in ea. sc. Rnd. 3. Sc in ea. sc around. "
        "Rnd. 4. 2 sc in\nea. sc. 16 sc. Rnds. 5 thru 8. Sc in ea. sc. Rnd. 9. * Sc\nin next 2 sc, sk 2 sc; rep "
        "from * around. 8 sc. Fasten off.\n",
        "US",
        [4, 8, 8, 16, 16, 16, 16, 16, 8],
    ),
    "a dash that touches": (
        "STONE\nCh 2. Rnd 1- 5 sc in 2nd ch from hook. Rnd 2- 2 sc in\neach sc -10. Rnds 3-6- Sc in each sc. Rnd\n"
        "7- *sc in next 3 sc, 2 sc in next 2 sc* around -14.\n",
        "US",
        [5, 10, 10, 10, 10, 10, 14],
    ),
    "a comma behind the number, and nothing": (
        "Swatch\nCh 5 and join. rnd 1, ch 1, 9 sc in ring, join, 9 sc. rnd 2, 2 sc in each sc around. 18 sc. Rnd 3 "
        "same thing again (36). rnd 4: sc in each sc (36)\n",
        "US",
        [9, 18, 36, 36],
    ),
    "the yarn in front, and the word behind the number": (
        "Acorn\n1 row. 5 sc in MR.\nCream thread. 2 row. (inc) x 5. (10)\nChange to red. 3 row. 10 sc.\n",
        "US",
        [5, 10, 10],
    ),
    "a letter behind the number": (
        "Ant\nEAR\n1r - 5 sc in MR; 2r - 5 inc (10); 3r-4r - 10 sc, 5r - (3 sc, dec) x2 (8)\n6r - 8 sc; 7r - 4 dec\n",
        "US",
        [5, 10, 10, 10, 8, 8, 4],
    ),
    "numbers behind the ring that they are worked into": (
        "Mat\nBegin: ch 6 and close in ring. 1) Ch 1, 9 sc in the ring. 2) 2 sc in each sc = 18 sc. 3) Ch 1, 1 sc in "
        "each sc = 18 sc.\n4) (sc, inc) x 9 (27)\n",
        "US",
        [9, 18, 18, 27],
    ),
    "rounds that stand for others": (
        "Swatch\nRnd 1: 9 sc in MR (9)\nRnd 2: sc around (9)\nRnd 3 like rnd 2 (9 sc), rnd 4 too (9 sc).\n",
        "US",
        [9, 9, 9, 9],
    ),
    "figures cut short and a long dash": (
        "PEAR STALK\nCh 2. 1st round—7 sc in 2nd ch from hook. 2d round—2 sc in\neach sc. 3d round—Sc in each sc. "
        "4th\nround—* Sc in each of next 6 sc, 2 sc in next sc; repeat\nfrom * around. 5th to 7th rounds—Sc in each "
        "sc around.\n",
        "US",
        [7, 14, 14, 16, 16, 16, 16],
    ),
    "a range that the end of a line cuts": (
        "QUINCE\n2 ch. 1st rnd: 6 d.c. into 2nd ch. from hook. 2nd\nrnd: 2 d.c. into each d.c. 3rd\nto 8th rnds: 1 "
        "d.c. into each d.c. 9th to\n12th rnds: As 8th\nrnd. 13th rnd: * Miss 1 d.c., 1 d.c. into next\nd.c.; rep. "
        "from * to end.\n",
        "UK",
        [6, 12, *[12] * 10, 6],
    ),
}


@pytest.mark.parametrize(("page", "terms", "leaves"), [pytest.param(*case, id=name) for name, case in RUN_ON.items()])
def test_rounds_of_a_paragraph_are_told_by_their_numbers(page: str, terms: str, leaves: list[int]) -> None:
    pattern = loads(as_toml(from_text(page, terms).draft))
    (piece,) = pattern.pieces
    assert [one.plan.leaves if one.plan else None for one in piece.rounds] == leaves


@pytest.mark.parametrize(
    ("text", "above", "begins"),
    [
        ("to end. 6th Row.—3 ch., turn.", 5, ["6th"]),
        ("to end. 6th Row.—3 ch., turn.", 2, []),  # no sixth comes behind the second
        ("to end. 1st Row.—3 ch., turn.", 2, ["1st"]),
        ("rep. from * to end 6th rnd: 1 d.c. into each d.c.", 5, ["6th"]),
        ("to end. 6th to 8th Rounds. 1 d.c. into each d.c.", 5, ["6th"]),
        ("2 ch. 1st Round. 6 d.c. into 2nd ch.", 0, ["1st"]),
        ("sc in each sc, 12 Rnd. 6. 2 sc in each sc", 5, ["Rnd. 6"]),
        ("as in the 6th rnd. Fasten off.", 5, []),
        ("the same as rnd. 6. Press it.", 5, []),
        ("in each sc. Rnd. 6. Even. Rnd. 7. Even.", 5, ["Rnd. 6", "Rnd. 7"]),
        ("in each sc. Rnds. 6 thru 9. Even. Rnd. 10. Even.", 5, ["Rnds. 6", "Rnd. 10"]),
        ("2 sc in next sc around 6: it is wide", 5, []),
        ("join. 6th rnd has more stitches than before", 5, []),
    ],
)
def test_a_heading_inside_a_line(text: str, above: int, begins: list[str]) -> None:
    starts = round_starts(text, above)
    assert [text[start : start + len(begun)] for start, begun in zip(starts, begins, strict=True)] == begins


@pytest.mark.parametrize(
    ("lines", "whole"),
    [
        (["to end. 7th", "to 14th rnds: even"], ["to end.", "7th to 14th rnds: even"]),
        (["to end. 7th to", "14th rnds: even"], ["to end.", "7th to 14th rnds: even"]),
        (["around. Rnds. 7", "thru 14. Even."], ["around.", "Rnds. 7 thru 14. Even."]),
        (["around -16. Rnd", "4- Sc around"], ["around -16.", "Rnd 4- Sc around"]),
        (["around (16). Rnd 4:", "5 sc in ring"], ["around (16).", "Rnd 4: 5 sc in ring"]),
        (["around. 4th rnd—*", "Sc in next sc"], ["around.", "4th rnd—* Sc in next sc"]),
        (["Rnd 4:", "5 sc in ring"], ["Rnd 4:", "5 sc in ring"]),  # a heading over its round stays there
        (["Work 3 rows", "4 d.c. wide."], ["Work 3 rows", "4 d.c. wide."]),
        (["Repeat the 2nd and", "3rd rows twice."], ["Repeat the 2nd and", "3rd rows twice."]),
    ],
)
def test_a_heading_that_the_end_of_a_line_cuts(lines: list[str], whole: list[str]) -> None:
    assert with_whole_headings(lines) == whole


def test_the_line_below_tells_that_a_number_counts_stitches() -> None:
    text = "rep. from * to end. Rnds 6-9- 2"
    assert round_starts(text, 5, "d.c. into each d.c.") == [text.index("Rnds")]


def test_a_number_in_a_bracket_that_a_line_s_end_cuts_is_none_of_a_round() -> None:
    page = (
        "MAT\nCh 7, join. 1st rnd: Ch 3, 15 dc in ring, join. 2nd rnd: Ch 4 (to count as dc and ch\n1), * dc in next "
        "dc, ch 1; rep from * around. Join to 3rd ch.\n"
    )
    (piece,) = loads(as_toml(from_text(page, "US").draft)).pieces
    assert [one.number for one in piece.rounds][-2:] == [1, 2]


def test_figures_that_a_scanner_took_for_letters() -> None:
    page = (
        "BERRY\nCh 2. lst rnd: 5 sc in 2nd ch from hook. 2nd rnd: 2 sc in\neach sc (lO sc). 3rd to llth rnds: Sc in "
        "each sc. l2th\nrnd: * l sc in next sc, 2 sc in next sc; rep from *\naround. 15 sc. l3th rnd: Sc in "
        "each sc.\n"
    )
    (piece,) = loads(as_toml(from_text(page, "US").draft)).pieces
    assert [one.plan.leaves if one.plan else None for one in piece.rounds] == [5, *[10] * 10, 15, 15]


def test_a_line_that_is_all_of_a_cut_heading_stays_where_it_is() -> None:
    assert with_whole_headings(["Rnd", "1) 9 hdc in magic ring"]) == ["Rnd", "1) 9 hdc in magic ring"]


@pytest.mark.parametrize(
    ("text", "starts"),
    [
        ("R7 (4 dc, 2 dc in next st) to end. 30 sts R8 (5 dc,", [0, 42]),
        ("Rnd 2 inc in each st. Rnd 3 (2 sc, inc) 6 times. Rnd 4 sc around.", [0, 22, 49]),
        ("R7 sc in each st. R8 is the last one.", []),
        ("R7 sc up to the end of R8 sc in next st", []),
        ("R7 sc in each st. R9 sc in each st.", []),
    ],
)
def test_heads_without_a_sign_follow_one_another_where_a_round_ends(text: str, starts: list[int]) -> None:
    assert round_starts(text, 0) == starts


def test_a_bracket_that_the_end_of_a_line_cuts_is_of_the_round_that_began_in_it() -> None:
    page = (
        "JAR MAT\nR1 2 ch, 7 dc in the 2nd ch from hook. 7 sts\nR2 (2 dc in next st) 7 times. 14 sts R3 (1 dc,\n"
        "2 dc in next st) to end. 21 sts\nR4 dc in each st. 21 sts\n"
    )
    (piece,) = loads(as_toml(from_text(page, "UK").draft)).pieces
    assert [one.leaves for one in piece.rounds] == [7, 14, 21, 21]
