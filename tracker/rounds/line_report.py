"""One round on its own, for other programs: text in, numbers and messages out. Never raises on what a line holds."""

from __future__ import annotations

from collections import Counter

from tracker.diagnostics import NOWHERE, Problem, Severity, error, note, verdict_of
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import clean
from tracker.notation.ast import Line
from tracker.notation.by_eye import is_by_eye, left_open
from tracker.notation.context import Context, OwnWord
from tracker.notation.glossary import abbreviation
from tracker.notation.reader import read_line as read_notation
from tracker.rounds.bases import Base, takes_beside
from tracker.rounds.checks import Weighed, weigh_range
from tracker.rounds.count_at_end import ends_with_count, with_count_as_total
from tracker.rounds.plan import Plan


@dataclass(frozen=True)
class LineReport:
    """What one round comes to. Numbers are None where they are not known.

    `uses` counts the spaces between the stitches too, but not where more of both are used than there are stitches:
    how many spaces there are is not given here, and nobody can be told that 32 of 28 are used up.
    """

    leaves: int | None
    uses: int | None
    stated: int | None
    verdict: str
    problems: tuple[Problem, ...]
    plan: Plan | None
    terms: str

    @property
    def by_kind(self) -> dict[str, int]:
        """How many of each stitch, as it is called in the terms of the line; empty where no number is known."""
        by_kind: Counter[str] = Counter()
        for kind, number in self.plan.tally.kinds if self.plan and self.leaves is not None else ():
            by_kind[abbreviation(kind, self.terms)] += number
        return dict(by_kind)

    @property
    def messages(self) -> list[str]:
        return [f"{p.message}; {p.help}" if p.help else p.message for p in self.problems]

    def as_json(self) -> dict[str, object]:
        """The report as plain values for JSON."""
        return {
            "leaves": self.leaves,
            "uses": self.uses,
            "by_kind": self.by_kind,
            "stated": self.stated,
            "verdict": self.verdict,
            "messages": self.messages,
        }


MAX_BEFORE = 10**10
"""The most bases that the round before may have."""


def read_line(text: str, before: int | None, terms: str = "US", context: Context | None = None) -> LineReport:
    """Read one round over `before` stitches (None: not known) in "US" or "UK" terms.

    Where it states a total for each of several sizes and nobody said which is made, the stitches that are there tell.
    """
    context = replace(context or Context(), terms=terms)
    report, sizes = _read_for(text, before, context)
    if report.verdict == "ok" or before is None or context.sizes or context.size:
        return report
    for size in range(1, sizes):
        other, _ = _read_for(text, before, replace(context, size=size, sizes=sizes))
        if other.verdict == "ok":
            problem = note(
                "size-told", f"read for size {size + 1} of {sizes}, as {before} stitches are there", NOWHERE
            )
            return replace(other, problems=(*other.problems, problem))
    return report


def _read_for(text: str, before: int | None, context: Context) -> tuple[LineReport, int]:
    """The round in the size of the context, and for how many sizes it states a total."""
    line = read_notation(clean(text), context)
    if before is not None and not 0 <= before <= MAX_BEFORE:
        line = replace(
            line,
            problems=(*line.problems, error("too-many", f"{before} stitches cannot be there", NOWHERE)),
            body=(),
        )
    base = None if before is None else Base(before)
    if line.reference is None and is_by_eye(line.text, context.terms, has_total=bool(line.stated)):
        return LineReport(None, None, None, "ok", (left_open(NOWHERE),), None, context.terms), 0
    if not line.is_readable:
        line = _read_anyway(line, base, context)
    if ends_with_count(line):
        line = with_count_as_total(line, base) or line
    weighed = weigh_range(line, base)
    if line.reference is not None:
        problem = note("refers", "repeats another round, which is not given here", NOWHERE)
        weighed = Weighed(None, None, None, weighed.stated, (*weighed.problems, problem))
    report = _report(line, weighed, context.terms)
    if before is not None and report.verdict != "error":
        report = replace(report, uses=_uses(report, before))
    sizes = max((len(stated.sizes) for stated in line.stated), default=0)
    return report, sizes if line.is_readable else 0  # in no other size can it be read either


def _read_anyway(line: Line, base: Base | None, context: Context) -> Line:
    """Without the words that nobody understands, where the witnesses agree; else with a proposal for the maker.

    A line on its own has a witness less than one in a piece, so what is only proposed stays an error here.
    """
    from tracker.rounds.tolerance import read_leniently  # only what is wrong needs it

    def read(text: str, words: tuple[OwnWord, ...]) -> Line:
        return read_notation(text, replace(context, words=(*context.words, *words)))

    lenient = read_leniently(line, base, None, context, read)
    if lenient is None:
        return line
    proposed = lenient.problems[-1] if lenient.problems else None
    if proposed is None or proposed.severity is not Severity.WARNING:
        return lenient
    first = next(index for index, problem in enumerate(line.problems) if problem.severity is Severity.ERROR)
    question = replace(line.problems[first], help=proposed.message, proposal=proposed.proposal)
    return replace(line, problems=(*line.problems[:first], question, *line.problems[first + 1 :]))


def _uses(report: LineReport, before: int) -> int | None:
    """The places that a round uses, spaces and parts beside the row among them if there can be so many."""
    if report.plan is None or report.uses is None or report.uses <= before:
        return report.uses
    return report.uses - takes_beside(report.plan.body)


def _report(line: Line, weighed: Weighed, terms: str) -> LineReport:
    verdict = verdict_of(weighed.problems)
    problems = weighed.problems
    if verdict == "ok" and weighed.plan is None:
        verdict = "warning" if line.reference else "error"
        if not line.reference:
            problems = (*problems, error("nothing-to-make", "there is nothing to make in this line", NOWHERE))
    leaves = None if verdict == "error" else weighed.leaves
    stated = weighed.stated.stitches if weighed.stated else None
    return LineReport(leaves, weighed.uses, stated, verdict, problems, weighed.plan, terms)
