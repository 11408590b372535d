"""What is offered after a miscount: right by our own reader over the stitches that are there, or not offered."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support.hand_count import used_and_left

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.rounds.line_report import read_line
from tracker.rounds.plan import Plan
from tracker.rounds.slicing import cut
from tracker.session.events import Frog, RoundDone
from tracker.session.miscount.offers import Answer, offers, sentence
from tracker.session.miscount.repairs import Mend, Situation, Way, mends
from tracker.session.miscount.suspects import Question, Tap, locate
from tracker.session.reducer import advance, begin
from tracker.session.worked_rounds import reader_for, rewritten_round

YARNS = '[yarn.A]\nname = "moss"\n[yarn.B]\nname = "sand"\n'


def pattern_of(*rounds: str, terms: str = "US") -> Pattern:
    lines = "\n".join(rounds)
    return loads(f'title = "t"\nterms = "{terms}"\n{YARNS}[[piece]]\nname = "Ball"\nrounds = """\n{lines}\n"""\n')


BALL = pattern_of(
    "Rnd 1: 6 sc in magic ring (6)",
    "Rnd 2: inc in each st around (12)",
    "Rnd 3: (1 sc, inc) x 6 (18)",
    "Rnd 4: (2 sc, inc) x 6 (24)",
    "Rnds 5-6: sc around (24)",
    "Rnd 7: (2 sc, dec) x 6 (18)",
    "Rnd 8: (1 sc, dec) x 6 (12)",
)


def situation(pattern: Pattern, index: int, counted: int, done: int | None = None, taps: tuple[Tap, ...] = ()):
    piece = pattern.pieces[0]
    present = piece.rounds[index]
    assert present.plan is not None
    done = present.plan.moves if done is None else done
    question = Question(present.plan, present.plan.stitches_before(done), counted, done, taps, 0.0)
    ahead = piece.rounds[index + 1 :]
    return Situation(question, present, ahead, reader_for(pattern, piece), present.before, pattern.terms)


def ways(given: Situation) -> dict[Way, Mend]:
    return {way.way: way for way in mends(given, locate(given.question))}


@st.composite
def miscounts(draw: st.DrawFn) -> Situation:
    """A toy of some rounds, and a count at the end of one or in the middle of it that is not right."""
    stitches, lines = draw(st.sampled_from([6, 7, 8])), []
    times = stitches
    lines.append(f"Rnd 1: {times} sc in magic ring ({stitches})")
    for number in range(2, draw(st.integers(4, 9))):
        k = stitches // times
        turn = draw(st.sampled_from(["inc", "inc", "even", "dec", "stagger"]))
        if turn == "inc":
            line, stitches = (f"({k - 1} sc, inc) x {times}" if k > 1 else f"{times} inc"), stitches + times
        elif turn == "dec" and k > 1:
            line, stitches = (f"({k - 2} sc, dec) x {times}" if k > 2 else f"{times} dec"), stitches - times
        elif turn == "stagger" and k > 2:
            line, stitches = f"1 sc, inc, ({k - 1} sc, inc) x {times - 1}, {k - 2} sc", stitches + times
        else:
            line = "sc around"
        lines.append(f"Rnd {number}: {line} ({stitches})")
    pattern = pattern_of(*lines)
    index = draw(st.integers(1, len(lines) - 1))
    plan = pattern.pieces[0].rounds[index].plan
    assert plan is not None
    done = draw(st.one_of(st.none(), st.integers(0, plan.moves)))
    expected = plan.leaves if done is None else plan.stitches_before(done)
    by = draw(st.sampled_from([-3, -2, -1, 1, 2, 3]))
    return situation(pattern, index, max(0, expected + by), done)


@settings(deadline=None, max_examples=60)
@given(miscounts())
def test_every_mend_reaches_the_promised_count_by_our_reader(given):
    for way in mends(given, locate(given.question)):
        for line in way.rounds:
            wanted = given.ahead[line.ahead - 1] if line.ahead else given.present
            read = read_line(line.text, line.before)
            assert read.verdict == "ok", (line.text, read.messages)
            assert read.uses == line.before
            assert read.leaves == line.leaves == read.stated
            if line is way.rounds[-1]:
                assert line.leaves == wanted.leaves
    here = ways(given).get(Way.THIS_ROUND)
    later = ways(given).get(Way.NEXT)
    assert here is None or here.rounds[0].before == given.present.before
    assert later is None or later.rounds[0].before == given.leaves
    if later and len(later.rounds) == 2:
        assert later.rounds[1].before == later.rounds[0].leaves


@pytest.mark.parametrize(
    ("line", "counted"),
    [
        ("Rnd 4: (2 sc, inc) x 6 (24)", (18, 24)),
        ("Rnd 9: 1 sc, dec, (2 sc, dec) x 5, 1 sc (18)", (24, 18)),
        ("Row 3: ch 1, 2 inc, (hdc2tog, 3 hdc) x 2, turn (12)", (12, 12)),
    ],
)
def test_lines_are_counted_with_a_finger_on_the_page(line, counted):
    assert used_and_left(line) == counted
    with pytest.raises(ValueError, match="not known"):
        used_and_left(line.replace("sc", "purl").replace("hdc", "purl"))


@settings(deadline=None, max_examples=200)
@given(miscounts())
def test_every_mend_adds_up_when_it_is_counted_by_hand(given):
    """An evaluator that shares nothing with the reader, the plans or the writer of rounds."""
    for way in mends(given, locate(given.question)):
        for line in way.rounds:
            assert used_and_left(line.text) == (line.before, line.leaves), line.text


@settings(deadline=None, max_examples=100)
@given(miscounts())
def test_carrying_on_is_offered_just_when_every_later_line_can_be_worked(given):
    """The lines of these pieces by hand: "around" goes over any number, a group or increases over their own only."""
    number, works = given.leaves, given.leaves > 0
    pattern = given.question.plan.leaves
    for item in given.ahead:
        if number == pattern or not works:
            break
        works = "sc around" in item.text
        pattern = item.leaves
    assert (Way.CARRY_ON in ways(given)) == works


@settings(deadline=None, max_examples=60)
@given(miscounts())
def test_a_mend_in_this_round_begins_with_what_was_really_made(given):
    here = ways(given).get(Way.THIS_ROUND)
    if here is None:
        return
    question, mended = given.question, here.rounds[0].plan
    worked, _ = cut(question.plan.body, question.done)
    bases = Plan(worked).uses
    there = next(spot for spot in mended.walk() if spot.takes_done == bases and spot.in_act == 0)
    assert there.stitches_done == question.counted


@settings(deadline=None, max_examples=60)
@given(miscounts())
def test_carrying_on_is_offered_only_if_every_later_round_divides(given):
    stitches, stuck = given.leaves, False
    for item in given.ahead:
        if stitches == item.before:
            break
        read = read_line(item.text, stitches)
        if read.uses != stitches or read.verdict == "error":
            stuck = True
            break
        stitches = read.leaves
    assert not (stuck and Way.CARRY_ON in ways(given))


@settings(deadline=None, max_examples=60)
@given(miscounts())
def test_ripping_back_costs_no_more_than_was_made(given):
    frog = ways(given).get(Way.FROG)
    if frog is not None and not frog.rounds_back:
        assert 0 <= frog.ripped <= given.question.counted
        assert frog.ripped or frog.stitch == given.question.counted, (
            "only what is left out at the end is simply worked"
        )
        assert 0 <= frog.stitch <= given.question.plan.leaves


@settings(deadline=None, max_examples=60)
@given(miscounts())
def test_at_most_three_choices_each_with_its_own_key(given):
    suspects = locate(given.question)
    choices = offers(given.question, suspects, mends(given, suspects))
    assert len(choices) <= 3
    assert len({choice.answer for choice in choices}) == len(choices)
    if choices:
        assert Answer.COUNT_AGAIN in {choice.answer for choice in choices}, "until two counts agree"
    assert bool(choices) == bool(given.question.by)
    assert "\n" not in sentence(given.question, suspects)


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 7), st.data())
def test_frogging_and_working_again_leads_where_no_mistake_would_have(index, data):
    straight = begun = begin(BALL)
    for _ in range(index + 1):
        straight = advance(BALL, straight, RoundDone(), 1.0)
    item = BALL.pieces[0].rounds[index]
    counted = item.leaves + data.draw(st.sampled_from([-2, -1, 1, 2]))
    erred = begun
    for _ in range(index + 1):
        erred = advance(BALL, erred, RoundDone(), 1.0)
    frog = ways(situation(BALL, index, counted)).get(Way.FROG)
    if frog is None:
        return
    erred = advance(BALL, erred, Frog(index - frog.rounds_back, frog.stitch), 2.0)
    assert erred.work.place.round_index <= index + 1
    while erred.work.place.round_index <= index:
        erred = advance(BALL, erred, RoundDone(), 3.0)
    assert erred.work.place == straight.work.place


def test_one_short_is_made_up_by_one_increase_in_the_next_round():
    found = ways(situation(BALL, 3, 23))[Way.NEXT]
    assert [line.text for line in found.rounds] == ["Rnd 5: 11 sc, inc, 11 sc (24)"]
    assert found.ripped == 0
    assert found.shows == "one increase more, after stitch 11"


def test_a_round_of_increases_takes_the_difference_in():
    found = ways(situation(BALL, 2, 17))[Way.NEXT]
    assert found.rounds[0].before == 17
    assert found.rounds[0].leaves == 24
    assert found.shows == "one increase more, evenly spaced"


def test_a_large_difference_is_made_up_over_two_rounds():
    found = ways(situation(BALL, 3, 20))[Way.NEXT]
    assert [(line.before, line.leaves) for line in found.rounds] == [(20, 22), (22, 24)]


def test_carrying_on_names_the_rounds_that_do_not_divide():
    assert situation(BALL, 3, 23).onward.stuck[0] == "Rnd 7"
    assert Way.CARRY_ON not in ways(situation(BALL, 3, 23))


def test_carrying_on_is_free_where_everything_is_worked_around():
    tube = pattern_of("Rnd 1: 12 sc in magic ring (12)", "Rnds 2-6: sc around (12)")
    found = ways(situation(tube, 1, 13))[Way.CARRY_ON]
    assert found.left == 1
    assert found.shows == "it stays 1 more"


def test_a_line_that_happens_to_fit_in_another_reading_does_not_divide():
    """Over 12, "(2 sc, inc) x 6" could be read as twelve increases; nobody means that."""
    assert "Rnd 4" in situation(BALL, 2, 12).onward.stuck


def test_an_unfinished_round_is_mended_where_it_is():
    taps = tuple(Tap(at, i * 4, i * 4 + 4) for i, at in enumerate([8.0, 16.1, 22.0, 30.1]))
    given = situation(BALL, 3, 15, done=16, taps=taps)
    found = ways(given)[Way.THIS_ROUND]
    assert found.rounds[0].text == "Rnd 4: (2 sc, inc) x 2, 5 sc, inc, (1 sc, inc) x 3 (24)"


def test_there_is_no_mend_after_the_last_round():
    assert Way.NEXT not in ways(situation(BALL, 7, 11))


def test_colours_and_textures_keep_their_places():
    pattern = pattern_of(
        "Rnd 1: 24 sc in magic ring (24)",
        "Rnd 2: sc around (24)",
        "Rnd 3: (A) 6 sc, (B) 6 sc, (A) 12 sc (24)",
    )
    found = ways(situation(pattern, 1, 23))[Way.NEXT]
    assert found.rounds[0].text == "Rnd 3: (A) 6 sc, (B) 6 sc, (A) 1 sc, inc, 9 sc (24)"


def test_increases_that_shape_the_piece_stay_where_they_are():
    pattern = pattern_of(
        "Rnd 1: 24 sc in magic ring (24)",
        "Rnd 2: sc around (24)",
        "Rnd 3: 4 sc, inc x 3, 8 sc, inc x 3, 6 sc (30)",
    )
    found = ways(situation(pattern, 1, 25))[Way.NEXT]
    assert found.rounds[0].text == "Rnd 3: 4 sc, 3 inc, 5 sc, dec, 2 sc, 3 inc, 6 sc (30)"


def test_the_tracker_follows_the_rewritten_round():
    given = situation(BALL, 3, 23)
    line = ways(given)[Way.NEXT].rounds[0]
    item = rewritten_round(BALL, BALL.pieces[0], given.ahead[0], line.text, line.before)
    assert item is not None
    assert (item.label, item.number, item.before, item.leaves, item.verdict) == ("Rnd 5", 5, 23, 24, "ok")
    assert item.plan == line.plan
    assert rewritten_round(BALL, BALL.pieces[0], given.ahead[0], "Rnd 5: 11 sc, icn", 23) is None


def test_uk_patterns_are_mended_in_uk_terms():
    pattern = pattern_of("Rnd 1: 12 dc in magic ring (12)", "Rnds 2-6: dc around (12)", terms="UK")
    found = ways(situation(pattern, 1, 11))[Way.NEXT]
    assert found.rounds[0].text == "Rnd 3: 5 dc, inc, 5 dc (12)"


TOLD = {
    "as it should be": (3, 24, None, "24: just as it should be", ()),
    "at the end": (
        3,
        23,
        None,
        "1 fewer than 24; count once more, then look at the 6 increases: one may be missing",
        (Answer.COUNT_AGAIN, Answer.MEND_NEXT),
    ),
    "half-way": (
        3,
        17,
        16,
        "1 more than 16; you may be 1 stitch further than the tracker",
        (Answer.MOVE_PLACE, Answer.COUNT_AGAIN, Answer.MEND_HERE),
    ),
    "a repeat short": (
        3,
        20,
        None,
        "4 fewer than 24; the tracker may be 4 stitches ahead of you",
        (Answer.MOVE_PLACE, Answer.COUNT_AGAIN, Answer.MEND_NEXT),
    ),
}


@pytest.mark.parametrize(("index", "counted", "done", "words", "keys"), TOLD.values(), ids=TOLD)
def test_what_the_maker_is_told(index, counted, done, words, keys):
    given = situation(BALL, index, counted, done)
    suspects = locate(given.question)
    assert sentence(given.question, suspects) == words
    assert tuple(offer.answer for offer in offers(given.question, suspects, mends(given, suspects))) == keys


def test_of_two_places_that_are_just_as_likely_both_are_named():
    """A row has two edges, and nothing tells which of them was left out."""
    rows = pattern_of(
        "Row 1: ch 21, sc in 2nd ch from hook, sc in each ch across, turn (20)",
        "Row 2: ch 1, sc across, turn (20)",
    )
    given = situation(rows, 1, 19)
    suspects = locate(given.question)
    edges = [suspect for suspect in suspects if suspect.edge]
    assert [suspect.alike for suspect in edges] == [2, 2]
    assert edges[0].probability == pytest.approx(edges[1].probability, rel=0.05)
    words = {suspect.words for suspect in suspects}
    assert {"the last stitch of the row may be left out", "the first stitch may be left out"} <= words


def test_ripping_back_to_one_place_of_several_is_offered_for_the_case_that_it_is_there():
    """Before two counts agree it is not offered at all."""
    given = situation(BALL, 3, 23)
    for times, offered in ((1, None), (2, "if it is there: rip back 11 stitches, to the end of repeat 3")):
        asked = replace(given, question=replace(given.question, times=times, parts=()))
        suspects = locate(asked.question)
        found = {offer.answer: offer.words for offer in offers(asked.question, suspects, mends(asked, suspects))}
        assert found.get(Answer.FROG) == offered


def test_a_choice_tells_what_it_acts_on_and_where_it_goes():
    given = situation(BALL, 3, 17, 16)
    suspects = locate(given.question)
    moving, _, mending = offers(given.question, suspects, mends(given, suspects))
    assert (moving.to, moving.supposes) == ((0, 17), None)
    assert mending.supposes is not None and mending.supposes.is_in_fabric
    assert mending.whole.startswith("Rnd 4: ") and mending.whole not in mending.words


def test_a_great_change_is_called_what_it_is():
    given = situation(BALL, 3, 20)
    found = {offer.answer: offer.words for offer in offers(given.question, (), mends(given, ()))}
    assert found[Answer.MEND_NEXT].endswith("; that is 4 of 20")
    given = situation(BALL, 3, 23)
    found = {offer.answer: offer.words for offer in offers(given.question, (), mends(given, ()))}
    assert "that is" not in found[Answer.MEND_NEXT]
