"""`rounds draw`: what is written where, and what is said when it cannot be."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from drawing import by_hand as made

from tracker.cli.draw import draw_file, painted, writable
from tracker.drawing.styled_text import PictureBit, Style, line

PATTERN = """
title = "Pebble [b]"
[gauge]
stitch = "sc"
stitches = 20
rounds = 20
over = "10 cm"
[yarn.A]
name = "slate"
colour = "#445566"
[[piece]]
name = "Stone"
start = "spiral"
rounds = '''
Rnd 1 (A): 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: sc around (12)
Rnd 4: sc around (12)
'''
[[piece]]
name = "../Sto/ne"
start = "rows"
rounds = '''
Row 1 (A): ch 11, sc in 2nd ch from hook and in each ch across, turn (10)
Row 2: ch 1, sc across, turn (10)
'''
"""


@pytest.fixture
def pebble(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("LINES", "24")
    path = tmp_path / "pebble.toml"
    path.write_text(PATTERN, encoding="utf-8")
    return str(path)


def test_all_pieces_are_drawn_on_standard_output(pebble: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(pebble) == 0
    shown = capsys.readouterr().out
    assert "Pebble [b]: Stone" in shown
    assert "Pebble [b]: ../Sto/ne" in shown
    assert "sc - single crochet" in shown
    assert "\x1b" not in shown


def test_uk_terms_are_used_when_asked_for(pebble: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(pebble, "stone", terms="UK") == 0
    shown = capsys.readouterr().out
    assert "dc - double crochet" in shown
    assert "sc" not in shown.split()


def test_one_round_is_drawn(pebble: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(pebble, "Stone", 2) == 0
    assert "Stone, Rnd 2" in capsys.readouterr().out


def test_an_outline_stands_as_far_as_the_round(pebble: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(pebble, "Stone", 3, as_outline=True) == 0
    shown = capsys.readouterr().out
    assert "3 of 4 rounds made" in shown
    assert "AAAA" in shown
    assert "····" in shown
    assert "cm across" in shown


def test_rows_have_an_outline_too(pebble: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(pebble, "../Sto/ne", as_outline=True) == 0
    assert "about 5.0 cm wide and 1.0 cm long" in capsys.readouterr().out


def test_one_piece_goes_into_the_file_named(pebble: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "out.svg"
    assert draw_file(pebble, "Stone", output=target) == 0
    ET.parse(target)
    assert capsys.readouterr().out == f"drawn: {target}\n"


def test_several_pieces_go_into_files_of_their_own_in_the_same_folder(pebble: str, tmp_path: Path) -> None:
    """The name of a piece never leads out of the folder."""
    assert draw_file(pebble, output=tmp_path / "out.svg") == 0
    assert sorted(path.name for path in tmp_path.glob("*.svg")) == ["out-sto-ne.svg", "out-stone.svg"]


def test_the_outline_of_all_pieces_is_one_sheet_at_one_scale(
    pebble: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "out.svg"
    assert draw_file(pebble, as_outline=True, output=target) == 0
    words = [text.text for text in ET.parse(target).getroot().iter("{http://www.w3.org/2000/svg}text")]
    assert {"Stone", "../Sto/ne", "slate"} <= set(words)
    assert draw_file(pebble, as_outline=True) == 0
    assert "from left to right: Stone, ../Sto/ne" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ({"piece_name": "stome"}, "there is no piece called stome; did you mean Stone?"),
        ({"piece_name": "zzz"}, "there is no piece called zzz; there are: Stone, ../Sto/ne"),
        ({"round_number": 1}, "say which piece the round is of, with --piece: Stone, ../Sto/ne"),
        ({"piece_name": "Stone", "round_number": 9}, "Stone has no round 9; its rounds are 1 to 4"),
        ({"output": Path("/no/such/folder/x.svg")}, "choose another file with -o"),
    ],
)
def test_what_cannot_be_drawn_is_told(
    options: dict[str, object], message: str, pebble: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert draw_file(pebble, **options) == 2  # type: ignore[arg-type]
    told = capsys.readouterr()
    assert message in told.err
    assert told.out == ""


def test_a_file_that_is_no_pattern_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert draw_file(str(tmp_path / "missing.toml")) == 2
    assert "no such file" in capsys.readouterr().err


def test_a_yarn_is_painted_as_the_ground_behind_readable_letters() -> None:
    """Text with markup in it stays text."""
    text = painted(line([PictureBit("RR", Style.DONE, "R"), "[red]x[/red]"]), made.pattern())
    assert text.plain == "RR[red]x[/red]"
    assert [str(span.style) for span in text.spans] == ["#ffffff on #b23a2e"]


def test_an_outline_in_colour_is_painted_in_halves_and_its_letters_stay_for_others() -> None:
    drawn = line(
        [PictureBit("RC", Style.DONE, "R", ("#b23a2e", "#efe3c8")), PictureBit("R", Style.DONE, "R", ("", "#b23a2e"))]
    )
    text = painted(drawn, made.pattern(), in_colour=True)
    assert text.plain == "▀▀▄"
    assert [str(span.style) for span in text.spans] == ["#b23a2e on #efe3c8", "#b23a2e"]
    assert painted(drawn, made.pattern()).plain == "RCR"


def test_a_terminal_without_these_signs_gets_others() -> None:
    """One for one, so that columns stay; what has no other sign is a question mark."""
    drawn = line([PictureBit("†‡•", Style.SYMBOL), " → é"])
    assert writable(drawn, "ascii").text == "tl* > ?"
    assert writable(drawn, "utf-8") is drawn
