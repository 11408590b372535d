"""What is sent to the terminal is shortened; a terminal shows the same. The outside check is pyte, a terminal in a
library, which follows ECMA-48 without knowing anything of ours."""

from __future__ import annotations

import pyte
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import ColorSystem
from rich.style import Style

from tracker.tui.pen import CellPatch, shortened, write_patches

COLOURS = st.sampled_from(("default", "red", "bright_green", "color(243)", "color(16)", "#17140f", "#efe6d5"))
STYLES = st.builds(
    Style,
    color=COLOURS,
    bgcolor=COLOURS,
    bold=st.booleans(),
    italic=st.booleans(),
    reverse=st.booleans(),
    underline=st.booleans(),
    strike=st.booleans(),
)
TEXTS = st.text("ab █▀é", min_size=1, max_size=6)
RUNS = st.tuples(st.integers(1, 6), st.integers(1, 24), st.lists(st.tuples(STYLES, TEXTS), min_size=1, max_size=2))
FRAMES = st.lists(RUNS, max_size=12)
SYSTEMS = st.sampled_from((ColorSystem.STANDARD, ColorSystem.EIGHT_BIT, ColorSystem.TRUECOLOR))


def sent(frame: list[tuple[int, int, list[tuple[Style, str]]]], system: ColorSystem) -> str:
    """A frame as Textual writes it: a place, runs of text each with its whole style, a line feed."""
    lines = (
        f"\x1b[{row};{column}H" + "".join(style.render(text, color_system=system) for style, text in runs)
        for row, column, runs in frame
    )
    return "\n".join(lines)


def shown(*written: str) -> list[list[tuple[object, ...]]]:
    """Every cell of a terminal; of a blank that is not marked, only what can be seen."""
    screen = pyte.Screen(40, 6)
    stream = pyte.Stream(screen)
    for part in written:
        stream.feed(part)
    return [[_seen(screen.buffer[y][x]) for x in range(40)] for y in range(6)]


def _seen(cell: pyte.screens.Char) -> tuple[object, ...]:
    if cell.data == " " and not (cell.reverse or cell.underscore or cell.strikethrough):
        return (cell.bg,)
    return tuple(cell)


@given(FRAMES, FRAMES, SYSTEMS)
def test_a_terminal_shows_the_same(
    first: list[tuple[int, int, list[tuple[Style, str]]]],
    second: list[tuple[int, int, list[tuple[Style, str]]]],
    system: ColorSystem,
) -> None:
    frames = [sent(first, system), sent(second, system), "\x1b[1;1Hend"]
    assert shown(*map(shortened, frames)) == shown(*frames)
    assert all(len(shortened(frame)) <= len(frame) for frame in frames)


@given(FRAMES, SYSTEMS)
def test_patches_look_as_textual_would_write_them(
    frame: list[tuple[int, int, list[tuple[Style, str]]]], system: ColorSystem
) -> None:
    patches = [CellPatch(column - 1, row - 1, [(text, style) for style, text in runs]) for row, column, runs in frame]
    as_textual = sent(frame, system).replace("\n", "")  # a line feed in the last line would scroll
    assert shown(write_patches(patches, system), "end") == shown(as_textual, "\x1b[1;1Hend")


def test_a_style_is_said_once() -> None:
    strong = Style(color="color(243)", bgcolor="color(16)", bold=True)
    frame = sent([(2, 3, [(strong, "one")]), (3, 3, [(strong, "two")])], ColorSystem.EIGHT_BIT)
    assert shortened(frame) == "\x1b[2;3H\x1b[1;38;5;243;48;5;16mone\x1b[3;3Htwo\x1b[0m"


@pytest.mark.parametrize(
    "data",
    [
        "\x1b[?1049h\x1b[?25l",
        "\x1b[>1u\x1b[?2026h\x1b[?2026l",
        "\x1b]0;title\x07",
        "\x1b[58;5;3mcurled\x1b[0m",
        "last line\n\x1b[1;1Hscrolled",
        "\x1b[6;1Hlast\n\x1b[6;1Hscrolled",
    ],
)
def test_what_is_no_style_is_left_alone(data: str) -> None:
    assert shortened(data) == data
