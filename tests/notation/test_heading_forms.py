"""The forms of headings: a line that lacks the words which a form needs is not asked for it, and has none of it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.notation.parser import heading_forms
from tracker.notation.parser.heading_forms import HeadingForm

FORMS = {name: form for name, form in vars(heading_forms).items() if isinstance(form, HeadingForm)}
MATCHED = {
    "WORD_FIRST": "R n: W",
    "NUMBER_FIRST": "no R: W",
    "LETTERED": "vn: W",
    "LISTED_ROUNDS": "n)n)n) W",
    "RANGE_OF_LISTED": "n. - n. W",
    "BARE": "n) W",
    "NEXT": "X R: W",
    "SHAPING": "no h R: W",
    "NAMED": "E: W",
    "NUMBER_OF_A_PART": "no W R: W",
    "FILLING": "q y R: W",
    "UNNUMBERED": "R: W",
    "TITLE": "W, R n: W",
}
"""A line for each form, by the sorts of its words."""


@pytest.mark.parametrize("name", FORMS)
def test_each_form_has_its_line(name: str) -> None:
    assert FORMS[name].match(MATCHED[name]) is not None


@settings(max_examples=1_000)
@given(
    st.one_of(st.sampled_from(list(MATCHED.values())), st.text("RnovpCXFKEshyqlAJaUIwW", max_size=5)),
    st.text("RnovpCXEhyWa :-.)(+,", max_size=8),
)
def test_a_form_that_is_not_asked_for_would_not_match(begins: str, ends: str) -> None:
    sorts = begins + ends
    for name, form in FORMS.items():
        found, whole = form.match(sorts), form.whole.match(sorts)
        assert (found and found.regs) == (whole and whole.regs), name
