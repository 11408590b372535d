"""Yarn colours stay visible. Contrast is checked against the definition of WCAG 2.1 (relative luminance)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.building import pattern, piece, ring, rnd

from tracker.drawing.styled_text import PictureBit, Style
from tracker.drawing.styled_text import line as outline_line
from tracker.pattern.model import Yarn
from tracker.tui.palette import PALETTES, style
from tracker.tui.panel import _segments
from tracker.tui.render.drawn import drawn_line
from tracker.tui.render.styled_text import Look, text_of
from tracker.tui.render.yarn_colours import contrast, legible, luminance, swatches

PAPERS = [palette.paper for palette in PALETTES.values() if palette.paper]


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ((0.0, 0.0, 0.0), (1.0, 1.0, 1.0), 21.0),
        ((1.0, 1.0, 1.0), (1.0, 1.0, 1.0), 1.0),
        ((1.0, 0.0, 0.0), (1.0, 1.0, 1.0), 4.0),
        ((0.467, 0.467, 0.467), (1.0, 1.0, 1.0), 4.48),
    ],
    ids=["black on white is 21", "white on white is 1", "pure red on white is 4.00", "#777 on white is 4.48"],
)
def test_contrast_is_that_of_wcag(one: tuple[float, ...], other: tuple[float, ...], ratio: float) -> None:
    """The first two from the definition; the others are the ratios that its published examples give."""
    assert contrast(one, other) == pytest.approx(ratio, abs=0.01)  # type: ignore[arg-type]


def test_green_weighs_most_and_blue_least() -> None:
    assert luminance((0, 1, 0)) > luminance((1, 0, 0)) > luminance((0, 0, 1))


def rgb(colour: str) -> tuple[float, float, float]:
    return int(colour[1:3], 16) / 255, int(colour[3:5], 16) / 255, int(colour[5:7], 16) / 255


SHAPE_CONTRAST = 3.0
"""For shapes; source: WCAG 2.1, success criterion 1.4.11, non-text contrast: at least 3:1."""

TEXT_CONTRAST = 4.5
"""For text; source: WCAG 2.1, success criterion 1.4.3, contrast (minimum), from memory."""


@pytest.mark.parametrize("look", ["ink", "faint", "done", "now", "cue", "warning", "good"])
@pytest.mark.parametrize("name", [name for name, palette in PALETTES.items() if palette.paper])
def test_all_that_is_written_can_be_read_on_its_paper(name: str, look: str) -> None:
    """Signals are written in the colour of the paper on their own; the ratio is the same."""
    palette = PALETTES[name]
    assert contrast(rgb(getattr(palette, look)), rgb(palette.paper)) >= TEXT_CONTRAST


def test_a_yarn_without_a_code_is_shown_as_its_name_tells() -> None:
    yarns = (Yarn("A", "pale teal"), Yarn("B", "wool"))
    known = swatches(replace(pattern(piece(rnd(1, ring(6)))), yarns=yarns), "#000000")
    assert known == {"A": legible("#80c0c0", "#000000")}


@given(st.integers(0, 0xFFFFFF), st.sampled_from(PAPERS))
def test_every_yarn_can_be_seen_on_every_paper(colour: int, paper: str) -> None:
    # Colours are rounded to 256 steps, which can cost a hundredth of the ratio.
    assert contrast(rgb(legible(f"#{colour:06x}", paper)), rgb(paper)) >= SHAPE_CONTRAST - 0.05


@given(st.integers(0, 0xFFFFFF), st.sampled_from(PAPERS))
def test_a_colour_that_can_be_seen_stays_as_it_is(colour: int, paper: str) -> None:
    written = f"#{colour:06x}"
    if contrast(rgb(written), rgb(paper)) >= SHAPE_CONTRAST:
        assert legible(written, paper) == written


def test_yarns_without_a_readable_colour_have_no_swatch() -> None:
    yarns = (Yarn("A", "a", "#b23a2e"), Yarn("B", "b", "brick"), Yarn("C", "c"), Yarn("D", "d", "#fff"))
    made = pattern(piece("Cap", rnd(1, ring(6))))
    made = type(made)(made.title, made.pieces, yarns=yarns)
    assert swatches(made, "#000000") == {"A": "#b23a2e", "D": "#ffffff"}


def test_a_colour_is_moved_no_further_than_it_must() -> None:
    """One step (a twentieth of the way to white) past what can be seen at most: it stays as near as can be."""
    grey = rgb(legible("#333333", "#000000"))
    assert SHAPE_CONTRAST <= contrast(grey, (0.0, 0.0, 0.0)) < SHAPE_CONTRAST + 0.6


def test_an_outline_is_lit_in_half_blocks_where_there_is_colour_and_letters_elsewhere() -> None:
    cells = outline_line(
        [
            PictureBit("RR", Style.DONE, "R", ("#b23a2e", "#901010")),
            PictureBit("R", Style.DONE, "R", ("", "#b23a2e")),
        ]
    )
    lit = drawn_line(cells, {}, in_colour=True)
    assert [(bit.text, bit.look, bit.colour) for bit in lit] == [
        ("▀▀", Look.HALVES, "#b23a2e#901010"),
        ("▄", Look.HALVES, "#b23a2e"),
    ]
    assert str(style(next(iter(PALETTES.values())), Look.HALVES, "#b23a2e#901010")) == "#b23a2e on #901010"
    assert text_of(drawn_line(cells, {})) == "RRR"


def test_blanks_beside_a_coloured_ground_stay_on_their_own_paper() -> None:
    palette = next(iter(PALETTES.values()))
    plain, lit = style(palette, Look.PLAIN), style(palette, Look.HALVES, "#b23a2e#901010")
    segments = _segments([("▀▀", lit), ("   ", plain)])
    assert [(segment.text, segment.style) for segment in segments] == [("▀▀", lit), ("   ", plain)]
