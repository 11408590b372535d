"""A page before it is kept: what the maker says of its lines, and what the pattern is then."""

from __future__ import annotations

import json

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Correction
from tracker.pattern.text_import.draft_parts import Fate
from tracker.pattern.text_import.page_sheet import Decisions, Sheet, decisions_in, sheet_of, with_corrections

PAGE = """Bell
Hook 3 mm, US terms.

DOME
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 5 (12)
mumble on with the tail
Rnds 3-4: sc around (12)
Lift the edge a little.

CLAPPER
Rnd 1: 5 sc in magic ring (5)
"""


def unit(sheet: Sheet, text: str) -> int:
    return next(line.outcome.unit for line in sheet.lines if line.outcome.text.startswith(text))


def pieces(sheet: Sheet) -> list[tuple[str, list[int | None]]]:
    return [(piece.name, [item.leaves for item in piece.rounds]) for piece in sheet.pattern.pieces]


def test_each_line_knows_its_rounds_and_every_line_is_somewhere() -> None:
    sheet = sheet_of(PAGE, Decisions())
    assert [line.outcome.text for line in sheet.lines] == [line for line in PAGE.split("\n") if line]
    rounds = {
        line.outcome.text: [item.number for item in sheet.rounds_of(line)] for line in sheet.lines if line.rounds
    }
    assert rounds == {
        "Rnd 1: 6 sc in magic ring (6)": [1],
        "Rnd 2: inc x 5 (12)": [2],
        "Rnds 3-4: sc around (12)": [3, 4],
        "Rnd 1: 5 sc in magic ring (5)": [1],
    }


def test_lines_are_moved_from_note_to_round_and_back() -> None:
    """The line without a number is the third round then; the range behind it begins with three all the same."""
    first = sheet_of(PAGE, Decisions())
    spot = unit(first, "mumble")
    moved = sheet_of(PAGE, Decisions(moved={spot: "round", unit(first, "Rnds 3-4"): "note"}))
    assert pieces(moved) == [("DOME", [6, 10, None]), ("CLAPPER", [5])]
    assert "Rnds 3-4: sc around (12)" in moved.source
    back = sheet_of(PAGE, Decisions(moved={spot: "note"}))
    assert pieces(back) == pieces(first) and "mumble on with the tail" in back.source


def test_a_line_becomes_the_name_of_a_piece_and_pieces_are_renamed() -> None:
    first = sheet_of(PAGE, Decisions())
    names = {first.first_unit(1): "Tongue"}
    moved = sheet_of(PAGE, Decisions(moved={unit(first, "mumble"): "name"}, names=names, title="Bell of mine"))
    assert [name for name, _ in pieces(moved)] == ["DOME", "mumble on with the tail", "Tongue"]
    assert loads(moved.source).title == "Bell of mine"


def test_what_is_mended_stays_with_its_line_whatever_else_is_decided() -> None:
    """Six increases over six stitches leave twelve: by hand."""
    first = sheet_of(PAGE, Decisions())
    mended = with_corrections(first, (Correction(0, 1, "Rnd 2: inc x 6 (12)"),))
    assert pieces(mended)[0][1] == [6, 12, 12, 12]
    decided = mended.decided
    moved = sheet_of(PAGE, Decisions(moved={unit(first, "mumble"): "round"}, mends=decided.mends))
    assert moved.corrections == (Correction(0, 1, "Rnd 2: inc x 6 (12)"),)
    by_eye = with_corrections(moved, (*moved.corrections, Correction(0, 2, leaves=12)))
    assert [item.verdict for item in by_eye.pattern.pieces[0].rounds][:3] == ["ok", "ok", "ok"]
    assert next(line for line in by_eye.lines if line.outcome.text.startswith("Rnd 2")).outcome.fate is Fate.ROUND


def test_decisions_are_read_back_as_they_were_written_and_nothing_else_is() -> None:
    decided = Decisions("UK", 2, "Bell", {3: "note", 5: "name"}, {1: "Cup [red]"}, {4: "Rnd 2: inc x 6", 6: 24})
    written = json.loads(json.dumps({"text": PAGE, **decided.written()}))
    assert decisions_in(written) == decided
    for name, wrong in (("moved", {"3": "elsewhere"}), ("size", "2"), ("names", [1]), ("mends", {"x": "y"})):
        with pytest.raises(ValueError):
            decisions_in({**written, name: wrong})
    with pytest.raises(ValueError):
        decisions_in({})
