"""Which way up a piece stands and where it is sewn, as a pattern file says it; what is unclear is told."""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern, Seat, Side, Stands
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml


def pattern(extra: str) -> Pattern:
    body = '[[piece]]\nname = "Body"\nrounds = "Rnd 1: 6 sc in magic ring (6)"\n'
    return loads(f'{body}[[piece]]\nname = "Ear"\n{extra}\nrounds = "Rnd 1: 6 sc in magic ring (6)"\n')


SEATS = {
    'on = "Body"': Seat("Body"),
    'on = "body"\nat = "Rnd 7"': Seat("body", (7, 7)),
    'on = "Body"\nat = "Rnds 3-9, all round"': Seat("Body", (3, 9), Side.ALL_ROUND),
    'on = "Body"\nat = "5, front"': Seat("Body", (5, 5), Side.FRONT),
    'on = "Body"\nat = "sides"': Seat("Body", None, Side.SIDES),
}


@pytest.mark.parametrize("words", SEATS)
def test_a_seat_is_read_and_written(words: str) -> None:
    ear = pattern(words).pieces[1]
    assert ear.seat == SEATS[words]
    again = as_toml(Draft(pieces=(DraftPiece("Body", "Rnd 1: 6 sc in magic ring (6)"), _draft(ear.seat))))
    assert loads(again).pieces[1].seat == ear.seat


def _draft(seat: Seat | None) -> DraftPiece:
    return DraftPiece("Ear", "Rnd 1: 6 sc in magic ring (6)", stands=Stands.OPENING, seat=seat)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ('on = "Boddy"', "there is no piece 'Boddy' to sew it on"),
        ('on = "Ear"', "there is no piece 'Ear' to sew it on"),
        ('on = "Body"\nat = "near the neck"', "where it is sewn on is not clear: 'near the neck'"),
        ('at = "Rnd 3"', "where it is sewn on is not clear: 'Rnd 3'"),
        ('stands = "head"', '\'stands\' of [[piece]] number 2 should be "foot" or "opening"'),
    ],
)
def test_an_unclear_place_is_told(words: str, told: str) -> None:
    assert told in [problem.message for problem in pattern(words).problems]
