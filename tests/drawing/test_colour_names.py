"""Yarns that are named and have no code are drawn in the colour of their name."""

from __future__ import annotations

import pytest
from drawing import by_hand as made
from rich.color import ANSI_COLOR_NAMES

from tracker.drawing.yarn_letters import inks, lightness
from tracker.pattern.colour_names import SHADES, STANDARD, colour_of_name, plain_colour
from tracker.pattern.model import Pattern, Yarn


@pytest.mark.parametrize(
    ("name", "colour"),
    [
        ("red", "#ff0000"),
        ("Signal Red", "#ff0000"),
        ("rose pink", "#ffc0cb"),
        ("Navy", "#000080"),
        ("Grey (MC)", "#808080"),
        ("gray", "#808080"),
        ("light blue", "#8080ff"),
        ("dark green", "#005500"),
        ("", ""),
        ("A", ""),
        ("main colour", ""),
        ("redwood", ""),
        ("<script>", ""),
    ],
)
def test_a_name_tells_a_colour_or_nothing(name: str, colour: str) -> None:
    """Values: CSS Color Module Level 4 (W3C), named colours, from memory."""
    assert colour_of_name(name) == colour


def test_every_colour_of_the_tables_is_a_code() -> None:
    assert not STANDARD.keys() & SHADES.keys()
    assert all(plain_colour(colour) == colour for colour in (*STANDARD.values(), *SHADES.values()))


@pytest.mark.parametrize("word", ["red", "green", "blue", "yellow", "magenta", "black", "white"])
def test_the_main_colours_lie_where_a_general_library_has_them(word: str) -> None:
    """The same channels are strong as in the sixteen colours of a terminal that a general library names."""
    bright = {"red": "100", "green": "010", "blue": "001", "yellow": "110", "magenta": "101", "black": "000"}
    assert word in ANSI_COLOR_NAMES
    code = STANDARD[word]
    strong = "".join(str(int(int(code[place : place + 2], 16) > 100)) for place in (1, 3, 5))
    assert strong == bright.get(word, "111")


def test_a_code_goes_before_a_name_and_a_name_before_nothing() -> None:
    yarns = (Yarn("A", "red", "#123456"), Yarn("B", "pale blue"), Yarn("C", "wool"), Yarn("D", "wool", "teal"))
    known = inks(Pattern("T", (made.disk(2),), yarns=yarns), "ABCD")
    assert [ink.colour for ink in known.values()] == ["#123456", "#8080ff", "", "#008080"]


def test_a_key_that_is_a_colour_needs_no_list_of_yarns() -> None:
    assert inks(Pattern("T", ()), ["white"])["white"].colour == "#ffffff"


@pytest.mark.parametrize("word", sorted({*STANDARD, *SHADES} - {"white", "black"}))
def test_light_is_lighter_and_dark_is_darker(word: str) -> None:
    plain = lightness(colour_of_name(word))
    assert lightness(colour_of_name(f"dark {word}")) < plain < lightness(colour_of_name(f"light {word}"))
