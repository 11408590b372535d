"""Printed lines that the maker mends: what becomes of rounds, places, counts and the printed line itself."""

from __future__ import annotations

import json

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.mending import line_of, mended, rounds_of_line
from tracker.pattern.model import Correction, Pattern, Round
from tracker.session.correcting import round_to_mend
from tracker.session.events import (
    Counted,
    Event,
    Frog,
    PieceChosen,
    RoundCorrected,
    RoundDone,
    RoundLeaves,
    Stitch,
    Together,
    Undo,
)
from tracker.session.reducer import advance, begin
from tracker.session.serialization import state_in, state_out
from tracker.session.state import Copy, Refused, State, Witness
from tracker.session.view_builder import look

BALL = loads(
    '''title = "Ball"
[[piece]]
name = "Ball"
make = 2
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: work the fancy edge
Rnds 6-7: sc around
Rnd 8: as Rnd 4
Rnd 9: sc around (32)
"""
'''
)
MEND_3 = RoundCorrected(0, 2, "Rnd 3: (1 sc, inc) x 6 (18)")


def after(*events: Event) -> State:
    state = begin(BALL)
    for event in events:
        state = advance(BALL, state, event, 0.0)
    return state


def rounds(state: State) -> tuple[Round, ...]:
    return mended(BALL, state.work.corrections).pieces[0].rounds


def test_later_rounds_are_checked_anew_at_once() -> None:
    """As printed, round 3 makes 15 and says 18, and round 4 goes on from the 18 that it needs and says so."""
    printed = rounds(begin(BALL))[2:4]
    assert [(item.leaves, item.verdict) for item in printed] == [(15, "disagrees"), (24, "ok")]
    assert [problem.code for problem in printed[1].problems] == ["base-assumed"]
    now = rounds(after(MEND_3))
    assert [(item.leaves, item.verdict) for item in now[2:4]] == [(18, "ok"), (24, "ok")]
    assert now[3].problems == ()
    assert (now[2].text, now[2].printed) == (MEND_3.text, "Rnd 3: (1 sc, inc) x 5 (18)")


def test_a_line_that_repeats_a_mended_one_follows_it() -> None:
    state = after(MEND_3, RoundLeaves(0, 4, 24), RoundCorrected(0, 3, "Rnd 4: inc around (36)"))
    assert [item.leaves for item in rounds(state)[7:]] == [48, 48]
    by_eye = after(RoundLeaves(0, 3, 20))
    assert rounds(by_eye)[7].leaves == 20


def test_undo_takes_a_correction_back_whole() -> None:
    before = after(RoundDone(), Stitch(3))
    mended_now = advance(BALL, before, MEND_3, 0.0)
    assert advance(BALL, mended_now, Undo(), 0.0).work == before.work


def test_the_last_correction_of_a_line_counts_and_an_earlier_one_is_undone_to() -> None:
    first = after(MEND_3)
    second = advance(BALL, first, RoundCorrected(0, 2, "Rnd 3: inc, 11 sc (13)"), 0.0)
    assert second.work.corrections == (Correction(0, 2, "Rnd 3: inc, 11 sc (13)"),)
    assert advance(BALL, second, Undo(), 0.0).work.corrections == first.work.corrections


@pytest.mark.parametrize(
    ("event", "reason"),
    [
        (RoundCorrected(0, 2, "Rnd 3: (1 sc, ict) x 6 (18)"), "unknown word 'ict'"),
        (RoundCorrected(0, 2, "Rnd 4: (1 sc, inc) x 6 (18)"), "keep its heading, as in Rnd 3"),
        (RoundCorrected(0, 5, "Rnds 6-9: sc around (24)"), "keep its heading"),
        (RoundCorrected(0, 2, "Rnd 3:"), "nothing to make"),
        (RoundCorrected(0, 2, "Rnd 3: " + "sc, " * 9_000), "characters"),
        (RoundCorrected(0, 99, "Rnd 3: sc"), "no such round"),
        (RoundCorrected(4, 2, "Rnd 3: sc"), "no such piece"),
        (RoundLeaves(0, 4, -1), "a number of stitches"),
        (RoundLeaves(0, 4, 10**12), "a number of stitches"),
    ],
)
def test_what_is_no_correction_is_refused_and_changes_nothing(event: Event, reason: str) -> None:
    with pytest.raises(Refused, match=reason):
        after(event)


def test_a_range_is_one_line_and_is_mended_as_one() -> None:
    state = after(MEND_3, RoundLeaves(0, 4, 24), RoundCorrected(0, 6, "Rnds 6-7: dec, sc around (23, 22)"))
    assert state.work.corrections[-1].round_index == 5
    assert [item.leaves for item in rounds(state)[5:7]] == [23, 22]


@pytest.mark.parametrize("stitches", [0, 1, 5, 14])
def test_a_place_in_the_round_stays_at_its_stitch(stitches: int) -> None:
    walk = [RoundDone(), RoundDone(), *([Stitch(stitches)] if stitches else [])]
    state = after(*walk, MEND_3)
    assert (state.work.place.round_index, state.work.place.stitches) == (2, stitches)


def test_a_place_in_a_copy_that_was_put_away_stays_at_its_stitch_as_well() -> None:
    state = after(RoundDone(), RoundDone(), Stitch(4), PieceChosen(0, 2), MEND_3)
    place = state.work.place_in(Copy(0, 1))
    plan = rounds(state)[2].plan
    assert plan is not None and (place.stitches, place.moves) == (4, plan.move_after_stitches(4))


def test_a_count_in_doubt_is_a_witness_and_not_a_difference() -> None:
    state = after(RoundDone(), RoundDone(), RoundDone(), Counted(18, 2))
    assert state.work.unanswered is None and state.work.witnesses == (Witness(Copy(0, 1), 2, 18),)
    assert round_to_mend(BALL, state) == (0, 2)
    assert advance(BALL, state, MEND_3, 0.0).work.witnesses == ()


def test_a_count_where_nothing_could_be_read_is_what_the_round_leaves() -> None:
    state = after(MEND_3, *[RoundDone()] * 5, Counted(26, 4))
    assert rounds(state)[4].leaves == 26 and rounds(state)[5].before == 26
    assert advance(BALL, state, Undo(), 0.0).work.corrections == after(MEND_3).work.corrections


def test_a_difference_that_came_from_the_misprint_is_gone_once_it_is_mended() -> None:
    """Rnd 6 follows from Rnd 5; counted wrong on the strength of that, and right once Rnd 5 is mended."""
    walk = [MEND_3, RoundLeaves(0, 4, 25), *[RoundDone()] * 6, Counted(24, 5)]
    state = after(*walk)
    assert state.work.unanswered is not None and state.work.unanswered.expected == 25
    assert advance(BALL, state, RoundLeaves(0, 4, 24), 0.0).work.unanswered is None
    still = advance(BALL, state, RoundLeaves(0, 4, 26), 0.0).work.unanswered
    assert still is not None and (still.expected, still.counted) == (26, 24)


def test_as_printed_is_a_decision_and_no_text() -> None:
    state = after(RoundCorrected(0, 2, "Rnd 3: (1 sc, inc) x 5 (18)"))
    assert state.work.corrections == (Correction(0, 2),)
    assert (rounds(state)[2].leaves, rounds(state)[2].verdict, rounds(state)[2].printed) == (15, "ok", "")


def test_two_lines_are_mended_together_or_not_at_all() -> None:
    good = Together((MEND_3, RoundLeaves(0, 4, 24)))
    assert len(after(good).work.corrections) == 2
    with pytest.raises(Refused):
        after(Together((MEND_3, RoundCorrected(0, 3, "Rnd 9: sc"))))


def test_the_view_shows_both_lines_and_a_round_by_eye_its_number() -> None:
    state = after(MEND_3, RoundLeaves(0, 4, 24), RoundDone(), RoundDone())
    view = look(mended(BALL, state.work.corrections), state)
    assert view.changed and (view.text, view.pattern_text) == (MEND_3.text, "Rnd 3: (1 sc, inc) x 5 (18)")
    assert view.doubt == ""
    further = advance(BALL, advance(BALL, state, RoundDone(), 0.0), RoundDone(), 0.0)
    assert look(mended(BALL, further.work.corrections), further).now == "work this round by eye, it leaves 24"


def test_frogging_keeps_corrections() -> None:
    """A printed line that was put right stays right whatever is ripped back."""
    state = after(MEND_3, *[RoundDone()] * 4, Frog(1))
    assert state.work.corrections == (Correction(0, 2, MEND_3.text),)


def test_states_with_corrections_are_written_down_and_read_back() -> None:
    state = after(MEND_3, *[RoundDone()] * 5, Counted(26, 4), RoundCorrected(0, 3, BALL.pieces[0].rounds[3].text))
    assert state_in(json.loads(json.dumps(state_out(state)))) == state


def test_the_same_corrections_give_the_same_object_and_none_gives_the_printed_one() -> None:
    corrections = after(MEND_3).work.corrections
    once = mended(BALL, corrections)
    assert mended(once, corrections) is once and mended(once, ()) is BALL
    assert once.digest == BALL.digest


def test_lines_are_found_by_their_rounds() -> None:
    piece: Pattern | None = BALL
    assert piece is not None
    assert [line_of(BALL.pieces[0], index) for index in range(10)] == [0, 1, 2, 3, 4, 5, 5, 6, 7, None]
    assert rounds_of_line(BALL.pieces[0], 6) == (5, 6)


def test_a_count_is_held_against_a_line_that_reads_otherwise_and_left_where_its_total_is_the_same() -> None:
    """Round 4 leaves 24 either way; mended to 30 the count of 30 is right, and one of 23 differs by seven."""
    made = [MEND_3, *[RoundDone()] * 4]
    same, more = (
        RoundCorrected(0, 3, "Rnd 4: (inc, 2 sc) x 6 (24)"),
        RoundCorrected(0, 3, "Rnd 4: inc x 12, 6 sc (30)"),
    )
    counted = after(*made, Counted(23, 3))
    assert counted.work.unanswered is not None
    assert advance(BALL, counted, same, 0.0).work.unanswered == counted.work.unanswered
    differs = advance(BALL, counted, more, 0.0).work.unanswered
    assert differs is not None and (differs.expected, differs.counted, differs.moves) == (30, 23, 30)
    assert advance(BALL, after(*made, Counted(30, 3)), more, 0.0).work.unanswered is None
    half = after(*made[:-1], Stitch(9), Counted(8, 3))
    assert half.work.unanswered is not None
    assert advance(BALL, half, same, 0.0).work.unanswered == half.work.unanswered
    assert advance(BALL, half, more, 0.0).work.unanswered is None


def test_the_first_round_can_be_mended_like_any_other_and_none_before_it() -> None:
    assert rounds(after(RoundCorrected(0, 0, "Rnd 1: 7 sc in magic ring (7)")))[0].leaves == 7
    with pytest.raises(Refused, match="Ball has no such round"):
        after(RoundCorrected(0, -1, "Rnd 1: 7 sc in magic ring (7)"))
    with pytest.raises(Refused, match="there is no such piece"):
        after(RoundLeaves(-1, 0, 7))


@pytest.mark.parametrize(
    ("event", "heading"),
    [
        (RoundCorrected(0, 2, "Rnd 4: sc"), "keep its heading, as in Rnd 3"),
        (RoundCorrected(0, 6, "Rnds 6-9: sc"), "keep its heading, as in Rnd 6 and the others"),
    ],
)
def test_a_heading_that_is_to_be_kept_is_told(event: RoundCorrected, heading: str) -> None:
    with pytest.raises(Refused) as refused:
        after(event)
    assert refused.value.reason.endswith(heading)


def test_what_is_mended_is_the_round_looked_at_or_the_one_just_made_in_doubt() -> None:
    """Rounds 3 and 5 are in doubt as printed, and round 6 follows from 5; the piece is worked twice."""
    whole = [RoundDone()] * 9
    assert [round_to_mend(BALL, after(*[RoundDone()] * done)) for done in range(6)] == [
        (0, 0),
        (0, 1),
        (0, 2),
        (0, 2),
        (0, 4),
        (0, 5),
    ]
    assert round_to_mend(BALL, after(RoundDone()), 1) == (0, 2)
    assert round_to_mend(BALL, after(RoundDone()), -9) == (0, 0)
    assert round_to_mend(BALL, after(RoundDone()), 99) == (0, 8)
    assert round_to_mend(BALL, after(*whole), 1) == (0, 1), "what is looked at is the next copy"
    assert round_to_mend(BALL, after(*whole)) == (0, 8)


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        ("Rnd 3: (1 sc, ict) x 6 (18)", "unknown word 'ict': did you mean picot?"),
        (
            "Rnd 3: sc x 999999999999 (18)",
            "999999999999 is more than a round can hold; the limit is 10,000,000,000 stitches a round",
        ),
    ],
)
def test_why_a_line_is_not_taken_is_told_with_what_to_do(line: str, reason: str) -> None:
    with pytest.raises(Refused) as refused:
        after(RoundCorrected(0, 2, line))
    assert refused.value.reason == reason
