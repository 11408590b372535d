"""Counting: when the maker is asked, and what happens to a count that differs."""

from __future__ import annotations

import pytest
from support.building import cap, join, pattern, piece, ring, rnd, sc, toadstool, unread

from tracker.pattern.model import Pattern
from tracker.session.events import (
    AskChosen,
    CarryOn,
    Counted,
    Event,
    Frog,
    Note,
    RoundDone,
    Stitch,
    Undo,
)
from tracker.session.reducer import Refused, advance, begin
from tracker.session.view import Difference, View
from tracker.session.view_builder import look

PLAIN = pattern(piece("Tube", rnd(1, ring(6)), rnd(2, sc(6)), rnd(3, sc(6)), rnd(4, sc(6), join())))
CAP = pattern(cap())


def seen(pattern: Pattern, *events: Event) -> View:
    state = begin(pattern)
    for event in events:
        state = advance(pattern, state, event, 0.0)
    return look(pattern, state)


def test_a_count_is_about_the_round_just_ended_or_else_the_one_being_made() -> None:
    view = seen(CAP, RoundDone(), RoundDone())
    assert view.in_hand is not None
    assert (view.count_of, view.in_hand.expected, view.counted(12)) == ("Rnd 2", 12, Counted(12, 1))
    view = seen(CAP, RoundDone(), Stitch(5))
    assert view.in_hand is not None
    assert (view.count_of, view.in_hand.expected, view.counted(5)) == ("Rnd 2", 5, Counted(5, 1))


def test_after_the_last_round_a_count_is_still_about_the_piece_just_made() -> None:
    view = seen(toadstool(), *[RoundDone()] * 3)
    assert (view.piece, view.round_number, view.count_of) == ("Stem", 1, "Rnd 3 of Cap")
    assert view.in_hand is not None and view.in_hand.name == "Cap"
    told = seen(toadstool(), *[RoundDone()] * 3, view.counted(17)).unanswered
    assert told == Difference("Cap", 1, "Rnd 3", 18, 17)


@pytest.mark.parametrize("events", [[RoundDone(), Counted(6, 0)], [Stitch(3), Counted(3, 0)]])
def test_an_equal_count_is_quiet(events: list[Event]) -> None:
    view = seen(CAP, *events)
    assert (view.unanswered, view.differences, view.asks_count) == (None, (), False)


def test_a_different_count_is_asked_about_until_it_is_answered() -> None:
    wrong = [RoundDone(), RoundDone(), Counted(13, 1)]
    view = seen(CAP, *wrong, Stitch(3), Note("hm"))
    assert view.unanswered == Difference("Cap", 1, "Rnd 2", 12, 13)
    assert view.unanswered.by == 1


@pytest.mark.parametrize(
    "answer", [CarryOn(), Counted(12, 1), Frog(1), Undo()], ids=["carry on", "right now", "frog", "undo"]
)
def test_each_answer_ends_the_warning(answer: Event) -> None:
    assert seen(CAP, RoundDone(), RoundDone(), Counted(13, 1), answer).unanswered is None


def test_a_difference_carried_on_with_is_remembered() -> None:
    carried = [RoundDone(), RoundDone(), Counted(13, 1), CarryOn(), Stitch(3)]
    assert seen(CAP, *carried).differences == (Difference("Cap", 1, "Rnd 2", 12, 13),)


def test_a_later_right_count_of_that_round_takes_the_difference_back() -> None:
    assert seen(CAP, RoundDone(), RoundDone(), Counted(13, 1), CarryOn(), Counted(12, 1)).differences == ()


def test_a_new_wrong_count_of_another_round_keeps_the_first_as_carried_on() -> None:
    view = seen(CAP, RoundDone(), Counted(7, 0), RoundDone(), Counted(13, 1))
    assert view.unanswered == Difference("Cap", 1, "Rnd 2", 12, 13)
    assert view.differences == (Difference("Cap", 1, "Rnd 1", 6, 7),)


def test_counting_the_same_round_again_replaces_the_count() -> None:
    view = seen(CAP, RoundDone(), Counted(7, 0), Counted(8, 0), CarryOn(), Counted(9, 0), CarryOn())
    assert view.differences == (Difference("Cap", 1, "Rnd 1", 6, 9),)


def test_frogging_forgets_the_differences_of_what_is_ripped_out_and_no_others() -> None:
    wrong = [RoundDone(), Counted(7, 0), CarryOn(), RoundDone(), Counted(14, 1), CarryOn(), Stitch(4)]
    assert [d.round_label for d in seen(CAP, *wrong, Frog(1, 11)).differences] == ["Rnd 1"]
    assert [d.round_label for d in seen(CAP, *wrong, Frog(2)).differences] == ["Rnd 1", "Rnd 2"]
    assert seen(CAP, *wrong, Frog(0)).differences == ()


def test_at_the_start_of_a_round_a_count_of_it_means_the_one_before() -> None:
    assert seen(CAP, RoundDone(), Counted(7, 1)).unanswered == Difference("Cap", 1, "Rnd 1", 6, 7)


def test_a_round_that_nobody_can_know_is_taken_as_counted() -> None:
    eye = pattern(piece("Ear", unread(1), rnd(2, sc(6))))
    assert seen(eye, RoundDone(), Counted(40, 0)).unanswered is None
    assert (
        seen(pattern(piece("Ear", unread(1, 12), rnd(2, sc(6)))), RoundDone(), Counted(11, 0)).unanswered is not None
    )


@pytest.mark.parametrize(
    ("events", "reason"),
    [
        ([Counted(0, 0)], "nothing of Cap is made yet that could be counted"),
        ([Counted(6, 1)], "that round is not begun yet: count the one just made, or the one being made"),
        ([RoundDone(), Counted(-1, 0)], "a count from 0 to 10,000,000,000 is needed"),
        ([CarryOn()], "there is no differing count to carry on from"),
        ([Stitch(), Counted(1, 0), CarryOn()], "there is no differing count to carry on from"),
    ],
)
def test_counts_that_make_no_sense_are_refused(events: list[Event], reason: str) -> None:
    with pytest.raises(Refused) as refused:
        seen(CAP, *events)
    assert refused.value.reason == reason


def asked(pattern: Pattern, when: AskChosen, rounds: int) -> list[int]:
    """The rounds after which a count is asked for."""
    state = advance(pattern, begin(pattern), when, 0.0)
    found = []
    for number in range(1, rounds + 1):
        state = advance(pattern, state, RoundDone(), 0.0)
        if look(pattern, state).asks_count:
            found.append(number)
    return found


@pytest.mark.parametrize(
    ("when", "pattern", "expected"),
    [
        (AskChosen("each"), PLAIN, [1, 2, 3, 4]),
        (AskChosen("every", 2), PLAIN, [2, 4]),
        (AskChosen("never"), CAP, []),
        (AskChosen("change"), CAP, [2, 3]),
        (AskChosen("change"), PLAIN, []),
    ],
)
def test_when_a_count_is_asked_for(when: AskChosen, pattern: Pattern, expected: list[int]) -> None:
    assert asked(pattern, when, len(pattern.pieces[0].rounds)) == expected


@pytest.mark.parametrize("when", [AskChosen("sometimes"), AskChosen("every", 0), AskChosen("each", -1)])
def test_a_wish_that_cannot_be_is_refused(when: AskChosen) -> None:
    with pytest.raises(Refused, match="a count can be asked for"):
        seen(CAP, when)


def test_the_question_goes_away_when_the_maker_goes_on() -> None:
    assert seen(CAP, RoundDone(), RoundDone()).asks_count
    assert not seen(CAP, RoundDone(), RoundDone(), Stitch()).asks_count
    assert not seen(CAP, RoundDone(), RoundDone(), AskChosen("never")).asks_count
    assert not seen(CAP, RoundDone(), RoundDone(), Frog(2)).asks_count
