"""A plain line or heading is read without the grammar: it comes out node by node as that reads it."""

from __future__ import annotations

from unittest.mock import patch

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tracker.notation import reader
from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.notation.parser import heading
from tracker.notation.reader import read_line, read_round

NUMBERS = st.sampled_from(["1", "2", "3", "4", "5", "6", "7", "12", "13", "20", "100", "999999"])
STITCHES = st.sampled_from(["sc", "hdc", "dc", "tr", "dtr", "htr"])
HEADINGS = ["", "Rnd 4: ", "R4: ", "Round 10: ", "row 3: ", "Rnds 5-8: ", "Rnd 5-8: ", "Rnds 8-5: ", "Next rnd: "]
HEADINGS += ["4) ", "Rnd 4 (30): ", "Rnd 5+: ", "Rnds 4, 6: ", "Even rnds: ", "Cap, rnd 4: ", "Rnd 4 - ", "Inc rnd: "]
PLACES = ["around", "in each st", "in each st around", "in each stitch around", "in next st", "in next stitch"]


@st.composite
def items(draw: st.DrawFn) -> str:
    """One item: plain, or as it is written by those who mean something besides."""
    number, other = draw(NUMBERS), draw(NUMBERS)
    word = draw(st.one_of(STITCHES, st.sampled_from(["inc", "dec"])))
    place = draw(
        st.sampled_from([*PLACES, f"in next {other} sts", f"in next {other} stitches", "in ring", "together"])
    )
    return draw(
        st.sampled_from(
            [
                *(f"{number} {word}", f"{number} {word}", word, word, f"{word} {number}", f"{word} x {number}"),
                *(f"{word} x{number}", f"{word} {place}", f"{number} {word} {place}", f"{word}{number}"),
                *(f"{word} {number} {place}", f"{number} {word} x {other}", f"{number}{word}", f"{word} {word}"),
                *(f"{number} sts", "ch 1", "sl st", f"{number}", "sk 1", "turn", "BLO", f"{number} {word} evenly"),
            ]
        )
    )


@st.composite
def groups(draw: st.DrawFn) -> str:
    opens, closes = draw(st.sampled_from([("(", ")"), ("(", ")"), ("[", "]"), ("*", "*"), ("(", "]"), ("(", "")]))
    inside = draw(
        st.lists(st.one_of(items(), items(), items().map(lambda one: f"({one}) x 2")), min_size=1, max_size=3)
    )
    number = draw(NUMBERS)
    often = [f" x {number}", f" x{number}", f" {number} times", f" *{number}", f" {number}", "", " around", " twice"]
    return f"{opens}{', '.join(inside)}{closes}{draw(st.sampled_from(often))}"


@st.composite
def lines(draw: st.DrawFn) -> str:
    """Plain lines and nearly plain ones: a small part of them has something that the grammar alone reads."""
    parts = draw(st.lists(st.one_of(items(), items(), groups()), min_size=1, max_size=5))
    number = draw(NUMBERS)
    totals = ["", f" ({number})", f" [{number}]", f" ({number} sts)", f", ({number})", f" = {number}", f" ({number}]"]
    signs = draw(st.lists(st.sampled_from([", ", ", ", ", ", "; ", " ", ",", ". "]), min_size=5, max_size=5))
    text = "".join(part + sign for part, sign in zip(parts, signs, strict=False))
    for sign in (", ", "; ", " ", ",", ". "):
        text = text.removesuffix(sign)
    line = draw(st.sampled_from(HEADINGS)) + text + draw(st.sampled_from(totals))
    return draw(st.sampled_from([line, line, line.upper(), f"{line}.", f"{line} ", line.replace(", ", ",  ")]))


PLAIN_PARTS = st.one_of(
    st.builds("{} {}".format, NUMBERS, st.sampled_from(["sc", "dc", "tr", "inc", "dec"])),
    st.builds("{} {}".format, st.sampled_from(["sc", "dc", "tr", "inc"]), NUMBERS),
    st.builds("{} {}".format, st.sampled_from(["sc", "dc", "tr", "inc"]), st.sampled_from(PLACES[1:])),
    st.builds("{} dc {}".format, NUMBERS, st.sampled_from(PLACES[1:])),
    st.builds("dc in next {} sts".format, NUMBERS),
    st.sampled_from(["inc", "dec", "sc", "dc", "tr"]),
)


@st.composite
def plain_lines(draw: st.DrawFn) -> str:
    """Lines of nothing but what may stand in a plain one; still not each of them is."""
    parts = draw(st.lists(PLAIN_PARTS, min_size=1, max_size=5))
    group = f"({', '.join(draw(st.lists(PLAIN_PARTS, min_size=1, max_size=3)))}) x {draw(NUMBERS)}"
    parts.insert(draw(st.integers(0, len(parts))), draw(st.sampled_from([group, "inc x 6", "sc x 5", "inc"])))
    total = draw(st.sampled_from(["", f" ({draw(NUMBERS)})", f" [{draw(NUMBERS)} sts]"]))
    return f"{draw(st.sampled_from(HEADINGS[:6]))}{', '.join(parts)}{total}"


contexts = st.builds(
    Context,
    terms=st.sampled_from(["US", "UK"]),
    chain_counts=st.sampled_from([None, True, False]),
    colours=st.frozensets(st.sampled_from(["a", "b", "x", "x6", "dc", "mc", "c1", "red", "sky blue", "1", "st"])),
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
        assert read_round(text, Context(), "sc").body


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
