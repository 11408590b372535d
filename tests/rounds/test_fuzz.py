"""Nothing that is typed breaks the reader: mutated lines and random text, each answered in bounded time and memory.

3,000 examples here, the same ones every time; `tests/bench/fuzz_lines.py` runs hundreds of thousands of that kind,
other ones with every seed.
"""

from __future__ import annotations

import tracemalloc
from random import Random

import pytest
from bench.fuzz_lines import limited, read_page
from bench.mutated_lines import SLIPS, Example, Mutator, real_lines
from bench.sound_reports import hold_places, report_on
from hypothesis import HealthCheck, Phase, given, note, settings
from hypothesis import strategies as st

LINES = real_lines()
LIMIT = 5.0
"""Seconds of processor time for one example: more than in the long run, because the suite shares its machine."""

MEMORY = 20_000_000
"""Bytes that one example may need at once; a line of the trade needs a hundredth of it."""

chances = st.randoms(use_true_random=False)


def fuzzing(examples: int) -> settings:
    """A failing example is not made smaller: slow ones would be tried again for minutes, and they are short."""
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )


@fuzzing(2_600)
@given(chances)
def test_a_mutated_line_is_answered_soundly_and_in_time(chance: Random) -> None:
    example = Mutator(chance, LINES).example()
    note(repr(example))
    with limited(LIMIT):
        hold_places(report_on(example), example)


@fuzzing(300)
@given(st.text(max_size=200), st.none() | st.integers(-1, 10**11), st.sampled_from(["US", "UK"]))
def test_random_text_is_answered_soundly_and_in_time(text: str, before: int | None, terms: str) -> None:
    with limited(LIMIT):
        example = Example(text, before, terms)
        hold_places(report_on(example), example)


@fuzzing(100)
@given(chances, st.sampled_from(["US", "UK"]))
def test_a_page_of_mutated_lines_is_sorted_written_and_loaded_in_time(chance: Random, terms: str) -> None:
    page = Mutator(chance, LINES).page()
    note(repr(page))
    with limited(LIMIT):
        read_page(page, terms)


@pytest.mark.parametrize("part", ["(6 inc), ch 3 ", "6 increases, dec ", "*2 sc, sc2-\ntog; rep from * around, "])
def test_a_line_that_says_the_same_hundreds_of_times_is_answered_in_time(part: str) -> None:
    example = Example(f"Rnd 3: {(part * 250)[:3_000]}", 60, "US")
    with limited(LIMIT / 2):
        hold_places(report_on(example), example)


@pytest.mark.parametrize(
    "text",
    [
        "fan Rnd >: (sc, hdc in<< next st) rep>> from * around (20)",
        "Rnd 4: sc in ] picot [ each st (]20)",
        "Rnd 4: sc in next st, picot,{ } sc in next st",
    ],
)
def test_brackets_that_cross_or_hold_nothing_are_told_of(text: str) -> None:
    assert report_on(Example(text, 20, "US")).verdict != "ok"


def test_more_numbers_than_anything_has_sizes_are_no_totals_of_sizes() -> None:
    text = f"Rnd 4: sc in each st ({'-'.join(map(str, range(1, 60)))})"
    assert [report_on(Example(text, before, "US")).verdict for before in (1, 40)] == ["ok", "disagrees"]


def test_no_example_needs_much_memory() -> None:
    mutator = Mutator(Random(3), LINES)
    examples = [mutator.example() for _ in range(80)]
    for example in examples:
        tracemalloc.start()
        try:
            with limited(LIMIT):
                report_on(example)
            assert tracemalloc.get_traced_memory()[1] < MEMORY, example
        finally:
            tracemalloc.stop()


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.__name__)
def test_every_slip_changes_a_line_now_and_then(slip: object) -> None:
    """The fuzzer is only as good as what it feeds."""
    mutator = Mutator(Random(1), LINES)
    assert callable(slip)
    assert any(slip(mutator, "Rnd 3: (1 sc, inc) x 6 (18)") != "Rnd 3: (1 sc, inc) x 6 (18)" for _ in range(20))


def test_the_fuzzer_feeds_readable_lines_too() -> None:
    """Only noise would never get past the first words of the grammar."""
    mutator = Mutator(Random(2), LINES)
    verdicts = [report_on(mutator.example()).verdict for _ in range(300)]
    assert verdicts.count("ok") > 15
    assert verdicts.count("error") > 100


@pytest.mark.parametrize(
    "text",
    [
        "Rnd 5: sc in next 3, (inc in next st) 4x, sc 5, (inc)in0x, sc in last 17 (22)",
        "Rnds 9-99999999999999999999999: Sc in each sc around",
        "Rnd 1: 6 sc in MR\nRnds 2-19000: 12 sc, blorp\nRnd 5: 6 sc",
        "Rnd 7: ch 4, *dc in next ch-1 sp, ch  sp, ch  sp, ch  sp, ch  sp, ch  sp, ch 1; rep from * around (24)",
        f"Rnd 1: 6 sc in MR\n{'the ' * 60}n each ch to end. (46tr)",
        "1.-1r71-s3)6x5c8(6(d,x)38.72.3:5(]5s4c30[n3",
        "Rnd 4: *ch 4, sc in next st;, shell = 5 dc in one st, rep from * around, ending with ch 2, hdc in beg sc",
        "(small version): 32dc",
        "ch-3;(which dc): dc.",
        "RND 9: *HDC TO CH-1 SP, (HDC, CH HDC) LAST JOIN.\u00bd112 SPS.\nRow 3: dc top ch,",
        "Rnd 4: (20 dc)\nR4: in it, dc) next ch 1,sc,",
        "R:*DC (4)\nR3ct;same nd ineach rem lp work(dc)",
        "Rnd 3: as Rnd 2 x 999999999999 (12)",
        "Round 5/ work 1 round without shaping\nRow 3: ch 2, hdc in first st, 2 hdc rep from* next st, (hdc in n",
        f"Round 11:shell = 5 dc in one stdec {'13 times, ' * 20}13 times[[[[, ]]]]which gives 13.",
        f"R7. sc x24 (24), pl1{'-1' * 3}-({'1-' * 14}1){'-1' * 20}-ace eyes between R5 and R6, 5 \ud800ts apart",
        "Rnds 4-6: 2 sc in first st, sc in each st sp end (13) (14) (15)",
        f"Rnd Row 2 (RS):  9: lid over cup rep from * to *  and work 1 sc through both edges in each s{'1-' * 150}t",
        f"Row 1: ch 10, sc across (9)\n*sc, inc, rep from * to last 4 sts, :  sc in last 4 s{'1-' * 170}ts",
    ],
)
def test_what_a_million_examples_brought_to_light(text: str) -> None:
    """Each was an exception or went on for seconds; these are the lines that did it."""
    with limited(LIMIT):
        read_page(text, "US")
        example = Example(text.partition("\n")[0], 12, "US")
        hold_places(report_on(example), example)
