"""Words that a screen and a spoken line share: shares, spans of time, differences, counts as they should be."""

from __future__ import annotations

import pytest
from support.building import cap, pattern, piece, ring, rnd, toadstool, unread

from tracker.pattern.model import Pattern
from tracker.rounds.count_parts import CountPart
from tracker.session.events import AskChosen, CarryOn, Counted, Event, RoundDone, Stitch
from tracker.session.reducer import advance, begin
from tracker.session.view import Difference
from tracker.session.view_builder import look
from tracker.session.view_words import asked_words, counted_words, off_by, part_words, percent, spell


@pytest.mark.parametrize(
    ("share", "told"),
    [(0.0, "0%"), (0.001, "1%"), (0.014, "1%"), (0.016, "2%"), (0.5, "50%"), (0.999, "99%"), (1.0, "100%")],
)
def test_shares(share: float, told: str) -> None:
    assert percent(share) == told


@pytest.mark.parametrize(
    ("seconds", "told"),
    [
        (0, "under a minute"),
        (59.9, "under a minute"),
        (60, "1 minute"),
        (119, "1 minute"),
        (48 * 60, "48 minutes"),
        (3600, "1 hour"),
        (3660, "1 hour 1 minute"),
        (7500, "2 hours 5 minutes"),
    ],
)
def test_spans_of_time(seconds: float, told: str) -> None:
    assert spell(seconds) == told


def test_differences() -> None:
    assert off_by(Difference("Cap", 1, "Rnd 1", 6, 7)) == "1 stitch too many"
    assert off_by(Difference("Cap", 1, "Rnd 1", 18, 15)) == "3 stitches too few"


@pytest.mark.parametrize(
    ("made", "events", "counted", "told"),
    [
        (toadstool(), [RoundDone()], 6, "Rnd 1: 6, as it should be"),
        (toadstool(), [RoundDone(), Stitch(4)], 4, "Rnd 2: 4 so far, just where you are here"),
        (
            toadstool(),
            [RoundDone(), RoundDone(), Counted(11, 1), CarryOn()],
            11,
            "Rnd 2: 11, 1 stitch too few as you know",
        ),
        (
            pattern(piece("Ear", rnd(1, ring(6)), unread(2))),
            [RoundDone(), RoundDone()],
            9,
            "9 noted; the pattern does not say how many it should be",
        ),
        (pattern(), [], 9, "9 noted; the pattern does not say how many it should be"),
    ],
)
def test_a_count_that_opens_no_question(made: Pattern, events: list[Event], counted: int, told: str) -> None:
    state = begin(made)
    for event in events:
        state = advance(made, state, event, 0.0)
    assert counted_words(look(made, state), counted) == told


def test_parts_that_were_counted_so_far() -> None:
    parts = [CountPart(f"repeat {number}", (0, 2), (0, 3), 3) for number in (1, 2, 3)]
    told = "repeat 1: 3, as it should be; repeat 2: 1,002, it should be 3"
    assert (part_words(parts, []), part_words(parts, (3, 1002))) == ("", told)


@pytest.mark.parametrize(
    ("wish", "told"),
    [
        (AskChosen("never"), "you will not be asked for a count"),
        (AskChosen("each"), "you will be asked for a count after each round"),
        (AskChosen("change"), "you will be asked for a count after each round that increases or decreases"),
        (AskChosen("every", 1000), "you will be asked for a count after every 1,000 rounds"),
    ],
)
def test_when_a_count_is_asked_for(wish: AskChosen, told: str) -> None:
    assert asked_words(wish) == told


def test_a_cap_counts_its_copies_in_the_same_words() -> None:
    made = pattern(cap(make=2))
    state = advance(made, begin(made), RoundDone(), 0.0)
    assert counted_words(look(made, state), 6) == "Rnd 1: 6, as it should be"
