"""Where each event leads. Rounds are told as a knitter would: (round number, stitches of it that are done)."""

from __future__ import annotations

import pytest
from support.building import cap, ch, inc, join, pattern, piece, ring, rnd, sc, sk, step, times, toadstool, unread

from tracker.pattern.model import Pattern
from tracker.session.events import (
    Closed,
    Event,
    Frog,
    Opened,
    PieceChosen,
    RepeatDone,
    RoundDone,
    RoundRewritten,
    Stitch,
    Undo,
)
from tracker.session.reducer import Refused, State, advance, begin
from tracker.session.state import Copy, Place
from tracker.session.view_builder import look

CAP = pattern(cap())
JOINED = pattern(piece("Band", rnd(1, ch(1), sc(4), join()), rnd(2, ch(1), sc(2), sk(), sc(2), join(), step("turn"))))
SHELLS = pattern(piece("Edge", rnd(1, times(3, sc(), ch(3))), rnd(2, sc(3))))
EYE = pattern(piece("Ear", rnd(1, ring(6)), unread(2, stated=12), rnd(3, sc(12))))


def after(pattern: Pattern, *events: Event) -> State:
    state = begin(pattern)
    for event in events:
        state = advance(pattern, state, event, 0.0)
    return state


def place(pattern: Pattern, *events: Event) -> tuple[int, int]:
    view = look(pattern, after(pattern, *events))
    return view.round_number, view.stitch


def test_from_a_fresh_start_two_rounds_and_three_stitches_is_round_three_stitch_three() -> None:
    assert place(CAP, RoundDone(), RoundDone(), Stitch(3)) == (3, 3)


@pytest.mark.parametrize(
    ("what", "pattern", "events", "expected"),
    [
        ("nothing yet", CAP, [], (1, 0)),
        ("a run is one repeat outside a group", CAP, [RepeatDone()], (2, 0)),
        ("stitches go on into the next round of a spiral", CAP, [Stitch(8)], (2, 2)),
        ("the last stitch of a round begins the next", CAP, [Stitch(6)], (2, 0)),
        ("a repeat ends at the end of its group", CAP, [RoundDone(), RoundDone(), Stitch(), RepeatDone()], (3, 3)),
        ("half of an increase is one stitch", CAP, [RoundDone(), Stitch()], (2, 1)),
        ("six repeats make the round", CAP, [RoundDone(), RoundDone(), *[RepeatDone()] * 5], (3, 15)),
        ("a round is done from its middle as well", CAP, [Stitch(2), RoundDone()], (2, 0)),
        ("a chain before a stitch goes with it", JOINED, [Stitch()], (1, 1)),
        ("a chain before a repeat goes with it, as the words say", JOINED, [RepeatDone()], (1, 4)),
        ("so a joined round is a repeat and its join", JOINED, [RepeatDone(), RepeatDone()], (2, 0)),
        ("the join waits for a tap of its own", JOINED, [Stitch(4)], (1, 4)),
        ("that tap may be a stitch", JOINED, [Stitch(4), Stitch()], (2, 0)),
        ("or a repeat", JOINED, [Stitch(4), RepeatDone()], (2, 0)),
        ("or a round", JOINED, [Stitch(4), RoundDone()], (2, 0)),
        ("many stitches pass the join as that many taps", JOINED, [Stitch(6)], (2, 1)),
        ("a skip goes with the stitch behind it", JOINED, [RoundDone(), Stitch(3)], (2, 3)),
        ("join and turn are done by one stitch tap", JOINED, [RoundDone(), Stitch(5)], (2, 4)),
        ("a trailing chain waits as a join does", SHELLS, [Stitch(3)], (1, 3)),
        ("and is passed by the next tap", SHELLS, [Stitch(3), Stitch()], (2, 0)),
        ("an unread round is one move", EYE, [RoundDone(), Stitch()], (3, 0)),
        ("or one repeat", EYE, [RoundDone(), RepeatDone()], (3, 0)),
        ("or one round", EYE, [RoundDone(), RoundDone()], (3, 0)),
        ("frogging goes to the start of a round", CAP, [RoundDone(), Stitch(5), Frog(0)], (1, 0)),
        ("or to a stitch of it", CAP, [RoundDone(), Stitch(5), Frog(1, 2)], (2, 2)),
        ("also forward, if taps were missed", CAP, [Frog(2, 4)], (3, 4)),
        ("all stitches of a spiral round are its end", CAP, [Frog(1, 12)], (3, 0)),
        ("before a join they are not", JOINED, [Frog(0, 4)], (1, 4)),
        ("opening and closing move nothing", CAP, [Stitch(2), Closed(), Opened("x")], (1, 2)),
        ("undo goes back over a session", CAP, [Stitch(2), Stitch(), Closed(), Opened("x"), Undo()], (1, 2)),
        ("several undos go further back", CAP, [Stitch(1), Stitch(2), Undo(), Undo()], (1, 0)),
        ("undo brings back what was frogged", CAP, [RoundDone(), Stitch(5), Frog(0), Undo()], (2, 5)),
    ],
)
def test_where_events_lead(what: str, pattern: Pattern, events: list[Event], expected: tuple[int, int]) -> None:
    assert place(pattern, *events) == expected, what


@pytest.mark.parametrize(
    ("pattern", "events", "reason"),
    [
        (CAP, [Undo()], "there is nothing to take back"),
        (CAP, [Stitch(0)], "a number of stitches from 1 to 10,000,000,000 is needed"),
        (CAP, [Stitch(-1)], "a number of stitches from 1 to 10,000,000,000 is needed"),
        (CAP, [Stitch(37)], "Cap ends sooner: only 36 left to make"),
        (CAP, [Frog(3)], "Cap has no such round"),
        (CAP, [Frog(-1)], "Cap has no such round"),
        (CAP, [Frog(1, 13)], "Rnd 2 has only 12 stitches"),
        (EYE, [Frog(1, 1)], "Rnd 2 could not be read: only its start can be gone to"),
        (EYE, [RoundDone(), Stitch(2)], "Rnd 2 could not be read: work it by eye and tap it as one round"),
        (EYE, [Stitch(8)], "Rnd 2 could not be read: work it by eye and tap it as one round"),
        (CAP, [*[RoundDone()] * 3, Stitch()], "everything is made"),
        (toadstool(), [*[RoundDone()] * 7, RoundDone()], "every piece is made: only making up is left"),
        (toadstool(), [PieceChosen(2, 1)], "there is no such piece"),
        (toadstool(), [PieceChosen(1, 3)], "Stem is made 2 times only"),
        (toadstool(), [PieceChosen(0, 2)], "Cap is made once only"),
        (toadstool(), [PieceChosen(0, 1)], "you are at Cap already"),
        (
            toadstool(),
            [*[RoundDone()] * 3, PieceChosen(0, 1), Stitch()],
            "Cap is made: choose another piece, or frog back in this one",
        ),
        (pattern(), [RoundDone()], "everything is made"),
        (pattern(), [Frog(0)], "Trial has no such round"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_reason(pattern: Pattern, events: list[Event], reason: str) -> None:
    *before, last = events
    state = after(pattern, *before)
    with pytest.raises(Refused) as refused:
        advance(pattern, state, last, 0.0)
    assert refused.value.reason == reason


def test_pieces_follow_each_other_and_copies_are_counted() -> None:
    spots = toadstool()
    seen = []
    state = begin(spots)
    for _ in range(7):
        view = look(spots, state)
        seen.append((view.piece, view.copy, view.copies, view.round_number))
        state = advance(spots, state, RoundDone(), 0.0)
    assert seen == [
        *[("Cap", 1, 1, n) for n in (1, 2, 3)],
        *[("Stem", 1, 2, n) for n in (1, 2)],
        *[("Stem", 2, 2, n) for n in (1, 2)],
    ]


def test_each_copy_keeps_its_place_while_another_is_worked() -> None:
    state = after(toadstool(), Stitch(3), PieceChosen(1, 2), RoundDone(), Stitch(2), PieceChosen(0, 1), Stitch())
    assert state.work.place_in(Copy(1, 2)) == Place(1, 2, 2)
    assert state.work.place_in(Copy(1, 1)) == Place()
    assert state.work.place == Place(0, 4, 4)


def test_after_a_piece_worked_out_of_order_the_one_left_behind_comes_next() -> None:
    state = after(toadstool(), Stitch(3), PieceChosen(1, 1), *[RoundDone()] * 4)
    view = look(toadstool(), state)
    assert (view.piece, view.stitch, view.just_made) == ("Cap", 3, "Stem 2 of 2")


def test_frogging_right_after_a_piece_is_made_is_about_that_piece() -> None:
    state = after(toadstool(), *[RoundDone()] * 3, Frog(1, 4))
    view = look(toadstool(), state)
    assert (view.piece, view.round_number, view.stitch) == ("Cap", 2, 4)
    assert look(toadstool(), after(toadstool(), *[RoundDone()] * 3, PieceChosen(1, 1), Frog(0, 4))).piece == "Stem"


def test_a_piece_without_rounds_is_passed_over() -> None:
    empty = pattern(piece("Nothing"), cap())
    assert look(empty, begin(empty)).piece == "Cap"


def test_a_round_of_nothing_is_passed_by_one_tap() -> None:
    blank = pattern(piece("Blank", rnd(1), rnd(2, sc(3))))
    assert place(blank, Stitch()) == (2, 0)
    assert place(blank, RepeatDone(), Stitch()) == (2, 1)


def test_only_the_last_thousand_events_can_be_taken_back() -> None:
    long = pattern(piece("Scarf", rnd(1, sc(5000))))
    state = after(long, *[Stitch()] * 1005, *[Undo()] * 1000)
    assert state.work.place.moves == 5
    with pytest.raises(Refused, match="nothing to take back"):
        advance(long, state, Undo(), 0.0)


def test_a_round_of_a_thousand_million_stitches_is_no_different() -> None:
    huge = pattern(piece("Sea", rnd(1, times(500_000_000, sc(), inc()))))
    assert place(huge, Stitch(1_000_000_001)) == (1, 1_000_000_001)
    assert place(huge, Stitch(999_999_998), RepeatDone()) == (1, 999_999_999)
    assert inc(2).tally.moves == 4


def test_the_first_round_may_be_worked_otherwise_and_no_round_that_is_not_there() -> None:
    state = after(CAP, RoundRewritten(0, "Rnd 1: 7 sc in magic ring (7)", 0))
    assert look(CAP, state).expected == 7
    for index in (-1, 3):
        with pytest.raises(Refused, match="Cap has no such round"):
            after(CAP, RoundRewritten(index, "Rnd 1: 7 sc in magic ring (7)", 0))
    with pytest.raises(Refused, match="Rnd 1 is made already: frog back to change it"):
        after(CAP, RoundDone(), RoundRewritten(0, "Rnd 1: 7 sc in magic ring (7)", 0))
