"""Symbols against those of the Craft Yarn Council (from memory; JIS L 0201 differs only in small ways)."""

from __future__ import annotations

from math import pi

import pytest
from drawing import by_hand as made

from tracker.drawing.chart import chart_of_piece
from tracker.drawing.chart_model import Mark
from tracker.drawing.legend import key
from tracker.drawing.strokes import Ellipse, Letter, Polyline, strokes_of
from tracker.drawing.symbols import SYMBOLS, SymbolForm, symbol_of
from tracker.notation.ast import Loop
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.glossary import STITCHES
from tracker.rounds.plan import Act, Run


def mark(act: Act) -> Mark:
    """The first symbol of an act worked over plain stitches."""
    piece = made.piece(made.plan(Run(made.in_ring(), 12)), made.plan(made.stitch(), act, Run(made.stitch(), 9)))
    return chart_of_piece(piece).rounds[1].marks[1]


def lines(drawn: Mark) -> list[Polyline]:
    return [stroke for stroke in strokes_of(drawn) if isinstance(stroke, Polyline)]


@pytest.mark.parametrize("stitch", STITCHES, ids=lambda stitch: stitch.id)
def test_every_stitch_of_the_glossary_has_a_symbol(stitch: object) -> None:
    assert stitch.id in SYMBOLS  # type: ignore[attr-defined]


@pytest.mark.parametrize("bunch", BUNCH_BY_ID.values(), ids=lambda bunch: bunch.id)
def test_every_group_is_made_of_what_has_a_symbol(bunch: object) -> None:
    assert all(kind in SYMBOLS for kind, _ in bunch.usual)  # type: ignore[attr-defined]


def test_symbols_differ() -> None:
    assert len({symbol.glyph for symbol in SYMBOLS.values()}) == len(SYMBOLS)
    looks = {(s.form, s.bars, s.footed, s.waved, s.veed, s.letter) for s in SYMBOLS.values()}
    assert len(looks) == len(SYMBOLS)


def test_a_slip_stitch_is_a_filled_dot() -> None:
    (dot,) = strokes_of(mark(made.stitch("sl st")))
    assert isinstance(dot, Ellipse)
    assert dot.filled
    assert dot.long == dot.broad


def test_a_single_crochet_is_a_cross() -> None:
    first, second = (line.points for line in lines(mark(made.stitch("sc")))[:2])
    one, other = first[1] - first[0], second[1] - second[0]
    assert one.x * other.x + one.y * other.y == pytest.approx(0.0), "its arms cross at right angles"
    assert first[0].toward(first[1], 0.5).x == pytest.approx(second[0].toward(second[1], 0.5).x)


@pytest.mark.parametrize(("kind", "bars"), [("hdc", 0), ("dc", 1), ("tr", 2), ("dtr", 3), ("trtr", 4)])
def test_taller_stitches_are_a_t_with_one_bar_more_each(kind: str, bars: int) -> None:
    assert symbol_of(kind).bars == bars
    assert len(lines(mark(made.stitch(kind)))) == 2 + bars


def test_taller_stitches_are_drawn_taller() -> None:
    heights = [symbol_of(kind).drawn_height for kind in ("sl st", "sc", "hdc", "dc", "tr", "dtr", "trtr")]
    assert heights == sorted(set(heights))


def test_a_decrease_has_stems_that_meet_at_the_top() -> None:
    drawn = mark(made.dec("dc", 3))
    stems = [line for line in lines(drawn) if line.points[-1] == drawn.top and line.points[0] in drawn.feet]
    assert len(stems) == 3


def test_a_cluster_meets_at_both_ends() -> None:
    drawn = mark(made.stitch("cluster"))
    stems = [line for line in lines(drawn) if line.curved]
    assert len(stems) == 3
    assert {(line.points[0], line.points[-1]) for line in stems} == {(drawn.feet[0], drawn.top)}


def test_a_popcorn_is_closed_at_the_top_with_an_oval() -> None:
    drawn = mark(made.stitch("popcorn"))
    ovals = [stroke for stroke in strokes_of(drawn) if isinstance(stroke, Ellipse)]
    assert len(ovals) == 1
    assert (ovals[0].centre - drawn.top).size < (ovals[0].centre - drawn.feet[0]).size


def test_a_loop_is_a_curved_line_under_the_symbol() -> None:
    both = len(strokes_of(mark(made.stitch("dc"))))
    for loop in (Loop.BACK, Loop.FRONT):
        drawn = mark(made.stitch("dc", loop=loop))
        curves = [line for line in lines(drawn) if line.curved]
        assert len(strokes_of(drawn)) == both + 1
        assert [(line.points[0] - drawn.feet[0]).size < 0.4 for line in curves] == [True]


def test_posts_are_hooked_at_the_foot_to_either_side() -> None:
    def side(loop: Loop) -> float:
        drawn = mark(made.stitch("dc", loop=loop))
        hook = next(line for line in lines(drawn) if line.curved)
        up, out = drawn.top - drawn.feet[0], hook.points[-1] - hook.points[0]
        return up.x * out.y - up.y * out.x

    assert side(Loop.FRONT_POST) < 0 < side(Loop.BACK_POST), "front to the right, back to the left"


def test_a_stitch_that_only_the_pattern_knows_is_a_letter_in_a_box() -> None:
    letters = [stroke for stroke in strokes_of(mark(made.stitch("frond"))) if isinstance(stroke, Letter)]
    assert [letter.text for letter in letters] == ["F"]


def test_a_chain_space_bows_away_from_the_middle() -> None:
    piece = made.piece(
        made.plan(Run(made.in_ring(), 12)),
        made.plan(made.times(4, made.stitch(), made.chain(8), Run(made.skip(), 2))),
    )
    for drawn in chart_of_piece(piece).rounds[1].marks:
        if drawn.space:
            ends = drawn.ovals[0].centre.toward(drawn.ovals[-1].centre, 0.5)
            assert drawn.ovals[4].centre.size > ends.size
            assert len(drawn.ovals) == drawn.chains == 8


def test_a_standing_chain_rises_from_its_foot() -> None:
    drawn = chart_of_piece(made.mandala()).rounds[0].marks[0]
    assert drawn.standing
    assert [oval.centre.size for oval in drawn.ovals] == sorted(oval.centre.size for oval in drawn.ovals)


def test_samples_of_the_key_are_drawn_like_the_chart() -> None:
    for entry in key(chart_of_piece(made.mandala()), "US"):
        assert entry.sample
        for drawn in entry.sample:
            assert strokes_of(drawn)
            assert drawn.outward == pytest.approx(pi / 2)
            assert drawn.symbol.form is not SymbolForm.NAMED
