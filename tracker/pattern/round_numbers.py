"""The numbers of a piece's rounds: which one a line without any has, and whether those that are written follow on."""

from __future__ import annotations

import re

from tracker.diagnostics import NOWHERE, Problem, Span, warning
from tracker.notation.ast import Line, Role, acts
from tracker.notation.parser.heading import heading_of

_FOR_SIZES = re.compile(r"\bsizes?\b", re.IGNORECASE)
"""What stands between two rounds where some sizes do without others: "Size S: go to Rnd 9"."""


def number_of_start(line: Line, below: str) -> int:
    """The number of a line above the first heading, which stands `below`: 0, for the start; 1 where it makes stitches
    and the heading is that of the second round, as in "6 sc in magic ring" over "2nd: inc x 6"."""
    stitches = any(act.role is Role.WORK and act.stitches for act in acts(line.body))
    return int(stitches and heading_of(below).numbers[:1] == (2,))


def jump_to(number: int, last: int, line: Line) -> Problem:
    """A round number that does not follow on the `last` one."""
    order = "comes again" if number <= last else f"comes after {last}"
    return warning("round-number", f"round number {number} {order}", _heading(line), f"did you mean {last + 1}?")


def doubts_of_numbers(
    line: Line, numbers: tuple[int, ...], last: int | None, remarks: tuple[str, ...]
) -> list[Problem]:
    """What does not fit in the `numbers` of a line behind a round with the number `last`, None behind no round.

    `remarks` are the lines that stand between the two rounds.
    """
    problems: list[Problem] = []
    left_out = last is not None and numbers[0] > last and any(map(_FOR_SIZES.search, remarks))
    if last is not None and numbers[0] != last + 1 and not left_out:
        problems.append(jump_to(numbers[0], last, line))
    if line.rounds is not None and line.rounds != len(numbers):
        message = f"says {line.rounds} rounds, and the numbers make {len(numbers)}"
        problems.append(warning("rounds-of-range", message, _heading(line)))
    return problems


def _heading(line: Line) -> Span:
    start, end = line.heading.span
    return NOWHERE._replace(start=start, end=max(end, start + 1))
