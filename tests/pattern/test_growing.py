"""Pattern files that grow: rounds behind the others, rounds put into an open end, corrections written down."""

from __future__ import annotations

import pytest

from tracker.pattern.growing import grown, opens_at, with_rhythm
from tracker.pattern.loader import all_problems, loads
from tracker.pattern.model import Correction, Pattern

COUNTED = """
Rnds 1-3: as you like
Rnd 4: as you like (24)
Rnds 5-99: as you like
"""


def pattern_of(rounds: str, more: str = "") -> Pattern:
    return loads(f'title = "Bowl"\n{more}[[piece]]\nname = "Bowl"\nrounds = """{rounds}"""\n')


def lines(pattern: Pattern) -> list[str]:
    return [entry.text for entry in pattern.pieces[0].entries]


def test_a_round_stands_behind_all_that_is_written() -> None:
    before = pattern_of("\nRnd 1: 6 sc in magic ring (6)\nStuff it now.\n", "stage = 'draft'\n")
    found = grown(before, 0, ["Rnd 2: inc x 6 (12)"])
    after = loads(found.source)
    assert lines(after) == ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: inc x 6 (12)"]
    assert found.entries == len(after.pieces[0].entries) and after.is_draft
    assert after.pieces[0].entries[1].remarks == ("Stuff it now.",)


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        (4, ["Rnds 1-3: as you like", "Rnd 4: as you like (24)", "Rnd 5: 24 sc (24)", "Rnds 6-99: as you like"]),
        (
            7,
            [
                *("Rnds 1-3: as you like", "Rnd 4: as you like (24)", "Rnds 5-7: as you like"),
                *("Rnd 8: 24 sc (24)", "Rnds 9-99: as you like"),
            ],
        ),
        (98, ["Rnds 1-3: as you like", "Rnd 4: as you like (24)", "Rnds 5-98: as you like", "Rnd 99: 24 sc (24)"]),
    ],
)
def test_a_round_of_an_open_end_gets_a_line_of_its_own(at: int, expected: list[str]) -> None:
    before = pattern_of(COUNTED)
    assert opens_at(before.pieces[0]) == 4
    found = grown(before, 0, [f"Rnd {at + 1}: 24 sc (24)"], at)
    after = loads(found.source)
    assert lines(after) == expected and found.entries == len(expected)
    assert [item.number for item in after.pieces[0].rounds] == list(range(1, 100))


def test_what_is_not_open_is_left_alone() -> None:
    ring = pattern_of("\nRnd 1: 6 sc in magic ring (6)\nRnd 2: as you like\n")
    assert opens_at(ring.pieces[0]) is None, "one round to be worked by eye is no open end"
    for pattern, at in ((ring, 1), (pattern_of(COUNTED), 2)):
        with pytest.raises(ValueError, match="open end"):
            grown(pattern, 0, ["Rnd 3: 6 sc"], at)
    with pytest.raises(ValueError, match="no such piece"):
        grown(ring, 1, ["Rnd 3: 6 sc"])


def test_corrections_are_written_over_their_lines_and_nothing_else_changes() -> None:
    """By hand: 6, then 12, then 18; the round worked by eye leaves what the maker said."""
    text = "\nRnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nA remark of mine.\nRnds 3-4: 12 sc (12)\n"
    own = (Correction(0, 1, "Rnd 2: 2 sc in each st (12)"), Correction(0, 2, leaves=18), Correction(0, 0))
    found = grown(pattern_of(text, 'hook = "3 mm"\n'), 0, ["Rnd 5: (1 sc, dec) x 6 (12)"], None, own)
    after = loads(found.source)
    expected = ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: 2 sc in each st (12)", "Rnds 3-4: as you like (18)"]
    assert lines(after) == [*expected, "Rnd 5: (1 sc, dec) x 6 (12)"]
    assert all_problems(after) == [] and after.hook == "3 mm" and "A remark of mine." in after.source


def test_a_rhythm_takes_the_place_of_the_one_before() -> None:
    first = with_rhythm(pattern_of(COUNTED, "").source, 0, "Every 4th round (4, 8, 12 and so on): increase")
    again = loads(with_rhythm(first, 0, "Every 6th round (6, 12, 18 and so on): a bobble"))
    assert again.pieces[0].notes == ("Every 6th round (6, 12, 18 and so on): a bobble",)
    assert lines(again) == lines(pattern_of(COUNTED))
