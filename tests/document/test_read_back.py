"""What is written on a sheet is read back by our own reader to the same rounds, in US and in UK terms.

The written lines are put into a new pattern file and loaded from nothing, so that the writer's own check of itself is
not what is believed.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from support.document_patterns import SHIPPED, all_counts, generated, rewritten
from support.round_shapes import bodies

from tracker.document.builder import written_lines
from tracker.pattern.loader import all_problems, load, loads
from tracker.pattern.model import Pattern
from tracker.rounds.formatter import notate
from tracker.rounds.plan import Node, Plan, Run

OTHER = {"US": "UK", "UK": "US"}


def acts(pattern: Pattern) -> list[object]:
    """Every act with its repeats, apart from where in the text it stands."""
    return [_plain(round_.plan.body) for piece in pattern.pieces for round_ in piece.rounds if round_.plan]


def _plain(body: tuple[Node, ...]) -> list[object]:
    found: list[object] = []
    for node in body:
        if isinstance(node, Run):
            act = node.act
            found.append((act.name, act.role, act.makes, act.takes, act.into, act.loop, act.colour, node.times))
        else:
            found.append((node.times, _plain(node.body)))
    return found


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_pattern_is_read_back_the_same(path, terms: str) -> None:
    pattern = load(path)
    again = rewritten(pattern, terms)
    assert all_counts(again) == all_counts(pattern)
    assert all_problems(again) == []


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_shipped_pattern_goes_to_the_other_terms_and_back_to_the_same_plans(path) -> None:
    pattern = load(path)
    there = rewritten(pattern, OTHER[pattern.terms])
    assert acts(rewritten(there, pattern.terms)) == acts(pattern)


@pytest.mark.parametrize("seed", [1, 2])
def test_generated_pieces_are_read_back_the_same_and_come_home_from_the_other_terms(seed: int) -> None:
    for pattern in generated(20, seed):
        for terms in ("US", "UK"):
            assert all_counts(rewritten(pattern, terms)) == all_counts(pattern), pattern.source
        there = rewritten(pattern, OTHER[pattern.terms])
        assert acts(rewritten(there, pattern.terms)) == acts(pattern), pattern.source


def pattern_of(plan: Plan, stitch: str = "sc") -> Pattern:
    """Two rounds: one that leaves what the plan uses, and the plan in our own shorthand."""
    first = f"Rnd 1: {plan.uses} {stitch} in magic ring ({plan.uses})"
    return loads(
        f'title = "Any"\nterms = "US"\n\n[[piece]]\nname = "Any"\nrounds = """\n{first}\n'
        f'Rnd 2: {notate(plan)} ({plan.leaves})\n"""\n'
    )


@settings(deadline=None, max_examples=60)
@given(bodies())
def test_any_round_is_read_back_the_same_and_comes_home_from_the_other_terms(body: tuple[Node, ...]) -> None:
    plan = Plan(body)
    assume(plan.uses and plan.leaves)
    pattern = pattern_of(plan)
    for terms in ("US", "UK"):
        assert all_counts(rewritten(pattern, terms)) == all_counts(pattern), pattern.source
    assert all_counts(rewritten(rewritten(pattern, "UK"), "US")) == all_counts(pattern)


def only_piece(rounds: str, terms: str = "US", notes: str = "") -> Pattern:
    head = f'title = "Any"\nterms = "{terms}"\n{notes}\n[[piece]]\nname = "Any"\n'
    return loads(f'{head}rounds = """\n{rounds}\n"""\n')


def lines_of(pattern: Pattern, terms: str | None = None) -> list[str]:
    (piece,) = pattern.pieces
    return [line.text for line in written_lines(pattern, piece, piece.rounds, terms or pattern.terms)]


WRITTEN = {
    "equal rounds are put together": (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: sc around (6)\nRnds 3-4: sc around (6)\nRnd 5: inc x 6 (12)",
        ["Rnd 1: 6 sc in magic ring (6)", "Rnds 2-4: sc around (6)", "Rnd 5: inc x 6 (12)"],
    ),
    "a round that only names another is written out": (
        "Rnd 1: 6 sc in mr [6]\nRnd 2: sc around [6]\nRnd 3: inc x 6 [12]\nRnd 4: as Rnd 2",
        ["Rnd 1: 6 sc in mr (6)", "Rnd 2: sc around (6)", "Rnd 3: inc x 6 (12)", "Rnd 4: sc around (12)"],
    ),
    "a total is given where there is none": (
        "Rnd 1: 6 sc in magic ring\nRnd 2: inc around",
        ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc around (12)"],
    ),
    "chain spaces are counted in the total": (
        "Rnd 1: 6 sc in magic ring\nRnd 2: (sc, ch 2) around",
        ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: (sc, ch 2) around (6 sc, 6 ch-2 sps)"],
    ),
    "what stands behind the total is kept": (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12), place marker",
        ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc around, place marker (12)"],
    ),
    "a round over several lines becomes one": (
        "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc in next st, 1 sc,\n(inc, 1 sc) x 2 (9)",
        ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc in next st, 1 sc, (inc, 1 sc) x 2 (9)"],
    ),
    "a total in words is written as a number": (
        "Rnd 1: 6 sc in magic ring; you have six",
        ["Rnd 1: 6 sc in magic ring (6)"],
    ),
}


@pytest.mark.parametrize(("rounds", "lines"), WRITTEN.values(), ids=WRITTEN)
def test_lines_are_written_as_makers_write_them(rounds: str, lines: list[str]) -> None:
    assert lines_of(only_piece(rounds)) == lines


def test_a_colour_is_named_where_it_changes_and_where_the_pattern_names_it() -> None:
    rounds = "Rnd 1 (A): 6 sc in magic ring\nRnd 2: inc x 6\nRnd 3: with B, 3 sc, (A) 3 sc, (B) 6 sc\nRnd 4: 12 sc"
    assert lines_of(only_piece(rounds, notes='[yarn.A]\nname = "a"\n[yarn.B]\nname = "b"\n')) == [
        "Rnd 1 (A): 6 sc in magic ring (6)",
        "Rnd 2: inc x 6 (12)",
        "Rnd 3 (B): 3 sc, (A) 3 sc, (B) 6 sc (12)",
        "Rnd 4: 12 sc (12)",
    ]


def test_a_round_that_cannot_be_read_stands_as_it_is() -> None:
    pattern = only_piece("Rnd 1: 6 sc in magic ring (6)\nRnd 2: frobnicate the sc (6)")
    assert lines_of(pattern)[1] == "Rnd 2: frobnicate the sc (6)"


def test_a_total_that_differs_stays_the_patterns_own() -> None:
    """The sheet does not decide between the witnesses."""
    pattern = only_piece("Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (13)")
    assert lines_of(pattern) == ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc x 6 (13)"]
    assert [problem.code for problem in all_problems(rewritten(pattern, "UK"))] == ["total-differs"]


def test_two_rounds_in_one_word_are_parted_in_uk_terms() -> None:
    """In UK lines "2dc" in one word may be an increase."""
    pattern = only_piece("Rnd 1: 6 sc in magic ring (6)\nRnd 2: (2sc, inc) x 2 (8)")
    assert lines_of(pattern, "UK")[1] == "Rnd 2: (2 dc, inc) x 2 (8)"
