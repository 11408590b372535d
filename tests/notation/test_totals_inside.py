"""Numbers in brackets before the end of a line: totals of what stands before them, checked or told of, never dropped.

The lines are invented; what they leave is arithmetic.
"""

from __future__ import annotations

import pytest

from tracker.pattern.loader import loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml
from tracker.rounds.line_report import read_line


@pytest.mark.parametrize(
    ("text", "before", "verdict", "codes"),
    [
        # Nothing is worked behind it: it is the total.
        ("Rnd 4: sc around (20). Cut the yarn with 25 cm to sew. (Make 2)", 20, "ok", []),
        ("Rnd 4: sc around (21). Cut the yarn with 25 cm to sew. (Make 2)", 20, "disagrees", ["total-differs"]),
        ("R5: 2 sc in each st (16) - 2 rounds", 8, "ok", []),
        ("R5: 2 sc in each st (18) - 2 rounds", 8, "disagrees", ["total-differs"]),
        ("Rnd 6*: sc in each st (28) *this is where the wings go", 27, "disagrees", ["total-differs"]),
        # More is worked behind it: the counts before it tell, or it is told of.
        ("Rnd 2: 4 sc (4), inc (6), 3 sc (9)", 8, "ok", []),
        ("Rnd 2: 4 sc (5), inc (6), 3 sc (9)", 8, "warning", ["total-inside"]),
        ("Rnd 2: (sc, inc (3)) x 4 (12)", 8, "ok", []),
        ("Rnd 2: (sc, inc (2)) x 4 (12)", 8, "warning", ["total-inside"]),
        # What goes through both halves of it is worked in the stitches that it counts.
        ("R9: 2 dec, 4 sc (6). Pinch the rim, 3 sc through both sides.", 8, "error", ["next-row"]),
        ("R9: sc around (10) and then 5 sc through both layers", 10, "error", ["next-row"]),
        ("R9: (2 sc, dec) x 3 (9). Lay it flat. 4 sc through the two edges, fasten off", 12, "error", ["next-row"]),
    ],
)
def test_a_total_before_the_end_is_never_dropped(text: str, before: int, verdict: str, codes: list[str]) -> None:
    report = read_line(text, before, "US")
    assert (report.verdict, [problem.code for problem in report.problems]) == (
        verdict,
        codes,
    )


@pytest.mark.parametrize(
    "last",
    [
        "R4: 2 dec, 6 sc (8). Fold the rim, 4 sc through both walls.",
        "R4: 2 dec, 6 sc (8), flatten and close with 4 sc through both layers",
        "R4: 2 dec, 6 sc [8 sts]. Press it flat and work 4 sc through both edges to close.",
        "R4: 2 dec, 6 sc (8). 4 sc through both sides, leave a tail.",
        "R4: 2 dec, 6 sc (8) - pinch; 4 sc through all thicknesses",
    ],
)
def test_a_page_has_what_closes_a_piece_apart_from_its_last_round(last: str) -> None:
    page = f"Otter\n\nEar\nR1: 5 sc in magic ring (5)\nR2: inc x5 (10)\nR3: sc around (10)\n{last}\n"
    made = from_text(page, "US")
    (piece,) = loads(as_toml(made.draft)).pieces
    assert [one.plan.leaves if one.plan else None for one in piece.rounds] == [5, 10, 10, 8]
