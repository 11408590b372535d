"""What to do now in the trade's short words."""

from __future__ import annotations

import pytest
from support.building import ch, dec, inc, join, ring, sc, shell, sk, st, times

from tracker.pattern.loader import loads
from tracker.phrasing.stitches import short_words
from tracker.rounds.next_step import coming_now
from tracker.rounds.plan import Into, Loop, Node, Plan


@pytest.mark.parametrize(
    ("body", "terms", "expected"),
    [
        ((sc(2), inc()), "US", "2 sc"),
        ((times(6, sc(), inc()),), "US", "1 sc, inc"),
        ((times(6, sc(2), dec()),), "US", "2 sc, dec"),
        ((inc(6),), "US", "6 inc"),
        ((ring(6),), "US", "6 sc"),
        ((sc(4),), "UK", "4 dc"),
        ((sc(42, loop=Loop.BACK),), "US", "BLO 42 sc"),
        ((ch(1), sc(13)), "US", "ch 1, 13 sc"),
        ((join(),), "US", "join"),
        ((times(6, sk(2), shell()),), "US", "sk 2, shell"),
        ((inc(1, "dc"),), "US", "2 dc"),
        ((inc(6, "dc"),), "UK", "6 x 2 tr"),
        ((st("dc", 3, into=Into.SPACE),), "US", "3 dc in sp"),
    ],
)
def test_short_words(body: tuple[Node, ...], terms: str, expected: str) -> None:
    assert short_words(coming_now(Plan(body), 0), terms) == expected


def test_in_the_middle_of_an_increase_what_is_left_of_it_is_told() -> None:
    assert short_words(coming_now(Plan((inc(),)), 1), "US") == "1 more sc"


def test_the_chain_on_a_line_of_its_own_is_a_length_of_chain() -> None:
    made = loads(
        'title = "O"\n[[piece]]\nname = "O"\nrounds = """\nCh 7\nRnd 1: sc in 2nd ch from hook, 5 sc (6)\n"""\n'
    )
    plan = made.pieces[0].rounds[0].plan
    assert plan is not None and short_words(coming_now(plan, 0), "US") == "ch 7"
