"""The SVG is well formed, self-contained and safe; the terminal drawing has a character for each stitch."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter

import pytest
from drawing import by_hand as made

from tracker.drawing.chart import chart_of_piece, chart_of_round
from tracker.drawing.chart_svg import chart_svg
from tracker.drawing.chart_text import chart_text
from tracker.drawing.legend import key
from tracker.drawing.styled_text import PictureLine, Style
from tracker.pattern.model import Piece
from tracker.rounds.plan import Act, Made, Repeat, Role, Run

SVG = "{http://www.w3.org/2000/svg}"
PIECES = {
    "disk": made.disk(6, "RRRCCG"),
    "ball": made.ball(),
    "mandala": made.mandala(),
    "oval": made.oval(),
    "rows": made.rows(),
}
NASTY = "[@click=app.quit]</svg>&<script>alert(1)</script>\x1b[31m\u202e\x00 ]]>"


def svg(piece: Piece, terms: str = "US", title: str = "Thing") -> ET.Element:
    return ET.fromstring(chart_svg(chart_of_piece(piece), made.pattern(piece), f"{title}: {piece.name}", terms))


def words(root: ET.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


@pytest.mark.parametrize("name", PIECES)
def test_the_picture_stands_alone(name: str) -> None:
    """One file: nothing fetched, no script, no style from elsewhere."""
    piece = PIECES[name]
    text = chart_svg(chart_of_piece(piece), made.pattern(piece), "Thing")
    assert not re.search(r"href|url\(|<script|<style|<image|@import", text)
    tags = {element.tag.removeprefix(SVG) for element in ET.fromstring(text).iter()}
    assert tags <= {"svg", "title", "desc", "rect", "g", "path", "ellipse", "circle", "text"}


@pytest.mark.parametrize("name", PIECES)
def test_everything_lies_on_the_sheet(name: str) -> None:
    root = svg(PIECES[name])
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    for element in root.findall(f".//{SVG}text"):
        x, y = float(element.attrib["x"]), float(element.attrib["y"])
        if "transform" not in element.attrib:
            assert min(0, left) <= x <= max(left + width, width)
            assert min(0, top) <= y <= max(top + height, height)


@pytest.mark.parametrize("name", PIECES)
def test_each_round_has_its_number(name: str) -> None:
    found = {re.sub(r"\D", "", word) for word in words(svg(PIECES[name]))}
    assert {str(each.number) for each in PIECES[name].rounds} <= found


def test_yarns_have_letters_and_names_beside_their_colours() -> None:
    found = words(svg(PIECES["disk"]))
    assert {"R", "brick red", "C", "cream", "G", "moss green"} <= set(found)
    assert {"1R", "4C", "6G", "2", "3", "5"} <= set(found), "a letter where the yarn is a new one"


def test_a_change_within_a_round_has_its_letter() -> None:
    change = made.plan(Run(made.stitch(colour="R"), 3), Run(made.stitch(colour="G"), 3))
    piece = made.piece(made.plan(Run(made.in_ring(), 6)), change, colours="R")
    assert "G" in words(svg(piece))
    lines = chart_text(chart_of_piece(piece), made.pattern(piece), "Thing", piece.rounds, 80, 24)
    assert "2: R 3, G 3" in [line.text for line in lines]


def test_uk_terms_are_used_in_the_key() -> None:
    meanings = [entry.meaning for entry in key(chart_of_piece(PIECES["rows"]), "UK")]
    assert "dc - double crochet" in meanings
    assert "tr - treble" in meanings
    assert "1 dc, 1 htr in one place" in meanings
    assert "dc2tog (dec)" in meanings
    assert not any("sc" in meaning.split() for meaning in meanings)


def test_the_key_has_only_what_is_drawn() -> None:
    meanings = [entry.meaning for entry in key(chart_of_piece(PIECES["disk"]), "US")]
    assert meanings == ["sc - single crochet", "2 sc in one place (inc)"]


def test_text_from_outside_is_text() -> None:
    piece = made.piece(made.plan(Run(Act(NASTY, Role.WORK, (Made("frond"),), 0), 6)), name=NASTY, colours="R")
    root = svg(piece, title=NASTY)
    assert root.find(f".//{SVG}script") is None
    assert any("<script>" in word for word in words(root))
    lines = chart_text(chart_of_piece(piece), made.pattern(piece), NASTY, piece.rounds, 80, 24)
    shown = "".join(line.text for line in lines)
    assert not set(shown) & set("\x1b\x00\u202e\n")
    assert "[@click=app.quit]" in shown


@pytest.mark.parametrize("colour", ["red", "#12", "url(#x)", '"/><script>', "#12345g", ""])
def test_a_colour_that_is_none_is_left_out(colour: str) -> None:
    from tracker.pattern.model import Pattern, Yarn

    piece = made.piece(made.plan(Run(made.in_ring(), 6)), colours="Q")
    text = chart_svg(chart_of_piece(piece), Pattern("Thing", (piece,), yarns=(Yarn("Q", "odd", colour),)), "Thing")
    ET.fromstring(text)
    assert not colour or colour not in re.sub(r"<text.*?</text>", "", text)


def test_a_giant_round_makes_a_small_picture() -> None:
    giant = made.piece(
        made.plan(Run(made.in_ring(), 6)), made.plan(Repeat((Run(made.stitch()), Run(made.inc())), 3 * 10**9))
    )
    text = chart_svg(chart_of_round(giant, 1), made.pattern(giant), "Thing")
    assert len(text) < 60_000
    assert "more stitches are not drawn" in text
    lines = chart_text(chart_of_round(giant, 1), made.pattern(giant), "Thing", giant.rounds[1:], 80, 24)
    assert "Rnd 2    (x vv) 3,000,000,000 times  9,000,000,000" in [line.text for line in lines]


def body(lines: tuple[PictureLine, ...]) -> str:
    """The drawing alone: from the second line to the next blank one."""
    text = [line.text for line in lines]
    return "\n".join(text[2 : text.index("", 2)])


def test_a_disk_is_drawn_with_a_character_for_each_stitch() -> None:
    piece = made.disk(6)
    lines = chart_text(chart_of_piece(piece), made.pattern(piece), "Thing", piece.rounds, 80, 24)
    drawing = body(lines).split("read counter")[0]
    counts = Counter(drawing)
    assert counts["v"] == 6 * 2 * 5
    assert counts["x"] == 6 + 6 * (1 + 2 + 3 + 4)
    assert counts["@"] == 1
    assert all(len(line) <= 80 for line in drawing.split("\n"))


def test_a_round_of_sixty_fits_a_screen_as_a_ring() -> None:
    piece = made.piece(made.plan(Run(made.stitch(), 60)), made.plan(Run(made.stitch(), 60)))
    lines = chart_text(chart_of_round(piece, 1), made.pattern(piece), "Thing", piece.rounds[1:], 80, 24)
    assert Counter(body(lines).split("read counter")[0])["x"] == 60


def test_rows_are_drawn_one_above_the_other_with_arrows() -> None:
    piece = PIECES["rows"]
    lines = body(chart_text(chart_of_piece(piece), made.pattern(piece), "Thing", piece.rounds, 80, 24)).split("\n")
    assert lines[5].endswith("1C ←")
    assert lines[4].lstrip().startswith("→ 2")
    assert lines[3].count("†") == 13
    assert lines[6].count("o") == 14


def test_what_does_not_fit_is_drawn_a_line_a_round() -> None:
    piece = made.disk(12)
    lines = chart_text(chart_of_piece(piece), made.pattern(piece), "Thing", piece.rounds, 80, 24)
    text = body(lines).split("\n")
    assert text[0] == "Rnd 1    xxxxxx  6"
    assert text[4] == "Rnd 5    (xxx vv) 6 times  30"
    assert len(text) == 12


def test_every_character_of_a_drawing_is_explained() -> None:
    piece = PIECES["mandala"]
    for size in ((80, 24), (200, 60)):
        lines = chart_text(chart_of_piece(piece), made.pattern(piece), "Thing", piece.rounds, *size)
        text = [line.text for line in lines]
        explained = {character for line in text[text.index("", 2) :] for character in line.split("  ")[0]}
        signs = {bit.text for line in lines for bit in line.bits if bit.style is Style.SYMBOL}
        assert signs and all(set(sign.strip()) <= explained for sign in signs)


def test_an_unreadable_round_is_told_and_an_empty_piece_too() -> None:
    from tracker.pattern.model import Round

    piece = Piece("Odd", (Round(1, "Rnd 1", "gibberish", None),))
    chart = chart_of_piece(piece)
    assert chart.remarks == ("Rnd 1 could not be read and is not drawn",)
    ET.fromstring(chart_svg(chart, made.pattern(piece), "Thing"))
    lines = chart_text(chart, made.pattern(piece), "Thing", piece.rounds, 80, 24)
    assert "Rnd 1    could not be read" in [line.text for line in lines]
    empty = Piece("Nothing", ())
    ET.fromstring(chart_svg(chart_of_piece(empty), made.pattern(empty), "Thing"))
    lines = chart_text(chart_of_piece(empty), made.pattern(empty), "Thing", (), 80, 24)
    assert "there is nothing to draw yet" in [line.text for line in lines]
