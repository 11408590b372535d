"""What must hold of every answer of the reader, whatever the text was."""

from __future__ import annotations

import json

from bench.mutated_lines import Example

from tracker.diagnostics import show
from tracker.normalize import clean
from tracker.rounds.line_report import LineReport, read_line
from tracker.rounds.plan import MAX_STITCHES, Into, Technique

VERDICTS = ("ok", "warning", "disagrees", "error")


def report_on(example: Example) -> LineReport:
    """Read the example and hold the answer to its rules. Raises AssertionError, or whatever the reader raises."""
    report = read_line(example.text, example.before, example.terms)
    _hold_numbers(report, example.before)
    _hold_words(report, clean(example.text).split("\n"))
    json.dumps(report.as_json())
    return report


def hold_places(report: LineReport, example: Example) -> None:
    """Every problem points into the line that it names. Raises AssertionError."""
    lines = clean(example.text).split("\n")
    for problem in report.problems:
        span = problem.span
        assert 0 <= span.line < len(lines), f"{problem.code} points at a line that is not there"
        assert 0 <= span.start <= span.end, f"{problem.code} points backwards"
        assert span.start <= len(lines[span.line]), f"{problem.code} points behind the end of its line"


def _hold_numbers(report: LineReport, before: int | None) -> None:
    assert report.verdict in VERDICTS
    assert (report.leaves is None) or report.verdict != "error", "an error with a number"
    left_open = any(problem.code == "by-eye" for problem in report.problems)
    assert (report.leaves is not None) or left_open or report.verdict != "ok", "all right, and no number"
    for number in (report.leaves, report.uses, *report.by_kind.values()):
        assert number is None or 0 <= number <= 2 * MAX_STITCHES, number
    if report.plan is not None and report.leaves is not None:
        # Of several rounds in one line the last, with what the first one uses; a total that counts chain spaces is no
        # sum of stitches.
        assert sum(report.by_kind.values()) in (report.leaves, report.plan.leaves)
        assert report.uses is not None and report.uses <= max(report.plan.uses, before or 0)
    if report.verdict == "ok" and before is not None and report.uses is not None:
        acts = list(report.plan.acts()) if report.plan else []
        elsewhere = (Into.CHAIN, Into.RING, Into.PART)
        own_places = any(
            act.from_hook or act.into in elsewhere or (act.technique is Technique.CHAIN and act.length >= report.uses)
            for act in acts
        )
        there = 2 * (before + 1) if any(act.technique is Technique.OTHER_SIDE for act in acts) else before
        assert report.uses <= there or own_places, "all right, and uses more than there are"


def _hold_words(report: LineReport, lines: list[str]) -> None:
    assert report.verdict == "ok" or report.problems, "a verdict without a word"
    for problem in report.problems:
        assert problem.message, "a problem without a word"
        is_blank = not any(line.strip() for line in lines)
        assert ("^" in show(problem, lines)) is not is_blank, "a problem without a caret, or one under nothing"
