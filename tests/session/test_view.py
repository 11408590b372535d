"""The one object that is shown: shares, what lies ahead, notes, making-up, finished."""

from __future__ import annotations

import pytest
from support.building import cap, inc, pattern, piece, ring, rnd, sc, times, toadstool, unread

from tracker.diagnostics import Span
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.rounds.plan import Act, Made, Role, Run
from tracker.session.events import Event, Frog, Note, PieceChosen, RoundDone, StepDone, Stitch
from tracker.session.reducer import Refused, advance, begin
from tracker.session.state import Copy
from tracker.session.view import View
from tracker.session.view_builder import look
from tracker.session.view_words import MOST_COPIES, named_copies

DOUBTFUL = 'title = "Doubtful"\n[[piece]]\nname = "Cap"\nrounds = """\nRnd 1: 6 sc in magic ring (6)\n{}\n"""\n'


def seen(pattern: Pattern, *events: Event) -> View:
    state = begin(pattern)
    for event in events:
        state = advance(pattern, state, event, 5.0)
    return look(pattern, state)


def test_a_place_in_a_repeat() -> None:
    view = seen(toadstool(), RoundDone(), RoundDone(), Stitch(4))
    assert (view.title, view.piece, view.copy, view.copies, view.pieces) == ("Toadstool", "Cap", 1, 1, 2)
    assert (view.round_label, view.round_number, view.round_index, view.rounds) == ("Rnd 3", 3, 2, 3)
    assert (view.stitch, view.expected, view.repeat, view.repeats) == (4, 18, 2, 6)
    assert (view.moves_done, view.moves, view.now) == (4, 18, "an increase")


def test_outside_a_group_there_is_no_repeat() -> None:
    assert (seen(toadstool()).repeat, seen(toadstool()).repeats) == (None, None)


def test_the_words_being_worked_are_marked() -> None:
    act = Act("sc", Role.WORK, (Made("sc"),), 1)
    marked = pattern(piece("P", rnd(1, Run(act, 6, Span(0, 7, 11)), inc(6), text="Rnd 1: 6 sc, 6 inc")))
    assert seen(marked, Stitch(2)).tap.spans == (Span(0, 7, 11),)


def test_two_rounds_are_shown_ahead_and_fewer_at_the_end() -> None:
    assert [ahead.label for ahead in seen(toadstool()).ahead] == ["Rnd 2", "Rnd 3"]
    assert [ahead.leaves for ahead in seen(toadstool(), RoundDone()).ahead] == [18]
    assert seen(toadstool(), RoundDone(), RoundDone()).ahead == ()


def test_shares_count_moves_over_all_copies() -> None:
    """Cap: 6 + 12 + 18 moves; stem: 6 + 7, twice; the two steps of sewing count like two rounds more."""
    view = seen(toadstool(), RoundDone(), Stitch(4))
    assert view.piece_share == pytest.approx(10 / 36)
    assert view.whole_share == pytest.approx(10 / 62 * 7 / 9)
    assert seen(toadstool(), *[RoundDone()] * 7).all_made


def test_all_made_and_all_steps_ticked_is_finished() -> None:
    made = [RoundDone()] * 7
    view = seen(toadstool(), *made)
    assert (view.piece_finished, view.finished, view.now) == (True, False, "making up: Stuff the cap.")
    assert (view.stitch, view.expected, view.moves_done, view.moves) == (6, 6, 7, 7)
    view = seen(toadstool(), *made, StepDone(1), StepDone(0))
    assert (view.finished, view.now) == (True, "everything is made")
    view = seen(toadstool(), *made, StepDone(1), StepDone(0), StepDone(1, False))
    assert (view.finished, view.making_up) == (False, (("Stuff the cap.", True), ("Sew it on.", False)))


def test_a_step_may_be_done_before_the_pieces_are() -> None:
    assert seen(toadstool(), StepDone(0)).making_up[0] == ("Stuff the cap.", True)


@pytest.mark.parametrize(
    ("events", "reason"),
    [
        ([StepDone(2)], "there is no such making-up step"),
        ([StepDone(0), StepDone(0)], "that step is ticked already"),
        ([StepDone(0, False)], "that step is not ticked"),
        ([Note(" \x1b ")], "the note is empty"),
        ([Note("x" * 4001)], "a note can have 4,000 characters, this one has 4,001"),
    ],
)
def test_steps_and_notes_that_make_no_sense_are_refused(events: list[Event], reason: str) -> None:
    with pytest.raises(Refused) as refused:
        seen(toadstool(), *events)
    assert refused.value.reason == reason


def test_a_note_stays_with_its_round_and_is_cleaned() -> None:
    noted = [RoundDone(), Stitch(3), Note("tight \x1b[31m[bold]here[/]")]
    assert seen(toadstool(), *noted).notes_here == ("tight [31m[bold]here[/]",)
    assert seen(toadstool(), *noted, RoundDone()).notes_here == ()
    assert seen(toadstool(), *noted, RoundDone(), Frog(1)).notes_here == ("tight [31m[bold]here[/]",)


def test_a_piece_just_made_is_told_until_the_next_is_begun() -> None:
    assert seen(toadstool(), *[RoundDone()] * 3).just_made == "Cap"
    assert seen(toadstool(), *[RoundDone()] * 5).just_made == "Stem 1 of 2"
    assert seen(toadstool(), *[RoundDone()] * 3, Stitch()).just_made == ""


def test_a_made_piece_that_is_chosen_shows_its_end() -> None:
    view = seen(toadstool(), *[RoundDone()] * 3, PieceChosen(0, 1))
    assert (view.piece, view.piece_finished, view.finished) == ("Cap", True, False)
    assert view.now == "Cap is made, Stem 1 of 2 comes next"
    assert (view.stitch, view.expected, view.next_colour, view.tap) == (18, 18, None, None)


def test_a_round_that_could_not_be_read_is_worked_by_eye() -> None:
    view = seen(pattern(piece("Ear", unread(1, 12), rnd(2, sc(12)))))
    assert (view.now, view.expected, view.stitch, view.moves) == (
        "work this round by eye, it could not be read",
        12,
        0,
        1,
    )


def test_a_round_of_nothing_says_so() -> None:
    assert seen(pattern(piece("P", rnd(1), rnd(2, sc())))).now == "nothing to make in this round, go on to the next"


def test_a_pattern_without_rounds_can_be_looked_at() -> None:
    for empty in (pattern(), pattern(piece("Nothing"))):
        view = seen(empty)
        assert (view.rounds, view.in_hand, view.piece_finished, view.expected) == (0, None, True, None)
        assert view.now == "everything is made"
    assert seen(pattern(making_up=["Press it."])).now == "making up: Press it."


def test_uk_patterns_are_told_in_uk_names() -> None:
    assert seen(pattern(cap(), terms="UK")).now == "6 double crochet in the magic ring"
    assert look(pattern(cap()), begin(pattern(cap())), {"sc": "wee stitch"}).now == "6 wee stitches in the magic ring"


def test_a_huge_round_is_shown_like_any_other() -> None:
    huge = pattern(piece("Sea", rnd(1, times(500_000_000, sc(), inc())), rnd(2, ring(1))))
    view = seen(huge, Stitch(1_000_000_000))
    assert (view.repeat, view.expected, view.now) == (333_333_334, 1_500_000_000, "an increase")


@pytest.mark.parametrize(
    ("written", "doubt"),
    [
        ("Rnd 2: inc x 6 (13)", "the instruction makes 12, and the total says 13"),
        ("Rnd 2: 6 wombats (12)", "unknown word 'wombats'"),
        ("Rnd 2: sc in next 5 sts", ""),
        ("Rnd 2: inc x 6 (12)", ""),
    ],
    ids=["a total that differs", "a round that cannot be read", "a warning", "nothing wrong"],
)
def test_a_misprint_is_told_where_it_is_met(written: str, doubt: str) -> None:
    """What may be the pattern's fault, when it is worked; warnings are told by the check, not at work."""
    read = loads(DOUBTFUL.format(written))
    assert seen(read).doubt == ""
    assert seen(read, RoundDone()).doubt == doubt


def test_copies_are_named_in_the_order_of_working_and_of_a_great_many_the_begun_and_the_next() -> None:
    assert named_copies(toadstool(), begin(toadstool())) == [Copy(0, 1), Copy(1, 1), Copy(1, 2)]
    beads = pattern(piece("Bead", rnd(1, ring(6)), make=MOST_COPIES + 1))
    state = advance(beads, begin(beads), PieceChosen(0, 9), 0.0)
    assert named_copies(beads, state) == [Copy(0, 1), Copy(0, 9)]
