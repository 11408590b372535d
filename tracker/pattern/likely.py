"""What makes one way to mend a round likelier than another: shapes are regular (common practice, no source).

All figures are costs to be added up; smaller is likelier. They only order changes that arithmetic allows.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.pattern.plan import Act, Node, Plan, Repeat

UNEVEN = 0.1
"""For each further distance between increases, where others are equal all around."""

ODD_GROWTH = 0.08
"""For a round that grows or shrinks by another number than its neighbours."""

_TURNS = 3
"""Times through a group that show its distances; more repeat the same."""


def unevenness(plan: Plan) -> float:
    """How unevenly increases and decreases stand around the round: 0 where all are equally far apart."""
    gaps = _gaps(plan)
    return min(UNEVEN * (len(set(gaps)) - 1), 0.4) if len(gaps) > 1 else 0.0


def _gaps(plan: Plan) -> list[int]:
    """The plain stitches between one shaping stitch and the next, around and over the start."""
    gaps: list[int] = []
    since = 0
    for act, times in _acts(plan.body):
        if act.is_increase or act.is_decrease:
            gaps += [since, *[0] * (times - 1)]
            since = 0
        else:
            since += act.stitches * times
    if gaps:
        gaps[0] += since
    return gaps


def _acts(body: tuple[Node, ...]) -> Iterator[tuple[Act, int]]:
    for node in body:
        if isinstance(node, Repeat):
            for _ in range(min(node.times, _TURNS)):
                yield from _acts(node.body)
        else:
            yield node.act, node.times


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
