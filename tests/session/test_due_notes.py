"""Notes of a pattern when they are due, and what stops the maker once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.building import inc, pattern, piece, ring, rnd, sc, step

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.due_notes import due_notes, notes_due, notes_due_after
from tracker.session.events import Event, Frog, NoteTicked, RoundDone, Undo
from tracker.session.reducer import advance, begin
from tracker.session.state import Copy, Refused, Ticked
from tracker.session.view import View
from tracker.session.view_builder import look

ROUNDS = (rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, sc(12)), rnd(4, sc(12)))


def noted(*notes: str, last: bool = False) -> Pattern:
    rounds = (*ROUNDS, rnd(5, sc(12), step("fasten off"))) if last else ROUNDS
    return pattern(replace(piece("Ball", *rounds), notes=notes))


def seen(made: Pattern, *events: Event) -> View:
    state = begin(made)
    for event in events:
        state = advance(made, state, event, 0.0)
    return look(made, state)


@pytest.mark.parametrize(
    ("note", "indexes"),
    [
        ("In rounds 2-3 keep the yarn loose", (1, 2)),
        ("Rnds 2 and 4 are worked in the back loop", (1, 3)),
        ("Round 4 begins in any space", (3,)),
        ("Rounds 4-2 are loose", (1, 3)),
        ("Rounds 2-2 are loose", (1,)),
        ("Worked from the top down", (0,)),
        ("Every 2nd round (2, 4, 6 and so on): increase", (1, 3)),
        ("Leave 30 cm of tail to sew it on with", (3,)),
    ],
)
def test_a_note_is_told_at_the_rounds_that_it_names(note: str, indexes: tuple[int, ...]) -> None:
    ball = noted(note).pieces[0]
    assert [index for index in range(4) if notes_due(ball, index)] == list(indexes)


ARMS = """
[[piece]]
name = "Arm"
make = 2
notes = ["Worked from the hand up."]
rounds = '''
Rnd 1: 5 sc in MR (5)
Rnd 2: inc x 5 (10)
Rnd 3: sc around (10)
Leave it empty. Fold flat and sc across both edges together.
'''
"""


def test_a_note_behind_the_last_round_is_told_as_the_piece_ends() -> None:
    arms = loads(ARMS)
    closing = ("Leave it empty", "Fold flat and sc across both edges together")
    assert [seen(arms, *[RoundDone()] * done).remarks for done in range(4)] == [
        ("Worked from the hand up",),
        (),
        closing,
        ("Worked from the hand up",),
    ]


@pytest.mark.parametrize(
    ("note", "index", "stops"),
    [
        ("After Rnd 3 stuff firmly", 2, True),
        ("Attach the eyes before Rnd 4", 2, True),
        ("After completing round 2, do not stuff yet", 1, False),
        ("Fasten off after Rnd 4", 3, True),
    ],
)
def test_what_is_due_after_a_round_stops_only_where_something_is_done(note: str, index: int, stops: bool) -> None:
    ball = noted(note).pieces[0]
    assert [(found.indexes, found.stops) for found in due_notes(ball)] == [((index,), stops)]
    assert notes_due_after(ball, index) and not notes_due(ball, index)


def test_sentences_of_a_note_are_told_each_at_its_own_rounds() -> None:
    ball = noted("Rnd 2 is the rim. Rnd 4 takes the front loops.").pieces[0]
    assert [notes_due(ball, index) for index in range(4)] == [
        (),
        ("Rnd 2 is the rim.",),
        (),
        ("Rnd 4 takes the front loops.",),
    ]


STUFFED = noted("After Rnd 3 stuff firmly.")


def test_stuffing_stops_once_and_is_ticked_and_comes_again_when_it_is_ripped() -> None:
    made = [RoundDone()] * 3
    view = seen(STUFFED, *made)
    assert view.stop is not None and (view.letters, view.now) == ("stuff", "After Rnd 3 stuff firmly.")
    assert view.tap is None
    ticked = [*made, NoteTicked(view.stop.number)]
    assert seen(STUFFED, *ticked).stop is None and seen(STUFFED, *ticked).letters == "12 sc"
    assert seen(STUFFED, *ticked, Undo()).stop is not None
    assert seen(STUFFED, *ticked, Frog(2), RoundDone()).stop is not None
    assert seen(STUFFED, *ticked, RoundDone()).stop is None


def test_a_tick_is_taken_once_and_only_for_a_note_that_is_there() -> None:
    for events in ([NoteTicked(0), NoteTicked(0)], [NoteTicked(1)], [NoteTicked(-1)]):
        with pytest.raises(Refused):
            seen(STUFFED, *events)


def test_what_is_due_where_the_yarn_is_cut_needs_no_tap_of_its_own() -> None:
    made = noted("After Rnd 5 fasten off and leave a long tail.", last=True)
    view = seen(made, *[RoundDone()] * 4)
    assert view.stop is None and "long tail" not in view.remark
    from tracker.session.events import Stitch

    at_the_end = seen(made, *[RoundDone()] * 4, Stitch(12))
    assert "long tail" in at_the_end.remark and at_the_end.letters == "fasten off"
    assert seen(made, *[RoundDone()] * 5).stop is None


def test_what_was_done_before_the_place_ripped_back_to_stays_ticked_and_so_does_that_of_other_copies() -> None:
    ball = noted("After Rnd 2 stuff it", "After Rnd 3 add the wire")
    two = pattern(replace(ball.pieces[0], make=2))
    whole = [RoundDone(), RoundDone(), NoteTicked(0), RoundDone(), NoteTicked(1), RoundDone()]
    state = begin(two)
    for event in (*whole, *whole[:-1], Frog(2)):
        state = advance(two, state, event, 0.0)
    first, second = Copy(0, 1), Copy(0, 2)
    assert state.work.ticked == (Ticked(first, 0), Ticked(first, 1), Ticked(second, 0))
