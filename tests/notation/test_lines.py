"""Round lines in many hands' styles, with answers worked out by hand before the reader read them.

All lines are invented. `rules` came with the notation's rules; `survey` and `blogs` were written by people who had
not seen the reader, and so was `excerpts`, after the reader was done: of its 163 clean lines 160 were read to the
number at first sight, none wrongly, and all of its 35 misprints were reported. Of the 125 clean lines of
`letters_and_translations`, written after that, 116 were read at first sight and one wrongly, and all 25 misprints
were reported; of the 130 of `leaflets`, in the styles of leaflets, magazines and translations, 98 and none wrongly,
and all 30; of the 215 of `garments` 199 and two wrongly, and 44 of 45; of the 196 of `toys` 166 and none wrongly, and
all 34; of the 197 of `lace` 158 and none wrongly, and 32 of 33; of the 227 of `sampled`, four or five rounds from
each of 60 imagined patterns, 212, two by another way of counting, and all 33; of the 526 of `rows_and_edgings`, of
shawls, lace, cables, heels, yokes and edgings, many of them without a total, 440 and four wrongly. `stitches` came
with the stitches that
it names, and `forms` with the forms of published pages. `not_yet_read` are those that the reader does not yet read as
their writers meant.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from tracker.rounds.line_report import LineReport, read_line

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Line:
    number: int
    terms: str
    before: int | None
    text: str
    leaves: int | None
    verdict: str

    def read(self) -> LineReport:
        return read_line(self.text, self.before, self.terms)


def table(name: str) -> list[Line]:
    rows = (HERE / f"{name}.tsv").read_text(encoding="utf-8").splitlines()[1:]
    return [line_of(number, row) for number, row in enumerate(rows, 2) if row.strip()]


def line_of(number: int, row: str) -> Line:
    terms, before, text, leaves, verdict, *_ = [*row.split("\t"), "", ""]
    as_number = [int(cell) if cell.strip() else None for cell in (before, leaves)]
    return Line(number, terms or "US", as_number[0], text.replace("\\n", "\n"), as_number[1], verdict)


STRICT_TABLES = (
    "rules",
    "survey",
    "blogs",
    "excerpts",
    "letters_and_translations",
    "leaflets",
    "garments",
    "toys",
    "lace",
    "sampled",
    "rows_and_edgings",
    "stitches",
    "forms",
)
STRICT = [pytest.param(line, id=f"{name}-{line.number}") for name in STRICT_TABLES for line in table(name)]


@pytest.mark.parametrize("line", STRICT)
def test_a_line_leaves_what_its_writer_meant(line: Line) -> None:
    """The number comes from the instruction, and the verdict tells whether the witnesses agree."""
    report = line.read()
    assert report.verdict == line.verdict, report.messages
    if line.leaves is not None:
        assert report.leaves == line.leaves, report.messages


WRONG_TODAY = 6
"""Lines of `not_yet_read` that are passed as right with another number, or although they disagree; to be lowered
when one of them is mended, and never raised."""


def test_what_is_not_read_is_hardly_ever_passed_as_right() -> None:
    """A confident wrong number is far worse than an error: none may join those there are."""
    unread = table("not_yet_read")
    wrong = [
        line
        for line in unread
        if (report := line.read()).verdict == "ok" and (line.verdict != "ok" or report.leaves != line.leaves)
    ]
    assert len(wrong) <= WRONG_TODAY, [line.text for line in wrong]


def test_the_tables_are_as_large_as_they_are_said_to_be() -> None:
    assert len(STRICT) > 2300
    assert len({line.text for name in ("survey", "blogs") for line in table(name)}) > 850
