"""Pages in manners drawn by lot are read with the counts that arithmetic gives; the bench of that name draws more."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest
from support.page_manners import OPTIONS, STITCHES, STRAY_LINES, Manner, draw_page, has_total

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml

ASKED = (1, 5, 7)
"""Pages of the sample that write "2 sc in same st" for an increase, which the maker is asked about."""


@pytest.mark.parametrize("number", [number for number in range(25) if number not in ASKED])
def test_a_page_is_read_in_whatever_manner_it_is_set(number: int) -> None:
    page = draw_page(Random(f"kept/{number}"))
    pattern = loads(as_toml(from_text(page.text, "US").draft))
    read = tuple((piece.make, tuple(one.leaves for one in piece.rounds)) for piece in pattern.pieces)
    assert read == page.pieces, page.text
    assert {one.verdict for piece in pattern.pieces for one in piece.rounds} == {"ok"}, page.text


@pytest.mark.parametrize("width", [34, 60])
@pytest.mark.parametrize("letters", ["as written", "upper"])
def test_lines_that_are_broken_anywhere_are_read_on(width: int, letters: str) -> None:
    page = draw_page(
        Random(f"broken {width}"),
        heading="Rnd {a}: ",
        total=" ({n} sc in total)",
        stitches=STITCHES[9],
        repeat="*{b}, repeat from * {more} more times",
        ring="ch 2, {n} sc in 2nd ch from hook",
        even="1 sc in each of the {n} stitches around",
        width=width,
        letters=letters,
        has_strays=False,
    )
    pattern = loads(as_toml(from_text(page.text, "US").draft))
    read = tuple((piece.make, tuple(one.leaves for one in piece.rounds)) for piece in pattern.pieces)
    assert read == page.pieces, page.text


@pytest.mark.parametrize("stray", [*STRAY_LINES, *(line.upper() for line in STRAY_LINES)])
def test_a_line_that_has_nothing_to_do_with_the_rounds_is_none_of_them(stray: str) -> None:
    page = f"Cup\n\nRnd 1: 6 sc in magic ring\nRnd 2: inc around\n{stray}\nRnd 3: (sc, inc) x 6\nRnd 4: 18 sc"
    pattern = loads(as_toml(from_text(page, "US").draft))
    assert [[one.leaves for one in piece.rounds] for piece in pattern.pieces] == [[6, 12, 18, 18]]


@pytest.mark.parametrize("total", [" (18 sts.)", " (18 sc)", " [total: 18\nsts]", " - 18", ""])
def test_an_x_that_a_page_explains_is_a_stitch_before_a_total(total: str) -> None:
    rounds = f"Rnd 1: 6X in MR\nRnd 2: 6V (12)\nRnd 3: (X, V) 6x\nRnds 4-5: 18X{total}"
    page = f"X = single crochet\nV = increase\n\nCup\n{rounds}"
    pattern = loads(as_toml(from_text(page, "US").draft))
    assert [[one.leaves for one in piece.rounds] for piece in pattern.pieces] == [[6, 12, 18, 18, 18]]


def test_the_counts_of_a_page_are_those_of_a_ball() -> None:
    """Every other number is a sum: a ring, twice as many, and so many more or fewer in each round."""
    page = draw_page(Random("ball"), total=" ({n})", heading="Rnd {a}: ")
    for _, leaves in page.pieces:
        ring = leaves[0]
        assert leaves[1] == 2 * ring
        assert {abs(b - a) for a, b in pairwise(leaves)} <= {0, ring}
        assert f"({leaves[-1]})" in page.text.lower()


def test_groups_without_a_bracket_are_drawn_with_a_total() -> None:
    for number in range(60):
        manner = draw_page(Random(number)).manner
        assert has_total(manner) or not manner.repeat.startswith("{b}")
    assert set(OPTIONS) == set(Manner.__dataclass_fields__)
