"""The figures that the house holds itself to, counted as `tests/bench/house_figures.py` counts them."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from bench.house_figures import House

ROOT = Path(__file__).parents[2]

LONGEST_CHAIN = 19
"""Modules one above the other from a command down to the ground (our own choice, as are those below)."""

MOST_ENTERED = 19
"""Modules that somebody has to know who follows a plain round from its words to its numbers."""

MOST_HOMONYMS = 2
"""Class names that stand in more than one module, each for what the trade calls so there."""

MOST_LINES = 500
"""A longer file is about more than one thing."""


@cache
def house() -> House:
    return House(ROOT)


def test_nobody_has_to_go_down_too_many_steps_to_understand_a_module() -> None:
    chain = house().longest_chain()
    assert len(chain) <= LONGEST_CHAIN, chain


def test_a_plain_round_passes_through_few_modules() -> None:
    entered = house().entered_by_a_round()
    assert len(entered) <= MOST_ENTERED, entered


def test_few_names_of_classes_have_two_meanings() -> None:
    homonyms = house().homonyms()
    assert len(homonyms) <= MOST_HOMONYMS, homonyms


def test_no_decision_hangs_on_a_string_outside_the_screens() -> None:
    assert house().string_marks() == 0


def test_every_threshold_has_a_reason() -> None:
    assert house().bare_thresholds() == []


def test_no_module_is_longer_than_one_idea() -> None:
    long = {str(path): len(path.read_text("utf-8").splitlines()) for path in house().paths.values()}
    assert {path: lines for path, lines in long.items() if lines > MOST_LINES} == {}
