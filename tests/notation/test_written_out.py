"""What a line was read as, written out in plain words: every act, group and colour of it, its total and its remarks,
the words that each act was read from, and those that something is told of.

Where a line is right by its numbers it may still have been read another way. The lines stand in other tables too: of
those, these between them need nearly every part of the reader. `written_out.tsv` was read over line by line, and what
is not written out as it was meant is not in it. After a change that is meant, `SNAPSHOTS=write .venv/bin/python -m
pytest tests/notation/test_written_out.py` writes it anew: look at each line that differs.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from tracker.diagnostics import NOWHERE, Span
from tracker.notation.context import Context
from tracker.notation.reader import read_line as read_notation
from tracker.rounds.formatter import notate
from tracker.rounds.line_report import read_line

TABLE = Path(__file__).parent / "written_out.tsv"
ROWS = [row.split("\t") for row in TABLE.read_text(encoding="utf-8").splitlines()[1:]]


PLACES = {"end", "span", "lead"}
"""Where things stand in the text, which is tested elsewhere."""


def named(title: str, value: Any) -> str:
    """All that is not as usual in a heading, a total or a reference."""
    usual = type(value)(0) if title == "head" else type(value)()
    parts = [
        f"{field.name} {plain(getattr(value, field.name))}"
        for field in fields(value)
        if field.name not in PLACES and getattr(value, field.name) != getattr(usual, field.name)
    ]
    return f"{title}: {', '.join(parts)}" if parts else ""


def plain(value: object) -> str:
    """A value without Python's signs."""
    return " ".join(map(plain, value)) if isinstance(value, tuple) else str(value)


def besides(text: str, terms: str) -> Iterator[str]:
    """What a line says besides what is to be made."""
    line = read_notation(text, Context(terms=terms))
    yield named("head", line.heading)
    if line.reference is not None:
        yield named("again", line.reference)
    yield from (named("total", stated) for stated in line.stated)
    if line.worked_into is not None:
        yield f"{line.passing} into {line.worked_into}".strip()
    yield from (f"remark: {remark}" for remark in line.remarks)


def written(terms: str, before: str, text: str) -> list[str]:
    """How a line is written out, what it says besides, and what is told of it."""
    text = text.replace("\\n", "\n")
    report = read_line(text, int(before) if before else None, terms)
    lines = text.split("\n")

    def words(span: Span) -> str:
        return "" if span == NOWHERE else lines[span.line][span.start : span.end]

    runs = report.plan.runs() if report.plan is not None else ()
    cells = [
        notate(report.plan, terms) if report.plan is not None else "-",
        "; ".join(filter(None, besides(text, terms))),
        ", ".join(f"{problem.code} at '{words(problem.span)}'" for problem in report.problems),
        " | ".join(words(run.span) for run, _ in runs),
    ]
    return [" ".join(cell.split()) for cell in cells]


@pytest.mark.parametrize("number", range(len(ROWS)), ids=[row[2] for row in ROWS])
def test_what_a_line_was_read_as(number: int) -> None:
    terms, before, text = ROWS[number][:3]
    found = written(terms, before, text)
    if os.environ.get("SNAPSHOTS") == "write":
        ROWS[number] = [terms, before, text, *found]
        head = "terms\tbefore\ttext\twritten out\tbesides\ttold\tof the words"
        TABLE.write_text("\n".join([head, *map("\t".join, ROWS)]) + "\n", "utf-8")
    assert found == ROWS[number][3:]
