"""What a maker types, and the event that it is; what cannot be meant is refused with what was expected."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from support.building import cap, pattern, piece, ring, rnd, sc, toadstool

from tracker.session.events import AskChosen, Event, Frog, PieceChosen, RoundDone
from tracker.session.reducer import advance, begin
from tracker.session.state import Refused
from tracker.session.typed_input import ask_in, counts_in, frog_in, number_in, piece_in

PIECES = pattern(
    cap(), piece("Stem", rnd(1, ring(6)), make=2), piece("Spot", rnd(1, ring(5))), piece("Spots", rnd(1))
)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("24", 24),
        (" 24 sts. ", 24),
        ("1,024", 1024),
        ("17 so far", 17),
        ("6 sc", 6),
        ("0", 0),
        ("1 stitch", 1),
        ("18 stitches", 18),
    ],
)
def test_a_number_of_stitches(text: str, number: int) -> None:
    assert number_in(text) == number
    assert counts_in(text) == ((number,), None)


@pytest.mark.parametrize("text", ["", "many", "-3", "2.5", "24 rows", "1 2", "\u00b2", "1" * 13])
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(Refused) as refused:
        number_in(text)
    assert refused.value.reason == "type how many stitches you counted, as a number: 24"


@pytest.mark.parametrize(
    ("text", "numbers", "in_round"),
    [
        ("24 in 4", (24,), 4),
        ("24 sts in rnd 12", (24,), 12),
        ("6 6 5 6", (6, 6, 5, 6), None),
        ("6+6 + 5", (6, 6, 5), None),
        ("6 5 in round 3", (6, 5), 3),
        ("1,024 in row 2", (1024,), 2),
    ],
)
def test_a_count_of_an_older_round_or_of_parts(text: str, numbers: tuple[int, ...], in_round: int | None) -> None:
    assert counts_in(text) == (numbers, in_round)


@pytest.mark.parametrize(
    ("text", "frog"),
    [
        ("1", Frog(0)),
        ("3", Frog(2)),
        ("rnd 2 stitch 7", Frog(1, 7)),
        ("to the 2nd", None),
        ("Round 2, 7 sts", Frog(1, 7)),
        ("r 2: 0", Frog(1)),
        ("to rnd 3, stitch 12", Frog(2, 12)),
        ("2 7 1", None),
        ("", None),
        ("back", None),
        ("-1", None),
    ],
)
def test_a_place_to_rip_back_to(text: str, frog: Frog | None) -> None:
    state = begin(PIECES)
    if frog is not None:
        assert frog_in(PIECES, state, text) == frog
        return
    with pytest.raises(Refused, match=r"the round to go back to, and the stitches of it that stay: 7 or 7 12"):
        frog_in(PIECES, state, text)


def test_a_round_that_is_not_there_is_told_with_those_that_are() -> None:
    """A number is that of the heading, and of the copy in hand."""
    rows = pattern(piece("Ear", rnd(4, ring(6)), rnd(5, sc(6)), rnd(9, sc(6))), piece("Arm", rnd(1, ring(6))))
    assert frog_in(rows, begin(rows), "9") == Frog(2)
    with pytest.raises(Refused, match=r"Ear has no round 3: it has 4 to 9"):
        frog_in(rows, begin(rows), "3")
    state = begin(rows)
    for _ in range(3):
        state = advance(rows, state, RoundDone(), 0.0)
    assert frog_in(rows, state, "5") == Frog(1)
    state = advance(rows, state, RoundDone(), 0.0)
    with pytest.raises(Refused, match=r"Arm has no round 5: it has 1 to 1"):
        frog_in(rows, state, "5")


@pytest.mark.parametrize(
    ("text", "event"),
    [
        ("Stem", PieceChosen(1, 1)),
        ("stem 2", PieceChosen(1, 2)),
        ("stem copy 2", PieceChosen(1, 2)),
        ("2", PieceChosen(1, 1)),
        ("4", PieceChosen(3, 1)),
        ("st", PieceChosen(1, 1)),
        ("spot", PieceChosen(2, 1)),
        ("SPOTS", PieceChosen(3, 1)),
        ("3 2", PieceChosen(2, 2)),
        ("", "type the name of a piece"),
        ("0", "there is no piece called 0: there are Cap, Stem, Spot, Spots"),
        ("5", "there is no piece called 5: there are Cap, Stem, Spot, Spots"),
        ("sp", "there is no piece called sp: do you mean Spot?"),
        ("stme 2", "there is no piece called stme 2: do you mean Stem?"),
        ("wing", "there is no piece called wing: there are Cap, Stem, Spot, Spots"),
        ("w" * 70, f"there is no piece called {'w' * 60}: there are Cap, Stem, Spot, Spots"),
    ],
)
def test_a_piece_and_a_copy_of_it(text: str, event: PieceChosen | str) -> None:
    if isinstance(event, PieceChosen):
        assert piece_in(PIECES, text) == event
        return
    with pytest.raises(Refused) as refused:
        piece_in(PIECES, text)
    assert refused.value.reason == event


@pytest.mark.parametrize(
    ("text", "event"),
    [
        ("each", AskChosen("each")),
        ("Always", AskChosen("each")),
        ("every round", AskChosen("each")),
        ("changes", AskChosen("change")),
        ("change", AskChosen("change")),
        ("never", AskChosen("never")),
        ("every 3", AskChosen("every", 3)),
        ("every 1", AskChosen("every", 1)),
        ("every 10000", AskChosen("every", 10_000)),
        ("every 10001", None),
        ("every 0", None),
        ("every x", None),
        ("every", None),
        ("often", None),
        ("3", None),
        ("", None),
    ],
)
def test_when_a_count_is_asked_for(text: str, event: AskChosen | None) -> None:
    if event is not None:
        assert ask_in(text) == event
        return
    with pytest.raises(Refused, match=r"say when to ask for a count: each, change, every 3, or never"):
        ask_in(text)


@pytest.mark.parametrize(
    ("read", "text"), [(number_in, "1" * 5000), (counts_in, "9" * 5000), (ask_in, "every " * 999)]
)
def test_thousands_of_digits_are_no_number(read: Callable[[str], object], text: str) -> None:
    with pytest.raises(Refused):
        read(text)


def test_events_typed_can_be_done() -> None:
    made = toadstool()
    state = begin(made)
    events: list[Event] = [piece_in(made, "stem 2"), ask_in("every 2")]
    for event in events:
        state = advance(made, state, event, 0.0)
    assert (state.work.copy.piece, state.work.copy.number, state.work.asks.every) == (1, 2, 2)
