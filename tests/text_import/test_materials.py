"""What a line of the materials is asked for, and what it is not asked for."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tracker.pattern.text_import.materials import _NAMES_YARN, _forms, _yarn_of_row, yarns_in

WORDS = (
    *(
        "A",
        "b",
        "MC",
        "mc",
        "CC2",
        "C1",
        "US",
        "RS",
        "Yarn",
        "yarn",
        "COLOUR",
        "color",
        "col",
        "Shade",
        "main",
        "Main",
    ),
    *(
        "contrast",
        "contrasting",
        "1",
        "4132",
        "moss",
        "sand",
        "navy",
        "and",
        "in",
        "for",
        "with",
        "hook",
        "mm",
        "ſhade",
    ),
    *("(", ")", ":", "=", "-", "–", "—", ",", ";", "/", ".", "•", "'", "“", "”", " ", "  ", "   ", "|", "\n"),
)
words = st.lists(st.one_of(st.sampled_from(WORDS), st.sampled_from(" :(),-")), min_size=2, max_size=12)


@settings(max_examples=300)
@given(words, st.sampled_from(["", " "]))
def test_a_line_that_no_yarn_form_is_looked_for_in_has_none(parts: list[str], between: str) -> None:
    line = between.join(parts)
    assume(_NAMES_YARN.search(line) is None)
    assert not _yarn_of_row(line)
    assert not [form.pattern for forms in _forms() for form in forms if form.search(line)]


def test_a_line_without_yarns_needs_no_form() -> None:
    _forms.cache_clear()
    assert yarns_in("Materials: 3.5 mm hook, stitch marker") == []
    assert _forms.cache_info().misses == 0
    assert [yarn.key for yarn in yarns_in("A: moss, B: sand")] == ["A", "B"]
    assert _forms.cache_info().misses == 1


@pytest.mark.parametrize(
    ("line", "yarns"),
    [
        ("DK yarn in three colors: A rust, B cream, C navy", [("A", "rust"), ("B", "cream"), ("C", "navy")]),
        ("Sport yarn in two colours: rust, cream", []),  # the plural is no key
        ("colour1: rust, colour2: cream", [("1", "rust"), ("2", "cream")]),
    ],
)
def test_keys_behind_a_noun_in_the_plural(line: str, yarns: list[tuple[str, str]]) -> None:
    assert [(yarn.key, yarn.name) for yarn in yarns_in(line)] == yarns
