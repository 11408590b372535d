"""Only what is used is explained, with the names of the Craft Yarn Council's master list (from memory)."""

from __future__ import annotations

import pytest
from support.document_patterns import SHIPPED, shipped

from tracker.document.builder import Wish, compose
from tracker.notation.context import Context
from tracker.pattern.loader import load
from tracker.phrasing.abbreviations import Texts, abbreviations


def used(round_: str, terms: str = "US", note: str = "", **context: object) -> dict[str, str]:
    found = abbreviations(Texts((round_,), (note,)), Context(**context), terms)  # type: ignore[arg-type]
    return {short: meaning for short, meaning in found if short[0].isalpha() and short != "x 6"}


CASES = {
    "stitches in US terms": ("5 sc, hdc in next st", "US", {"sc": "single crochet", "hdc": "half double crochet"}),
    "stitches in UK terms": ("5 dc, htr in next st", "UK", {"dc": "double crochet", "htr": "half treble"}),
    "together": (
        "sc2tog, dc3tog",
        "US",
        {"sc2tog": "single crochet 2 together"},
    ),
    "posts": ("FPdc", "US", {"FPdc": "front post double crochet"}),
    "a stitch by its name needs no explaining": ("single crochet in each stitch", "US", {}),
    "an increase of a stitch": (
        "hdc inc x 6",
        "US",
        {"hdc": "half double crochet"},
    ),
}


@pytest.mark.parametrize(("round_", "terms", "names"), CASES.values(), ids=CASES)
def test_an_abbreviation_has_its_name(round_: str, terms: str, names: dict[str, str]) -> None:
    found = used(round_, terms)
    assert {short: found.get(short) for short in names} == names
    assert set(found) - set(names) <= {"st", "sc", "dc", "inc", "dc3tog"}


def test_a_group_is_explained_as_the_pattern_defines_it() -> None:
    assert used("shell x 6", bunches=(("shell", (("dc", 5),)),))["shell"] == "5 dc in one place"
    assert used("shell x 6", "UK", bunches=(("shell", (("dc", 5),)),))["shell"] == "5 tr in one place"


def test_a_yarn_key_is_no_abbreviation() -> None:
    assert "sk" not in used("(SK) 5 sc", colours=frozenset({"sk"}))


def test_stitches_in_notes_are_explained_too() -> None:
    assert used("5 sc", note="the edge is dtr")["dtr"] == "double treble"


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
@pytest.mark.parametrize("terms", ["US", "UK"])
def test_nothing_is_explained_that_is_not_on_the_sheet(path, terms: str) -> None:
    sheet = compose(load(path), Wish(terms))
    lines = " ".join(line.text for piece in sheet.pieces for line in piece.lines)
    beside = [*sheet.notes, sheet.gauge, *(note for piece in sheet.pieces for note in piece.notes)]
    beside += [said for piece in sheet.pieces for line in piece.lines for said in line.watch]
    words = f"{lines} {' '.join(beside)}".lower()
    for short, _ in sheet.abbreviations:
        if short[0].isalpha() and " " not in short:
            assert short.lower() in words, short


def test_a_sheet_in_uk_terms_never_names_a_us_stitch() -> None:
    sheet = compose(shipped("tide-pool-coaster"), Wish("UK"))
    assert dict(sheet.abbreviations)["tr"] == "treble"
    assert "sc" not in dict(sheet.abbreviations)
    assert sheet.gauge_word == "Tension"


def test_every_short_word_of_a_round_is_listed() -> None:
    """Abbreviations as of the Craft Yarn Council's list and two UK books (read about, seen restated)."""
    found = used(
        "With MC, MB, dc in ea st, alt 1 dc, 1 tr; with CC, yrh and ss", "UK", colours=frozenset({"mc", "cc"})
    )
    names = {"ea": "each", "alt": "alternate", "CC": "contrasting colour", "MC": "main colour"}
    assert {short: found.get(short) for short in names} == names
    assert found["yrh"] == "yarn round hook" and found["MB"].startswith("bobble: ")
