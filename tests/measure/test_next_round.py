"""Whole rounds that could come next. Stitches are reckoned by hand: an increase takes one and makes two, a decrease
takes two and makes one."""

from __future__ import annotations

from math import pi

import pytest

from tracker.measure.next_round import Going, going_on, next_number, size_words, whole_rounds, written_line
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
    assert whole_rounds("as round 2", disk)[0] == "inc x 6"
    assert whole_rounds("same again", disk)[0] == "(1 sc, inc) x 6"


@pytest.mark.parametrize("typed", ["same again", "as round 3", "as round 2"])
def test_an_increase_that_does_not_come_out_again_is_offered_as_as_many_more(typed: str) -> None:
    """Rounds 2 and 3 both add 6, and neither works over the 18 that are there: 18 and 6 are 24."""
    fitting = [item for item in after(DISK, typed) if item.verdict == "ok"]
    assert [item.leaves for item in fitting] == [24]


OPEN = "Rnd 1: as you like\nRnd 2: as you like (18)\nRnds 3-60: as you like"


def opened(rounds: str = OPEN) -> Pattern:
    return loads(f'title = "Bag"\n[[piece]]\nname = "Bag"\nrounds = """\n{rounds}\n"""\n')


@pytest.mark.parametrize(
    ("typed", "lines"),
    [
        ("24 stitches", ("Rnds 3-60: 24 sc (24)",)),
        ("24 sts each round in 6 repeats", ("Rnds 3-60: (4 sc) x 6 (24)",)),
        ("every round inc 6", ("Rnd 3: (2 sc, inc) x 6 (24)", "Rnd 4: 1 sc, inc, (3 sc, inc) x 5, 2 sc (30)")),
        ("every 4th round increase by 6", ("Rnd 3: sc around (18)", "Rnd 4: (2 sc, inc) x 6 (24)")),
        ("every other round: decrease by 3", ("Rnd 3: sc around (18)", "Rnd 4: (4 sc, dec) x 3 (15)")),
    ],
)
def test_many_rounds_are_told_with_few_words(typed: str, lines: tuple[str, ...]) -> None:
    piece = opened().pieces[0]
    going = going_on(typed, piece, 2)
    assert going is not None and going.rhythm == ""
    assert going.lines[: len(lines)] == lines
    made = opened("\n".join((*OPEN.split("\n")[:2], *going.lines))).pieces[0].rounds
    if "stitches" not in typed and "sts" not in typed:
        assert {item.verdict for item in made} == {"ok"}


@pytest.mark.parametrize(
    ("typed", "note"),
    [
        ("every 4th round increase", "Every 4th round (4, 8, 12 and so on): increase"),
        (
            "every 11th round: a bobble",
            "Every 11th round (11, 22, 33 and so on): a bobble",
        ),
        ("every round, move the marker", "Every round (3, 4, 5 and so on): move the marker"),
    ],
)
def test_any_other_rhythm_is_a_note_that_comes_with_its_rounds(typed: str, note: str) -> None:
    going = going_on(typed, opened().pieces[0], 2)
    assert going == Going((), note)


@pytest.mark.parametrize("typed", ["25 stitches in 6 repeats", "0 stitches", "every 0th round inc", "6 sc, inc", ""])
def test_what_tells_nothing_of_many_rounds_is_none_of_them(typed: str) -> None:
    assert going_on(typed, opened().pieces[0], 2) is None


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
    assert size_words(disk.pieces[0], stitch_size(disk)) == f"flat, about {18 / pi:.1f} stitch widths across"
