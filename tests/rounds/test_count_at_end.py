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
