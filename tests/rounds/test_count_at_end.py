"""A count at the end of a line is its total where the line comes out only so.

That leaflets state totals behind a colon, a stop or a dash is common practice, no source.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.rounds.line_report import read_line


@pytest.mark.parametrize(
    ("before", "text", "leaves"),
    [
        (None, "Row 1: Ch 31, sc in 2nd ch from hook and in each ch across, cut yarn: 30 sc.", 30),
        (15, "Rnd 3: (4 sc, inc) x 3: 18 sc", 18),
        (12, "Rnd 2: 6 sc, 6 inc, 18 sc", 18),
        (20, "Row 4: Working in back loops only, sk first st, 9 sc, 3 sc in next st, 9 sc, ch 1: 21 sc", 21),
    ],
)
def test_a_count_at_the_end_is_the_total_where_the_line_comes_out_only_so(
    before: int | None, text: str, leaves: int
) -> None:
    report = read_line(text, before)
    assert (report.verdict, report.leaves, report.stated) == ("ok", leaves, leaves)
    assert [problem.code for problem in report.problems] == ["count-at-end"]


@pytest.mark.parametrize(
    ("before", "text", "leaves"),
    [
        (None, "Rnd 1: Ch 1, work 30 sc evenly spaced in ends of rows; do not join, place marker: 30 sc.", 30),
        (None, "Rnd 1: Sc in each of the 9 skipped sc, 3 sc in corner of opening; do not join: 12 sc.", 12),
        (14, "Rnd 5: Sc2tog around: 7 sc. Fasten off, leaving an end.", 7),
        (10, "Rnd 5: Sc2tog around: 5 sc. Fasten off, leaving an end; weave through last 5 sc, pull up tight.", 5),
        (21, "Rnd 5: Sc in each sc around, move the marker: 21 sc", 21),
        (23, "Row 1: sc in 2nd ch from hook and in next 21 ch: 22 sc", 22),
        (12, "Row 1: sc in next 5 sts and in next 7 sts: 12 sc", 12),
    ],
)
def test_behind_a_colon_it_is_the_total_wherever_it_comes_out(before: int | None, text: str, leaves: int) -> None:
    report = read_line(text, before)
    assert (report.verdict, report.leaves, report.stated) == ("ok", leaves, leaves)


def test_a_total_behind_a_round_that_is_over_is_weighed_against_it() -> None:
    report = read_line("Rnd 5: Sc in each sc around, do not turn: 17 sc", 18)
    assert (report.verdict, report.leaves, report.stated) == ("disagrees", 18, 17)


@pytest.mark.parametrize(
    ("before", "text"),
    [
        (18, "Rnd 3: 5 sc, inc, 12 sc"),
        (18, "Rnd 3: 12 sc, inc, 6 sc"),
        (18, "Rnd 3: 6 sc, 12 sc, 18 hdc"),
        (15, "Rnd 3: (4 sc, inc) x 3: 19 sc"),
        (14, "Rnd 3: 6 sc, 6 sc, 12 sc"),
        (18, "Rnd 3: 18 sc, 3 sc"),
        (12, "Rnd 3: 12 sc, 12 sc in next st"),
    ],
)
def test_it_is_work_where_the_stitches_do_not_say_otherwise(before: int, text: str) -> None:
    report = read_line(text, before)
    assert "count-at-end" not in {problem.code for problem in report.problems}
    assert report.stated is None


def test_rounds_that_name_such_a_row_again_work_it_without_its_total() -> None:
    text = "\n".join(
        (
            "Row 1: Ch 22, sc in 2nd ch from hook and in each ch across, ch 1, 21 sc.",
            "Row 2: sk first st, 9 sc, 3 sc in next st, 8 sc, sk 1, sc in last st, ch 1: 21 sc.",
            "Rows 3-6: Rep Row 2.",
        )
    )
    rounds = loads(f'[[piece]]\nname = "Wave"\nstart = "rows"\nrounds = """\n{text}\n"""\n', "Wave").pieces[0].rounds
    assert [(round_.leaves, round_.verdict) for round_ in rounds] == [(21, "ok")] * 6
