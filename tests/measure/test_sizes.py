"""Sizes of rounds and pieces: from a gauge, from a yarn weight, from nothing; the shapes that are not plain rounds.

The yarn weights are those of the Craft Yarn Council's "Standards & Guidelines" (Standard Yarn Weight System, 2018),
restated here: stitches of single crochet over 4 inches, lace in double crochet, and hook sizes in millimetres.
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from measure.by_hand import plain_piece

import tracker
from tracker.measure.ranges import Range, around, exactly, total
from tracker.measure.size import PieceSize, SolidKind, measure_pattern
from tracker.measure.stitch_sizes import WEIGHTS, Unit, height_of, height_range_of, stitch_size, unknown_size, yarn_of
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge, Pattern, Yarn

PUBLISHED = {
    0: ("lace", "dc", 32, 42, 1.4, 2.25),
    1: ("super fine", "sc", 21, 32, 2.25, 3.5),
    2: ("fine", "sc", 16, 20, 3.5, 4.5),
    3: ("light", "sc", 12, 17, 4.5, 5.5),
    4: ("medium", "sc", 11, 14, 5.5, 6.5),
    5: ("bulky", "sc", 8, 11, 6.5, 9),
    6: ("super bulky", "sc", 6, 9, 9, 16),
    7: ("jumbo", "sc", 0, 5, 16, math.inf),
}


def test_yarn_weights_are_the_published_ones() -> None:
    ours = {
        w.number: (w.name, w.stitch, w.stitches.low, w.stitches.high, w.hook_mm.low, w.hook_mm.high) for w in WEIGHTS
    }
    assert ours == PUBLISHED


def piece_of(text: str, gauge: str = "stitches = 20\nrounds = 20", start: str = "spiral") -> PieceSize:
    pattern = loads(f'[gauge]\n{gauge}\n[[piece]]\nname = "P"\nstart = "{start}"\nrounds = """\n{text}\n"""\n')
    return measure_pattern(pattern).pieces[0]


def test_gauge_gives_width_and_height() -> None:
    size = stitch_size(Pattern("P", (), gauge=Gauge("sc", 22, 24)))
    assert size.width == exactly(10 / 22)
    assert size.width.middle * size.rise == pytest.approx(10 / 24)
    assert size.is_measured


def test_a_gauge_in_a_tall_stitch_gives_the_height_of_a_low_one() -> None:
    """18 dc and 9 rounds over 10 cm: dc is counted, and 1.75 to 1.9 times as tall as sc (gauges of yarn makers)."""
    size = stitch_size(Pattern("P", (), gauge=Gauge("dc", 18, 9)))
    assert size.width.middle * size.rise_of("dc") == pytest.approx(10 / 9)
    assert size.spread_of("dc").is_exact and not size.spread_of("sc").is_open
    assert 10 / 9 / 1.9 < size.width.middle * size.rise < 10 / 9 / 1.75


def test_a_gauge_in_pattern_is_that_of_the_rows_as_they_come() -> None:
    """28 rows of which 14 measure 10 cm are 20 cm tall, whatever is in them (arithmetic)."""
    rows = "Row 1: ch 21, sc in 2nd ch from hook and in each ch across, turn (20)\n"
    rows += "Row 2: ch 3 (counts as dc), dc in next 19 sts, turn (20)\nRow 3: ch 1, sc in each st across, turn (20)\n"
    rows += (
        "\n".join(f"Row {2 * k}: as Row 2\nRow {2 * k + 1}: as Row 3" for k in range(2, 14)) + "\nRow 28: as Row 2"
    )
    size = piece_of(rows, 'stitch = "in pattern"\nstitches = 16\nrounds = 14', "rows")
    assert size.tall.middle == pytest.approx(20) and size.tall.is_exact
    assert size.across.middle == pytest.approx(20 / 16 * 10)


def test_which_rows_a_gauge_in_pattern_is_of_is_asked_where_a_piece_has_one_stitch() -> None:
    size = piece_of("Row 1: 20 sc\nRow 2: sc across", 'stitch = "pattern"\nstitches = 16\nrounds = 14', "rows")
    assert any("counted in pattern" in remark and remark.endswith("tells") for remark in size.remarks)


def test_a_uk_gauge_is_counted_in_uk_stitches() -> None:
    uk = stitch_size(Pattern("P", (), terms="UK", gauge=Gauge("dc", 16, 18)))
    us = stitch_size(Pattern("P", (), terms="US", gauge=Gauge("sc", 16, 18)))
    assert (uk.width, uk.rise) == (us.width, us.rise)


def test_a_gauge_given_goes_before_the_pattern_s() -> None:
    pattern = Pattern("P", (), gauge=Gauge("sc", 22, 24))
    assert stitch_size(pattern, Gauge("sc", 10, 10)).width == exactly(1.0)


def test_without_a_gauge_the_yarn_weight_gives_a_range_and_says_so() -> None:
    pattern = Pattern("P", (plain_piece([6, 12, 18]),), yarns=(Yarn("A", "a", weight=4),))
    size = measure_pattern(pattern)
    assert size.stitch.width == Range(10 / 14, 10 / 11)
    assert "usual range for yarn weight 4 (medium)" in size.stitch.source and "guideline" in size.stitch.source
    across = size.pieces[0].across
    assert (across.low, across.high) == (pytest.approx(18 / math.pi * 10 / 14), pytest.approx(18 / math.pi * 10 / 11))


def test_two_yarn_weights_give_the_range_of_both() -> None:
    yarns = (Yarn("A", "a", weight=3), Yarn("B", "b", weight=4))
    assert stitch_size(Pattern("P", (), yarns=yarns)).width == Range(10 / 17, 10 / 11)


def test_jumbo_yarn_is_open_above() -> None:
    width = stitch_size(Pattern("P", (), yarns=(Yarn("A", "a", weight=7),))).width
    assert width.low == 2.0 and width.is_open


def test_with_nothing_known_lengths_are_in_stitches() -> None:
    size = measure_pattern(Pattern("P", (plain_piece([6, 12, 18]),)))
    assert size.unit is Unit.WIDTHS
    assert size.pieces[0].rounds[2].around == exactly(18.0)


HEIGHTS = {"sc": (1, 1), "hdc": (1.4, 1.5), "dc": (1.75, 1.9), "tr": (2.5, 2.9), "bobble": (1.75, 1.9)}


@pytest.mark.parametrize(("kind", "measured"), HEIGHTS.items())
def test_heights_beside_single_crochet(kind: str, measured: tuple[float, float]) -> None:
    """Rows counted in a measured square of 5 inches: hdc 1.45, dc 1.9. Gauges of yarn makers, 10 cm: sc 13 by 14, 10
    by 11, 7 by 8; dc 13 by 8, 13 by 7.5, 8 by 5; tr 10 by 4: so dc is 1.8 and tr 2.7 times as tall as sc."""
    low, high = measured
    assert (height_range_of(kind).low, height_range_of(kind).high) == (low, high)


def test_the_proportions_of_a_stitch_are_those_of_printed_gauges() -> None:
    """As above: height over width of sc 0.93, 0.91, 0.88 and 0.91, of dc 1.63, 1.73 and 1.6, of tr 2.5."""
    assert unknown_size().rise == pytest.approx((13 / 14 + 10 / 11 + 7 / 8 + 15.5 / 17) / 4, abs=0.01)
    assert unknown_size().rise_of("dc") == pytest.approx((13 / 8 + 13 / 7.5 + 8 / 5) / 3, rel=0.03)
    assert unknown_size().rise_of("tr") == pytest.approx(10 / 4, rel=0.03)


EXTENDED = {"esc": ("sc", "hdc"), "ehdc": ("hdc", "dc"), "edc": ("dc", "tr")}


@pytest.mark.parametrize("kind", EXTENDED)
def test_an_extended_stitch_lies_between_its_plain_one_and_the_next(kind: str) -> None:
    """Published makings: a loop more is worked off than in the plain stitch, without the next one's yarn over."""
    plain, taller = EXTENDED[kind]
    assert height_of(plain) < height_of(kind) < height_of(taller)
    assert yarn_of(plain) < yarn_of(kind) < yarn_of(taller)


def test_heights_that_were_not_counted_make_a_range() -> None:
    rows = "Row 1: 20 dc\nRow 2: dc across"
    counted, other = piece_of(rows, 'stitch = "dc"\nstitches = 16\nrounds = 8', "rows"), piece_of(rows, start="rows")
    assert counted.tall.is_exact and counted.tall.middle == pytest.approx(2.5) and counted.remarks == ()
    assert (other.tall.low, other.tall.high) == (pytest.approx(2 * 1.75 / 2), pytest.approx(2 * 1.9 / 2))
    assert other.remarks == ("height of dc beside sc: from measured rows, so a range",)


def test_rows_are_wide_and_tall() -> None:
    first = "Row 1: ch 31, sc in 2nd ch from hook and in each ch across, turn (30)"
    size = piece_of(f"{first}\nRows 2-20: ch 1, sc across, turn (30)", start="rows")
    assert size.shape is SolidKind.ROWS
    assert size.across.middle == pytest.approx(15) and size.tall.middle == pytest.approx(10)
    assert size.rounds[-1].across is None and size.rounds[-1].growth is None


def test_a_chain_alone_is_a_cord() -> None:
    size = piece_of("Row 1: ch 60, fasten off", start="rows")
    assert size.shape is SolidKind.CORD and size.across.middle == pytest.approx(30)


def test_six_into_one_chain_are_a_centre_like_a_magic_ring() -> None:
    chain = piece_of("Rnd 1: ch 2, 6 sc in 2nd ch from hook (6)\nRnd 2: inc x 6 (12)")
    ring = piece_of("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)")
    assert chain == ring


def test_a_mesh_is_as_wide_as_what_it_spans() -> None:
    size = piece_of(
        "Rnd 1: 12 sc in magic ring (12)\nRnd 2: inc around (24)\nRnd 3: *sc 1, ch 1, sk 1; rep from * around"
    )
    assert size.rounds[2].around.middle == size.rounds[1].around.middle


def test_turning_chains_take_no_width() -> None:
    size = piece_of(
        "Rnd 1: ch 3 (counts as dc), 11 dc in magic ring, sl st to top of ch-3 (12)\nRnd 2: ch 1, sc around (12)",
        start="joined",
    )
    assert [round_.around.middle for round_ in size.rounds] == [6.0, 6.0]


def test_shells_fan_out_flat_round_the_edge() -> None:
    """Whatever their number, the tops of 5 dc in one place reach as far as dc are tall."""
    text = "\n".join(
        ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc x 6 (12)"]
        + [f"Rnd {k}: ({k - 2} sc, inc) x 6 ({6 * k})" for k in range(3, 9)]
        + ["Rnd 9: *sc in next st, sk 2, 5 dc in next st, sk 2; rep from * around"]
    )
    size = piece_of(text)
    before, after = size.rounds[7].across, size.rounds[8].across
    assert before is not None and after is not None
    assert after.middle - before.middle == pytest.approx(2 * height_of("dc") * 0.5)


def test_a_round_worked_into_an_earlier_one_starts_from_there() -> None:
    text = "\n".join(
        [
            "Rnd 1: 6 sc in magic ring (6)",
            "Rnd 2: inc x 6 (12)",
            "Rnds 3-6: sc around (12)",
            "Rnd 7: dec x 6 (6)",
            "Rnd 8: in front loops of Rnd 5: sc around (12)",
        ]
    )
    size = piece_of(text)
    last = size.rounds[-1]
    assert last.growth is not None and last.growth.stitches == 0
    assert last.level.middle < size.rounds[5].level.middle + 0.6


def test_what_could_not_be_read_is_told_and_taken_for_the_round_before() -> None:
    size = piece_of("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: xyzzy plugh")
    assert size.rounds[2].stitches is None
    assert size.rounds[2].around == size.rounds[1].around
    assert size.remarks == ("Rnd 3 could not be read: taken to be as wide as the round before",)


def test_a_stuffed_ball_can_bow_out() -> None:
    """Flat caps on a short tube, closed: its fabric from pole to pole bends into a half circle, 2 l / pi across."""
    size = measure_pattern(
        Pattern("P", (plain_piece([6, 12, 18, 24, 30, 30, 30, 24, 18, 12, 6]),), gauge=Gauge("sc", 20, 20))
    ).pieces[0]
    assert size.stuffed is not None
    assert size.stuffed.middle == pytest.approx(2 * 11 * 0.5 / math.pi)


def test_an_open_tube_cannot() -> None:
    assert (
        piece_of("Rnd 1: ch 20, sl st to form a ring, sc in each ch around (20)\nRnd 2: sc around (20)").stuffed
        is None
    )


def test_a_piece_on_stitches_made_before_starts_as_wide_as_they_are() -> None:
    size = measure_pattern(Pattern("P", (plain_piece([20, 20], first=20),), gauge=Gauge("sc", 20, 20))).pieces[0]
    assert size.outline[0].radius == pytest.approx(20 / (2 * math.pi))
    assert size.tall.middle == pytest.approx(1.0)


SHIPPED = {
    ("toadstool", "Cap"): (6, None),
    ("lighthouse", "Base and tower"): (5, None),
    ("soap-dish", "Dish"): (7, 13),
    ("face-cloth", "Cloth"): (22, None),
    ("tide-pool-coaster", "Coaster"): (11, None),
}


@pytest.mark.parametrize(("file", "piece"), SHIPPED)
def test_shipped_patterns_come_out_as_their_designer_says(file: str, piece: str) -> None:
    """The sizes in their notes ("about 6 cm across") were written before there was anything to measure with."""
    path = Path(tracker.__file__).parent.parent / "patterns" / f"{file}.toml"
    pattern = loads(path.read_text(encoding="utf-8"))
    size = next(size for size in measure_pattern(pattern).pieces if size.name == piece)
    across, along = SHIPPED[file, piece]
    assert size.across.middle == pytest.approx(across, rel=0.06)
    assert along is None or (size.along is not None and size.along.middle == pytest.approx(along, rel=0.06))


def test_ranges_add_scale_and_refuse_to_run_backwards() -> None:
    assert Range(1, 2) + Range(3, 5) == Range(4, 7)
    assert Range(1, math.inf) * 0 == exactly(0)
    assert Range(2, 4) / 2 == Range(1, 2)
    assert around([Range(1, 3), Range(2, 9)]) == Range(1, 9)
    assert total([exactly(1), exactly(2)]) == exactly(3)
    assert Range(3, math.inf).middle == 3 and not exactly(1).is_open
    with pytest.raises(ValueError, match="no range"):
        Range(2, 1)
