"""A differing count by words alone: whole conversations, as they are heard."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.cli.plain_answers import Teller
from tracker.cli.work_plain import answer, work_plainly
from tracker.pattern.loader import load
from tracker.project.project import Project, open_project
from tracker.rounds.line_report import read_line

BALL = '''
title = "Ball"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnds 5-6: sc around (24)
Rnd 7: (2 sc, dec) x 6 (18)
"""
[[piece]]
name = "Stem"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: sc around (6)
"""
'''


class Clock:
    """Time that passes only when told."""

    now = 1_750_000_000.0

    def __call__(self) -> float:
        return self.now


class Conversation:
    """Lines that are typed, and what is heard after each. A repeat takes eleven seconds if nothing else is said."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "ball.toml"
        self.file.write_text(BALL, "utf-8")
        self.data = folder / "data"
        self.clock = Clock()
        self.project: Project = open_project(load(self.file), self.file, self.data, self.clock)
        self.teller = Teller(self.project)

    def say(self, *lines: str, seconds: float = 11.0) -> list[str]:
        """The answer to the last of the lines."""
        heard: list[str] = []
        for line in lines:
            self.clock.now += seconds
            heard = answer(self.teller, line)
        return heard


@pytest.fixture
def maker(tmp_path: Path) -> Iterator[Conversation]:
    conversation = Conversation(tmp_path)
    yield conversation
    conversation.project.close()


def to_round_four(maker: Conversation) -> None:
    """Three rounds that were counted and are right."""
    maker.say("round", "round", "count 12", "round", "count 18")


def test_a_missed_increase_is_found_by_parts_and_ripped_back_to(maker: Conversation) -> None:
    to_round_four(maker)
    heard = maker.say("round", "count 23")
    assert heard[0] == "Rnd 4: 1 fewer than 24; count once more, then look at the 6 increases: one may be missing."
    assert heard[1] == "c: count again by repeats: pin every 3 of Rnd 3."
    assert len(heard) <= 4 and all(line[1] == ":" for line in heard[1:])
    assert maker.say("c") == [
        "Say count and a number for each part, from the first: count 4 4 4 4 4 4 would be right."
    ]
    assert maker.say("count 4 4") == [
        "Repeat 1: 4, as it should be; repeat 2: 4, as it should be.",
        "Now repeat 3: say count and the number.",
    ]
    heard = maker.say("count 4 3 4 4")
    assert heard[0] == "Rnd 4: 1 fewer than 24, counted twice: look here: repeat 4, the increase may be missing."
    assert "f: rip back 11 stitches, to the end of repeat 3." in heard
    assert maker.say("f") == [
        "Ripped back; undo brings everything back.",
        "Was it there? Say z if it was.",
        "Ball, Rnd 4, stitch 12 of 24, repeat 4 of 6: 2 single crochet, then an increase.",
    ]
    assert maker.project.learned().as_json() == {}
    assert maker.say("z") == ["Noted: it will be thought of sooner."]
    assert maker.project.learned().as_json() == {"missed increase": 1}
    assert maker.say("z") == ["Nothing is asked: there is nothing to confirm."]
    assert maker.say("undo", "undo", "look")[-len(heard) :] == heard


def test_a_number_too_many_for_the_parts_is_refused(maker: Conversation) -> None:
    to_round_four(maker)
    maker.say("round", "count 23")
    assert maker.say("count 4 4 4 4 4 4 4") == ["There are 6 parts: say so many numbers."]
    assert maker.say("4 4 4 4 4 4") == ["Rnd 4: 24, as it should be."]


def test_a_round_that_is_not_made_yet_is_asked_about(maker: Conversation) -> None:
    to_round_four(maker)
    heard = maker.say("round", "count 18")
    assert heard == [
        "Rnd 4: 6 fewer than 24; 18 is what Rnd 3 leaves: is Rnd 4 not made yet?",
        "g: set the place to the start of Rnd 4.",
        "c: count again by repeats: pin every 3 of Rnd 3.",
    ]
    assert maker.say("g")[0] == "Your place is set; undo brings everything back."
    assert maker.project.view().round_label == "Rnd 4"


def test_an_older_round_is_counted(maker: Conversation) -> None:
    maker.say("round", "round", "count 12", "round", "round", "round", "count 22")
    heard = maker.say("count 22")
    assert "d: count Rnd 4: its stitches are the feet of Rnd 5." in heard
    assert maker.say("d") == ["Say count, the number, and in Rnd 4: count 24 in Rnd 4."]
    assert maker.say("count 24 in Rnd 4")[0] == "Rnd 4 is as it should be."
    assert maker.say("count 18 in 3")[0] == "Rnd 3 is as it should be."
    assert maker.say("count 12 in rnd 9") == ["Ball has no round 9: it has 1 to 7."]


def test_looking_tells_each_place_and_what_to_look_for(maker: Conversation) -> None:
    to_round_four(maker)
    heard = maker.say("round", "count 23", "look")
    places = [line for line in heard if line[0].isdecimal()]
    assert 2 <= len(places) <= 5
    assert any("an increase is two V tops growing from one base" in line for line in places)
    assert "With the difference Rnd 7 will not work out as written." in heard


def test_the_difference_is_made_up_in_the_next_round_which_is_told_as_changed(maker: Conversation) -> None:
    to_round_four(maker)
    assert "j: make it up in Rnd 5: one increase more, after stitch 11." in maker.say("round", "count 23")
    whole = next(line for line in maker.say("look") if line.startswith("J is "))
    text = whole.removeprefix("J is ").removesuffix(".")
    read = read_line(text, 23)
    assert (read.verdict, read.uses, read.leaves) == ("ok", 23, 24)
    heard = maker.say("j")
    assert heard[0] == "What comes next is changed; undo brings everything back."
    told = f"This round is changed: work {text}; the pattern has Rnds 5-6: sc around (24)."
    assert told in heard
    assert maker.say("read") == [told]
    assert told not in maker.say("round", "place")


def test_a_changed_round_ahead_is_told_as_changed(maker: Conversation) -> None:
    to_round_four(maker)
    assert "in Rnd 5 and Rnd 6" in next(line for line in maker.say("round", "count 19") if line.startswith("j: "))
    maker.say("j")
    changed, written = maker.say("ahead")
    assert changed.startswith("Changed: Rnd 6: ") and changed.endswith("(24), 24 stitches.")
    assert written == "Rnd 7: (2 sc, dec) x 6 (18), 18 stitches."
    maker.say("undo")
    assert maker.say("ahead")[0] == "Rnds 5-6: sc around (24), 24 stitches."


@pytest.mark.parametrize("typed", ["count 17", "17", "I have 17 so far", "count 17 so far", "counted 17 stitches"])
def test_half_way_the_first_thing_thought_of_is_the_place(typed: str, maker: Conversation) -> None:
    to_round_four(maker)
    heard = maker.say("repeat", "repeat", "repeat", "repeat", typed)
    assert heard[0].startswith("Rnd 4: 1 more than 16; you may be 1 stitch further than the tracker")
    assert heard[1] == "g: the work is right: set the place to stitch 17."
    assert heard[2] == "c: count again."
    assert maker.say("g") == [
        "Your place is set; undo brings everything back.",
        "Ball, Rnd 4, stitch 17 of 24, repeat 5 of 6: 1 single crochet, then an increase.",
    ]
    assert maker.say("I have 17 so far") == ["Rnd 4: 17 so far, just where you are here."]


def test_counting_again_and_being_right_is_learned_and_told(maker: Conversation) -> None:
    to_round_four(maker)
    maker.say("round", "round", "count 23")
    assert maker.say("c")[0].startswith("Say count and a number for each part")
    assert maker.say("24") == ["Rnd 5: 24, as it should be."]
    maker.project.close()
    place = place_of(maker)
    assert place["learned"] == {"miscount": 1}
    assert place["round_changed"] is False


def place_of(maker: Conversation) -> dict[str, object]:
    """What programs are told."""
    out = io.StringIO()
    with redirect_stdout(out):
        assert main(["place", str(maker.file), "--json", "--data", str(maker.data)]) == 0
    told: dict[str, object] = json.loads(out.getvalue())
    return told


def test_a_changed_round_is_told_to_programs(maker: Conversation) -> None:
    to_round_four(maker)
    maker.say("round", "count 23", "j")
    maker.project.close()
    place = place_of(maker)
    assert place["round_changed"] is True
    assert place["pattern_text"] == "Rnds 5-6: sc around (24)"
    assert str(place["text"]).startswith("Rnd 5: ")


def test_whoever_goes_on_is_reminded_in_few_words_and_may_carry_on_at_any_time(maker: Conversation) -> None:
    to_round_four(maker)
    maker.say("round", "count 23")
    assert maker.say("stitch 3") == [
        "Ball, Rnd 4 has 1 stitch too few: you counted 23, it should be 24. Say look to hear what to do.",
        "Rnd 5, stitch 3 of 24: 21 single crochet.",
    ]
    assert maker.say("k")[:2] == [
        "The difference is remembered; undo brings everything back.",
        "With the difference Rnd 7 will not work out as written.",
    ]
    assert maker.say("round", "count 23") == ["Rnd 5: 23, 1 stitch too few as you know."]


@pytest.mark.parametrize("key", ["g", "c", "d", "f", "j", "k"])
def test_a_key_without_a_question_does_nothing(key: str, maker: Conversation) -> None:
    before = maker.project.state
    assert maker.say(key) == ["No count is open: there is nothing to choose."]
    assert maker.project.state == before


def test_a_key_that_was_not_told_does_nothing(maker: Conversation) -> None:
    to_round_four(maker)
    heard = maker.say("round", "count 23")
    assert "g" not in [line[0] for line in heard]
    before = maker.project.state
    assert maker.say("g") == ["That is not to be chosen now; say look to hear what is."]
    assert maker.project.state == before


def test_a_count_of_a_piece_that_was_put_away_waits_for_it(maker: Conversation) -> None:
    to_round_four(maker)
    maker.say("round", "count 23")
    heard = maker.say("piece stem")
    assert any(line.startswith("Ball, Rnd 4 has 1 stitch too few") for line in heard)
    assert maker.say("look") == maker.say("f")
    assert maker.say("look")[0].endswith("Go on with Ball first to put it right, or say carry on.")
    assert maker.say("k")[0].startswith("The difference is remembered")


def test_everything_that_is_said_is_a_sentence_on_one_line(maker: Conversation) -> None:
    out = io.StringIO()
    lines = ["round", "round", "count 12", "round", "count 18", "round", "count 23", "look", "j", "today", "help"]
    work_plainly(maker.project, [f"{line}\n" for line in lines], out)
    told = out.getvalue().splitlines()
    assert all(line and line == line.strip() and line[-1] in ".!?" for line in told)
    assert "You worked under a minute today." in told
    assert "g, c, d, f, j or k: chooses what was told after a count that differs." in told


def test_what_happened_to_the_journal_is_said_when_it_happens(maker: Conversation) -> None:
    out = io.StringIO()

    def lines() -> Iterator[str]:
        yield "round\n"
        for name in ("journal.sqlite3", "journal.sqlite3-wal", "journal.sqlite3-shm"):
            (maker.data / name).unlink(missing_ok=True)
        yield "round\n"
        yield "place\n"

    work_plainly(maker.project, lines(), out)
    assert out.getvalue().count("The journal was removed while it was in use; it was put back.") == 1
