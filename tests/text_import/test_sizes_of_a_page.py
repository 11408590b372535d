"""Pages for several sizes: rounds for some of them only, ranges and lists of numbers for each.

The counts of every size are worked out by hand (source: arithmetic)."""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml

CAP = """Hazel cap
Sizes: S (M, L)

Rnd 1: 8 sc in magic ring (8)
Rnd 2: inc around (16)
{some}
Rnd 5: sc around. 16 (24, 32) sts
Rnds 6-7 (8, 9): sc around 16 (24, 32)
Next 1 (2, 3) rnds: [6 sc, dec] x 2 (3, 4)
"""
BY_HEADINGS = (
    "Sizes M and L only: Rnd 3: (sc, inc) around (24)\nSize L only:\nRnd 4: (2 sc, inc) around (32)\n\nAll sizes:"
)
BY_BRACKETS = "Rnd 3 (M, L): (sc, inc) around (24)\nRnd 4 (largest size only): (2 sc, inc) around (32)"
BY_ONLY = "Rnd 3 (M and L only): (sc, inc) around (24)\nRnd 4: [L only] (2 sc, inc) around (32)"
BY_LEAPS = "Size S: go to Rnd 5.\nRnd 3: (sc, inc) around (24)\nSize M: skip to Rnd 5\nRnd 4: (2 sc, inc) around (32)"
BY_ORDINALS = (
    "2nd and 3rd sizes only\nRnd 3: (sc, inc) around (24)\nThird size only: Rnd 4: (2 sc, inc) around (32)\nAll sizes"
)
BY_PLACES = (
    "Sizes 2nd and up only:\nRnd 3: (sc, inc) around (24)\n3rd size only:\nRnd 4: (2 sc, inc) around (32)\nAll sizes:"
)
COUNTS = {
    1: [(1, 8), (2, 16), (5, 16), (6, 16), (7, 16)],
    2: [(1, 8), (2, 16), (3, 24), (5, 24), (6, 24), (7, 24), (8, 24)],
    3: [(1, 8), (2, 16), (3, 24), (4, 32), (5, 32), (6, 32), (7, 32), (8, 32), (9, 32)],
}


@pytest.mark.parametrize("size", COUNTS)
@pytest.mark.parametrize("some", [BY_HEADINGS, BY_BRACKETS, BY_ONLY, BY_LEAPS, BY_ORDINALS, BY_PLACES])
def test_each_size_gets_its_own_rounds(size: int, some: str) -> None:
    page = from_text(CAP.format(some=some), "US", size)
    assert page.sizes == 3
    rounds = loads(as_toml(page.draft)).pieces[0].rounds
    first = [(each.number, each.leaves) for each in rounds]
    assert first[: len(COUNTS[size])] == COUNTS[size]
    # [6 sc, dec] x 2 takes 16, x 3 takes 24, x 4 takes 32: each leaves 2, 3 or 4 fewer.
    assert rounds[len(COUNTS[size])].leaves == {1: 14, 2: 21, 3: 28}[size]
    assert [p.message for each in rounds for p in each.problems if p.code == "round-number"] == []


@pytest.mark.parametrize("size", COUNTS)
@pytest.mark.parametrize("some", [BY_ORDINALS, BY_PLACES])
def test_sizes_without_names_are_counted(size: int, some: str) -> None:
    text = CAP.format(some=some).replace("Sizes: S (M, L)", "To fit a head of 40 (44, 48) cm")
    page = from_text(text, "US", size)
    assert page.sizes == 3
    rounds = loads(as_toml(page.draft)).pieces[0].rounds
    assert [(each.number, each.leaves) for each in rounds][: len(COUNTS[size])] == COUNTS[size]


def test_a_round_for_another_size_is_kept_as_a_note() -> None:
    page = from_text(CAP.format(some=BY_BRACKETS), "US", 1)
    assert "Rnd 3 (M, L): (sc, inc) around (24)" in page.draft.notes
    assert {told.why for told in page.outcomes if "Rnd 3" in told.text} == {"for another size"}


def test_the_part_that_comes_next_is_for_all_sizes() -> None:
    some = "Sizes M and L only:\nRnd 3: (sc, inc) around (24)\nBrim:"
    assert [piece.name for piece in loads(as_toml(from_text(CAP.format(some=some), "US", 1).draft)).pieces][
        -1
    ] == "Brim"


def test_sizes_of_hooks_and_yarns_are_none_of_the_page() -> None:
    text = "Star\nSize 8 steel hook\nSize 10 cotton (white with gold)\nRnd 1: 6 sc in ring (6)\nRnd 2: inc x 6 (12)"
    assert from_text(text, "US").sizes == 1


@pytest.mark.parametrize(
    "listed",
    ["Sizes\nS, M, L\n", "SIZES:\nSmall (Medium, Large)\n", "Sizes\nSmall\nMedium\nLarge\n", "Sizes: S, M, L\n"],
)
@pytest.mark.parametrize(("size", "counts"), [(1, [7, 14, 14]), (2, [8, 16, 24]), (3, [9, 18, 27])])
def test_sizes_are_listed_under_a_heading_of_their_own(listed: str, size: int, counts: list[int]) -> None:
    page = (
        f"Cap\n\n{listed}\nRnd 1: 7 [8, 9] sc in magic ring\nRnd 2: inc around [14, 16, 18]\n"
        "Sizes M and L only:\nRnd 3: (sc, inc) around\nAll sizes:\nRnd 4: sc around [14, 24, 27]\n"
    )
    found = from_text(page, "US", size)
    assert found.sizes == 3
    rounds = loads(as_toml(found.draft)).pieces[0].rounds
    assert [round_.leaves for round_ in rounds] == [*counts[:2], *([counts[2]] if size > 1 else []), counts[2]]
    assert all(round_.verdict == "ok" for round_ in rounds[:2])
