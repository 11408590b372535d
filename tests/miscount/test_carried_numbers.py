"""The maker's own number: what a round comes to after a difference was carried on with.

What each line leaves is worked out here by the arithmetic of the trade, not by the program: one stitch into each
keeps the number, an increase into each doubles it, and a repeat over n bases is made as often as n fits.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as some

from tracker.pattern.loader import loads
from tracker.session.events import (
    CarryOn,
    Counted,
    Event,
    Frog,
    PieceChosen,
    RepeatDone,
    RoundDone,
    RoundRewritten,
    Stitch,
)
from tracker.session.reducer import advance, begin
from tracker.session.serialization import event_in
from tracker.session.view import View
from tracker.session.view_builder import look

BALL = loads('''
title = "Ball"
[[piece]]
name = "Ball"
make = 2
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: *1 sc, inc; rep from * around (18)
Rnds 4-5: sc around (18)
Rnd 6: inc in each st around (36)
Rnd 7: (4 sc, dec) x 6 (30)
Rnd 8: sc around (30)
"""
''')
DONE = RoundDone()
OFF = some.integers(-5, 5).filter(bool)


def at(*events: Event) -> View:
    state = begin(BALL)
    for event in events:
        state = advance(BALL, state, event, 0.0)
    return look(BALL, state)


def carried(rounds: int, counted: int) -> list[Event]:
    return [*[DONE] * rounds, Counted(counted, rounds - 1), CarryOn()]


@given(off=OFF, more=some.integers(0, 4))
def test_each_round_comes_to_what_the_line_leaves_over_the_makers_stitches(off: int, more: int) -> None:
    """Rnds 4 and 5 keep the number, Rnd 6 doubles it; Rnd 7 fits only 36, and passes a difference on as it is."""
    number = 18 + off
    whole = [number, number, 2 * number, 30 + 2 * off, 30 + 2 * off]
    view = at(*carried(3, number), *[DONE] * more)
    assert (view.round_index, view.expected) == (3 + more, whole[more])


@given(off=OFF, by=some.integers(-3, 3), first=some.booleans())
def test_behind_a_round_of_the_makers_own_its_number_goes_on(off: int, by: int, first: bool) -> None:
    """Rnd 5 is worked otherwise, with increases or decreases of the maker's own; Rnd 6 doubles what it leaves, and
    of two that were written for it the last counts, whatever became of Rnd 4."""
    number = 18 + off
    change = f", {by} inc" if by > 0 else f", {-by} dec" if by < 0 else ""
    plain = number - (by if by > 0 else -2 * by)
    own = RoundRewritten(4, f"Rnd 5: {plain} sc{change} ({number + by})", number)
    as_it_is = RoundRewritten(3, f"Rnd 4: {number} sc ({number})", number)
    other = RoundRewritten(4, f"Rnd 5: {number - 1} sc, inc ({number + 1})", number)
    script = [*carried(3, number), *([as_it_is, other] if first else []), own]
    assert at(*script, DONE).expected == number + by
    assert at(*script, DONE, DONE).expected == 2 * (number + by)
    assert at(*script, DONE, DONE, DONE).expected == 30 + 2 * (off + by)


def test_a_round_of_one_copy_changes_nothing_behind_a_difference_in_another() -> None:
    number = RoundRewritten(4, "Rnd 5: 15 sc, dec (16)", 17)
    assert at(*carried(3, 17), number, DONE, DONE).expected == 32
    assert at(number, PieceChosen(0, 2), *carried(3, 17), DONE, DONE).expected == 34


@given(off=OFF, taps=some.integers(0, 60))
def test_the_stitch_never_passes_what_the_round_comes_to(off: int, taps: int) -> None:
    view = at(*carried(3, 18 + off), *[Stitch()] * taps)
    assert view.expected is not None and 0 <= view.stitch <= view.expected


@given(off=OFF)
def test_a_round_ends_with_the_makers_own_number(off: int) -> None:
    """One tap for each stitch that is there: the last one ends the round, and its total is the maker's."""
    taps = [Stitch()] * (18 + off)
    view = at(*carried(3, 18 + off), *taps[1:])
    assert (view.round_index, view.stitch, view.stitches_left) == (3, 17 + off, 1)
    assert view.text == f"Rnds 4-5: sc around ({18 + off})"
    assert (at(*carried(3, 18 + off), *taps).round_index, at(*carried(3, 18 + off), *taps).stitch) == (4, 0)


def test_repeats_follow_the_number_too() -> None:
    """14 stitches hold seven times (1 sc, inc): seven taps, where the pattern has six."""
    seven = [RepeatDone()] * 7
    assert at(*carried(2, 14), *seven[1:]).round_index == 2
    assert at(*carried(2, 14), *seven).round_index == 3


def test_in_journals_of_older_versions_taps_follow_the_pattern() -> None:
    """They were tapped like that."""
    older = [*carried(3, 17)[:-1], event_in({"did": "carry on"})]
    assert at(*older).expected == 17
    assert (at(*older, *[Stitch()] * 17).round_index, at(*older, *[Stitch()] * 18).round_index) == (3, 4)


def test_a_place_on_the_way_is_found_again_by_its_stitches() -> None:
    """Five stitches of Rnd 4 are made when Rnd 3 turns out to have 17, or again to have 18."""
    begun = [*[DONE] * 3, Stitch(5), Counted(17, 2), CarryOn()]
    assert (at(*begun).stitch, at(*begun).expected, at(*begun).stitches_left) == (5, 17, 12)
    right = [*carried(3, 17), Stitch(16), Counted(18, 2)]
    assert (at(*right).stitch, at(*right).expected, at(*right).stitches_left) == (16, 18, 2)


def test_a_count_on_the_way_does_not_end_the_difference() -> None:
    view = at(*carried(3, 17), Stitch(9), Counted(9, 3))
    assert (view.unanswered, view.expected, view.stitches_left) == (None, 17, 8)
    assert at(*carried(3, 17), Stitch(9), Counted(8, 3)).unanswered is not None


def test_a_round_that_does_not_work_out_says_so() -> None:
    """Six times (4 sc, dec) takes 36; there are 34."""
    view = at(*carried(3, 17), *[DONE] * 3)
    assert (view.round_label, view.remark) == (
        "Rnd 7",
        "this does not work out over 34 stitches: end it as well as it can be, then count",
    )
    assert at(*[DONE] * 6).remark == ""


def test_a_repeat_goes_as_often_as_it_fits() -> None:
    """14 stitches hold seven times (1 sc, inc), which leaves 21."""
    view = at(*carried(2, 14))
    assert (view.round_label, view.expected) == ("Rnd 3", 21)
    assert at(*carried(2, 14), RepeatDone()).stitch == 3


def test_a_difference_in_the_round_that_is_being_made_is_in_both_numbers() -> None:
    """Nine made and eight counted: one is missing, so that the round ends with 17."""
    view = at(*[DONE] * 3, Stitch(9), Counted(8, 3), CarryOn())
    assert (view.stitch, view.expected, view.stitches_left) == (8, 17, 9)
    view = at(*[DONE] * 3, Stitch(9), Counted(8, 3), CarryOn(), Stitch(8))
    assert (view.stitch, view.expected, view.stitches_left) == (16, 17, 1)


def test_a_piece_that_is_made_shows_the_makers_number() -> None:
    view = at(*carried(3, 19), *[DONE] * 5)
    assert view.just_made == "Ball 1 of 2"
    view = at(PieceChosen(0, 2), *[DONE] * 8, *carried(3, 19), *[DONE] * 5)
    assert view.piece_finished and (view.stitch, view.expected) == (32, 32)


@pytest.mark.parametrize(
    ("then", "expected"),
    [
        pytest.param([DONE, Counted(18, 3)], 18, id="counted and right again"),
        pytest.param([Counted(18, 2)], 18, id="the count was wrong"),
        pytest.param([Frog(2)], 18, id="ripped back before it"),
        pytest.param([DONE, Counted(20, 3), CarryOn()], 20, id="another number since"),
        pytest.param([DONE], 17, id="nothing since"),
    ],
)
def test_the_pattern_is_shown_again_when_the_difference_is_gone(then: list[Event], expected: int) -> None:
    assert at(*carried(3, 17), *then).expected == expected


def test_a_difference_that_is_only_asked_about_changes_nothing_yet() -> None:
    assert at(*[DONE] * 3, Counted(19, 2)).expected == 18


FRILL = loads('''
title = "Frill"
[[piece]]
name = "Frill"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: sc around (12)
Rnd 4: inc in each st around (24)
Rnd 5: dec around (12)
Rnd 6: working behind Rnd 5, sc in each st of Rnd 4 around (24)
Rnd 7: sc around (24)
"""
''')


def test_a_round_into_an_earlier_one_comes_right_by_itself() -> None:
    """What was counted in Rnd 5 is not touched by a round that goes into Rnd 4."""
    assert FRILL.pieces[0].rounds[5].worked_into == 4
    state = begin(FRILL)
    for event in [*[DONE] * 5, Counted(11, 4), CarryOn()]:
        state = advance(FRILL, state, event, 0.0)
    assert look(FRILL, state).expected == 24
    state = advance(FRILL, state, DONE, 0.0)
    assert look(FRILL, state).expected == 24
