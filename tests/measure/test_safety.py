"""Cautions where they belong, for whom they matter, with the standard named. An unmarked pattern is asked about."""

from __future__ import annotations

import pytest

from tracker.measure.safety import (
    CAUTIONS,
    CORD_CM,
    LOCAL_RULES,
    WHO_IS_IT_FOR,
    Audience,
    Concern,
    audience_of,
    cautions_for,
    concerns_in,
)
from tracker.measure.stitch_sizes import from_gauge
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge, MakingUp, Pattern

FOR = {
    "child under 3": Audience.UNDER_THREE,
    "baby": Audience.UNDER_THREE,
    "babies and toddlers": Audience.UNDER_THREE,
    "18 months": Audience.UNDER_THREE,
    "0-3 years": Audience.UNDER_THREE,
    "under 8": Audience.UNDER_THREE,
    "child": Audience.CHILD,
    "children from 4 years": Audience.CHILD,
    "48 months and up": Audience.CHILD,
    "children and adults": Audience.CHILD,
    "adult": Audience.GROWN,
    "16 years": Audience.GROWN,
    "": Audience.UNKNOWN,
    "my dog": Audience.UNKNOWN,
}


@pytest.mark.parametrize("words", FOR)
def test_who_it_is_for(words: str) -> None:
    assert audience_of(words) is FOR[words]


SIGNS: dict[str, set[Concern]] = {
    "a pair of 8 mm safety eyes": {Concern.SMALL_PARTS},
    "Embroider the eyes with black yarn": set(),
    "two buttons and a bell": {Concern.SMALL_PARTS},
    "toy stuffing": {Concern.STUFFING},
    "Stuff firmly and sew shut with the tail": {Concern.STUFFING, Concern.TAILS},
    "Weave in all ends": {Concern.TAILS},
    "Thread the drawstring through the hood": {Concern.CORDS},
    "Fold the hanging loop in half": {Concern.CORDS},
    "Work into the back loops": set(),
    "Sew both ends firmly": set(),
    "a yarn needle": set(),
    "stitch marker": set(),
}


@pytest.mark.parametrize("words", SIGNS)
def test_what_words_give_cause_to_mind(words: str) -> None:
    assert concerns_in(words) == SIGNS[words]


def pattern_for(whom: str) -> Pattern:
    steps = ("Stuff the body.", "Sew on the eyes.", "Wash it.")
    return Pattern(
        "Bear", (), notions=("stuffing", "beads"), making_up=tuple(map(MakingUp, steps)), intended_for=whom
    )


def test_cautions_stand_at_the_materials_and_at_their_step() -> None:
    found = cautions_for(pattern_for("child under 3"))
    assert [caution.concern for caution in found.materials] == [Concern.SMALL_PARTS, Concern.STUFFING]
    assert [caution.concern for caution in found.at_step(0)] == [Concern.STUFFING]
    assert [caution.concern for caution in found.at_step(1)] == [Concern.SMALL_PARTS]
    assert found.at_step(2) == ()
    assert found.ask == ""


def test_unmarked_means_ask() -> None:
    found = cautions_for(pattern_for(""))
    assert found.ask == WHO_IS_IT_FOR
    assert found.materials


def test_for_grown_ups_only_the_hands_are_minded() -> None:
    found = cautions_for(pattern_for("adult"))
    assert found.materials == () and found.steps == () and found.ask == ""
    assert [caution.concern for caution in found.working] == [Concern.HANDS]


def test_nothing_to_mind_asks_nothing() -> None:
    assert cautions_for(Pattern("Coaster", (), notions=("yarn needle",))).ask == ""


def test_a_long_cord_is_named_with_its_length() -> None:
    text = '[[piece]]\nname = "{}"\nstart = "rows"\nrounds = "Row 1: ch 60, fasten off"\n'
    stitch = from_gauge(Gauge("sc", 20, 20))
    found = cautions_for(loads('for = "baby"\n' + text.format("Belt")), stitch)
    assert [caution.text for caution in found.materials][1:] == ["Belt: about 30 cm long, more than 22 cm"]
    short = cautions_for(loads('for = "baby"\n' + text.format("Belt").replace("60", "20")), stitch)
    assert short.materials == ()


def test_figures_are_those_of_the_standards() -> None:
    """EN 71-1 (2005 + A8): cords of 220 mm. 16 CFR 1501: a cylinder of 31.7 mm, under 3 years (from memory)."""
    assert CORD_CM == 22.0
    assert "22 cm" in CAUTIONS[Concern.CORDS].text and "220 mm" in CAUTIONS[Concern.CORDS].source
    assert "31.7 mm" in CAUTIONS[Concern.SMALL_PARTS].text and "16 CFR 1501" in CAUTIONS[Concern.SMALL_PARTS].source
    assert "EN 14682" in CAUTIONS[Concern.CORDS].source and "ASTM F1816" in CAUTIONS[Concern.CORDS].source


def test_every_caution_is_short_names_a_source_and_local_rules_decide() -> None:
    assert "local rules decide" in LOCAL_RULES
    for caution in CAUTIONS.values():
        assert caution.source and len(caution.text) <= 150 and not caution.text.endswith(".")
