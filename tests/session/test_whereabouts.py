"""A maker who lost the place answers truly, or not at all, and is led to it."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import pattern, piece, ring, rnd, sc, toadstool, unread

from tracker.pattern.loader import load
from tracker.pattern.model import Pattern
from tracker.session.events import Frog
from tracker.session.state import Copy, Place, Refused, State, Work
from tracker.session.whereabouts import (
    MOST_QUESTIONS,
    Clue,
    Search,
    begin_search,
    narrowed,
    places_left,
    question_of,
)

SHIPPED = sorted((Path(__file__).parents[2] / "patterns").glob("*.toml"))


def at(copy: Copy, rounds: int, moves: int = 0) -> State:
    return State(Work(copy=copy, place=Place(rounds, moves, moves)))


def search_truly(made: Pattern, state: State, index: int) -> Search:
    """All questions answered by what the round of this number (from 0) is."""
    search = begin_search(made, state)
    truth = search.rounds[index]
    while question := question_of(made, search):
        search = narrowed(search, question, min(truth.answers(question.clue), default=""))
    return search


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_true_answers_end_in_the_place_or_two(path: Path) -> None:
    made = load(path)
    for number, each in enumerate(made.pieces):
        for index, item in enumerate(each.rounds[:-1]):
            state = at(Copy(number, 1), min(index + 2, len(each.rounds) - 1))
            search = search_truly(made, state, index)
            assert len(search.clues) <= MOST_QUESTIONS
            places = places_left(made, state, search)
            assert 1 <= len(places) <= 2
            assert any(place.words.startswith(f"{item.label} is whole") for place in places), item.label


def test_what_a_maker_sees_in_the_toadstool() -> None:
    """Worked out by hand: of the rounds of 42 stitches only round 13 has a ridge below it, and only it is cream."""
    made, state = load(SHIPPED[-1]), at(Copy(0, 1), 9)
    search = begin_search(made, state)
    for clue, answer in ((Clue.STITCHES, "42"), (Clue.LOOK, "a ridge of free loops below it")):
        question = question_of(made, search)
        assert question is not None and question.clue is clue
        search = narrowed(search, question, answer)
    (place,) = places_left(made, state, search)
    assert (place.words, place.event) == ("Rnd 13 is whole, Rnd 14 begins", Frog(13))


def test_a_count_that_is_off_by_one_is_taken_for_the_nearest() -> None:
    made, state = toadstool(), at(Copy(0, 1), 2)
    question = question_of(made, begin_search(made, state))
    assert question is not None and question.clue is Clue.STITCHES
    near = narrowed(begin_search(made, state), question, "19")
    assert near.nearest and {each.label for each in near.rounds} == {"Rnd 3"}
    with pytest.raises(Refused, match="count again"):
        narrowed(begin_search(made, state), question, "400")
    with pytest.raises(Refused):
        narrowed(begin_search(made, state), question, "many")


def test_rounds_that_are_all_alike_are_told_apart_by_how_many_there_are() -> None:
    made = pattern(piece("Tube", rnd(1, ring(9)), *(rnd(number, sc(9)) for number in range(2, 30))))
    search = search_truly(made, at(Copy(0, 1), 3), 20)
    assert search.clues == (Clue.ALIKE,)
    assert [place.words for place in places_left(made, at(Copy(0, 1), 3), search)] == [
        "Rnd 21 is whole, Rnd 22 begins"
    ]


def test_who_can_tell_nothing_gets_the_two_places_nearest_to_the_kept_one() -> None:
    made, state = load(SHIPPED[-1]), at(Copy(0, 1), 4, 5)
    search = begin_search(made, state)
    while question := question_of(made, search):
        search = narrowed(search, question, "")
    assert len(search.clues) == MOST_QUESTIONS and len(search.rounds) == 17
    kept, start = places_left(made, state, search)
    assert (kept.words, kept.event) == ("Rnd 5, stitch 5: where your place was kept", None)
    assert start.event == Frog(4)


def test_nothing_rules_out_a_round_that_could_not_be_read() -> None:
    made = pattern(piece("Ear", rnd(1, ring(6)), unread(2, 12), rnd(3, sc(12))))
    seen = begin_search(made, at(Copy(0, 1), 2)).rounds
    assert [each.answers(Clue.LOOK) for each in seen][1] == frozenset()
    assert all(seen[1].fits(Clue.LOOK, look) for look in ("plain: one stitch on each", "chains or holes in it"))
    assert not seen[0].fits(Clue.LOOK, "chains or holes in it")
