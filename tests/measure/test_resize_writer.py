"""Rounds written anew say what they should: the reader gets the same counts back."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.measure.resize_writer import EvenRound, write_rounds
from tracker.notation.ast import Loop
from tracker.pattern.loader import loads
from tracker.pattern.model import Round, Start


def read(lines: tuple[str, ...], terms: str = "US", start: str = "spiral") -> list[Round]:
    rounds = "\n".join(lines)
    text = f'terms = "{terms}"\n[[piece]]\nname = "P"\nstart = "{start}"\nrounds = """\n{rounds}\n"""\n'
    return list(loads(text).pieces[0].rounds)


@st.composite
def chains_of_rounds(draw: st.DrawFn) -> list[EvenRound]:
    kind = draw(st.sampled_from(["sc", "hdc", "dc", "tr"]))
    count = draw(st.integers(3, 12))
    rounds = [EvenRound(1, 0, count, kind)]
    for number in range(2, draw(st.integers(3, 9))):
        after = draw(st.integers(-(-count // 3), min(3 * count, 200)))
        loop = draw(st.sampled_from([Loop.BOTH, Loop.BACK, Loop.FRONT]))
        rounds.append(EvenRound(number, count, after, kind, loop, staggered=draw(st.booleans())))
        count = after
    return rounds


@given(chains_of_rounds(), st.sampled_from(list(Start)[:2]), st.sampled_from(["US", "UK"]))
@settings(max_examples=150, deadline=None)
def test_every_round_reads_back(rounds: list[EvenRound], start: Start, terms: str) -> None:
    found = read(write_rounds(rounds, start, terms), terms, start.value)
    assert [round_.leaves for round_ in found] == [round_.after for round_ in rounds]
    assert all(round_.verdict == "ok" for round_ in found)
    assert all(kind == rounds[0].kind for r in found if r.plan for kind, _ in r.plan.tally.kinds)


WRITTEN = {
    "six increases end their repeats": (EvenRound(3, 12, 18), "Rnd 3: (1 sc, inc) x 6 (18)"),
    "and are shifted by half a gap": (
        EvenRound(4, 18, 24, staggered=True),
        "Rnd 4: 1 sc, inc, (2 sc, inc) x 5, 1 sc (24)",
    ),
    "uneven ones are spread": (EvenRound(3, 17, 23), "Rnd 3: 1 sc, inc, (2 sc, inc) x 5 (23)"),
    "with brackets inside brackets": (
        EvenRound(3, 40, 57),
        "Rnd 3: ((1 sc, inc) x 2, 2 sc, inc) x 5, 1 sc, inc, 2 sc, inc (57)",
    ),
    "decreases likewise": (EvenRound(3, 30, 24), "Rnd 3: (3 sc, dec) x 6 (24)"),
    "twice as many": (EvenRound(2, 7, 14), "Rnd 2: 2 sc in each st around (14)"),
    "half as many": (EvenRound(2, 14, 7), "Rnd 2: sc2tog x 7 (7)"),
    "three times as many": (EvenRound(2, 3, 9), "Rnd 2: 3 sc in each st around (9)"),
    "between two and three times as many": (EvenRound(2, 4, 10), "Rnd 2: (inc, 3 sc in next st) x 2 (10)"),
    "less than half": (EvenRound(2, 10, 4), "Rnd 2: (dec, sc3tog) x 2 (4)"),
    "more increases than not": (EvenRound(2, 20, 35), "Rnd 2: (3 inc, 1 sc) x 5 (35)"),
    "one change only": (EvenRound(2, 14, 15), "Rnd 2: 13 sc, inc (15)"),
    "in the back loops": (EvenRound(7, 36, 36, loop=Loop.BACK), "Rnd 7: BLO sc around (36)"),
    "a new colour": (EvenRound(7, 36, 36, colour="R"), "Rnd 7 (R): sc around (36)"),
}


@pytest.mark.parametrize("what", WRITTEN)
def test_wording(what: str) -> None:
    round_, line = WRITTEN[what]
    assert write_rounds([round_]) == (line,)


def test_equal_rounds_share_a_line() -> None:
    rounds = [
        EvenRound(4, 18, 18),
        EvenRound(5, 18, 18),
        EvenRound(6, 18, 18, colour="R"),
        EvenRound(7, 18, 18, last=True),
    ]
    assert write_rounds(rounds) == (
        "Rnds 4-5: sc around (18)",
        "Rnd 6 (R): sc around (18)",
        "Rnd 7: sc around, fasten off (18)",
    )


@pytest.mark.parametrize(("before", "after"), [(6, 19), (19, 6)])
def test_more_than_threefold_is_refused(before: int, after: int) -> None:
    with pytest.raises(ValueError, match="more than plain changes can do"):
        write_rounds([EvenRound(2, before, after)])


def test_increases_of_neighbouring_rounds_do_not_stand_in_line() -> None:
    """Straight over each other they make corners (common practice, no source): in a disk each between two."""
    rounds = [EvenRound(k, 6 * (k - 1), 6 * k, staggered=k % 2 == 0) for k in range(3, 12)]
    turns = [
        increase_turns(round_)
        for round_ in read(write_rounds([EvenRound(1, 0, 6), EvenRound(2, 6, 12), *rounds]))[2:]
    ]
    for below, above in pairwise(turns):
        nearest = min(min(abs(a - b), 1 - abs(a - b)) for a in below for b in above)
        assert nearest > 1 / 48


def increase_turns(round_: Round) -> list[float]:
    """Where in the round each increase stands, as a share of a whole turn."""
    assert round_.plan is not None
    spots = [spot for spot in round_.plan.walk() if spot.act.is_increase and spot.in_act == 0]
    return [(spot.stitches_done + 1) / round_.plan.leaves for spot in spots]


def test_more_changes_than_can_be_written_out_are_refused() -> None:
    """Each has a place of its own in the words, so thousands of millions of them would fill the machine."""
    with pytest.raises(ValueError, match="more than can be written out"):
        write_rounds([EvenRound(3, 5_000_000_001, 7_000_000_002)])
