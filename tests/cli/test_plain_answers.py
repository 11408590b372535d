"""What a maker types becomes an event, or a refusal that says what was expected."""

from __future__ import annotations

import pytest
from support.building import toadstool

from tracker.session.events import AskChosen, Frog, PieceChosen
from tracker.session.reducer import begin
from tracker.session.state import Refused
from tracker.session.typed_input import ask_in, frog_in, number_in, piece_in
from tracker.session.view import Difference
from tracker.session.view_words import off_by, percent, spell

PATTERN = toadstool()


@pytest.mark.parametrize(
    ("text", "number"), [("24", 24), (" 24 sts ", 24), ("1,024", 1024), ("18 stitches", 18), ("6 sc", 6), ("0", 0)]
)
def test_counts(text: str, number: int) -> None:
    assert number_in(text) == number


@pytest.mark.parametrize("text", ["", "six", "-1", "1.5", "1 2", "9" * 13, "²"])
def test_what_is_no_count(text: str) -> None:
    with pytest.raises(Refused):
        number_in(text)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("2", Frog(1)),
        ("3 12", Frog(2, 12)),
        ("to rnd 3, stitch 12", Frog(2, 12)),
        ("round 1 0", Frog(0, 0)),
        ("R2", Frog(1)),
    ],
)
def test_places_to_frog_to(text: str, place: Frog) -> None:
    assert frog_in(PATTERN, begin(PATTERN), text.replace("R2", "R 2")) == place


@pytest.mark.parametrize("text", ["", "here", "4", "0", "1 2 3", "-1"])
def test_what_is_no_place(text: str) -> None:
    with pytest.raises(Refused):
        frog_in(PATTERN, begin(PATTERN), text)


@pytest.mark.parametrize(
    ("text", "piece"),
    [
        ("Cap", PieceChosen(0, 1)),
        ("stem", PieceChosen(1, 1)),
        ("Stem 2", PieceChosen(1, 2)),
        ("st", PieceChosen(1, 1)),
        ("2", PieceChosen(1, 1)),
        ("2 2", PieceChosen(1, 2)),
        ("Stem copy 2", PieceChosen(1, 2)),
    ],
)
def test_pieces(text: str, piece: PieceChosen) -> None:
    assert piece_in(PATTERN, text) == piece


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "type the name of a piece"),
        ("stemm", "there is no piece called stemm: do you mean Stem?"),
        ("zz", "there is no piece called zz: there are Cap, Stem"),
    ],
)
def test_what_is_no_piece(text: str, message: str) -> None:
    with pytest.raises(Refused) as refused:
        piece_in(PATTERN, text)
    assert refused.value.reason == message


@pytest.mark.parametrize(
    ("text", "wish"),
    [
        ("each", AskChosen("each")),
        ("Change", AskChosen("change")),
        ("never", AskChosen("never")),
        ("every 3", AskChosen("every", 3)),
        ("every round", AskChosen("each")),
    ],
)
def test_wishes_to_be_asked(text: str, wish: AskChosen) -> None:
    assert ask_in(text) == wish


@pytest.mark.parametrize("text", ["", "often", "every", "every 0", "every x"])
def test_what_is_no_wish(text: str) -> None:
    with pytest.raises(Refused):
        ask_in(text)


@pytest.mark.parametrize(("share", "told"), [(0.0, "0%"), (0.001, "1%"), (0.5, "50%"), (0.999, "99%"), (1.0, "100%")])
def test_shares(share: float, told: str) -> None:
    assert percent(share) == told


@pytest.mark.parametrize(
    ("seconds", "told"),
    [(0, "under a minute"), (60, "1 minute"), (48 * 60, "48 minutes"), (3600, "1 hour"), (7500, "2 hours 5 minutes")],
)
def test_spans_of_time(seconds: float, told: str) -> None:
    assert spell(seconds) == told


def test_differences() -> None:
    assert off_by(Difference("Cap", 1, "Rnd 1", 6, 7)) == "1 stitch too many"
    assert off_by(Difference("Cap", 1, "Rnd 1", 18, 15)) == "3 stitches too few"
