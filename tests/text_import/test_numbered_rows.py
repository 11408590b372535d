"""Tables that have the number of a round first, and how many stitches it leaves behind it.

That tables of toys are written so is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.text_import.numbered_rows import with_counts_alone, with_numbered_rows
from tracker.pattern.toml_writer import as_toml

ROWS = ("1|8|8 sc in ring", "2|16|+8", "3|24|+8", "4~6|24|no increase and decrease", "7|16|-8", "8|16", "9|8|-8")
GAPS = {"tabs": "\t", "bars": " | ", "blanks": "     "}


@pytest.mark.parametrize("gap", GAPS)
def test_a_table_of_changes_is_read(gap: str) -> None:
    table = [row.replace("|", GAPS[gap]) for row in ROWS]
    text = "\n".join(["Bun", "", "Body", "No\tStitches\tChange", *table, "Stuff it.", "", "Ear", *table[:3]])
    body, ear = loads(as_toml(from_text(text, "US").draft)).pieces
    assert [round_.verdict for round_ in body.rounds] == ["ok"] * len(body.rounds)
    assert [round_.leaves for round_ in body.rounds] == [8, 16, 24, 24, 24, 24, 16, 16, 8]
    assert [round_.leaves for round_ in ear.rounds] == [8, 16, 24]


def test_a_change_that_does_not_come_to_its_total_is_told() -> None:
    rows = [row.replace("|", "\t") for row in ROWS]
    text = "\n".join(["Bun", "", *rows]).replace("3\t24\t+8", "3\t24\t+7")
    (body,) = loads(as_toml(from_text(text, "US").draft)).pieces
    assert body.rounds[2].verdict == "disagrees"


def test_a_table_of_rows_keeps_their_word() -> None:
    lines = ["Row   Sts   Work", "1   12   12 sc on ch 13", "2   12   12 sc", "3   14   2 inc"]
    assert with_numbered_rows(lines) == [
        lines[0],
        "Row 1 | 12 | 12 sc on ch 13",
        "Row 2 | 12 | 12 sc",
        "Row 3 | 14 | 2 inc",
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ["1   2   buttons", "2   4   eyes", "3   1   bell"],  # parts, and nothing made of them
        ["1\t50\tcream", "2\t50\trose", "3\t25\tmint"],  # yarns
        ["1   30", "2   60", "3   90", "4   95"],  # sizes
        ["1   8   8 sc", "2   16   8 inc"],  # two lines
        ["1   8   8 sc", "3   16   8 inc", "5   16   16 sc"],  # that do not go on
    ],
)
def test_other_tables_stay_as_they_are(lines: list[str]) -> None:
    assert with_numbered_rows(lines) == lines


def test_a_number_and_a_count_between_the_rounds_around_it_are_a_plain_round() -> None:
    lines = ["1. mr 6", "2. 6 inc", "3. 12", "4-6) 12", "7. 6 dec"]
    assert with_counts_alone(lines) == ["1. mr 6", "2. 6 inc", "Rnd 3: 12", "Rnd 4-6: 12", "7. 6 dec"]


@pytest.mark.parametrize(
    "lines",
    [
        ["1. 21", "2. 34", "3. 18"],  # no round beside them
        ["1. mr 6", "2. 6 inc", "4. 12", "5. 6 dec"],  # not the next number
        ["1. mr 6", "2. 6 inc", "3. 12", "3. 6 dec"],  # the number comes again
    ],
)
def test_a_number_and_a_count_out_of_their_order_are_no_round(lines: list[str]) -> None:
    assert with_counts_alone(lines) == lines
