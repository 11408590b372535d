"""The drawing of a round: what is done, what is now and what is ahead, told by shape."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.building import ch, dec, inc, join, ring, rnd, sc, times, unread
from support.screens import shown

from tracker.pattern.model import Round
from tracker.rounds.plan import Node, Run
from tracker.tui.render import big_text as figures
from tracker.tui.render.progress_ring import Progress, bar, fits_inside
from tracker.tui.render.progress_ring import ring as drawn_ring
from tracker.tui.render.round_shape import FINEST, Sort, sketch
from tracker.tui.render.styled_text import Look, text_of, width_of

ROUND_3 = rnd(3, times(6, sc(), inc()), colour="R")


def cells(a_round: Round, done: int, until: int, lines: int = 17) -> dict[Look, int]:
    """How many characters of a ring have each look."""
    painted = drawn_ring(sketch(a_round), Progress(done, until), lines, {})
    counts = dict.fromkeys((Look.DONE, Look.NOW, Look.AHEAD), 0)
    for row in painted:
        for bit in row:
            if bit.look in counts:
                counts[bit.look] += len(bit.text)
    return counts


def test_a_sketch_names_what_each_stretch_does() -> None:
    a_round = rnd(4, ch(1), sc(2), inc(), dec(), join(), colour="R")
    assert [stretch.sort for stretch in sketch(a_round).stretches] == [
        *(Sort.CHAIN, Sort.EVEN, Sort.EVEN, Sort.MORE, Sort.FEWER, Sort.STEP),
    ]


def test_a_colour_goes_on_until_another_is_named() -> None:
    a_round = rnd(5, sc(2), sc(1, colour="N"), sc(1), colour="W")
    drawn = sketch(a_round)
    assert [stretch.colour for stretch in drawn.stretches] == ["W", "W", "N", "N"]
    assert [stretch.start for stretch in drawn.changes] == [2]


def test_a_round_that_could_not_be_read_is_one_stretch() -> None:
    assert len(sketch(unread(3)).stretches) == 1


def test_a_huge_round_is_sampled() -> None:
    drawn = sketch(rnd(3, times(500_000_000, sc(), inc())))
    assert len(drawn.stretches) == FINEST
    assert drawn.stretches[-1].end == drawn.moves == 1_500_000_000


body = st.recursive(
    st.builds(Run, st.sampled_from([sc().act, inc().act, dec().act]), st.integers(1, 9)),
    lambda inner: st.builds(
        lambda count, nodes: times(count, *nodes), st.integers(1, 9), st.lists(inner, min_size=1)
    ),
    max_leaves=6,
)


@settings(max_examples=60)
@given(st.lists(body, min_size=1, max_size=4))
def test_stretches_follow_each_other_without_gaps(nodes: list[Node]) -> None:
    a_round = rnd(1, *nodes)
    drawn = sketch(a_round)
    assert a_round.plan is not None
    edges = [0, *(stretch.end for stretch in drawn.stretches)]
    assert [stretch.start for stretch in drawn.stretches] == edges[:-1]
    assert edges[-1] == drawn.moves == a_round.plan.moves


def test_a_ring_fills_as_the_work_goes() -> None:
    moves = sketch(ROUND_3).moves
    done = [cells(ROUND_3, k, min(k + 3, moves))[Look.DONE] for k in range(0, moves + 1, 3)]
    assert done == sorted(done)
    assert done[0] == 0
    assert cells(ROUND_3, moves, moves)[Look.AHEAD] == 0


def test_a_ring_tells_done_from_ahead_by_its_thickness() -> None:
    """Without any colour there is more to see of what is done than of what is ahead."""
    even = rnd(6, sc(30))
    assert cells(even, 30, 30)[Look.DONE] > 1.5 * cells(even, 0, 0)[Look.AHEAD]


@pytest.mark.parametrize("lines", [13, 17, 26, 40])
def test_a_ring_has_the_size_it_is_given_and_room_in_the_middle(lines: int) -> None:
    painted = drawn_ring(sketch(ROUND_3), Progress(4, 7), lines, {})
    assert [width_of(row) for row in painted] == [2 * lines] * lines


@pytest.mark.parametrize("lines", [13, 17, 26, 40])
@pytest.mark.parametrize("rows", [1, 3, 5])
def test_what_fits_inside_a_ring_covers_nothing_of_it(rows: int, lines: int) -> None:
    widest = max((width for width in range(0, 2 * lines, 2) if fits_inside([width] * rows, lines)), default=0)
    assert widest
    left, top = lines - widest // 2, (lines - rows) // 2
    for round_, until in ((ROUND_3, 24), (rnd(4, times(6, sc(), dec())), 12)):
        painted = drawn_ring(sketch(round_), Progress(0, until), lines, {})
        inside = [text_of(row)[left : left + widest] for row in painted[top : top + rows]]
        assert "".join(inside).strip() == ""


def test_the_first_stitches_of_a_ring_lie_left_of_the_top_and_right_for_left_handed_makers() -> None:
    right = drawn_ring(sketch(ROUND_3), Progress(0, 6), 17, {})
    left = drawn_ring(sketch(ROUND_3), Progress(0, 6), 17, {}, left_handed=True)

    def now_in(row: int, painted: list[tuple[object, ...]]) -> list[int]:
        looks = [bit.look for bit in painted[row] for _ in bit.text]  # type: ignore[attr-defined]
        return [column for column, look in enumerate(looks) if look is Look.NOW]

    assert max(now_in(3, right)) < 17 <= min(now_in(3, left))  # type: ignore[arg-type]


def test_a_bar_marks_increases_decreases_and_colours() -> None:
    a_round = rnd(6, sc(2), inc(), dec(), sc(2, colour="N"), colour="W")
    assert (
        shown(bar(sketch(a_round), Progress(2, 4), 28, {})) == "        V       A   N\n████████▒▒▒▒▒▒▒▒────────────"
    )


def test_a_bar_that_is_worked_backwards_fills_from_the_right() -> None:
    a_round = rnd(1, ring(6))
    assert shown(bar(sketch(a_round), Progress(2, 6), 6, {}, backwards=True)) == "\n▒▒▒▒██"


@pytest.mark.parametrize("width", [1, 7, 40, 78])
def test_a_bar_of_a_huge_round_fits(width: int) -> None:
    marks, fill = bar(sketch(rnd(1, times(10**9, sc(), inc()))), Progress(10**8, 10**9), width, {})
    assert width_of(marks) == width_of(fill) == width


@pytest.mark.parametrize("size", [1, 2, 4, 6])
def test_big_figures_have_the_size_that_is_told(size: int) -> None:
    rows = figures.big("17/18", size)
    assert len(rows) == figures.height(size)
    assert {len(row) for row in rows} == {figures.width("17/18", size)}


def test_every_figure_has_a_shape_of_its_own() -> None:
    shapes = [shape for character, shape in figures.SHAPES.items() if character not in "O0"]
    assert len(set(shapes)) == len(shapes)
    assert all(len({len(row) for row in shape}) == 1 and len(shape) == 5 for shape in figures.SHAPES.values())


def test_the_largest_size_that_fits_is_taken() -> None:
    assert figures.largest("18", 14, 5) == 2
    assert figures.largest("18", 13, 4) == 1
    assert figures.largest("18", 3, 9) == 0
    assert figures.largest("é", 90, 90) == 0
