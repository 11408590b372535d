"""Whole rounds that could come next. Stitches are reckoned by hand: an increase takes one and makes two, a decrease
takes two and makes one."""

from __future__ import annotations

from math import pi

import pytest

from tracker.measure.next_round import next_number, size_words, whole_rounds, written_line
from tracker.measure.stitch_sizes import stitch_size
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern, Round

DISK = ("6 sc in magic ring (6)", "inc x 6 (12)", "(1 sc, inc) x 6 (18)")
EVEN = (*DISK, "sc around (18)")


def pattern_of(*rounds: str) -> Pattern:
    lines = "\n".join(f"Rnd {number}: {text}" for number, text in enumerate(rounds, 1))
    return loads(f'title = "Disk"\n[[piece]]\nname = "Disk"\nrounds = """\n{lines}\n"""\n')


def after(rounds: tuple[str, ...], typed: str) -> list[Round]:
    """The round that each offer becomes behind these."""
    offered = whole_rounds(typed, pattern_of(*rounds).pieces[0])
    return [pattern_of(*rounds, text).pieces[0].rounds[-1] for text in offered]


@pytest.mark.parametrize(
    ("rounds", "typed", "leaves"),
    [
        (DISK, "", 24),
        (DISK[:2], "", 18),
        (EVEN, "", 18),
        ((*DISK, "(1 sc, dec) x 6 (12)"), "", 6),
        (EVEN, "same again", 18),
        (EVEN, "Same", 18),
        (EVEN, "as round 4", 18),
        (EVEN, "as 4", 18),
        (DISK, "to 24 stitches, evenly", 24),
        (DISK, "to 21", 21),
        (DISK, "to 18 sts", 18),
        (DISK, "TO 9 STS", 9),
        (DISK, "to 36 stitches", 36),
    ],
)
def test_the_first_offer_comes_out_over_what_is_there(rounds: tuple[str, ...], typed: str, leaves: int) -> None:
    first = after(rounds, typed)[0]
    assert (first.leaves, first.verdict) == (leaves, "ok")


@pytest.mark.parametrize("typed", ["as round 9", "to 0", "to 3000", "6 sc, inc", "together", "same old thing"])
def test_what_is_no_shorthand_or_cannot_be_made_offers_nothing(typed: str) -> None:
    """No even round makes 3,000 stitches over 18."""
    assert after(DISK, typed) == []


def test_an_earlier_round_is_offered_as_it_stands_without_heading_and_total() -> None:
    disk = pattern_of(*DISK).pieces[0]
    assert whole_rounds("as round 2", disk) == ("inc x 6",)
    assert whole_rounds("same again", disk) == ("(1 sc, inc) x 6",)


def test_a_piece_begins_with_a_ring_in_its_own_terms() -> None:
    """What is sc in US terms is dc in UK terms (the Craft Yarn Council's table of both)."""
    assert whole_rounds("", None) == ("6 sc in magic ring",)
    assert whole_rounds("", None, "UK") == ("6 dc in magic ring",)
    assert whole_rounds("same again", None) == ()


def test_rounds_are_numbered_on() -> None:
    assert (next_number(None), next_number(pattern_of(*DISK).pieces[0])) == (1, 4)


@pytest.mark.parametrize(
    ("typed", "leaves", "is_row", "line"),
    [
        ("sc  around", 18, False, "Rnd 4: sc around (18)"),
        ("sc around (18)", 18, False, "Rnd 4: sc around (18)"),
        ("sc around (18 sts)", 18, False, "Rnd 4: sc around (18 sts)"),
        ("Rnd 4: sc around = 18", 18, False, "Rnd 4: sc around = 18"),
        ("(sc, inc) around", 27, False, "Rnd 4: (sc, inc) around (27)"),
        ("sc across", 9, True, "Row 4: sc across (9)"),
        ("as you like", None, False, "Rnd 4: as you like"),
    ],
)
def test_a_line_gets_a_heading_and_a_total_once(typed: str, leaves: int | None, is_row: bool, line: str) -> None:
    assert written_line(4, typed, leaves, is_row) == line


def test_a_disk_of_18_stitches_around_is_18_over_pi_across() -> None:
    """Geometry of the circle; without a gauge lengths are told in stitch widths."""
    disk = pattern_of(*DISK)
    assert size_words(disk, 0, stitch_size(disk)) == f"flat, about {18 / pi:.1f} stitch widths across"
