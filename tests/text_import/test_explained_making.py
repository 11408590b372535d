"""Increases and decreases that a page explains by how they are made.

That hand-made legends say it in these words is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.page_words import lexicon_of
from tracker.pattern.toml_writer import as_toml

STITCH = "kz : flat (single crochet)"

CHANGES = {
    "W : two (2kz in the same stitch)": ("w", "increase"),
    "W = two kz in one": ("w", "increase"),
    "W : wide (1 stitch becomes 2)": ("w", "increase"),
    "W = wide, 2 kz into one stitch": ("w", "increase"),
    "W = wide, make 2 kz into one st": ("w", "increase"),
    "W - more, turn one st into two": ("w", "increase"),
    "Y : less (2 stitch become 1)": ("y", "decrease"),
    "Y = two kz together": ("y", "decrease"),
    "Y: make one stitch out of two": ("y", "decrease"),
}


@pytest.mark.parametrize(("line", "word"), CHANGES.items())
def test_a_change_is_what_the_page_makes_of_it(line: str, word: tuple[str, str]) -> None:
    assert word in lexicon_of([STITCH, line], "US")


@pytest.mark.parametrize(
    "line", ["Y : 3 stitches become 1", "Y : 12 kz in the same round", "Y : two colours become one"]
)
def test_other_numbers_and_other_things_make_no_change_of_a_stitch(line: str) -> None:
    assert "y" not in dict(lexicon_of([STITCH, line], "US"))


PAGE = """Plum Stone

Yarn: cotton (green, plum)
Signs
X : single (single crochet)
W : wide (2X in the same stitch)
Y : less (2 stitch become 1)
4(3X,W) : do what is in the bracket 4 times

STONE (plum)
R1: 7X in MR (7)
R2: 7W (14)
R3: 7(X,W) (21)
R4: 7(X,Y) (14)
"""


def test_a_line_that_explains_how_repeats_are_written_names_no_yarn() -> None:
    draft = from_text(PAGE, "US").draft
    assert {yarn.key for yarn in draft.yarns} == {"plum"}
    (piece,) = loads(as_toml(draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [
        (7, "ok"), (14, "ok"), (21, "ok"), (14, "ok"),
    ]  # fmt: skip


UNSIGNED = """Plum Stone

Legend:
MV mirkin vilt / magic ring
rb rund botten (single crochet)
wl wende lop / chain
mer = 2 rb in the same mesh
min = 2 rb closed together

STONE
R1: 7 rb in MV (7)
R2: 7 mer (14)
R3: 7 min (7)
"""


def test_words_without_signs_are_those_of_a_list_and_no_piece() -> None:
    draft = from_text(UNSIGNED, "US").draft
    told = dict(draft.words)
    assert (told["rb"], told["mer"], told["min"]) == ("single crochet", "increase", "decrease")
    (piece,) = loads(as_toml(draft)).pieces
    assert (piece.name, [round_.leaves for round_ in piece.rounds]) == ("STONE", [7, 14, 7])


@pytest.mark.parametrize(
    "line", ["Bag body only / single crochet", "rb zonder tal / single crochet", "sc edge / chain"]
)
def test_what_is_not_short_for_the_words_behind_it_is_no_word(line: str) -> None:
    assert lexicon_of([line], "US") == ()


SIGNS = """Plum Stone

X = flat (single crochet)
V = two X in one, ^ = two X together

STONE
R1: 7 X in MR (7)
R2: 7 V (14)
R3: [X, V] x7 (21)
R4: [X, ^] x7 (14)
R5: 7 ^ (7)
"""


def test_a_sign_is_what_the_page_says_of_it() -> None:
    draft = from_text(SIGNS, "US").draft
    assert dict(draft.words)["^"] == "decrease"
    (piece,) = loads(as_toml(draft)).pieces
    assert [(round_.leaves, round_.verdict) for round_ in piece.rounds] == [
        (7, "ok"), (14, "ok"), (21, "ok"), (14, "ok"), (7, "ok"),
    ]  # fmt: skip


@pytest.mark.parametrize("line", ["• = decrease", "- = decrease", "* = repeat", "^ = the hard part"])
def test_a_bullet_and_a_sign_for_no_stitch_are_no_words(line: str) -> None:
    assert lexicon_of([line], "US") == ()
