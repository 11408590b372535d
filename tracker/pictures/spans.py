"""Lengths of chain as ovals: spanning a space in an arc, standing at the start of a round, closed in a picot."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, cos, pi, sin, tau

from tracker.pictures.drawn import Oval
from tracker.pictures.tracks import Foot, Point, unit

OVAL_LENGTH = 0.56
"""The longer way through one oval, in stitch widths."""
OVAL_BREADTH = 0.3
CHAIN_LENGTH = 0.58
"""How much of a standing chain's height one chain takes."""
_PITCH = 0.62
"""From one oval of an arc to the next."""
_MOST_TURN = 1.1 * pi
"""An arc never turns further than this, so that it does not close on itself."""


def arc(start: Point, end: Point, outward: float, count: int) -> tuple[Oval, ...]:
    """`count` ovals from one place to another, in a bow away from the middle as high as their length needs."""
    chord = (end - start).size
    along = atan2(end.y - start.y, end.x - start.x)
    side = 1.0 if sin(along - outward) < 0 else -1.0
    turn = _turn(chord, count * _PITCH)
    if turn < 0.05:
        return tuple(Oval(start.toward(end, (each + 0.5) / count), along) for each in range(count))
    radius = chord / (2 * sin(turn / 2))
    middle = start.toward(end, 0.5) + unit(along + side * pi / 2) * (-radius * cos(turn / 2))
    ovals = []
    for each in range(count):
        share = (each + 0.5) / count - 0.5
        from_centre = along + side * pi / 2 - side * turn * share
        ovals.append(Oval(middle + unit(from_centre) * radius, from_centre - side * pi / 2))
    return tuple(ovals)


def _turn(chord: float, length: float) -> float:
    """The angle through which an arc of this length over this chord turns; 0 when the chord is long enough."""
    if chord <= 0 or length <= chord:
        return 0.0 if chord > 0 else _MOST_TURN
    low, high = 0.0, _MOST_TURN
    for _ in range(30):
        middle = (low + high) / 2
        if sin(middle / 2) / (middle / 2) > chord / length:
            low = middle
        else:
            high = middle
    return low


def column(foot: Point, top: Point, count: int) -> tuple[Oval, ...]:
    """`count` ovals one upon the other, from foot to top."""
    along = atan2(top.y - foot.y, top.x - foot.x)
    return tuple(Oval(foot.toward(top, (each + 0.5) / count), along) for each in range(count))


def loop(foot: Foot, count: int) -> tuple[Oval, ...]:
    """`count` ovals around a small loop that stands on a place, open at its foot."""
    radius = max(0.3, (count + 1) * 0.5 / tau)
    centre = foot.raised(radius)
    ovals = []
    for each in range(count):
        angle = foot.outward + pi - tau * (each + 1) / (count + 1)
        ovals.append(Oval(centre + unit(angle) * radius, angle + pi / 2))
    return tuple(ovals)


def oval_length(ovals: tuple[Oval, ...]) -> float:
    """How long each oval may be so that it does not run into the next, in stitch widths."""
    gaps = [(second.centre - first.centre).size for first, second in pairwise(ovals)]
    return min([OVAL_LENGTH, *(gap * 0.94 for gap in gaps)])
