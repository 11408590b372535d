"""Edges of the state: each of these rules was once broken on purpose, and no other test noticed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.building import cap, dec, inc, pattern, piece, ring, rnd, sc, toadstool, unread

from tracker.pattern.model import Pattern
from tracker.rounds.plan import MAX_STITCHES
from tracker.session.events import (
    AskChosen,
    CarryOn,
    CauseConfirmed,
    Closed,
    Counted,
    Event,
    Frog,
    Note,
    Opened,
    PieceChosen,
    RoundDone,
    RoundRewritten,
    Stitch,
    Together,
    Undo,
)
from tracker.session.reducer import LONGEST_NOTE, Refused, State, advance, begin
from tracker.session.state import Copy
from tracker.session.view import View
from tracker.session.view_builder import look

CAP = pattern(cap())
TWO_CAPS = pattern(cap(make=2))


def after(pattern: Pattern, *events: Event) -> State:
    """The state after these events, one second apart."""
    state = begin(pattern)
    for second, event in enumerate(events, 1):
        state = advance(pattern, state, event, float(second))
    return state


def seen(pattern: Pattern, *events: Event) -> View:
    return look(pattern, after(pattern, *events))


@pytest.mark.parametrize("last", [Opened("x"), Closed(), Undo(), Stitch()], ids=lambda event: type(event).__name__)
def test_the_state_carries_the_time_of_what_happened_last(last: Event) -> None:
    assert after(CAP, Stitch(), last).at == 2.0


def test_a_round_that_increases_and_decreases_alike_is_a_change() -> None:
    balanced = pattern(
        piece("Leaf", rnd(1, ring(6)), rnd(2, inc(), sc(2), dec(), sc()), rnd(3, inc(6)), rnd(4, sc(12)))
    )
    assert [seen(balanced, *[RoundDone()] * n).asks_count for n in (1, 2, 3)] == [False, True, True]


def test_an_unread_round_with_another_total_than_the_one_before_is_a_change() -> None:
    """There are no stitches to look at, so the totals tell."""
    grown, same = replace(unread(2, 12), before=6), replace(unread(2, 6), before=6)
    asked = [
        seen(pattern(piece("Ear", rnd(1, ring(6)), each, rnd(3, sc(6)))), RoundDone(), RoundDone()).asks_count
        for each in (grown, same, replace(grown, before=None))
    ]
    assert asked == [True, False, False]


def test_a_round_being_made_that_could_not_be_read_has_no_count_yet() -> None:
    eye = pattern(piece("Ear", rnd(1, ring(6)), unread(2, 12), rnd(3, sc(12))))
    assert seen(eye, RoundDone()).in_hand.expected == 6  # type: ignore[union-attr]
    assert seen(eye, RoundDone(), RoundDone()).in_hand.expected == 12  # type: ignore[union-attr]


@pytest.mark.parametrize("count", [0, MAX_STITCHES])
def test_the_smallest_and_the_largest_count_are_taken(count: int) -> None:
    found = seen(CAP, RoundDone(), Counted(count, 0)).unanswered
    assert found is not None and found.counted == count


@pytest.mark.parametrize("count", [12, 13])
def test_a_count_of_the_round_just_ended_is_what_was_asked_for(count: int) -> None:
    assert seen(CAP, RoundDone(), RoundDone()).asks_count
    assert not seen(CAP, RoundDone(), RoundDone(), Counted(count, 1)).asks_count


def test_a_count_of_an_earlier_round_leaves_the_question_open() -> None:
    assert seen(CAP, RoundDone(), RoundDone(), Counted(6, 0)).asks_count


@pytest.mark.parametrize("choose", [PieceChosen(1, 1)])
def test_the_question_goes_away_when_another_piece_is_taken_up(choose: Event) -> None:
    assert not seen(toadstool(), RoundDone(), RoundDone(), choose).asks_count


def test_an_equal_count_of_one_copy_leaves_the_question_about_another_open() -> None:
    events = [RoundDone(), Counted(7, 0), PieceChosen(0, 2), RoundDone(), Counted(6, 0)]
    found = after(TWO_CAPS, *events).work.unanswered
    assert found is not None and (found.copy, found.counted) == (Copy(0, 1), 7)


def test_a_difference_that_was_carried_on_with_is_no_news_above_it() -> None:
    """7 for 6 in a tube is 7 in the next round too; any other count is news, and so is 7 in another copy."""
    rounds = [rnd(n, sc(6) if n > 1 else ring(6), text=f"Rnd {n}: sc around") for n in range(1, 5)]
    tube = pattern(piece("Tube", *rounds, make=2))
    carried = [RoundDone(), Counted(7, 0), CarryOn()]
    assert seen(tube, *carried, RoundDone(), Counted(7, 1)).unanswered is None
    found = seen(tube, *carried, RoundDone(), Counted(8, 1)).unanswered
    assert found is not None and (found.expected, found.counted) == (7, 8)
    other = seen(tube, *carried, PieceChosen(0, 2), RoundDone(), RoundDone(), Counted(7, 1)).unanswered
    assert other is not None and (other.expected, other.counted) == (6, 7)


def test_a_difference_within_a_round_is_no_news_further_on_in_it() -> None:
    carried = [RoundDone(), RoundDone(), Stitch(3), Counted(4, 2), CarryOn(), Stitch(2)]
    assert seen(CAP, *carried, Counted(6, 2)).unanswered is None
    assert seen(CAP, *carried, Counted(7, 2)).unanswered is not None


def test_a_difference_found_just_where_the_maker_rips_back_to_is_kept() -> None:
    counted = [RoundDone(), Stitch(4), Counted(5, 1), CarryOn()]
    assert [found.counted for found in seen(CAP, *counted, Stitch(3), Frog(1, 4)).differences] == [5]
    assert seen(CAP, *counted, Stitch(3), Frog(1, 3)).differences == ()


def test_frogging_to_the_first_stitch_of_a_round_keeps_that_stitch() -> None:
    place = after(CAP, RoundDone(), RoundDone(), Frog(1, 1)).work.place
    assert (place.round_index, place.stitches) == (1, 1)


def test_frogging_right_after_a_piece_was_made_takes_it_up_again() -> None:
    work = after(TWO_CAPS, *[RoundDone()] * 3, Frog(1)).work
    assert (work.copy, work.ended, work.place.round_index) == (Copy(0, 1), None, 1)


def test_an_own_round_is_worked_in_its_own_copy_only() -> None:
    """Its stitches are those of its line, also when it is finished, counted or ripped back to."""
    wider = RoundRewritten(1, "Rnd 2: (2 sc, inc) x 2 (8)", 6)
    events = [RoundDone(), wider]
    assert seen(TWO_CAPS, *events).expected == 8
    assert seen(TWO_CAPS, *events, Stitch(8)).round_number == 3
    assert seen(TWO_CAPS, *events, RoundDone()).in_hand.expected == 8  # type: ignore[union-attr]
    assert seen(TWO_CAPS, *events, RoundDone(), Counted(8, 1)).unanswered is None
    with pytest.raises(Refused, match="has only 8 stitches"):
        after(TWO_CAPS, *events, RoundDone(), Frog(1, 9))
    other = seen(TWO_CAPS, *events, PieceChosen(0, 2), RoundDone())
    assert (other.copy, other.expected) == (2, 12)
    second = after(TWO_CAPS, *events, PieceChosen(0, 2), RoundDone(), Stitch(12), Frog(1, 11))
    assert second.work.place.stitches == 11


def test_ripping_back_beyond_what_an_own_round_made_up_for_brings_the_written_one_back() -> None:
    events = [RoundDone(), RoundRewritten(1, "Rnd 2: (2 sc, inc) x 2 (8)", 6), Stitch(3)]
    assert seen(CAP, *events, Frog(1)).expected == 8
    assert seen(CAP, *events, Frog(0)).expected == 6
    assert seen(CAP, *events, Frog(0), RoundDone()).expected == 12
    assert after(CAP, *events, Frog(0)).work.own_rounds == ()


def test_several_rounds_changed_together_all_answer_the_open_count() -> None:
    """The second of them is told of the count as well, though the first has answered it."""
    wrong = [RoundDone(), RoundDone(), Counted(11, 1)]
    first, second = RoundRewritten(2, "Rnd 3: (2 sc, inc) x 3, 1 sc, inc (15)", 11), Note("seen")
    state = after(CAP, *wrong, Together((second, first)))
    assert state.work.unanswered is None
    assert [own.since for own in state.work.own_rounds] == [(1, 12)]
    assert after(CAP, *wrong, Together((first, second)), Undo()).work.unanswered is not None


def test_nothing_together_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        after(CAP, Together(()))
    assert refused.value.reason == "there is nothing to do"


def test_causes_that_were_confirmed_are_kept_in_their_order() -> None:
    causes = [CauseConfirmed("missed increase"), CauseConfirmed("place"), CauseConfirmed("place")]
    assert after(CAP, *causes).work.causes == ("missed increase", "place", "place")
    with pytest.raises(Refused) as refused:
        after(CAP, CauseConfirmed("the cat"))
    assert refused.value.reason == "there is no such cause of a differing count"


def test_a_note_may_be_as_long_as_the_longest() -> None:
    assert len(after(CAP, Note("x" * LONGEST_NOTE)).work.notes[0].text) == LONGEST_NOTE
    with pytest.raises(Refused, match=r"a note can have 4,000 characters, this one has 4,001"):
        after(CAP, Note("x" * (LONGEST_NOTE + 1)))


def test_a_wrong_wish_for_counts_is_told_with_the_right_ones() -> None:
    with pytest.raises(Refused) as refused:
        after(CAP, AskChosen("sometimes"))
    wishes = 'a count can be asked for "each" round, at a "change", "every" so many rounds, or "never"'
    assert refused.value.reason == wishes


def test_an_unread_round_is_ripped_back_to_its_start_only() -> None:
    eye = pattern(piece("Ear", rnd(1, ring(6)), unread(2, 12), rnd(3, sc(12))))
    assert after(eye, RoundDone(), RoundDone(), Frog(1)).work.place.round_index == 1
    with pytest.raises(Refused, match="could not be read: only its start can be gone to"):
        after(eye, RoundDone(), RoundDone(), Frog(1, 1))
