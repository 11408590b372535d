"""A count of stitches at the end of a line, taken for work though it is the total: "..., ch 1, turn: 104 sc".

No sign tells them apart for certain; the stitches that are there do. Worked, it runs out of them or leaves some;
as the total it is just what the rest makes of all of them. Behind a colon it is the total wherever the rest makes
it: a colon closes the clause before it, and what leaves room for just as many is hardly worked so.
"""

from __future__ import annotations

from tracker.diagnostics import note, verdict_of
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Group, Into, Item, Line, Role, Some, Stated, ToEnd, acts
from tracker.rounds.bases import Base
from tracker.rounds.checks import weigh

SMALLEST = 6
"""Rounds begin with six (common practice, no source); fewer are seldom a total, and often the end of the work."""


def ends_with_count(line: Line) -> bool:
    """Whether a line without a total ends with so many of one stitch, and says nothing of their places."""
    if line.stated or not line.is_readable or (place := _place_of_count(line)) is None:
        return False
    last = line.body[place]
    assert isinstance(last, Some) and isinstance(last.times, Exactly)
    return last.times.count >= (2 if _is_behind_colon(line, last) else SMALLEST)


def _place_of_count(line: Line) -> int | None:
    """The number of the last item that makes anything, where that is so many of one stitch and another stands before
    it; None where it is not."""
    steps = [isinstance(item, Some) and item.act.role is Role.STEP for item in line.body]
    place = next((place for place in range(len(steps) - 1, 0, -1) if not steps[place]), 0)
    last = line.body[place] if line.body else None
    if all(steps[:place]) or not isinstance(last, Some) or not isinstance(last.times, Exactly):
        return None
    return place if last.act.role is Role.WORK and last.act.into is Into.STITCH else None


def _is_behind_colon(line: Line, count: Some) -> bool:
    """Whether a colon stands before it that is not the one behind the number of the round."""
    span, first = count.act.span, acts(line.body)[0].span
    begins = first.start if first.line == span.line else 0
    return line.text.split("\n")[span.line][begins : span.start].endswith((":", ": "))


def _goes_round(items: tuple[Item, ...]) -> bool:
    """Whether the last act of these goes all round, so that nothing is left for what stands behind it."""
    acts = [item for item in items if not isinstance(item, Some) or item.act.role is not Role.STEP]
    return bool(acts) and isinstance(acts[-1], Some | Group) and acts[-1].times == ToEnd()


def with_count_as_total(line: Line, base: Base | None) -> Line | None:
    """A line that `ends_with_count`, with that as its total where it comes out only so; None where it does not.
    Behind a colon it is enough that it comes out so, or that the round is over before it.
    `base` is what is there (None: not known)."""
    place = _place_of_count(line)
    last = line.body[place] if place is not None else None
    assert isinstance(last, Some) and isinstance(last.times, Exactly) and place is not None
    if not _is_behind_colon(line, last) and (
        (base is None and line.foundation is None) or verdict_of(weigh(line, base).problems) == "ok"
    ):
        return None
    body = (*line.body[:place], *line.body[place + 1 :])
    counted = replace(line, body=body, stated=(Stated(last.times.count, span=last.act.span),))
    weighed = weigh(counted, base)
    comes_out = verdict_of(weighed.problems) == "ok" and weighed.plan and weighed.plan.leaves == last.times.count
    if not comes_out and not (_is_behind_colon(line, last) and _goes_round(line.body[:place])):
        return None
    if weighed.plan is None:
        return None
    if not {made.kind for made in last.act.makes} <= {kind for kind, _ in weighed.plan.tally.kinds}:
        return None  # "..., 18 dc" behind single crochet counts nothing that was made
    span = last.act.span
    words = line.text.split("\n")[span.line][span.start : span.end]
    message = f"read '{words}' at the end as the total"
    return replace(counted, problems=(*counted.problems, note("count-at-end", message, span)))
