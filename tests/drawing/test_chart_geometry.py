"""Charts are checked by geometry: places, angles, links and counts, not bytes of a file."""

from __future__ import annotations

import itertools
from dataclasses import replace
from math import atan2, remainder, tau
from pathlib import Path

import pytest
from drawing import by_hand as made
from drawing.by_hand import times
from drawing.ink import collisions
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.drawing.chart import MOST_AROUND, SOME, chart_of_piece, chart_of_round
from tracker.drawing.chart_model import OVAL_LENGTH, Chart, DrawnRound, Layout, Mark, Middle
from tracker.notation.ast import Into
from tracker.pattern.loader import load
from tracker.pattern.model import Piece, Start
from tracker.rounds.plan import Act, Node, Plan, Repeat, Run

SHIPPED = sorted((Path(__file__).parents[2] / "patterns").glob("*.toml"))
PIECES = {
    "disk": made.disk(6),
    "ball": made.ball(),
    "mandala": made.mandala(),
    "oval": made.oval(),
    "rows": made.rows(),
}


def angle(mark: Mark) -> float:
    return atan2(mark.top.y, mark.top.x)


def around(chart: Chart) -> list[DrawnRound]:
    """The rounds that lie around the middle; those that no longer lie flat are rows above them."""
    return [each for each in chart.rounds if each.track.closed]


def stitches(each: DrawnRound) -> list[Mark]:
    return [mark for mark in each.marks if mark.is_stitch]


@pytest.mark.parametrize("name", ["disk", "ball"])
def test_stitches_of_a_round_stand_at_even_angles(name: str) -> None:
    for each in around(chart_of_piece(PIECES[name])):
        angles = [angle(mark) for mark in each.marks]
        steps = [remainder(b - a, tau) for a, b in itertools.pairwise(angles)]
        assert max(steps) - min(steps) < 1e-6, each.number


def test_rounds_are_read_counter_clockwise() -> None:
    """CYC and JIS L 0201, from memory: right-handed rounds run counter-clockwise from the middle."""
    for each in chart_of_piece(PIECES["disk"]).rounds:
        angles = [angle(mark) for mark in each.marks]
        assert all(remainder(b - a, tau) > 0 for a, b in itertools.pairwise(angles))


def test_a_turned_round_runs_the_other_way() -> None:
    turned = made.piece(
        made.plan(Run(made.in_ring(), 6), made.JOIN, made.TURN),
        made.plan(Run(made.inc(), 6), made.JOIN),
        start=Start.JOINED,
    )
    second = chart_of_piece(turned).rounds[1]
    angles = [angle(mark) for mark in second.marks]
    assert all(remainder(b - a, tau) < 0 for a, b in itertools.pairwise(angles))


def test_right_side_rows_run_right_to_left_and_the_next_back() -> None:
    first, second, *_ = chart_of_piece(PIECES["rows"]).rounds
    across = [mark.top.x for mark in stitches(first)]
    assert across == sorted(across, reverse=True)
    across = [mark.top.x for mark in stitches(second)]
    assert across == sorted(across)


def test_a_row_stands_stitch_over_stitch() -> None:
    first, second, *_ = chart_of_piece(PIECES["rows"]).rounds
    below = {round(mark.top.x, 6) for mark in stitches(first)}
    assert {round(mark.top.x, 6) for mark in stitches(second)} == below


@pytest.mark.parametrize("name", PIECES)
def test_each_round_lies_outside_the_one_below(name: str) -> None:
    rounds = chart_of_piece(PIECES[name]).rounds
    assert all(before.reach < after.inner < after.outer for before, after in itertools.pairwise(rounds))


def links(chart: Chart) -> list[tuple[int, Mark, list[Mark]]]:
    """Each mark with the round it is in and the places of the round below, in the order it meets them."""
    found = []
    for index, each in enumerate(chart.rounds[1:], 1):
        below = chart.rounds[index - 1]
        places = [mark for mark in below.marks if mark.is_stitch or mark.space]
        if below.backward is not each.backward:
            places.reverse()
        found += [(index, mark, places) for mark in each.marks]
    return found


@pytest.mark.parametrize("name", PIECES)
def test_every_link_goes_to_a_place_of_the_round_below(name: str) -> None:
    chart = chart_of_piece(PIECES[name])
    unrolled = len(around(chart)) if chart.unrolled else None
    for index, mark, places in links(chart):
        if mark.is_stitch or mark.is_increase:
            assert mark.bases
            for base, foot in zip(mark.bases, mark.feet, strict=True):
                along = places[base].chains * OVAL_LENGTH / 2 if mark.in_space else 0.0
                top = chart.unrolled[0].places[base].point if index == unrolled else places[base].top
                assert (top - foot).size < 0.32 + along


def test_three_in_a_space_stand_in_the_space() -> None:
    fourth = [(mark, places) for index, mark, places in links(chart_of_piece(PIECES["mandala"])) if index == 3]
    fans = [(mark, places[mark.bases[0]]) for mark, places in fourth if mark.fan == 3]
    assert len(fans) == 33
    assert all(base.space and base.chains == 2 for _, base in fans)


def test_shells_stand_over_the_middle_of_what_they_span() -> None:
    """sc, sk 2, shell, sk 2: shell number k goes into stitch 6k + 3 of 48."""
    last = [mark for index, mark, _ in links(chart_of_piece(PIECES["mandala"])) if index == 5]
    assert [mark.bases[0] for mark in last if mark.fan == 5] == [6 * k + 3 for k in range(8) for _ in range(5)]


def test_increases_share_a_foot_and_decreases_a_top() -> None:
    rounds = chart_of_piece(PIECES["ball"]).rounds
    pairs = [mark for mark in rounds[2].marks if mark.is_increase]
    assert len(pairs) == 12
    assert all(a.feet == b.feet for a, b in zip(pairs[::2], pairs[1::2], strict=True))
    closed = [mark for mark in rounds[-1].marks if mark.is_decrease]
    assert len(closed) == 6
    assert all(len(mark.feet) == 2 for mark in closed)


@pytest.mark.parametrize("name", ["disk", "ball"])
def test_increases_and_decreases_lean_evenly_to_both_sides(name: str) -> None:
    for each in around(chart_of_piece(PIECES[name]))[1:]:
        for mark in each.marks:
            foot = mark.feet[0].toward(mark.feet[-1], 0.5)
            lean = abs(remainder(angle(mark) - atan2(foot.y, foot.x), tau))
            assert lean < tau / len(each.marks), "less than one stitch to either side"


@pytest.mark.parametrize("name", PIECES)
def test_no_symbol_runs_into_another(name: str) -> None:
    for each in chart_of_piece(PIECES[name]).rounds:
        assert collisions(list(each.marks)) == []


@pytest.mark.parametrize("name", ["disk", "mandala", "oval"])
def test_rounds_do_not_run_into_each_other(name: str) -> None:
    rounds = chart_of_piece(PIECES[name]).rounds
    for below, above in itertools.pairwise(rounds):
        assert collisions([*below.marks, *above.marks]) == []


def drawn_counts(each: DrawnRound) -> tuple[int, int, int]:
    spaces = [mark for mark in each.marks if mark.space]
    return len(stitches(each)), len(spaces), sum(mark.chains for mark in spaces)


def tally_counts(plan: Plan) -> tuple[int, int, int]:
    return plan.tally.stitches, plan.tally.spaces, plan.tally.chains


@pytest.mark.parametrize("name", PIECES)
def test_symbols_are_as_many_as_the_plan_says(name: str) -> None:
    piece = PIECES[name]
    for each, drawn in zip(piece.rounds, chart_of_piece(piece).rounds, strict=True):
        assert each.plan is not None
        assert drawn_counts(drawn) == tally_counts(each.plan)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_shipped_patterns_are_drawn_whole(path: Path) -> None:
    for piece in load(path).pieces:
        chart = chart_of_piece(piece)
        assert not any("not drawn" in remark for remark in chart.remarks)
        for each, drawn in zip(piece.rounds, chart.rounds, strict=True):
            assert each.plan is not None
            assert drawn_counts(drawn)[0] == each.plan.leaves, (piece.name, each.label)
            assert collisions(list(drawn.marks)) == [], (piece.name, each.label)


def test_an_oval_goes_around_its_chain() -> None:
    chart = chart_of_piece(PIECES["oval"])
    assert chart.shape is Layout.OVAL
    assert chart.start.middle is Middle.CHAIN
    assert len(chart.start.ovals) == 11
    upper = [mark for mark in chart.rounds[0].marks if mark.top.y > 0.2 and mark.is_stitch and mark.fan == 1]
    lower = [mark for mark in chart.rounds[0].marks if mark.top.y < -0.2 and mark.fan == 1]
    assert len(upper) == 10
    assert len(lower) == 9


def test_skipped_chains_of_the_foundation_stand_at_the_start() -> None:
    first = chart_of_piece(PIECES["rows"]).rounds[0].marks[0]
    assert first.standing
    assert first.chains == 1
    assert not first.counted


def test_a_long_chain_is_drawn_with_its_number() -> None:
    piece = made.piece(made.plan(Run(made.in_ring(), 6)), made.plan(made.stitch(), made.chain(30), made.stitch()))
    mark = chart_of_piece(piece).rounds[1].marks[1]
    assert mark.chains == 30
    assert len(mark.ovals) == 12


def test_a_round_into_an_earlier_one_says_so_and_stands_over_its_stitches() -> None:
    """24, narrowed to 12, then a frill into the 24 of the first round."""
    piece = made.piece(
        made.plan(Run(made.in_ring(), 24)),
        made.plan(Run(made.dec(), 12)),
        made.plan(Run(made.inc(), 24)),
    )
    frill = replace(piece.rounds[2], before=24)
    chart = chart_of_piece(replace(piece, rounds=(*piece.rounds[:2], frill)))
    assert chart.remarks == ("round 3 goes into an earlier one of 24 stitches, not the one below it",)
    assert [mark.bases for mark in chart.rounds[2].marks] == [(k // 2,) for k in range(48)]


def test_a_stitch_into_a_shell_goes_into_its_middle() -> None:
    into_shell = replace(made.stitch(), into=Into.SPACE, onto="shell")
    piece = made.piece(
        made.plan(Run(made.in_ring(), 12)),
        made.plan(times(4, made.shell(), made.skip(), made.stitch())),
        made.plan(times(4, into_shell, made.chain(4))),
    )
    last = chart_of_piece(piece).rounds[2]
    assert [mark.bases for mark in last.marks if mark.is_stitch] == [(2,), (8,), (14,), (20,)]


def test_a_stitch_into_a_space_finds_one_of_that_length() -> None:
    into_space = replace(made.stitch(), into=Into.SPACE, onto="ch-3")
    piece = made.piece(
        made.plan(Run(made.in_ring(), 6)),
        made.plan(times(3, made.stitch(), made.chain(1), made.stitch(), made.chain(3))),
        made.plan(Run(into_space, 3)),
    )
    assert [mark.bases for mark in chart_of_piece(piece).rounds[2].marks] == [(3,), (7,), (11,)]


def test_one_round_is_drawn_over_the_shadow_of_the_one_below() -> None:
    chart = chart_of_round(PIECES["disk"], 3)
    assert [(each.number, each.ghost, len(each.marks)) for each in chart.rounds] == [(3, True, 18), (4, False, 24)]


def test_the_first_round_needs_no_shadow() -> None:
    chart = chart_of_round(PIECES["disk"], 0)
    assert [(each.number, each.ghost) for each in chart.rounds] == [(1, False)]


def test_a_giant_round_is_begun_and_says_what_is_left_out() -> None:
    giant = made.piece(made.plan(Run(made.in_ring(), 6)), made.plan(Repeat((Run(made.stitch()),), 10**10)))
    chart = chart_of_round(giant, 1)
    assert len(chart.drawn[0].marks) == SOME
    assert chart.remarks == (f"Rnd 2: {10**10 - SOME:,} more stitches are not drawn",)
    whole = chart_of_piece(giant)
    assert [each.number for each in whole.rounds] == [1]
    assert "Rnd 2" in whole.remarks[0]


def test_a_very_long_piece_is_drawn_as_far_as_it_is_readable() -> None:
    tube = made.piece(made.plan(Run(made.in_ring(), 6)), *[made.plan(Run(made.stitch(), 6)) for _ in range(400)])
    chart = chart_of_piece(tube)
    assert len(chart.rounds) == 60
    assert any("Rnd 61 to Rnd 401" in remark for remark in chart.remarks)


def test_an_empty_piece_says_so() -> None:
    chart = chart_of_piece(Piece("Nothing", ()))
    assert chart.rounds == ()
    assert chart.remarks == ("there is nothing to draw yet",)


@pytest.mark.parametrize("first", [made.chain(1), made.skip()])
@pytest.mark.parametrize("last", [made.stitch(), made.chain(4)])
def test_a_round_far_apart_over_rounds_of_nothing_is_drawn(first: Act, last: Act) -> None:
    """Nothing below it is drawn that rows could stand on, so it is drawn around."""
    piece = made.piece(*[made.plan(Run(act, 1)) for act in (made.chain(1), first, made.skip(), last)])
    assert [each.number for each in chart_of_piece(piece).rounds][-1:] == [4]


ACTS = st.sampled_from(
    [
        made.stitch(),
        made.stitch("hdc"),
        made.stitch("dc"),
        made.stitch("tr"),
        made.stitch("sl st"),
        made.inc(),
        made.inc("dc", 3),
        made.dec(),
        made.dec("dc", 3),
        made.shell(),
        made.chain(1),
        made.chain(4),
        made.skip(),
        made.stitch("bobble"),
        made.stitch("frond"),
        made.JOIN,
    ]
)
RUNS: st.SearchStrategy[Node] = st.builds(Run, ACTS, st.integers(1, 4))
NODES = st.recursive(
    RUNS,
    lambda inner: st.builds(Repeat, st.lists(inner, min_size=1, max_size=3).map(tuple), st.integers(1, 3)),
    max_leaves=6,
)
PLANS = st.lists(NODES, min_size=1, max_size=4).map(lambda nodes: Plan(tuple(nodes)))


@settings(max_examples=80, deadline=None)
@given(st.lists(PLANS, min_size=1, max_size=4), st.sampled_from(list(Start)))
def test_whatever_is_written_is_drawn_with_its_counts(plans: list[Plan], start: Start) -> None:
    """Counts are those of the plan and every link goes to a place, also where a round does not fit the one below."""
    piece = made.piece(*plans, start=start)
    chart = chart_of_piece(piece)
    drawn = {each.number: each for each in chart.rounds}
    for each in piece.rounds:
        assert each.plan is not None
        if each.number in drawn and not drawn[each.number].undrawn and each.plan.moves <= MOST_AROUND:
            assert len(stitches(drawn[each.number])) == each.plan.leaves
    for _, mark, places in links(chart):
        assert all(0 <= base < len(places) for base in mark.bases)


@pytest.mark.parametrize("count", [20, 40, 100])
def test_between_the_last_stitch_and_the_first_is_room_for_the_number_of_the_round(count: int) -> None:
    """Stitches that fill a circle stand one width apart; where it closes, seven tenths of a width are added."""
    (each,) = chart_of_piece(made.piece(made.plan(Run(made.in_ring(), count)))).rounds
    angles = [angle(mark) for mark in each.marks]
    apart = remainder(angles[1] - angles[0], tau)
    assert remainder(angles[0] - angles[-1], tau) / apart == pytest.approx(1.7)
