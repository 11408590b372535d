"""Yarn per colour, what it rests on, and whether a ball lasts. The sums are worked by hand in each case."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.measure.stitch_counts import (
    StitchWork,
    counted_in_round,
    done_between,
    rest_of_piece,
    rest_of_round,
    together,
    work_of_pattern,
    work_of_piece,
    work_of_round,
)
from tracker.measure.stitch_sizes import from_gauge, unknown_size, yarn_of
from tracker.measure.yarn import (
    MARGIN,
    Lasts,
    Weighing,
    grams_for,
    length_of,
    rate_from_swatch,
    rate_from_weighings,
    will_it_last,
    yarn_needs,
)
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Gauge, Pattern

PATTERNS = Path(__file__).parents[2] / "patterns"

TEXT = """
[yarn.R]
name = "red"
ball_grams = 50
ball_metres = 120
[yarn.W]
name = "white"
[[piece]]
name = "Spot"
make = 3
rounds = \"\"\"
Rnd 1 (R): 6 sc in magic ring (6)
Rnd 2: (R) 1 sc, (W) inc, (R) 1 sc, (W) inc, (R) 1 sc, (W) inc (9)
Rnd 3 (W): (1 sc, inc, 1 sc) x 3 (12)
\"\"\"
[[piece]]
name = "Edge"
start = "joined"
rounds = \"\"\"
Rnd 1 (W): ch 3 (does not count), 12 dc in magic ring, sl st to first dc (12)
\"\"\"
"""


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return loads(TEXT)


def test_stitches_are_counted_by_yarn_and_kind_for_all_copies(pattern: Pattern) -> None:
    works = work_of_pattern(pattern)
    assert dict(works["R"].kinds) == {"sc": 3 * (6 + 3)}
    assert dict(works["W"].kinds) == {"sc": 3 * (6 + 12), "ch": 3, "dc": 12}


def test_a_swatch_gives_grams_for_every_yarn(pattern: Pattern) -> None:
    """10 g for 400 sc, read to half a gram: 0.02375 to 0.02625 g a stitch; 27 stitches of red."""
    rate = rate_from_swatch(10, 400)
    red = yarn_needs(pattern, rate)[0]
    assert red.name == "red"
    assert red.grams is not None
    assert (red.grams.low, red.grams.high) == (pytest.approx(27 * 9.5 / 400), pytest.approx(27 * 10.5 / 400))
    assert red.metres is not None and red.metres.high == pytest.approx(27 * 10.5 / 400 * 120 / 50)
    assert red.buy_grams == pytest.approx(27 * 10.5 / 400 * (1 + MARGIN))
    assert red.balls == 1 and red.tails == 6


def test_kinds_that_were_not_measured_widen_the_range(pattern: Pattern) -> None:
    rate = rate_from_swatch(10, 400, step=0)
    assert grams_for(StitchWork({"sc": 100}), rate).is_exact
    mixed = grams_for(StitchWork({"sc": 100, "dc": 100}), rate)
    assert mixed.low < (1 + yarn_of("dc")) * 2.5 < mixed.high


def test_a_swatch_in_dc_measures_dc() -> None:
    rate = rate_from_swatch(17, 400, "dc", step=0)
    assert grams_for(StitchWork({"dc": 200}), rate).middle == pytest.approx(8.5)


def test_nothing_measured_gives_shares_only(pattern: Pattern) -> None:
    needs = yarn_needs(pattern)
    assert all(need.grams is None and need.buy_grams is None and need.balls is None for need in needs)
    assert sum(need.share for need in needs) == pytest.approx(1)


def test_no_label_no_metres(pattern: Pattern) -> None:
    white = yarn_needs(pattern, rate_from_swatch(10, 400))[1]
    assert white.grams is not None and white.metres is None and white.balls is None


def test_weighing_before_and_after_tells_the_same() -> None:
    """A ball of 50 g that weighs 47 g after 120 sc: 3 g, right to one gram."""
    rate = rate_from_weighings([Weighing(50, 47, StitchWork({"sc": 120}))])
    assert rate is not None
    assert (rate.grams.low, rate.grams.high) == (pytest.approx(2 / 120), pytest.approx(4 / 120))
    assert rate.kind == "sc"


def test_more_weighings_make_it_surer() -> None:
    once = rate_from_weighings([Weighing(50, 47, StitchWork({"sc": 120}))])
    often = rate_from_weighings([Weighing(50, 47, StitchWork({"sc": 120}))] * 9)
    assert once is not None and often is not None
    spread = (often.grams.high - often.grams.low) / (once.grams.high - once.grams.low)
    assert spread == pytest.approx(1 / 3)


def test_a_ball_that_did_not_get_lighter_tells_nothing() -> None:
    assert rate_from_weighings([Weighing(50, 50, StitchWork({"sc": 3}))]) is None
    assert rate_from_weighings([]) is None


@pytest.mark.parametrize(("grams", "stitches"), [(0, 100), (5, 0), (-1, 10)])
def test_a_swatch_of_nothing_is_refused(grams: float, stitches: int) -> None:
    with pytest.raises(ValueError, match="above 0"):
        rate_from_swatch(grams, stitches)


@pytest.mark.parametrize(
    ("left", "verdict"),
    [(14.0, Lasts.YES), (10.2, Lasts.JUST), (8.9, Lasts.NO), (0.0, Lasts.NO)],
)
def test_will_this_ball_last(left: float, verdict: Lasts) -> None:
    """400 sc at 9.5 to 10.5 g; yes only with the margin on top, no only if even the least is too much."""
    lasting = will_it_last(StitchWork({"sc": 400}), left, rate_from_swatch(10, 400))
    assert lasting.verdict is verdict
    assert lasting.need is not None and lasting.need.low < 10 < lasting.need.high
    assert (lasting.short is None) == (verdict is Lasts.YES)


def test_nobody_knows_without_a_measure_and_nothing_left_always_lasts() -> None:
    assert will_it_last(StitchWork({"sc": 10}), 5, None).verdict is Lasts.UNKNOWN
    assert will_it_last(StitchWork({}), 0, None).verdict is Lasts.YES


def test_foundation_chains_are_yarn_too() -> None:
    row = "Row 1: ch 21, sc in 2nd ch from hook and in each ch across (20)"
    text = f'[[piece]]\nname = "P"\nstart = "rows"\nrounds = "{row}"\n'
    work = together(work_of_round(round_) for round_ in loads(text).pieces[0].rounds)
    assert dict(work[""].kinds) == {"ch": 21, "sc": 20}


@given(st.data())
def test_done_and_left_make_the_whole(data: st.DataObject) -> None:
    """From any place: what is left and what was made before it add up to the piece."""
    piece = loads(TEXT).pieces[0]
    index = data.draw(st.integers(0, 3))
    moves = data.draw(st.integers(0, piece.rounds[index].moves)) if index < 3 else 0
    left = sum(rest_of_piece(piece, index, moves).values(), StitchWork({}))
    done = done_between(piece, (0, 0), (index, moves))
    whole = sum(work_of_piece(piece).values(), StitchWork({}))
    assert dict((left + done).kinds) == dict(whole.kinds)


@given(st.integers(0, 12))
def test_a_rest_of_a_round_shrinks_move_by_move(moves: int) -> None:
    """Each move of this round makes one stitch, inside an increase too."""
    round_ = loads(TEXT).pieces[0].rounds[2]
    assert round_.moves == 12
    assert sum(work.stitches for work in rest_of_round(round_, moves).values()) == 12 - moves


def test_a_huge_round_is_counted_at_once() -> None:
    text = '[[piece]]\nname = "P"\nrounds = """\nRnd 1: (1 sc, inc) x 1000000000\n"""\n'
    work = together(work_of_round(round_) for round_ in loads(text).pieces[0].rounds)
    assert math.isclose(sum(part.units for part in work.values()), 3e9)


PROJECTS = {
    "a striped blanket of 9,870 sc and dc at 8 stitches to 10 cm, published as 1,695 m": (
        StitchWork({"sc": 4935, "dc": 4935}),
        8,
        1695,
    ),
    "25 corner-to-corner blocks of 3 dc and 3 ch in worsted at 12 to 10 cm, measured as 516 in": (
        StitchWork({"dc": 75, "ch": 75}),
        12,
        516 * 0.0254,
    ),
    "a cloth of about 630 dc at 20 to 10 cm, published as about 60 yd": (StitchWork({"dc": 630}), 20, 60 * 0.9144),
}
"""Yarn of published projects; how the stitches of the first are shared out is not told, so half of each."""


@pytest.mark.parametrize("project", PROJECTS)
def test_the_yarn_of_published_projects_comes_out_within_a_tenth(project: str) -> None:
    work, stitches, metres = PROJECTS[project]
    length = length_of(work, from_gauge(Gauge("sc", stitches, stitches)))
    assert length is not None
    assert length.middle == pytest.approx(metres, rel=0.1)
    assert length.low <= metres <= length.high


def test_without_a_gauge_or_a_weight_of_yarn_nobody_can_tell_how_long() -> None:
    assert length_of(StitchWork({"sc": 10}), unknown_size()) is None


def test_a_chain_above_the_first_round_is_yarn_of_the_piece_and_of_no_other() -> None:
    text = '[yarn.A]\nname = "ash"\n[[piece]]\nname = "P"\nrounds = """\nCh 7\nRnd 1 (A): 6 sc (6)\n"""\n'
    assert set(work_of_pattern(loads(text))) == {"A"}


CHAINS_COUNTED = """
[yarn.A]
name = "grey"
[yarn.B]
name = "plum"
[[piece]]
name = "Mat"
start = "joined"
rounds = '''
Rnd 1: With A, ch 4, join with sl st to form a ring. Ch 3 (counts as a dc), 11 dc into the ring, join. (12)
Rnd 2: Ch 3 (counts as a dc), dc in same st, 2 dc in each st around, join. (24)
Rnd 3: With B, ch 3 (counts as a dc), 2 dc in next st, *dc in next st, 2 dc in next st* 11 times, join. (36)
'''
"""


def test_a_chain_that_counts_as_a_stitch_is_one_by_yarn() -> None:
    counted = [dict(counted_in_round(item)) for item in loads(CHAINS_COUNTED).pieces[0].rounds]
    assert counted == [{"A": 12}, {"A": 24}, {"B": 36}]


def test_the_stitches_by_yarn_add_up_to_what_each_round_leaves() -> None:
    shipped = [load(path) for path in sorted(PATTERNS.glob("*.toml"))]
    rounds = [item for each in (*shipped, loads(CHAINS_COUNTED)) for piece in each.pieces for item in piece.rounds]
    assert len(rounds) > 50, "the shipped patterns were found"
    assert [item.text for item in rounds if sum(counted_in_round(item).values()) != (item.leaves or 0)] == []
