"""Headings for several sizes, the yarn that a sentence leads to, and phrases that stand for a known word."""

from __future__ import annotations

import pytest

from tracker.normalize import fold
from tracker.notation.lexer import scan, without_fillers
from tracker.notation.own_words import meaning_of
from tracker.notation.parser.heading import heading_of
from tracker.notation.token_kinds import T
from tracker.notation.yarn_names import yarn_led_to


@pytest.mark.parametrize(("size", "last", "rounds"), [(0, 10, 8), (1, 12, 10), (2, 14, 12), (7, 14, 12)])
def test_a_range_of_rounds_by_size(size: int, last: int, rounds: int) -> None:
    heading = heading_of("Rows 3-10 (3-12, 3-14): sc across").for_size(size)
    assert (heading.first, heading.last, heading.numbers) == (3, last, tuple(range(3, last + 1)))
    assert len(heading.numbers) == rounds


@pytest.mark.parametrize(("size", "ahead"), [(0, 4), (1, 6), (2, 8), (7, 8)])
def test_so_many_next_rounds_by_size(size: int, ahead: int) -> None:
    assert heading_of("Next 4 (6, 8) rnds: sc around").for_size(size).rounds_ahead == ahead


def test_a_heading_for_one_size_is_for_all() -> None:
    heading = heading_of("Rnds 5-7: sc around")
    assert heading.for_size(2) == heading and heading.begins_round
    assert not heading_of("sc around").begins_round


@pytest.mark.parametrize(
    ("sentence", "yarn"),
    [
        ("Go back to red", "red"),
        ("Return to white.", "white"),
        ("Fasten off green and join red", "red"),
        ("Work the next 2 rounds in green", "green"),
        ("Change to black", "black"),
        ("Fasten off red", ""),
        ("Red", ""),
        ("Sew the nose to red", ""),
        ("Join red, 3 sc", ""),
    ],
)
def test_the_yarn_that_a_sentence_goes_on_with(sentence: str, yarn: str) -> None:
    assert yarn_led_to(without_fillers(scan(fold(sentence), "US")), frozenset()) == yarn


@pytest.mark.parametrize(
    ("phrase", "kind", "value"),
    [
        ("puff stitch", T.BUNCH, "puff"),
        ("double crochet", T.STITCH, "dc"),
        ("dc inc", T.INC, "dc"),
        ("hdc dec", T.DEC, "hdc"),
    ],
)
def test_a_phrase_of_known_words_is_one(phrase: str, kind: T, value: str) -> None:
    meaning = meaning_of(phrase, "US")
    assert meaning is not None and (meaning.kind, meaning.value) == (kind, value)


@pytest.mark.parametrize("phrase", ["", "twin knot", "7", "dc hdc", "dc inc dec", "inc dc"])
def test_any_other_phrase_is_none(phrase: str) -> None:
    assert meaning_of(phrase, "US") is None
