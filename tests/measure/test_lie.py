"""How rounds lie, against the flat-circle rule and the published hyperbolic series.

Flat: 2 pi h / w more (geometry). The trade begins and increases disks of sc by 6 (some 7), of hdc by 8, of
dc by 12 (common practice, no source). Hyperbolic plane: one increase in every n stitches multiplies each round by
(n + 1) / n: D. Henderson and D. Taimina, "Crocheting the Hyperbolic Plane", The Mathematical
Intelligencer 23(2), 2001.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from measure.by_hand import plain_piece

from tracker.measure.size import Lie, growths, measure_piece
from tracker.measure.stitch_sizes import StitchSize, from_gauge, unknown_size
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge

SQUARE = from_gauge(Gauge("sc", 20, 20))


def lies(counts: list[int], kind: str = "sc", stitch: StitchSize = SQUARE, first: int = 0) -> list[Lie]:
    size = measure_piece(plain_piece(counts, kind, first=first), stitch)
    return [round_.growth.lie for round_ in size.rounds if round_.growth is not None]


@pytest.mark.parametrize(("kind", "trade"), [("sc", 6), ("hdc", 8), ("dc", 12)])
def test_what_the_trade_grows_a_disk_by_lies_flat(kind: str, trade: int) -> None:
    """By the usual proportions, where no gauge tells better."""
    stitch = unknown_size()
    assert set(lies([trade * k for k in range(1, 12)], kind, stitch)) == {Lie.FLAT}


ASKED = [("sc", 5.7, 5.8), ("hdc", 8.2, 8.4), ("dc", 10, 11), ("tr", 15, 16)]


@pytest.mark.parametrize(("kind", "least", "most"), ASKED)
def test_what_geometry_asks_for_with_the_gauges_of_yarn_makers(kind: str, least: float, most: float) -> None:
    """2 pi height / width by printed gauges: sc 5.7, hdc 8.3, dc 10 to 11, tr 15.7; the trade takes 6, 8, 12, 16."""
    assert least <= unknown_size().flat_growth(kind) <= most


@pytest.mark.parametrize("rise", [0.8, 0.9, 1.0, 1.1])
def test_flat_is_two_pi_height_over_width(rise: float) -> None:
    stitch = from_gauge(Gauge("sc", 20, 20 / rise))
    assert stitch.flat_growth() == pytest.approx(2 * math.pi * rise)


def test_the_hyperbolic_plane_of_the_paper_ruffles() -> None:
    """From 20 stitches with an increase in every 4th: 20, 25, 31 1/4, ... Beyond flat growth it stands in waves."""
    counts, exact = [20], Fraction(20)
    for _ in range(8):
        exact *= Fraction(5, 4)
        counts.append(round(exact))
    assert counts[:4] == [20, 25, 31, 39]
    found = lies(counts, first=20)
    assert found[0] is Lie.STRAIGHT
    assert found[-4:] == [Lie.RUFFLES] * 4
    ratios = [after / before for before, after in pairwise(counts[1:])]
    assert all(ratio == pytest.approx(1.25, abs=0.02) for ratio in ratios)


def test_written_out_the_hyperbolic_rounds_multiply() -> None:
    """(3 sc, inc) to the end over 20, 40 and 80: five for every four."""
    text = "Rnd 1: 20 sc in magic ring (20)\n" + "\n".join(f"Rnd {k}: *sc 3, inc; rep from * around" for k in (2, 3))
    rounds = loads(f'[[piece]]\nname = "H"\nrounds = """\n{text}\n"""\n').pieces[0].rounds
    assert [round_.leaves for round_ in rounds[:2]] == [20, 25]


TABLE = {
    "a quarter over flat ruffles once the ring gives no more": (
        [8, 16, 24, 32],
        [Lie.FLAT, Lie.FLAT, Lie.RUFFLES, Lie.RUFFLES],
    ),
    "doubling past the second round ruffles": ([6, 12, 24, 48], [Lie.FLAT, Lie.FLAT, Lie.RUFFLES, Lie.RUFFLES]),
    "a round without increase leaves room for a double one": (
        [6, 12, 12, 24],
        [Lie.FLAT, Lie.FLAT, Lie.STRAIGHT, Lie.FLAT],
    ),
    "fewer than flat cups": ([3, 6, 9], [Lie.CUPS] * 3),
    "none is straight": ([6, 12, 12, 12], [Lie.FLAT, Lie.FLAT, Lie.STRAIGHT, Lie.STRAIGHT]),
    "fewer stitches narrow": ([6, 12, 18, 12], [Lie.FLAT, Lie.FLAT, Lie.FLAT, Lie.NARROWS]),
    "halved from wide it gathers": ([6, 12, 18, 24, 12], [Lie.FLAT, Lie.FLAT, Lie.FLAT, Lie.FLAT, Lie.GATHERS]),
}


@pytest.mark.parametrize("what", TABLE)
def test_how_rounds_lie(what: str) -> None:
    counts, expected = TABLE[what]
    assert lies(counts) == expected


def test_ten_dc_a_round_cup_where_twelve_lie_flat() -> None:
    size = measure_piece(plain_piece([10, 20, 30, 40], "dc"), from_gauge(Gauge("dc", 16, 8)))
    assert [round_.growth.lie for round_ in size.rounds if round_.growth] == [Lie.CUPS] * 4
    assert size.remarks == ("it will cup if it is meant to be flat: 10 more in the last round, 12.6 would lie flat",)


def test_a_cone_is_not_told_that_it_cups() -> None:
    assert measure_piece(plain_piece([3 * k for k in range(1, 9)]), SQUARE).remarks == ()


def test_what_ruffles_reaches_no_farther_than_its_fabric() -> None:
    size = measure_piece(plain_piece([6, 12, 24, 48, 96]), SQUARE)
    assert size.across.middle <= 2 * 5 * 0.5
    assert size.rounds[-1].around.middle == pytest.approx(96 * 0.5)


def test_growth_over_no_rounds() -> None:
    assert growths(0, []) == []
