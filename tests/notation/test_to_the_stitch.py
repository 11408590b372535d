"""Lines whose every figure was worked out by hand: what they leave, what they use, and how many of each stitch.

Where a line is right by its number alone it may still have been read another way than it was meant.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.rounds.line_report import read_line

ROWS = (Path(__file__).parent / "to_the_stitch.tsv").read_text(encoding="utf-8").splitlines()[1:]


@pytest.mark.parametrize("row", ROWS, ids=[row.split("\t")[2] for row in ROWS])
def test_every_figure_of_a_line(row: str) -> None:
    terms, before, text, leaves, uses, kinds, verdict, *_ = row.split("\t")
    report = read_line(text, int(before) if before else None, terms)
    told = ", ".join(f"{kind} {number}" for kind, number in report.by_kind.items())
    assert (report.verdict, str(report.leaves), told) == (verdict, leaves, kinds), report.messages
    if uses:
        assert report.uses == int(uses)
