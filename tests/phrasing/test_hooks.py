"""Hooks by all their names, as lists of traders have them: two that agree, and a third for the UK numbers."""

from __future__ import annotations

import pytest

from tracker.phrasing.hooks import HOOKS, hook_words

PUBLISHED = """
2.25 B-1 13 | 2.75 C-2 12 | 3.25 D-3 10 | 3.5 E-4 9 | 4 G-6 8 | 4.5 7 7 | 5 H-8 6 | 5.5 I-9 5 | 6 J-10 4 | 8 L-11 0
"""


@pytest.mark.parametrize("row", PUBLISHED.strip().split(" | "))
def test_a_hook_is_told_by_all_its_names(row: str) -> None:
    metric, us, uk = row.split()
    assert hook_words(f"{metric} mm") == f"{metric} mm (US {us}, old UK {uk})"


WORDS = {
    "3.5 mm": "3.5 mm (US E-4, old UK 9)",
    "3,5mm": "3,5mm (US E-4, old UK 9)",
    "3.75 mm": "3.75 mm (US F-5)",
    "3 mm": "3 mm (old UK 11)",
    "2.5 mm": "2.5 mm",
    "US G-6": "US G-6 (4 mm, old UK 8)",
    "H": "H (5 mm, old UK 6)",
    "size K-10 1/2": "size K-10 1/2 (6.5 mm, old UK 3)",
    "E-4 (3.5 mm)": "E-4 (3.5 mm)",
    "3 mm and 4 mm": "3 mm and 4 mm",
    "the one that you like": "the one that you like",
    "": "",
}


@pytest.mark.parametrize("text", WORDS)
def test_what_is_not_certain_stays_as_the_pattern_has_it(text: str) -> None:
    assert hook_words(text) == WORDS[text]


def test_sizes_grow() -> None:
    assert [row[0] for row in HOOKS] == sorted({row[0] for row in HOOKS})
