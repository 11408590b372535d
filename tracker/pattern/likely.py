"""What makes one way to mend a round likelier than another: shapes are regular (common practice, no source).

All figures are costs to be added up; smaller is likelier. They only order changes that arithmetic allows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tracker.diagnostics import Span
from tracker.pattern.written import Phrase, Written
from tracker.rounds.plan import Act, Node, Plan, Repeat

UNEVEN = 0.16
"""For each further distance between increases, where others are equal all around."""

ODD_GROWTH = 0.08
"""For a round that grows or shrinks by another number than its neighbours."""

BARE_GROUP = 0.3
"""For "(3 sc) x 6": a group is written because something changes in it."""

ONCE_MORE = 0.4
"""For "repeat 3 times" read as 4 in all, in a piece that does not mean it so elsewhere."""

_TURNS = 3
"""Times through a group that show its distances; more repeat the same."""


def unevenness(plan: Plan) -> float:
    """How unevenly increases and decreases stand: 0 if all are equally far apart, or a row ends as it began."""
    before, *between, after = _gaps(plan) or [0, 0]
    if any(act.name == "turn" for act in plan.acts()):
        gaps = [before, *between, after]
        return 0.0 if gaps == gaps[::-1] else UNEVEN
    return min(UNEVEN * len({before + after, *between} - {before + after}), 3 * UNEVEN)


def _gaps(plan: Plan) -> list[int]:
    """The plain stitches before, between and behind the stitches that shape; empty if there are none of these."""
    gaps: list[int] = []
    since = 0
    for act, times in _acts(plan.body):
        if act.is_increase or act.is_decrease:
            gaps += [since, *[0] * (times - 1)]
            since = 0
        else:
            since += act.stitches * times
    return [*gaps, since] if gaps else []


def _acts(body: tuple[Node, ...]) -> Iterator[tuple[Act, int]]:
    for node in body:
        if isinstance(node, Repeat):
            for _ in range(min(node.times, _TURNS)):
                yield from _acts(node.body)
        else:
            yield node.act, node.times


def has_bare_group(line: Written) -> bool:
    """Whether a group holds nothing but a run of plain stitches."""
    return any(
        len(bracket.inner) == 1
        and isinstance(part := bracket.inner[0], Phrase)
        and part.act.takes == part.act.stitches
        for bracket in line.brackets()
    )


def is_made_once_more(line: Written, plan: Plan) -> bool:
    """Whether "repeat 3 times" was read as 3 more times, which goes by the bases and can hide a misprint."""
    made: Counter[Span] = Counter()
    _count_times(plan.body, made)
    return any(bracket.times is not None and made[bracket.span] == bracket.times + 1 for bracket in line.brackets())


def _count_times(body: tuple[Node, ...], made: Counter[Span]) -> None:
    for node in body:
        if isinstance(node, Repeat):
            made[node.span] += node.times
            _count_times(node.body, made)


def odd_growth(growths: list[int | None], line: int) -> float:
    """Whether the line grows like the nearest lines that change the count, before and after it."""
    growth = growths[line]
    if not growth:
        return 0.0
    near = [_nearest(growths[line + 1 :]), _nearest(growths[:line][::-1])]
    known = [other for other in near if other is not None]
    return ODD_GROWTH if known and growth not in known else 0.0


def _nearest(growths: list[int | None]) -> int | None:
    return next((growth for growth in growths if growth), None)
