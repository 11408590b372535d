"""A plain line or heading is read without the grammar: it comes out node by node as that reads it."""

from __future__ import annotations

from unittest.mock import patch

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from support.plain_texts import lines, plain_lines

from tracker.notation import reader
from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.notation.parser import heading
from tracker.notation.reader import read_line, read_round

contexts = st.builds(
    Context,
    terms=st.sampled_from(["US", "UK"]),
    chain_counts=st.sampled_from([None, True, False]),
    colours=st.frozensets(
        st.sampled_from(["a", "b", "x", "x6", "dc", "mc", "c1", "red", "sky blue", "1", "st", "sea-green", "dc pink"])
    ),
    size=st.sampled_from([0, 0, 0, 1]),
    sizes=st.sampled_from([0, 0, 0, 2]),
)


def by_grammar(text: str, context: Context, main: str) -> Line:
    with patch.object(reader, "plain_line", return_value=None):
        return read_line(text, context, main)


@given(st.one_of(lines(), plain_lines(), plain_lines()), contexts, st.sampled_from(["sc", "dc", "sl st"]))
@example("Rnd 4: 2 sc, inc, (sc, dec) x 6, sc in each st around (18)", Context(), "sc")
@example("Rnds 3-5: inc x 6", Context(), "sc")
@example("2 sc, inc x 6", Context(), "sc")
@example("inc, sc", Context(), "sc")
@example("R4: \n  17 sc, inc, (sc, inc) x 4, 5 sc (23)", Context(), "sc")
@example("inc x6 (12)", Context(colours=frozenset({"x6"})), "sc")
def test_a_line_is_read_as_the_grammar_reads_it(text: str, context: Context, main: str) -> None:
    expected = by_grammar(text, context, main)
    assert read_line(text, context, main) == expected
    assert read_round(text, context, main) == expected


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 4: 2 sc, inc, (sc, dec) x 6, sc in each st around (18)",
        "Rnd 2: inc x 6 (12)",
        "Rnd 3: (2 sc, inc) x 6 [24 sts]",
        "R5: [sc in next 2 sts, 2 sc in next st] 6 times (24)",
        "Rnds 6-9: sc in each st around (24)",
        "Row 7: hdc around",
        "57 sc, inc, 12 sc, dec, 20 sc (92)",
    ],
)
def test_plain_lines_need_no_grammar(text: str) -> None:
    with patch("tracker.notation.grammar.read_words", side_effect=AssertionError("read by the grammar")):
        assert read_line(text).body
        assert read_round(text, Context(colours=frozenset({"a", "mc", "c1", "sky blue"})), "sc").body


def test_rounds_that_say_the_same_have_the_same_body() -> None:
    """What is weighed once for a body is so for all rounds that have it."""
    first, second = (read_round(f"Rnd {number}: (2 sc, inc) x 6 (24)", Context(), "sc") for number in (4, 5))
    assert first.body is second.body
    assert (first.heading.numbers, second.heading.numbers) == ((4,), (5,))


@st.composite
def headings(draw: st.DrawFn) -> str:
    """Plain headings and nearly plain ones, with something behind them."""
    word = draw(st.sampled_from(["rnd", "round", "row", "r", "rnds", "rounds", "rows", "rs", "rd", "odd rnds"]))
    first, last = draw(st.integers(0, 30)), draw(st.sampled_from([3, 6, 20_001, 99_999]))
    number = draw(
        st.sampled_from([f"{first}", f"{first}", f"{first}-{last}", f"{first} - {last}", f"{first}, {last}"])
    )
    sign = draw(st.sampled_from([": ", ": ", ":", ". ", ":  ", ": - ", " (18): ", "+: "]))
    behind = ["sc around", "3 sc", "(sc, inc) x 6", "[inc] 3 times", "5) 6 sc", "5: 6 sc", "4-5", "(18)", "", "*sc*"]
    behind += ["rnd 5: sc", "to 5: 3 sc", "3 and 4: sc", "odd rounds: sc", "last round: sc", "2nd row: 3 sc", "ch 3"]
    return f"{word}{draw(st.sampled_from([' ', ' ', '']))}{number}{sign}{draw(st.sampled_from(behind))}"


@given(headings())
def test_a_heading_is_read_as_the_grammar_reads_it(text: str) -> None:
    with patch.object(heading, "_plain", return_value=None):
        expected = heading._heading.__wrapped__(text)
    assert heading._heading.__wrapped__(text) == expected


@pytest.mark.parametrize("text", ["rnd 4: 3 sc", "rnds 5-8: sc around", "row 12: (sc, inc) x 6", "r3: [sc, inc] x 6"])
def test_plain_headings_are_looked_for_in_one_form(text: str) -> None:
    with patch.object(heading, "_of_any_form", side_effect=AssertionError("looked for other forms")):
        assert heading._heading.__wrapped__(text).numbers
