"""Lines fit where they are put, and nothing of a text is lost or taken for markup."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.tui.render.styled_text import (
    Bit,
    Look,
    centred,
    clean,
    filled,
    fit,
    line,
    merged,
    overlaid,
    spread,
    text_of,
    width_of,
    wrap,
)

texts = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs")), max_size=60)
lines = st.lists(st.builds(Bit, texts, st.sampled_from(Look)), max_size=6).map(lambda bits: line(*bits))


@given(lines, st.integers(0, 50))
def test_a_fitted_line_has_exactly_its_width(a_line: tuple[Bit, ...], width: int) -> None:
    assert width_of(fit(a_line, width)) == width


@given(lines, st.integers(1, 40), st.sampled_from(["", "  "]))
def test_no_wrapped_line_is_wider_than_the_room(a_line: tuple[Bit, ...], width: int, indent: str) -> None:
    room = max(width, 4)
    assert all(width_of(part) <= room for part in wrap(a_line, room, indent))


@given(lines, st.integers(4, 40))
def test_wrapping_loses_nothing_but_spaces(a_line: tuple[Bit, ...], width: int) -> None:
    wrapped = "".join(text_of(part) for part in wrap(a_line, width))
    assert "".join(wrapped.split()) == "".join(text_of(a_line).split())


@given(lines, st.integers(4, 40))
def test_wrapping_keeps_the_look_of_every_letter(a_line: tuple[Bit, ...], width: int) -> None:
    def letters(parts: list[tuple[Bit, ...]]) -> list[tuple[str, Look]]:
        return [(c, bit.look) for part in parts for bit in part for c in bit.text if not c.isspace()]

    assert letters(wrap(a_line, width)) == letters([a_line])


@given(lines)
def test_merging_changes_only_where_bits_end(a_line: tuple[Bit, ...]) -> None:
    assert text_of(merged(a_line)) == text_of(a_line)
    looks = [(bit.look, bit.colour) for bit in merged(a_line)]
    assert all(one != other for one, other in pairwise(looks))


@pytest.mark.parametrize(
    ("text", "width", "expected"),
    [
        ("sc around", 20, ["sc around"]),
        ("(1 sc, inc) x 6 (18)", 11, ["(1 sc, inc)", "x 6 (18)"]),
        ("abcdefghij", 4, ["abcd", "efgh", "ij"]),
        ("a  b", 10, ["a  b"]),
        ("[bold]x[/x]", 20, ["[bold]x[/x]"]),
    ],
    ids=["fits", "broken at a space", "one long word", "spaces inside are kept", "brackets are brackets"],
)
def test_wrapping(text: str, width: int, expected: list[str]) -> None:
    assert [text_of(part) for part in wrap([Bit(text)], width)] == expected


def test_a_line_that_is_cut_says_so() -> None:
    assert text_of(fit(line("single crochet"), 8)) == "single …"


def test_what_steers_a_terminal_is_taken_out() -> None:
    assert clean("a\x1b[31mb\x07c\td\u202ee\n") == "a[31mbc de "


def test_two_parts_at_the_two_edges() -> None:
    assert text_of(spread(line("Cap"), line("today"), 12)) == "Cap    today"
    assert text_of(spread(line("A long name"), line("today"), 12)) == "A lon… today"


def test_centred_and_filled() -> None:
    assert text_of(centred(line("ab"), 6)) == "  ab  "
    assert [text_of(part) for part in filled([line("ab")], 3, 2)] == ["ab ", "   "]


def test_lines_laid_over_others() -> None:
    below = [line("......"), line("......")]
    assert [text_of(part) for part in overlaid(below, [line("ab")], 2, 1)] == ["......", "..ab.."]
    assert [text_of(part) for part in overlaid(below, [line("ab"), line("cd")], 0, -1)] == ["cd....", "......"]
