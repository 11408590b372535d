"""What is told of a round while it is typed: numbers, what the next line needs, words that are not known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tracker.notation.context import Context
from tracker.pattern.live_reading import (
    Around,
    around,
    completed,
    completions,
    read_live,
    with_heading,
)
from tracker.pattern.loader import loads
from tracker.pattern.misprints.remedies import remedies
from tracker.rounds.bases import Base

HAT = loads(
    '''title = "Hat"
[[piece]]
name = "Hat"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sx, ict) x 6 (24)
Rnd 5: (3 sc, inc) x 6 (30)
Rnd 6: sc around
Rnd 7: sc around in the stitches of Rnd 5
"""
'''
)


@pytest.mark.parametrize(
    ("index", "text", "there", "takes", "leaves", "needs", "works"),
    [
        (2, "Rnd 3: (1 sc, inc) x 6", 12, 12, 18, None, False),
        (3, "Rnd 4: (2 sc, inc) x 6", 18, 18, 24, 24, True),
        (3, "Rnd 4: (2 sc, inc) x 5", 18, 15, 20, 24, False),
        (4, "Rnd 5: sc around", 24, 24, 24, None, True),
        (0, "Rnd 1: 8 sc in magic ring", None, 0, 8, 6, True),
    ],
)
def test_what_a_line_takes_and_leaves_and_what_the_next_one_needs(
    index: int, text: str, there: int | None, takes: int, leaves: int, needs: int | None, works: bool
) -> None:
    reading = read_live(text, around(HAT, 0, index))
    assert (reading.bases, reading.takes, reading.leaves) == (there, takes, leaves)
    assert reading.need is not None and reading.need.uses == needs
    assert reading.next_works is works or index == 0


def test_the_caret_stands_under_the_word_that_is_not_known() -> None:
    text = "Rnd 4: (2 sc, glorp) x 6"
    reading = read_live(text, around(HAT, 0, 3))
    assert reading.caret is not None
    assert not reading.is_clean
    assert "glorp" in text[reading.caret.start :]


@given(some.text(max_size=300))
def test_nothing_that_is_typed_makes_it_fail(text: str) -> None:
    there = Around(Base(12), Context())
    reading = read_live(text, there)
    assert reading.leaves is None or reading.leaves >= 0
    completions(text, len(text), there.context)


@given(some.integers(0, 60))
def test_every_beginning_of_a_line_can_be_read(length: int) -> None:
    text = "Rnd 4: (2 sc, inc) x 3, [sk 1, 3 dc in next st] x 3, sc around"
    assert read_live(text[:length], around(HAT, 0, 3)).text == text[:length]


@pytest.mark.parametrize(
    ("text", "terms", "first"),
    [
        ("(1 sc, in", "US", "inc"),
        ("sc aro", "US", "around"),
        ("2 hd", "US", "hdc"),
        ("2 ht", "UK", "htr"),
        ("2 sc", "US", None),
        ("12 ", "US", None),
        ("fasten of", "US", "off"),
    ],
)
def test_words_go_on(text: str, terms: str, first: str | None) -> None:
    assert next(iter(completions(text, len(text), Context(terms=terms))), None) == first


def test_a_yarn_of_the_pattern_is_offered_first() -> None:
    assert completions("(mo", 3, Context(colours=frozenset({"moss"})))[0] == "moss"


def test_a_word_is_completed_where_the_cursor_is() -> None:
    assert completed("(1 sc, in) x 6", 9, "inc") == ("(1 sc, inc) x 6", 10)


@pytest.mark.parametrize(
    ("typed", "whole"),
    [
        ("(1 sc, inc) x 6", "Rnd 3: (1 sc, inc) x 6"),
        ("Rnd 3: 12 sc", "Rnd 3: 12 sc"),
        ("", ""),
    ],
)
def test_the_heading_need_not_be_typed(typed: str, whole: str) -> None:
    assert with_heading(typed, "Rnd 3: something else (18)") == whole


def test_words_that_are_nearly_known_are_offered_where_the_line_then_comes_out() -> None:
    first = remedies(HAT, 0, 3)[0]
    assert first.lines == ((3, "Rnd 4: (2 sc, inc) x 6 (24)"),) and first.leaves == 24


def test_a_round_that_is_clean_has_no_remedies() -> None:
    assert remedies(HAT, 0, 1) == ()


def test_what_was_counted_puts_the_readings_that_agree_first() -> None:
    text = "Rnd 1: 6 sc in magic ring\nRnd 2: inc x 6\nRnd 3: (1 sc, inc) x 5"
    ball = loads(f'[[piece]]\nname = "B"\nrounds = """\n{text}\n"""\n')
    assert [item.leaves for item in remedies(ball, 0, 2)] == [18, 16, 16]
    assert [item.leaves for item in remedies(ball, 0, 2, 16)] == [16, 16, 18]
