"""One round laid out: each symbol in its place, on what it is worked into, at its own height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tracker.pictures.drafts import MOST_OVALS, Draft
from tracker.pictures.drawn import DrawnRound, Mark, Oval, Stretch
from tracker.pictures.frames import CLEAR, Below, Frame, frame
from tracker.pictures.spans import OVAL_BREADTH, arc, column, loop
from tracker.pictures.symbols import Form
from tracker.pictures.tracks import Point, unit

DROOP = 0.2
"""How much lower the outer stitches of a wide fan end, as a share of their height."""
_NUMBER_ASIDE = 0.8
"""How far before its first stitch the number of a row stands."""
_JOIN_ASIDE = 0.24
"""How far before the number of a round the slip stitch that closes it is drawn."""


def lay(
    number: int,
    drafts: Sequence[Draft],
    below: Below,
    *,
    backward: bool = False,
    joined: bool = False,
    undrawn: int = 0,
) -> DrawnRound:
    """The round with every symbol in its place; `undrawn` stitches were left out at its end."""
    laid = frame(drafts, below, backward=backward, broken=undrawn > 0)
    marks = [_mark(draft, at, laid, below) for draft, at in zip(drafts, laid.places, strict=True)]
    marks = _spanned(marks, laid, closed=laid.track.closed and not undrawn)
    middle = (laid.inner + laid.outer) / 2
    start = laid.at_level(0.0 if laid.track.closed else -_NUMBER_ASIDE, middle)
    return DrawnRound(
        number=number,
        marks=tuple(marks),
        track=laid.track,
        inner=laid.inner,
        outer=laid.outer,
        reach=max([laid.outer, *(_reach(mark, laid) for mark in marks)]),
        number_at=start.point,
        stretches=_stretches(drafts, laid),
        join_at=laid.at_level(-_JOIN_ASIDE, laid.outer),
        joined=joined,
        backward=backward,
        undrawn=undrawn,
    )


def _mark(draft: Draft, at: float, laid: Frame, below: Below) -> Mark:
    top = laid.top(at, draft.height * (1.0 - _droop(draft)))
    under = laid.foot(at)
    feet = _feet(draft, under.point, below)
    ovals = column(feet[0], top, min(draft.chains, MOST_OVALS)) if draft.standing else ()
    return Mark(
        kind=draft.kind,
        symbol=draft.symbol,
        name=draft.name,
        top=top,
        outward=under.outward,
        feet=feet,
        bases=draft.bases,
        distance=at,
        width=draft.width,
        colour=draft.colour,
        loop=draft.loop,
        fan=draft.fan,
        company=draft.company,
        chains=draft.chains,
        ovals=ovals,
        standing=draft.standing,
        counted=draft.counted,
        between=draft.between,
    )


def _droop(draft: Draft) -> float:
    return DROOP * draft.lean**2 if draft.fan > 2 and draft.symbol.form is Form.STEM else 0.0


def _feet(draft: Draft, under: Point, below: Below) -> tuple[Point, ...]:
    if not draft.bases:
        return (under,)
    feet = tuple(below.grounds[base].foot.raised(CLEAR) for base in draft.bases)
    return (feet[0].toward(feet[-1], 0.5),) if draft.between else feet


def _spanned(marks: list[Mark], laid: Frame, *, closed: bool) -> list[Mark]:
    """The same marks, with lengths of chain and picots drawn from the stitch before to the stitch after."""
    done = []
    for index, mark in enumerate(marks):
        if mark.space:
            done.append(_spanning(marks, index, laid, closed))
        elif mark.symbol.form is Form.PICOT:
            before = _neighbour(marks, index, -1, closed)
            level = laid.track.level_of(before.top) if before else laid.inner
            ovals = loop(laid.at_level(mark.distance, level), min(mark.chains, MOST_OVALS))
            done.append(replace(mark, ovals=ovals))
        else:
            done.append(mark)
    return done


def _spanning(marks: Sequence[Mark], index: int, laid: Frame, closed: bool) -> Mark:
    mark = marks[index]
    start, end = (_beside(_neighbour(marks, index, side, closed), mark, laid, side) for side in (-1, 1))
    ovals = arc(start, end, mark.outward, min(mark.chains, MOST_OVALS))
    return replace(mark, ovals=ovals, top=_crown(ovals) + unit(mark.outward) * (OVAL_BREADTH / 2))


def _crown(ovals: Sequence[Oval]) -> Point:
    """The middle of an arc of ovals."""
    half = len(ovals) // 2
    if len(ovals) % 2:
        return ovals[half].centre
    return ovals[half - 1].centre.toward(ovals[half].centre, 0.5)


def _neighbour(marks: Sequence[Mark], index: int, step: int, closed: bool) -> Mark | None:
    """The next stitch on this side that is no length of chain itself; across the seam if the round closes."""
    for away in range(1, len(marks)):
        other = index + step * away
        if not closed and not 0 <= other < len(marks):
            return None
        found = marks[other % len(marks)]
        if found.is_stitch:
            return found
    return None


def _beside(other: Mark | None, mark: Mark, laid: Frame, side: int) -> Point:
    """Where a length of chain touches its neighbour: at the end of its own room, level with the neighbour's top."""
    edge = mark.distance + side * mark.width / 2 * laid.stretch
    level = laid.track.level_of(other.top) if other else laid.outer
    return laid.at_level(edge, level).point


def _reach(mark: Mark, laid: Frame) -> float:
    """The level that a mark reaches up to."""
    half = unit(mark.outward) * (OVAL_BREADTH / 2)
    return max(laid.track.level_of(point) for point in (mark.top, *(oval.centre + half for oval in mark.ovals)))


def _stretches(drafts: Sequence[Draft], laid: Frame) -> tuple[Stretch, ...]:
    """Runs of one colour along the round, the whole of it covered unless it is broken off."""
    found: list[Stretch] = []
    last = len(drafts) - 1
    for index, draft in enumerate(drafts):
        start = 0.0 if index == 0 else laid.edges[index]
        whole = index == last and laid.track.length - laid.edges[-1] < 1.0
        end = laid.track.length if whole else laid.edges[index + 1]
        stitches = int(draft.counted if draft.standing else not draft.chains)
        if found and found[-1].colour == draft.colour:
            found[-1] = replace(found[-1], end=end, stitches=found[-1].stitches + stitches)
        else:
            found.append(Stretch(draft.colour, start, end, stitches))
    return tuple(found)
