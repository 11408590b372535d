"""Cautions where they belong, for whom they matter, with the standard named. An unmarked pattern is asked about."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tracker.measure.safety import (
    CAUTIONS,
    CORD_CM,
    LOCAL_RULES,
    SOFT_WITH_A_FACE,
    WHO_IS_IT_FOR,
    Concern,
    Recipient,
    audience_of,
    cautions_for,
    concerns_in,
    has_face,
)
from tracker.pattern.loader import loads
from tracker.pattern.model import MakingUp, Pattern

FOR = {
    "child under 3": Recipient.UNDER_THREE,
    "baby": Recipient.UNDER_THREE,
    "babies and toddlers": Recipient.UNDER_THREE,
    "18 months": Recipient.UNDER_THREE,
    "0-3 years": Recipient.UNDER_THREE,
    "under 8": Recipient.UNDER_THREE,
    "child": Recipient.CHILD,
    "children from 4 years": Recipient.CHILD,
    "48 months and up": Recipient.CHILD,
    "children and adults": Recipient.CHILD,
    "adult": Recipient.GROWN,
    "16 years": Recipient.GROWN,
    "not for children under 3": Recipient.CHILD,
    "adults, not suitable for babies": Recipient.GROWN,
    "": Recipient.UNKNOWN,
    "my dog": Recipient.UNKNOWN,
}


@pytest.mark.parametrize("words", FOR)
def test_who_it_is_for(words: str) -> None:
    assert audience_of(words) is FOR[words]


SENTENCES = [
    row.split("\t") for row in Path(__file__).with_name("caution_sentences.tsv").read_text("utf-8").splitlines()[1:]
]
"""What each sentence must and must not give cause to mind, decided by hand."""


@pytest.mark.parametrize(("must", "must_not", "words"), SENTENCES, ids=[row[2] for row in SENTENCES])
def test_what_words_give_cause_to_mind(must: str, must_not: str, words: str) -> None:
    named = {concern.value for concern in concerns_in(words)}
    assert set(filter(None, must.split(","))) <= named
    assert not named & set(filter(None, must_not.split(",")))


def test_every_concern_that_words_can_name_is_in_the_sentences_and_so_is_its_false_alarm() -> None:
    spoken = {concern.value for concern in Concern} - {Concern.HANDS.value}
    assert len(SENTENCES) >= 150
    assert {name for must, _, _ in SENTENCES for name in must.split(",")} >= spoken
    assert {name for _, must_not, _ in SENTENCES for name in must_not.split(",")} >= spoken


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


def test_for_grown_ups_only_its_use_is_minded() -> None:
    pattern = replace(
        pattern_for("adult"), notions=("beads", "a magnet"), making_up=(MakingUp("Sew on the buttons."),)
    )
    named = cautions_for(pattern)
    assert [caution.concern for caution in named.materials] == [Concern.MAGNETS]
    assert named.steps == () and named.ask == ""
    assert [caution.concern for caution in named.working] == [Concern.HANDS]


def test_something_soft_with_a_face_is_for_small_children_unless_the_maker_says_otherwise() -> None:
    for label in ("adult", "children from 6 years"):
        named = cautions_for(pattern_for(label))
        assert named.audience is Recipient.UNDER_THREE and named.ask == SOFT_WITH_A_FACE
        assert Concern.SMALL_PARTS in {caution.concern for caution in named.materials}
    answered = replace(pattern_for("a grown-up"), intended_by_maker=True)
    assert cautions_for(answered).audience is Recipient.GROWN and cautions_for(answered).ask == ""


def test_a_cushion_without_a_face_is_what_its_label_says() -> None:
    cushion = Pattern("Cushion", (), notions=("stuffing",), intended_for="adult")
    assert not has_face(cushion) and cautions_for(cushion).audience is Recipient.GROWN


@pytest.mark.parametrize("title", ["Tide coaster", "Pot holder", "Kettle jacket"])
def test_what_meets_heat_is_minded_by_its_name(title: str) -> None:
    named = cautions_for(Pattern(title, (), intended_for="adult"))
    assert [caution.concern for caution in named.materials] == [Concern.HEAT]


def test_nothing_to_mind_asks_nothing() -> None:
    assert cautions_for(Pattern("Coaster", (), notions=("yarn needle",))).ask == ""


def test_a_long_cord_is_named_with_its_length() -> None:
    text = '[[piece]]\nname = "{}"\nstart = "rows"\nrounds = "Row 1: ch 60, fasten off"\n'
    gauge = '[gauge]\nstitch = "sc"\nstitches = 20\nrounds = 20\nover = "10 cm"\n'
    named = cautions_for(loads('for = "baby"\n' + gauge + text.format("Belt")))
    assert [caution.text for caution in named.materials][1:] == ["Belt: about 30 cm long, more than 22 cm"]
    short = cautions_for(loads('for = "baby"\n' + gauge + text.format("Belt").replace("60", "20")))
    assert short.materials == ()


def test_figures_are_those_of_the_standards() -> None:
    """EN 71-1 (2005 + A8): cords of 220 mm. 16 CFR 1501: a cylinder of 31.7 mm, under 3 years (from memory)."""
    assert CORD_CM == 22.0
    assert CAUTIONS[Concern.SOOTHERS].source == "EN 12586: 220 mm"
    assert "22 cm" in CAUTIONS[Concern.CORDS].text and "220 mm" in CAUTIONS[Concern.CORDS].source
    assert "31.7 mm" in CAUTIONS[Concern.SMALL_PARTS].text and "16 CFR 1501" in CAUTIONS[Concern.SMALL_PARTS].source
    assert "EN 14682" in CAUTIONS[Concern.CORDS].source and "ASTM F1816" in CAUTIONS[Concern.CORDS].source


def test_every_caution_is_short_names_a_source_and_local_rules_decide() -> None:
    assert "local rules decide" in LOCAL_RULES
    for caution in CAUTIONS.values():
        assert caution.source and len(caution.text) <= 150 and not caution.text.endswith(".")
