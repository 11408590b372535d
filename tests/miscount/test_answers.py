"""A differing count put right: what each choice does to the place, undone in one step, replayed to the same."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from support.event_scripts import PATTERN as LAWS
from support.event_scripts import events as anything
from support.project_bench import Bench, Clock

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.rounds.line_report import read_line
from tracker.session.events import (
    CarryOn,
    CauseConfirmed,
    Counted,
    Event,
    Frog,
    Note,
    PartCounted,
    PieceChosen,
    RepeatDone,
    RoundDone,
    RoundRewritten,
    Stitch,
    Together,
    Undo,
)
from tracker.session.miscount import diagnosis as diagnoses
from tracker.session.miscount.confirmed_causes import Learned
from tracker.session.miscount.diagnosis import Diagnosis, answer, count_of, diagnose, stands_at_count
from tracker.session.miscount.offers import Answer
from tracker.session.miscount.question import Question
from tracker.session.miscount.suspects import locate
from tracker.session.miscount.tap_history import Tapped, rounds_tapped
from tracker.session.mistakes import Mistake
from tracker.session.reducer import Refused, State, advance, begin
from tracker.session.serialization import event_in, event_out, state_in, state_out
from tracker.session.state import Copy
from tracker.session.view import Difference
from tracker.session.view_builder import look
from tracker.session.worked_rounds import round_at

BALL = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-6: sc around (24)
Rnd 7: (2 sc, dec) x 6 (18)
Rnd 8: (1 sc, dec) x 6 (12)
"""


def pattern_of(rounds: str, make: int = 1, more: str = "") -> Pattern:
    piece = f'[[piece]]\nname = "Ball"\nmake = {make}\nrounds = """{rounds}"""\n'
    return loads(f'title = "Trial"\n{piece}{more}')


PATTERN = pattern_of(BALL, make=2)
STEM = '[[piece]]\nname = "Stem"\nrounds = """\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc around (6)\n"""\n'


class Maker:
    """Somebody at work, with a note of everything that happened."""

    def __init__(self, pattern: Pattern = PATTERN, *events: Event) -> None:
        self.pattern = pattern
        self.clock = Clock()
        self.state = begin(pattern)
        self.log: list[tuple[float, Event]] = []
        self.do(*events)

    def do(self, *events: Event) -> Maker:
        for event in events:
            at = self.clock()
            self.state = advance(self.pattern, self.state, event, at)
            self.log.append((at, event))
        return self

    def count(self, stitches: int) -> Maker:
        return self.do(count_of(self.pattern, self.state, stitches))

    @property
    def diagnosis(self) -> Diagnosis:
        found = diagnose(self.pattern, self.state, reversed(self.log), Learned())
        assert found is not None
        return found

    @property
    def answers(self) -> list[Answer]:
        return [offer.answer for offer in self.diagnosis.offers]

    def choose(self, wanted: Answer) -> Maker:
        diagnosis = self.diagnosis
        offer = diagnosis.offer(wanted)
        assert offer is not None, diagnosis.offers
        event = answer(self.pattern, diagnosis, offer)
        assert event is not None
        return self.do(event)

    def rounds(self, count: int) -> Maker:
        return self.do(*[RoundDone()] * count)

    @property
    def place(self) -> tuple[int, int]:
        """Number of the round, and stitches of it."""
        view = look(self.pattern, self.state)
        return view.round_number, view.stitch


def replayed(maker: Maker) -> State:
    """The state from the journal's words alone."""
    state = begin(maker.pattern)
    for at, event in maker.log:
        state = advance(maker.pattern, state, event_in(json.loads(json.dumps(event_out(event)))), at)
    return state


def test_a_round_changed_to_make_up_for_a_miscount_is_the_round_that_is_worked() -> None:
    maker = Maker().rounds(4).count(23).choose(Answer.MEND_NEXT)
    view = look(maker.pattern, maker.state)
    assert (view.round_label, view.changed, view.pattern_text) == ("Rnd 5", True, "Rnds 5-6: sc around (24)")
    read = read_line(view.text, 23)
    assert (read.verdict, read.uses, read.leaves) == ("ok", 23, 24)
    assert (view.unanswered, view.differences) == (None, ())
    maker.do(Stitch(24))
    after = look(maker.pattern, maker.state)
    assert (maker.place, after.changed, after.text) == ((6, 0), False, after.pattern_text)


def test_the_rounds_ahead_tell_which_are_changed() -> None:
    maker = Maker().rounds(3).do(Stitch(20)).count(19).do(RoundRewritten(4, "Rnd 5: 22 sc, inc (24)", 23))
    ahead = look(maker.pattern, maker.state).ahead
    assert [(coming.text, coming.changed) for coming in ahead] == [
        ("Rnd 5: 22 sc, inc (24)", True),
        ("Rnds 5-6: sc around (24)", False),
    ]


def test_another_copy_is_worked_as_written() -> None:
    maker = Maker().rounds(4).count(23).choose(Answer.MEND_NEXT).do(PieceChosen(0, 2)).rounds(4)
    assert not look(maker.pattern, maker.state).changed


def test_a_large_difference_is_made_up_over_two_rounds_and_taken_back_at_once() -> None:
    maker = Maker().rounds(4).count(19)
    before = maker.state.work
    maker.choose(Answer.MEND_NEXT)
    assert [own.round_index for own in maker.state.work.own_rounds] == [4, 5]
    maker.rounds(2)
    assert look(maker.pattern, maker.state).in_hand.expected == 24
    maker.do(Undo(), Undo(), Undo())
    assert maker.state.work == before


@pytest.mark.parametrize(("stitches", "counted"), [(14, 13), (14, 15), (14, 12)])
def test_half_way_the_place_is_moved_to_where_the_maker_is(stitches: int, counted: int) -> None:
    """Missed and doubled taps are commoner than missed stitches: one of the first choices moves the tracker."""
    maker = Maker().rounds(3).do(Stitch(stitches)).count(counted)
    assert Answer.MOVE_PLACE in maker.answers[:2]
    maker.choose(Answer.MOVE_PLACE)
    assert maker.place == (4, counted)
    assert maker.state.work.unanswered is None
    assert maker.state.work.causes == (), "a key that was taken proves nothing"


def test_ripping_back_leads_to_exactly_the_place_of_the_mistake() -> None:
    maker = Maker().rounds(3).count(18).do(*[RepeatDone()] * 6).count(23).count(23)
    offer = maker.diagnosis.offer(Answer.FROG)
    assert offer is not None and offer.mend is not None
    maker.choose(Answer.FROG)
    assert maker.place == (4, offer.mend.stitch)
    maker.do(Stitch(24 - offer.mend.stitch))
    assert maker.state.work.place == Maker().rounds(4).state.work.place


def test_a_last_stitch_that_was_left_out_is_worked_without_ripping() -> None:
    """Two short of a plain round: the marker was not reached, and there is nothing to rip."""
    maker = Maker().rounds(5).count(24).rounds(1).count(22)
    offer = maker.diagnosis.offer(Answer.FROG)
    assert offer is not None and offer.words == "work what was left out before the marker"
    assert maker.choose(Answer.FROG).place == (6, 22)


def test_only_what_the_maker_says_was_there_is_learned() -> None:
    maker = Maker().rounds(5).count(24).rounds(1).count(22).choose(Answer.FROG)
    assert (maker.state.work.supposed, maker.state.work.causes) == (("drift",), ())
    said = advance(maker.pattern, maker.state, CauseConfirmed("drift"), 9.0).work
    assert (said.supposed, said.causes) == ((), ("drift",))
    assert maker.do(Stitch()).state.work.supposed == (), "whoever goes on is not asked any more"


def test_two_counts_that_agree_confirm_the_number() -> None:
    maker = Maker().rounds(4).count(23)
    assert maker.answers[0] is Answer.COUNT_AGAIN
    assert any(suspect.mistake is Mistake.MISCOUNT for suspect in maker.diagnosis.suspects)
    maker.count(22)
    assert maker.answers[0] is Answer.COUNT_AGAIN, "another number confirms nothing"
    maker.count(22)
    assert "counted twice" in maker.diagnosis.sentence
    assert maker.state.work.unanswered is not None and maker.state.work.unanswered.times == 2


def test_a_count_by_parts_finds_the_part() -> None:
    """(2 sc, inc) x 6: over each three stitches of the round below stand four, but three in the fifth repeat."""
    maker = Maker().rounds(3).count(18).rounds(1).count(23)
    assert [part.expected for part in maker.diagnosis.parts] == [4] * 6
    for number in (4, 4, 4, 4):
        maker.do(PartCounted(number, 3))
    assert maker.state.work.part_counts == (4, 4, 4, 4)
    maker.do(PartCounted(3, 3), PartCounted(4, 3))
    assert maker.state.work.part_counts == ()
    found = maker.diagnosis
    assert found.sentence == "1 fewer than 24, counted twice: look here: repeat 5, the increase may be missing"
    assert (found.suspects[0].part, found.suspects[0].stretch) == (4, (16, 20))
    assert maker.choose(Answer.FROG).place == (4, 16)


def test_parts_that_come_to_the_right_number_answer_the_count() -> None:
    maker = Maker().rounds(4).count(23).do(*[PartCounted(4, 3)] * 6)
    assert (maker.state.work.unanswered, maker.state.work.part_counts) == (None, ())


def test_whoever_works_on_counts_no_more_by_parts() -> None:
    assert Maker().rounds(4).do(PartCounted(4, 3), Stitch()).state.work.part_counts == ()
    with pytest.raises(Refused):
        Maker().rounds(1).do(PartCounted(3, 0))


@pytest.mark.parametrize(
    ("rounds", "counted", "mistake", "words", "to"),
    [
        (4, 18, Mistake.ROUND_NOT_MADE, "18 is what Rnd 3 leaves: is Rnd 4 not made yet?", (4, 0)),
        (4, 12, Mistake.ROUND_NOT_MADE, "12 is what Rnd 2 leaves: are 2 rounds not made yet?", (3, 0)),
        (3, 24, Mistake.ROUND_NOT_TAPPED, "24 is what Rnd 4 leaves: is it made already, or Rnd 3 twice?", (5, 0)),
        (7, 12, Mistake.ROUND_NOT_TAPPED, "12 is what Rnd 8 leaves: is it made already?", (8, 12)),
        (4, 30, Mistake.ROUND_TWICE, "30 is what Rnd 4 gives when it is worked twice: was it?", (5, 0)),
    ],
)
def test_a_whole_round_out_of_step_is_asked_about_first(
    rounds: int, counted: int, mistake: Mistake, words: str, to: tuple[int, int]
) -> None:
    """The numbers of the pattern: 6, 12, 18, 24, 24, 24, 18, 12; (2 sc, inc) over 24 goes eight times and leaves 32,
    and six times with six plain stitches after them 30."""
    maker = Maker(pattern_of(BALL)).rounds(rounds).count(counted)
    found = maker.diagnosis
    assert (found.suspects[0].mistake, found.sentence.split("; ")[1]) == (mistake, words)
    assert not {Answer.FROG, Answer.MEND_HERE, Answer.MEND_NEXT} & set(maker.answers)
    maker.choose(Answer.MOVE_PLACE)
    assert (maker.place, maker.state.work.unanswered) == (to, None)


def test_an_older_round_is_counted_to_find_where_it_began() -> None:
    """Rounds 2 to 5 were never counted: the third is asked for; right, it leaves two, and wrong, it is the
    question."""
    maker = Maker().rounds(1).count(6).rounds(5).count(22).count(22)
    offer = maker.diagnosis.offer(Answer.COUNT_EARLIER)
    assert offer is not None and offer.words == "count Rnd 4: its stitches are the feet of Rnd 5"
    maker.do(count_of(maker.pattern, maker.state, 24, 3))
    assert maker.state.work.unanswered is not None and maker.state.work.unanswered.round_index == 5
    again = maker.diagnosis.offer(Answer.COUNT_EARLIER)
    assert again is not None and again.to == (-1, 0)
    maker.do(count_of(maker.pattern, maker.state, 22, 4))
    assert maker.state.work.unanswered.round_index == 4 and maker.diagnosis.label.endswith("Rnd 5")
    assert maker.state.work.miscounts == ()


def test_several_copies_are_told_apart() -> None:
    assert Maker().rounds(4).count(23).diagnosis.label == "Ball 1 of 2, Rnd 4"
    assert Maker(pattern_of(BALL)).rounds(4).count(23).diagnosis.label == "Rnd 4"


def test_a_mend_in_this_round_goes_on_from_the_stitches_that_are_there() -> None:
    maker = Maker().rounds(3).do(*[RepeatDone()] * 3).count(11).choose(Answer.MEND_HERE)
    view = look(maker.pattern, maker.state)
    assert (view.changed, view.stitch, view.expected) == (True, 11, 24)
    maker.do(Stitch(13)).count(24)
    assert (maker.place, maker.state.work.unanswered) == ((5, 0), None)


@pytest.mark.parametrize(
    ("wanted", "counted"), [(Answer.MOVE_PLACE, 11), (Answer.MEND_HERE, 11), (Answer.MEND_NEXT, 24)]
)
def test_undo_brings_everything_back_in_one_step(wanted: Answer, counted: int) -> None:
    maker = Maker().rounds(3).do(*[RepeatDone()] * 3)
    maker = maker.count(counted) if counted < 20 else Maker().rounds(4).count(23)
    before = maker.state.work
    maker.choose(wanted)
    assert maker.state.work != before
    maker.do(Undo())
    assert maker.state.work == before
    assert maker.answers == maker.do(Undo()).count(counted if counted < 20 else 23).answers


def test_carrying_on_is_remembered_and_no_cause_is_taken_for_true() -> None:
    tube = pattern_of("\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc in each st (12)\nRnds 3-9: sc around (12)\n")
    maker = Maker(tube).rounds(3).count(11).choose(Answer.CARRY_ON)
    assert (maker.state.work.causes, maker.state.work.unanswered) == ((), None)
    assert look(tube, maker.state).differences == (Difference("Ball", 1, "Rnd 3", 12, 11),)


def test_a_count_again_that_agrees_shows_that_it_was_miscounted() -> None:
    maker = Maker().rounds(4).count(23).count(24)
    assert (maker.state.work.causes, maker.state.work.unanswered) == (("miscount",), None)
    maker.do(Undo())
    assert (maker.state.work.causes, maker.state.work.unanswered is None) == ((), False)
    assert maker.count(22).state.work.causes == ()


def test_a_right_count_alone_shows_nothing() -> None:
    assert Maker().rounds(4).count(24).state.work.causes == ()
    assert Maker().rounds(4).count(23).do(CarryOn()).count(24).state.work.causes == ()


def test_nobody_is_told_twice_of_a_difference_that_was_made_up_for() -> None:
    half = Maker().rounds(3).do(Stitch(20)).count(19)
    half.do(Together((RoundRewritten(4, "Rnd 5: 22 sc, inc (24)", 23),)))
    for maker in (half, Maker().rounds(4).count(23).choose(Answer.MEND_NEXT)):
        maker.do(RoundDone()) if maker is half else maker
        assert maker.count(23).state.work.unanswered is None
        found = maker.count(24).state.work.unanswered
        assert found is not None and (found.expected, found.counted) == (23, 24)


def test_nobody_is_told_twice_of_a_difference_that_was_carried_on_with() -> None:
    """23 where the pattern has 24 is known; 22 is one more than that."""
    maker = Maker().rounds(4).count(23).do(CarryOn(), RoundDone()).count(23)
    assert maker.state.work.unanswered is None
    found = maker.count(22).state.work.unanswered
    assert found is not None and (found.expected, found.counted) == (23, 22)
    maker.do(CarryOn(), RoundDone()).count(22)
    assert maker.state.work.unanswered is None
    assert [d.by for d in look(maker.pattern, maker.state).differences] == [-1, -1]


def test_a_difference_that_was_carried_grows_with_a_round_that_increases_into_each_stitch() -> None:
    disk = pattern_of("\nRnd 1: 6 sc in magic ring (6)\nRnd 2: sc around (6)\nRnd 3: inc in each st around (12)\n")
    maker = Maker(disk).rounds(1).count(5).do(CarryOn(), RoundDone(), RoundDone())
    assert maker.count(10).state.work.unanswered is None
    assert maker.count(11).state.work.unanswered is not None


def test_whoever_rips_back_beyond_a_miscount_works_the_pattern_again() -> None:
    changed = Maker().rounds(4).count(23).choose(Answer.MEND_NEXT).do(Stitch(5)).state
    kept = {(4, 2): True, (4, 0): True, (3, 20): False, (2, 0): False}
    for (index, stitch), expected in kept.items():
        state = advance(PATTERN, changed, Frog(index, stitch), 9.0)
        assert bool(state.work.own_rounds) == expected, (index, stitch)


def test_ripping_back_in_a_mended_round_to_before_the_mend_leaves_the_pattern_there() -> None:
    maker = Maker().rounds(3).do(*[RepeatDone()] * 3).count(11).choose(Answer.MEND_HERE).do(Stitch(4))
    kept = advance(PATTERN, maker.state, Frog(3, 12), 9.0)
    assert kept.work.own_rounds == maker.state.work.own_rounds
    maker.do(Frog(3, 5))
    assert (maker.state.work.own_rounds, maker.place) == ((), (4, 5))
    assert maker.do(Stitch(19)).place == (5, 0)


def test_whoever_goes_on_before_answering_is_told_how_things_stand_now() -> None:
    maker = Maker().rounds(3).do(*[RepeatDone()] * 3).count(11).count(11)
    first = maker.diagnosis.offer(Answer.FROG)
    maker.do(Note("hm"), RepeatDone())
    later, mend = maker.diagnosis.offer(Answer.FROG), maker.diagnosis.offer(Answer.MEND_HERE)
    assert first is not None and later is not None and first.mend is not None and later.mend is not None
    assert (first.mend.stitch + first.mend.ripped, later.mend.stitch + later.mend.ripped) == (11, 15)
    assert mend is not None
    maker.choose(Answer.MEND_HERE)
    assert look(maker.pattern, maker.state).stitch == 15
    assert maker.do(Stitch(9)).place == (5, 0)


def test_a_round_that_is_begun_is_changed_only_where_the_change_lies_ahead() -> None:
    maker = Maker().rounds(4).count(23)
    assert Answer.MEND_NEXT in maker.answers
    assert Answer.MEND_NEXT in maker.do(Stitch(3)).answers, "an increase further on is still to come"
    assert maker.choose(Answer.MEND_NEXT).place == (5, 3)
    maker.do(Undo(), Stitch(18))
    assert Answer.MEND_NEXT not in maker.answers


def test_once_the_next_round_is_begun_the_place_is_not_moved_back() -> None:
    maker = Maker().rounds(4).do(*[RepeatDone()] * 1).do(Undo())
    maker.count(23).do(Stitch(2))
    assert Answer.MOVE_PLACE not in maker.answers


def test_the_last_round_of_a_piece_just_made_can_still_be_put_right() -> None:
    maker = Maker(pattern_of(BALL, more=STEM)).rounds(7).count(18).rounds(1)
    assert look(maker.pattern, maker.state).piece == "Stem"
    maker.count(11).count(11).choose(Answer.FROG)
    view = look(maker.pattern, maker.state)
    assert (view.piece, view.round_number) == ("Ball", 8)
    assert look(maker.pattern, maker.do(Undo()).state).piece == "Stem"


def test_a_count_of_a_piece_that_was_put_away_is_not_diagnosed() -> None:
    maker = Maker().rounds(4).count(23).do(PieceChosen(0, 2))
    assert maker.state.work.unanswered is not None
    assert diagnose(maker.pattern, maker.state, reversed(maker.log), Learned()) is None


def test_in_a_round_worked_by_eye_no_place_is_named() -> None:
    maker = Maker(pattern_of("\nRnd 1: 6 sc in magic ring (6)\nRnd 2: stitch the ears on somehow (12)\n"))
    maker.rounds(2).count(11)
    told = maker.diagnosis
    assert (told.sentence, told.suspects) == ("1 fewer than 12", ())
    assert maker.answers == [Answer.COUNT_AGAIN, Answer.CARRY_ON]


@pytest.mark.parametrize(
    ("event", "reason"),
    [
        (RoundRewritten(1, "Rnd 2: 5 inc (10)", 5), "Rnd 2 is made already: frog back to change it"),
        (RoundRewritten(9, "Rnd 10: 6 sc (6)", 6), "Ball 1 of 2 has no such round"),
        (RoundRewritten(-1, "Rnd 0: 6 sc (6)", 6), "Ball 1 of 2 has no such round"),
        (RoundRewritten(4, "Rnd 5: 22 sc, inc (24)", 20), "this line does not work out over 20 stitches"),
        (RoundRewritten(4, "Rnd 5: [bold]", 20), "this line does not work out over 20 stitches"),
        (RoundRewritten(4, "", 20), "a round has 1 to 20,000 characters, this one has 0"),
        (CauseConfirmed("the moon"), "there is no such cause of a differing count"),
        (Together(()), "there is nothing to do"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_reason(event: Event, reason: str) -> None:
    with pytest.raises(Refused) as refused:
        Maker().rounds(4).count(23).do(event)
    assert refused.value.reason == reason


def test_of_several_things_together_all_happen_or_none() -> None:
    maker = Maker().rounds(4)
    before = maker.state
    with pytest.raises(Refused):
        maker.do(Together((Stitch(3), Note("so"), Frog(99))))
    assert maker.state == before
    maker.do(Together((Stitch(3), Note("so"), Frog(2, 1))))
    assert maker.place == (3, 1) and len(maker.state.past) == len(before.past) + 1


def test_a_count_that_only_the_place_explained_can_still_be_answered_later() -> None:
    """What was made since cannot be moved with the place; counting again is left, and carrying on always is."""
    maker = Maker().rounds(4).do(*[RepeatDone()] * 3).count(0).do(RoundDone(), Stitch(2))
    assert Answer.COUNT_AGAIN in maker.answers and Answer.MOVE_PLACE not in maker.answers
    assert maker.do(CarryOn()).state.work.unanswered is None


@settings(deadline=None, max_examples=40)
@given(
    some.integers(1, 8),
    some.integers(0, 5),
    some.sampled_from([-3, -2, -1, 1, 2, 3]),
    some.lists(some.sampled_from([Stitch(1), Stitch(2), RepeatDone(), RoundDone(), Note("x")]), max_size=2),
    some.data(),
)
def test_every_choice_can_be_made_undone_and_replayed(
    rounds: int, repeats: int, by: int, since: list[Event], data: some.DataObject
) -> None:
    maker = Maker().rounds(rounds).do(*[RepeatDone()] * repeats)
    expected = look(maker.pattern, maker.state).in_hand.expected
    maker.count(max(0, expected + by)).do(*since)
    if maker.state.work.unanswered is None or maker.state.work.unanswered.copy != maker.state.work.in_hand:
        return
    before, diagnosis = maker.state.work, maker.diagnosis
    offer = data.draw(some.sampled_from(diagnosis.offers))
    assert 1 <= len(diagnosis.offers) <= 3
    event = answer(maker.pattern, diagnosis, offer)
    assert (event is None) == (offer.answer in (Answer.COUNT_AGAIN, Answer.COUNT_EARLIER))
    if event is None:
        return
    maker.do(event)
    assert maker.state.work.unanswered is None
    assert look(maker.pattern, maker.state).now
    assert maker.state.work.causes == ()
    assert maker.state.work.supposed == (() if offer.supposes is None else (offer.supposes.value,))
    assert replayed(maker) == maker.state == state_in(json.loads(json.dumps(state_out(maker.state))))
    maker.do(Undo())
    assert maker.state.work == before


@settings(deadline=None, max_examples=40)
@given(some.integers(1, 5), some.integers(0, 5), some.sampled_from([-2, -1, 1, 2]))
def test_after_any_mend_the_pattern_s_count_is_met_again(rounds: int, repeats: int, by: int) -> None:
    """Whatever is mended, within two rounds a maker who works what the tracker shows counts what the pattern has."""
    maker = Maker().rounds(rounds).do(*[RepeatDone()] * repeats)
    maker.count(max(0, look(maker.pattern, maker.state).in_hand.expected + by))
    for wanted in {Answer.MEND_HERE, Answer.MEND_NEXT} & set(maker.answers):
        mended = Maker(maker.pattern, *(event for _, event in maker.log)).choose(wanted)
        last = max(own.round_index for own in mended.state.work.own_rounds)
        mended.rounds(last + 1 - mended.state.work.place.round_index)
        written = maker.pattern.pieces[0].rounds[last].leaves
        assert round_at(maker.pattern, mended.state.work, 0, 1, last).leaves == written
        assert mended.count(written).state.work.unanswered is None


def tapped(script: list[Event]) -> tuple[State, dict[int, Tapped]]:
    """A script of the laws' pattern, and what is known of its taps in the first round on of the copy in hand."""
    state, log = begin(LAWS), list[tuple[float, Event]]()
    for number, event in enumerate(script):
        try:
            state = advance(LAWS, state, event, float(number))
        except Refused:
            continue
        log.append((float(number), event))
    return state, rounds_tapped(LAWS, state, reversed(log), state.work.in_hand, 0)


@settings(deadline=None, max_examples=50)
@given(some.lists(some.one_of(anything, some.just(Undo())), max_size=40))
def test_taps_that_stand_go_forward_in_time_and_stay_within_what_is_made(script: list[Event]) -> None:
    state, rounds = tapped(script)
    copy, place = state.work.in_hand, state.work.place_in(state.work.in_hand)
    for index, found in rounds.items():
        done = (
            place.moves
            if index == place.round_index
            else round_at(LAWS, state.work, copy.piece, copy.number, index).moves
        )
        assert index <= place.round_index or not found.taps
        ends = [0, *(move for tap in found.taps for move in (tap.before, tap.after))]
        assert ends == sorted(ends) and all(tap.before < tap.after for tap in found.taps)
        assert ends[-1] <= done
        times = [found.begun if found.begun is not None else -1.0, *(tap.at for tap in found.taps)]
        assert times == sorted(times)


@settings(deadline=None, max_examples=60)
@given(some.lists(anything, max_size=20), anything)
def test_what_was_taken_back_was_never_tapped(script: list[Event], undone: Event) -> None:
    state, _ = tapped(script)
    try:
        advance(LAWS, state, undone, 0.0)
    except Refused:
        return
    assert tapped([*script, undone, Undo()])[1] == tapped(script)[1]


def test_taps_have_the_times_of_what_was_tapped() -> None:
    maker = Maker().rounds(2).do(RepeatDone(), Note("x"), RepeatDone(), Stitch(), Undo(), RepeatDone(), Counted(9, 2))
    rounds = rounds_tapped(maker.pattern, maker.state, reversed(maker.log), Copy(0, 1), 1)
    at = [at for at, _ in maker.log]
    assert [(tap.at, tap.before, tap.after) for tap in rounds[2].taps] == [
        (at[2], 0, 3),
        (at[4], 3, 6),
        (at[7], 6, 9),
    ]
    assert (rounds[2].begun, rounds[2].counted) == (at[1], True)
    assert [(tap.before, tap.after) for tap in rounds[1].taps] == [(0, 12)]
    assert not rounds[1].counted


def test_a_count_stands_until_something_is_made() -> None:
    """Also of a round half made, and until the next one is begun; not of another piece."""
    maker = Maker().rounds(3).count(17)
    assert stands_at_count(maker.pattern, maker.state)
    assert not stands_at_count(maker.pattern, maker.do(Stitch()).state)
    half = Maker().rounds(3).do(Stitch(9), Counted(8, 3))
    assert stands_at_count(half.pattern, half.state)
    assert not stands_at_count(half.pattern, half.do(Stitch()).state)
    assert not stands_at_count(half.pattern, half.rounds(1).state), "nine were made of the round that is whole now"
    assert not stands_at_count(half.pattern, half.do(Undo(), Undo(), PieceChosen(0, 2)).state)
    assert not stands_at_count(half.pattern, begin(half.pattern))


def test_what_was_counted_stays_so_until_it_is_ripped_back() -> None:
    script = [RoundDone(), Stitch(4), Counted(4, 1), Note("x"), Counted(6, 0), Note("y")]
    rounds = tapped(script)[1]
    assert rounds[0].counted and rounds[1].counted
    assert not tapped([*script, Frog(1, 2)])[1][1].counted


def test_a_tap_over_the_end_of_a_round_does_not_tell_when_the_next_was_begun() -> None:
    maker = Maker().rounds(3).do(Stitch(20), Stitch(6), Stitch(1))
    rounds = rounds_tapped(maker.pattern, maker.state, reversed(maker.log), Copy(0, 1), 3)
    assert [(tap.before, tap.after) for tap in rounds[3].taps] == [(0, 20), (20, 24)]
    assert [(tap.before, tap.after) for tap in rounds[4].taps] == [(2, 3)]


def test_the_rhythm_of_the_journal_points_at_the_repeat_that_was_tapped_too_fast(bench: Bench) -> None:
    """Four repeats at a steady pace, one in less than half of the time: that one is likeliest to lack a stitch."""
    bench.pattern = PATTERN
    project = bench.open()
    for _ in range(3):
        project.do(RoundDone())
    project.do(Counted(18, 2))
    for number in range(6):
        bench.clock.at += 3.0 if number == 3 else 11.0
        project.do(RepeatDone())
    project.do(Counted(23, 3))
    told = project.diagnosis()
    assert told is not None
    assert "repeat 4, the increase may be missing" in told.sentence


def test_a_diagnosis_is_worked_out_only_when_it_is_asked_for(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """Taps never wait for one, also while a count is open."""
    asked: list[Question] = []

    def counting(question: Question, learned: Learned) -> object:
        asked.append(question)
        return locate(question, learned)

    monkeypatch.setattr(diagnoses, "locate", counting)
    bench.pattern = PATTERN
    project = bench.work(RoundDone(), RoundDone())
    assert project.diagnosis() is None and not asked
    project.do(Counted(11, 1))
    for _ in range(5):
        project.do(Stitch())
        project.view()
    assert not asked
    assert project.diagnosis() is project.diagnosis() is not None
    assert len(asked) == 1


def test_a_mend_is_there_again_in_the_next_session_and_the_history_holds_both_texts(bench: Bench) -> None:
    bench.pattern = PATTERN
    project = bench.work(*[RoundDone()] * 4, Counted(23, 3))
    told = project.diagnosis()
    assert told is not None
    offer = told.offer(Answer.MEND_NEXT)
    assert offer is not None
    chosen = answer(project.pattern, told, offer)
    assert chosen is not None
    project.do(chosen)
    before = project.view()
    Bench.break_off(project)
    again = bench.open()
    assert again.view() == before and again.view().changed
    assert chosen in [happened.event for happened in again.history()]
    assert again.view().pattern_text == "Rnds 5-6: sc around (24)"


def test_what_was_confirmed_in_one_project_shifts_the_suspicion_in_another(bench: Bench) -> None:
    first = bench.work(CauseConfirmed("place"), CauseConfirmed("place"), CauseConfirmed("miscount"))
    assert first.learned().as_json() == {"place": 2, "miscount": 1}
    first.close()
    other = bench.open(PATTERN, file=bench.folder / "other.toml")
    other.do(CauseConfirmed("place"))
    assert other.learned().count(Mistake.PLACE) == 3
    other.do(Undo())
    assert other.learned().count(Mistake.PLACE) == 2
    looker = bench.open(to_work=False)
    assert looker.learned().count(Mistake.PLACE) == 2


@pytest.mark.parametrize(
    ("edited", "kept", "told"),
    [
        (lambda text: text.replace("Rnd 8: (1 sc, dec) x 6 (12)", "Rnd 8: sc around (18)"), True, []),
        (
            lambda text: text.replace("Rnds 5-6: sc around (24)", "Rnds 5-6: sc in each st around (24)"),
            True,
            ["Rnd 5 of Ball is still worked as you changed it, not as it is written now"],
        ),
        (
            lambda text: text.replace("Rnds 5-6: sc around (24)\n", "").replace("(2 sc, dec)", "(2 sc, dec )"),
            False,
            ["Rnd 5 of Ball, which you changed, is not there any more"],
        ),
    ],
    ids=["elsewhere", "the round itself", "gone"],
)
def test_a_changed_round_is_found_again_in_a_changed_pattern(
    edited: Callable[[str], str], kept: bool, told: list[str], bench: Bench
) -> None:
    bench.pattern = pattern_of(BALL)
    project = bench.work(
        *[RoundDone()] * 4, Counted(23, 3), RoundRewritten(4, "Rnd 5: 22 sc, inc (24)", 23), Stitch(7)
    )
    project.close()
    changed = bench.open(pattern_of(edited(BALL)))
    assert changed.changed is not None
    assert [line for line in changed.changed.not_kept if "changed" in line] == told
    changed.agree_to_change()
    assert bool(changed.state.work.own_rounds) == kept
    if kept:
        assert (changed.view().round_label, changed.view().stitch) == ("Rnd 5", 7)


FRILL = loads(
    """title = "Frill"
[[piece]]
name = "Frill"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: sc around (6)
Rnd 3: inc around in Rnd 1 (12)
Rnd 4: sc around (12)
'''
"""
)


def test_a_round_that_goes_into_an_earlier_one_does_not_make_up_for_the_last() -> None:
    maker = Maker(FRILL).rounds(2).count(7)
    assert Answer.MEND_NEXT not in maker.answers
    assert all("Rnd 3" not in offer.words for offer in maker.diagnosis.offers)
