"""A count of stitches at the end of a line, taken for work though it is the total: "..., ch 1, turn: 104 sc".

No sign tells them apart for certain; the stitches that are there do. Worked, it runs out of them or leaves some;
as the total it is just what the rest makes of all of them.
"""

from __future__ import annotations

from tracker.diagnostics import note, verdict_of
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Into, Line, Role, Some, Stated
from tracker.rounds.bases import Base
from tracker.rounds.checks import weigh

SMALLEST = 6
"""Rounds begin with six (common practice, no source); fewer are seldom a total, and often the end of the work."""


def ends_with_count(line: Line) -> bool:
    """Whether a line without a total ends with so many of one stitch, and says nothing of their places."""
    last = line.body[-1] if len(line.body) > 1 and not line.stated and line.is_readable else None
    if not isinstance(last, Some) or not isinstance(last.times, Exactly) or last.times.count < SMALLEST:
        return False
    return last.act.role is Role.WORK and last.act.into is Into.STITCH


def with_count_as_total(line: Line, base: Base | None) -> Line | None:
    """A line that `ends_with_count`, with that as its total where it comes out only so; None where it does not.
    `base` is what is there (None: not known)."""
    last = line.body[-1]
    assert isinstance(last, Some) and isinstance(last.times, Exactly)
    if (base is None and line.foundation is None) or verdict_of(weigh(line, base).problems) == "ok":
        return None
    counted = replace(line, body=line.body[:-1], stated=(Stated(last.times.count, span=last.act.span),))
    weighed = weigh(counted, base)
    if verdict_of(weighed.problems) != "ok" or weighed.plan is None or weighed.plan.leaves != last.times.count:
        return None
    if not {made.kind for made in last.act.makes} <= {kind for kind, _ in weighed.plan.tally.kinds}:
        return None  # "..., 18 dc" behind single crochet counts nothing that was made
    span = last.act.span
    words = line.text.split("\n")[span.line][span.start : span.end]
    message = f"read '{words}' at the end as the total"
    return replace(counted, problems=(*counted.problems, note("count-at-end", message, span)))
