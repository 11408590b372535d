"""Which lines the maker is called to: what does not come out, and what is probably misprinted although it could be
worked."""

from __future__ import annotations

from tracker.pattern.loader import loads
from tracker.pattern.mending import mended
from tracker.pattern.misprints.finder import doubtful_lines
from tracker.pattern.misprints.remedies import remedies
from tracker.pattern.model import Correction, Pattern


def pattern_of(*rounds: str) -> Pattern:
    lines = "\n".join(f"Rnd {number}: {text}" for number, text in enumerate(rounds, 1))
    return loads(f'[[piece]]\nname = "Cap"\nrounds = """\n{lines}\n"""\n')


RING = ("6 sc in magic ring (6)", "inc x 6 (12)")


def test_a_lost_increase_shows_without_a_total_and_is_mended_with_one_key() -> None:
    """Twelve are there; six times "1 sc" uses six of them, with the increase it is twelve and makes 18: by hand."""
    cap = pattern_of(*RING, "(1 sc) x 6", "sc around (18)")
    assert doubtful_lines(cap)[:1] == ((0, 2),)
    assert "(1 sc, inc) x 6" in [text.partition(": ")[2] for each in remedies(cap, 0, 2) for _, text in each.lines]


def test_swapped_rounds_call_to_the_first_of_them() -> None:
    cap = pattern_of(*RING, "(2 sc, inc) x 6", "(1 sc, inc) x 6", "sc around (24)")
    piece, first = doubtful_lines(cap)[0]
    lines = {each.lines for each in remedies(cap, piece, first)}
    assert ((2, "Rnd 3: (1 sc, inc) x 6"), (3, "Rnd 4: (2 sc, inc) x 6")) in lines


def test_what_comes_out_or_is_settled_calls_nobody() -> None:
    assert doubtful_lines(pattern_of(*RING, "sc around (12)")) == ()
    cap = pattern_of(*RING, "(1 sc) x 6", "sc around (18)")
    settled = mended(cap, (Correction(0, 2), Correction(0, 3, leaves=18)))
    assert doubtful_lines(settled) == ()
