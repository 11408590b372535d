"""The yarns of a page: rows of a table, names that stand in the materials alone, letters that a piece has for itself.

The pages are invented; that pages are laid out so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.text_import.page_yarns import colours_in
from tracker.pattern.toml_writer import as_toml

ROUNDS = "Rnd 1: {0} 7 sc in magic ring (7)\nRnd 2: {1} inc around (14)\n"

TABLES = {
    "bars": "| Yarn | Colour | Amount | Letter |\n|---|---|---|---|\n| Soft cotton | fern | 30 g | A |\n"
    "| Soft cotton | sand | 10 g | B |\n",
    "letters first": "Materials\n| A | fern | 30 g |\n| B | sand | 10 g |\n",
    "tabs": "Materials\nYarn\tShade\tAmount\tLetter\nSoft cotton\tfern\t30 g\tA\nSoft cotton\tsand\t10 g\tB\n",
    "a sure colour before a word that is none": "Materials\nA | fern green | mercerised | 30 g\nB | sand | 10 g\n",
}


@pytest.mark.parametrize("name", TABLES)
def test_a_row_of_a_table_gives_a_yarn_its_letter(name: str) -> None:
    draft = from_text(f"Owl\n\n{TABLES[name]}\nBody\n{ROUNDS.format('With A,', 'With B,')}", "US").draft
    fern = "fern green" if "sure" in name else "fern"
    assert [(yarn.key, yarn.name) for yarn in draft.yarns] == [("A", fern), ("B", "sand")]


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("DK cotton: ash, petal, milk", {"ash", "petal", "milk"}),
        ("Worsted yarn in ash and dusty petal", {"ash", "dusty petal"}),
        ("25 g petal DK", {"petal"}),
        ("small amount of petal cotton", {"petal"}),
        ("3 mm hook", set()),
        ("Stuffing, yarn needle, 2 safety eyes", set()),
        ("ash, petal", set()),
    ],
)
def test_yarns_are_named_in_the_materials(line: str, names: set[str]) -> None:
    assert names <= colours_in([line])
    if not names:
        assert not colours_in([line]) & {"hook", "eyes", "stuffing", "ash", "petal"} - {"stuffing"}


def test_a_piece_in_a_yarn_that_stands_in_the_materials_alone() -> None:
    rounds = ROUNDS.format("", "")
    page = f"Mouse\n\nMaterials\nDK cotton: grey, petal, milk\n\nHEAD (grey)\n{rounds}\nEARS x2 (petal)\n{rounds}"
    draft = from_text(f"{page}\nNOSE (small)\n{rounds}", "US").draft
    assert [(piece.name, piece.make, piece.yarn) for piece in draft.pieces] == [
        ("HEAD", 1, "grey"),
        ("EARS", 2, "petal"),
        ("NOSE (small)", 1, ""),
    ]
    assert {yarn.key for yarn in draft.yarns} == {"grey", "petal"}


@pytest.mark.parametrize("letters", ["A = {}, B = {}", "Yarn A: {}; yarn B: {}"])
def test_a_letter_that_stands_for_another_yarn_in_each_piece_is_told(letters: str) -> None:
    rounds = ROUNDS.format("With A,", "With B,")
    page = (
        f"Sea\n\nFISH\n{letters.format('coral', 'milk')}\n{rounds}\nCRAB\n{letters.format('ink', 'milk')}\n{rounds}"
    )
    found = from_text(page, "US")
    assert [(yarn.key, yarn.name) for yarn in found.draft.yarns][:2] == [("A", "coral"), ("B", "milk")]
    (told,) = [told for told in found.outcomes if told.fate is Fate.EYE]
    assert "A is ink here and coral in the rest" in told.why
    assert "B is" not in told.why
    assert [piece.rounds[-1].leaves for piece in loads(as_toml(found.draft)).pieces] == [14, 14]


def test_a_line_that_begins_with_a_yarn_gives_no_letter() -> None:
    page = f"Sea\n\nA: coral, B: milk\n\nFISH\nWith yarn A make a magic loop\n{ROUNDS.format('', '')}"
    assert not [told for told in from_text(page, "US").outcomes if told.fate is Fate.EYE]


BESIDE = """Plum Stone

Stone
Rnd 1: 7 sc in magic ring (7)
Rnd 2: (white 1 sc, {name} 1 sc in same st) x 7 (14)
Rnd 3: (white 1 sc, {name} inc) x 7 (21)
Rnd 4: {name} only: 21 sc (21)
"""


def test_a_word_where_other_parts_begin_with_a_yarn_is_one() -> None:
    draft = from_text(BESIDE.format(name="pomelo"), "US").draft
    assert [yarn.key for yarn in draft.yarns] == ["white", "pomelo"]
    (piece,) = loads(as_toml(draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds[2:]] == [(21, "ok"), (21, "ok")]


def test_a_word_in_one_round_and_one_beside_no_yarn_are_none() -> None:
    once = BESIDE.format(name="white").replace("white inc", "pomelo inc")
    alone = BESIDE.format(name="pomelo").replace("white 1", "1")
    assert "pomelo" not in {yarn.key for text in (once, alone) for yarn in from_text(text, "US").draft.yarns}


def test_a_shade_cut_short_is_part_of_its_colour() -> None:
    text = BESIDE.format(name="dk green").replace("white", "lt green")
    draft = from_text(text, "US").draft
    assert [yarn.key for yarn in draft.yarns] == ["lt green", "dk green"]
