"""The shipped patterns: read without a finding, and right.

The counts below were worked out by hand, round by round, without the reader (source: arithmetic).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.pattern.loader import load
from tracker.pattern.model import Pattern

FOLDER = Path(__file__).parents[2] / "patterns"
SHIPPED = sorted(path.stem for path in FOLDER.glob("*.toml"))

LEAVES = {
    ("toadstool", "Cap"): [6, 12, 18, 24, 30, 30, 36, 36, 42, 42, 42, 42, 42, 36, 30, 24, 18],
    ("toadstool", "Stem"): [6, 12, 18, 24, 30, 30, 30, 30, 24, 24, 24, 24, 24, 18, 18, 18, 48],
    ("toadstool", "Large spot"): [6, 12],
    ("toadstool", "Small spot"): [6],
    ("lighthouse", "Base and tower"): [
        *(6, 12, 18, 24, 30, 36, 36, 36, 30),
        *(30, 30, 30, 27, 27, 27, 24, 24, 24, 21, 21, 21, 18, 18, 18),
        *(24, 24, 18),
    ],
    ("lighthouse", "Roof and lamp room"): [6, 9, 12, 15, 18, 21, 24, 24, 18, 18, 18, 18, 18],
    ("lighthouse", "Rock"): [6, 12, 12],
    ("tide-pool-coaster", "Coaster"): [12, 24, 12, 36, 48, 48],
    ("soap-dish", "Dish"): [24, 30, 36, 42, 48, 54, 54, 36, 54, 54],
    ("soap-dish", "Foot"): [6, 12, 12, 6],
    ("face-cloth", "Cloth"): [36] * 37,
    ("face-cloth", "Hanging loop"): [20],
}
"""Stitches that each round leaves; chain spaces are not stitches."""

SPACES = {("tide-pool-coaster", 3): 12, ("tide-pool-coaster", 4): 12, ("soap-dish", 8): 18}
"""Chain spaces that the rounds with chain spaces leave."""


@pytest.fixture(params=SHIPPED)
def shipped(request: pytest.FixtureRequest) -> tuple[str, Pattern]:
    return request.param, load(FOLDER / f"{request.param}.toml")


def test_both_main_patterns_are_there() -> None:
    assert {"toadstool", "lighthouse"} <= set(SHIPPED)


def test_a_shipped_pattern_has_no_finding(shipped: tuple[str, Pattern]) -> None:
    _, pattern = shipped
    assert pattern.problems == ()
    findings = {
        f"{piece.name}, {item.label}": [problem.message for problem in item.problems]
        for piece in pattern.pieces
        for item in piece.rounds
        if item.verdict != "ok"
    }
    assert findings == {}


def test_a_shipped_pattern_leaves_what_was_counted_by_hand(shipped: tuple[str, Pattern]) -> None:
    name, pattern = shipped
    read = {(name, piece.name): [item.leaves for item in piece.rounds] for piece in pattern.pieces}
    assert read == {key: counts for key, counts in LEAVES.items() if key[0] == name}


def test_chain_spaces_are_as_many_as_counted_by_hand(shipped: tuple[str, Pattern]) -> None:
    name, pattern = shipped
    for (file, number), spaces in SPACES.items():
        if file == name:
            item = pattern.pieces[0].rounds[number - 1]
            assert item.plan is not None
            assert (item.number, item.plan.tally.spaces) == (number, spaces)


def test_every_round_states_its_total(shipped: tuple[str, Pattern]) -> None:
    """The total is the witness that a maker counts against."""
    _, pattern = shipped
    assert [item.label for piece in pattern.pieces for item in piece.rounds if item.stated is None] == []


def test_round_numbers_run_on_without_a_gap(shipped: tuple[str, Pattern]) -> None:
    _, pattern = shipped
    for piece in pattern.pieces:
        assert [item.number for item in piece.rounds] == list(range(1, len(piece.rounds) + 1))


def test_gauge_hook_notions_and_making_up_are_filled_in(shipped: tuple[str, Pattern]) -> None:
    _, pattern = shipped
    assert pattern.gauge is not None
    assert pattern.hook and pattern.notions and pattern.making_up


def test_every_yarn_can_be_bought_and_measured(shipped: tuple[str, Pattern]) -> None:
    _, pattern = shipped
    assert pattern.yarns
    for yarn in pattern.yarns:
        assert yarn.name and yarn.colour.startswith("#") and len(yarn.colour) == 7
        assert yarn.weight is not None and yarn.ball_grams and yarn.ball_metres


def test_every_yarn_is_used_and_every_round_has_one(shipped: tuple[str, Pattern]) -> None:
    _, pattern = shipped
    rounds = [item for piece in pattern.pieces for item in piece.rounds]
    inside = {act.colour for item in rounds if item.plan for act in item.plan.acts() if act.colour}
    assert {item.colour for item in rounds} | inside == {yarn.key for yarn in pattern.yarns}


def test_heavy_sharp_or_small_things_say_that_they_are_no_toy() -> None:
    """A pincushion holds pins, a paperweight stones: both warn, and neither is marked for a child."""
    for name in ("toadstool", "lighthouse"):
        pattern = load(FOLDER / f"{name}.toml")
        assert "child" not in pattern.intended_for
        assert "not a toy" in pattern.making_up[-1].step
