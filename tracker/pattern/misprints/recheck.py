"""A piece as it stands on the page, so that it can be checked again with a line changed."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from tracker.diagnostics import Severity
from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.pattern.checker import check_rounds
from tracker.pattern.model import Entry, Pattern, PieceBelow, Round, Yarn

COUNTING = frozenset(
    {
        "total-differs",
        "unworked",
        "runs-out",
        "cut-short",
        "total-does-not-divide",
        "read-otherwise",
        "no-such-base",
    }
)
"""Problems that come from numbers that do not agree, and so may come from a misprint."""

OTHERWISE = frozenset({"read-otherwise", "total-counts-otherwise"})
"""Notes that a line was not read in the likeliest way."""

Complaint = tuple[int, str]
"""The number of a written line, from 0, and the code of what is wrong with it."""


@dataclass(frozen=True)
class Checked:
    """The rounds that written lines give. `of_line` are the numbers of the rounds of each line, from 0."""

    rounds: tuple[Round, ...]
    lines: tuple[Line, ...]
    of_line: tuple[tuple[int, ...], ...]

    @cached_property
    def complaints(self) -> frozenset[Complaint]:
        return self._complaints({s for s in Severity if s is not Severity.NOTE})

    @cached_property
    def counting(self) -> list[int]:
        """The lines whose numbers do not agree, in order."""
        return sorted({line for line, code in self.complaints if code in COUNTING})

    def run_of_complaints(self, line: int) -> int:
        """How many lines from this one on have numbers that do not agree, without a break.

        A line that had to assume what the one before it leaves has no quarrel of its own, and still belongs to it.
        """
        end = line
        while end in self.counting or (end > line and end in self._assuming):
            end += 1
        return end - line

    @cached_property
    def _assuming(self) -> frozenset[int]:
        return frozenset(line for line, code in self._complaints({Severity.NOTE}) if code == "base-assumed")

    @cached_property
    def otherwise(self) -> frozenset[Complaint]:
        return frozenset(complaint for complaint in self._complaints({Severity.NOTE}) if complaint[1] in OTHERWISE)

    def _complaints(self, severities: set[Severity]) -> frozenset[Complaint]:
        return frozenset(
            (line, problem.code)
            for line, rounds in enumerate(self.of_line)
            for number in rounds
            for problem in self.rounds[number].problems
            if problem.severity in severities
        )

    def first(self, line: int) -> Round:
        """The first round of a line."""
        return self.rounds[self.of_line[line][0]]

    def last(self, line: int) -> Round:
        return self.rounds[self.of_line[line][-1]]

    def read(self, line: int) -> Line:
        """The line as it was read for its first round."""
        return self.lines[self.of_line[line][0]]

    def main_before(self, line: int) -> str:
        """The stitch that most of the last round before a line is made of; "" if none was read."""
        plans = (self.rounds[number].plan for number in range(self.of_line[line][0] - 1, -1, -1))
        counts = next((dict(plan.tally.kinds) for plan in plans if plan is not None and plan.tally.kinds), {})
        return max(counts, key=lambda kind: counts[kind], default="")

    @cached_property
    def growths(self) -> list[int | None]:
        """By how much the first round of each line changes the count; None where that is not known."""
        return [_growth(self.rounds[numbers[0]]) if numbers else None for numbers in self.of_line]

    def label(self, line: int) -> str:
        """ "Rnd 5", or "Rnds 6-8" for a range."""
        first, last = self.first(line), self.last(line)
        if first is last:
            return first.label
        word = first.label.split(" ")[0]
        return f"{word}s {first.number}-{last.number}"


def _growth(round_: Round) -> int | None:
    return round_.plan.leaves - round_.before if round_.plan and round_.before is not None else None


@dataclass(frozen=True)
class CheckedSheet:
    """The written lines of a piece, and what the rest of the pattern says about their words."""

    entries: tuple[Entry, ...]
    context: Context
    yarns: tuple[Yarn, ...]
    main: str
    below: PieceBelow | None = None

    def with_lines(self, texts: Mapping[int, str]) -> CheckedSheet:
        """The same with the text of some lines changed."""
        entries = [replace(entry, text=texts.get(n, entry.text)) for n, entry in enumerate(self.entries)]
        return replace(self, entries=tuple(entries))

    def checked(self, until: int | None = None) -> Checked:
        """Check the lines, or the first `until` of them."""
        entries = self.entries[:until]
        rounds, lines = check_rounds(entries, self.context, self.yarns, self.main, below=self.below)
        places = {(entry.line, entry.column): number for number, entry in enumerate(entries)}
        of_line: list[list[int]] = [[] for _ in entries]
        for number, round_ in enumerate(rounds):
            of_line[places[round_.line, round_.column]].append(number)
        return Checked(tuple(rounds), tuple(lines), tuple(tuple(numbers) for numbers in of_line))


def sheet_of(pattern: Pattern, piece: int) -> CheckedSheet:
    the_piece = pattern.pieces[piece]
    return CheckedSheet(the_piece.entries, the_piece.context, pattern.yarns, the_piece.main, the_piece.below)
