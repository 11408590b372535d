"""Who it is for: what the maker says stands before what the pattern says and before what the thing looks like."""

from __future__ import annotations

from dataclasses import replace

import pytest
from support.building import toadstool

from tracker.measure.safety import Recipient, cautions_for
from tracker.pattern.model import MakingUp
from tracker.session.audience import ANSWERS, Audience, answer_in, answered
from tracker.session.reducer import advance, begin


def test_the_maker_is_asked_of_a_soft_thing_with_a_face_whatever_its_label_and_then_no_more() -> None:
    steps = (MakingUp("Stuff the head."), MakingUp("Embroider the eyes."))
    pattern = replace(toadstool(), intended_for="adult", making_up=steps)
    state = begin(pattern)
    assert cautions_for(answered(pattern, state.work)).ask
    for answer, audience in zip(ANSWERS, (Recipient.UNDER_THREE, Recipient.CHILD, Recipient.GROWN), strict=True):
        chosen = answered(pattern, advance(pattern, state, answer.event, 0.0).work)
        assert cautions_for(chosen).audience is audience
        assert not cautions_for(chosen).ask


@pytest.mark.parametrize(
    ("typed", "audience"),
    [
        ("1", Audience.UNDER_THREE),
        (" Child under 3 ", Audience.UNDER_THREE),
        ("2", Audience.OLDER_CHILD),
        ("an older child", Audience.OLDER_CHILD),
        ("neither", Audience.GROWN_UP),
        ("a grown-up", Audience.GROWN_UP),
        ("child", None),
        ("4", None),
        ("", None),
    ],
)
def test_an_answer_is_typed_by_its_key_or_its_words(typed: str, audience: Audience | None) -> None:
    answer = answer_in(typed)
    assert (answer.audience if answer else None) is audience


def test_without_an_answer_a_pattern_stays_as_it_is() -> None:
    pattern = replace(toadstool(), intended_for="adult")
    assert answered(pattern, begin(pattern).work) is pattern
