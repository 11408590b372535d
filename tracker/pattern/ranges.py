"""A line that is for several rounds: each is worked into the one before it."""

from __future__ import annotations

from dataclasses import replace

from tracker.diagnostics import Problem, verdict_of
from tracker.notation.ast import Stated
from tracker.notation.reader import Line
from tracker.pattern.resolve import Base, left_by
from tracker.pattern.weigh import Weighed, weigh


def weigh_range(line: Line, base: Base | None) -> Weighed:
    """A line for one round or for a range; in a range each round is worked into the one before it."""
    count = max(len(line.heading.numbers), line.heading.rounds_ahead, 1)
    first = weigh(line, base)
    if count == 1 or base is None or first.plan is None or first.plan.leaves == base.stitches or count > 1000:
        return first
    if len(line.stated) == 1 and verdict_of(first.problems) == "ok":
        second = weigh(line, left_by(first.plan), plainly=is_plain(first.problems))
        return first if verdict_of(second.problems) == "ok" else second
    return _through_range(line, base, count, first)


def is_plain(problems: tuple[Problem, ...]) -> bool:
    """Whether no words had to be read in an unlikely way."""
    return not any(problem.code == "read-otherwise" for problem in problems)


def _through_range(line: Line, base: Base, count: int, first: Weighed) -> Weighed:
    """Rounds of a range that changes the count: the last total, or each one, is stated."""
    each = line.stated if len(line.stated) == count else ()
    weighed = first
    bases = base
    for index in range(count):
        stated: Stated | None = (
            each[index] if each else (line.stated[-1] if line.stated and index == count - 1 else None)
        )
        plain = replace(line, stated=(stated,) if stated else ())
        weighed = weigh(plain, bases)
        if weighed.plan is None:
            return weighed
        bases = left_by(weighed.plan)
    good = verdict_of(weighed.problems) == "ok"
    return weighed if good or not line.stated else first
