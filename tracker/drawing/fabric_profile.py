"""The line up the side of a piece as its fabric lies: bent from round to round, or blown out where it is filled.

Fabric bends easily and hardly stretches along the line from pole to pole, so that line keeps its length. Around, it
gathers but does not stretch: no round is wider than its stitches make it. Source: geometry; what a filling does is
taken to be what makes the volume largest, as with two sheets blown up (common practice of such models, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from math import atan2, ceil, cos, hypot, sin, sqrt

Line = tuple[tuple[float, float], ...]
"""How far from the axis and how high each round ends, the start first."""

CLOSED = 0.25
"""An end this much narrower than the widest round is sewn or drawn shut, and holds its filling."""
SEWN_ON = 0.55
"""An opening up to this share of the widest round is a neck; wider ones are the mouths of bags and bowls."""
_SAMPLES = 6
"""Places in a round at which its slope is looked up."""
_ROUNDS_BENT = 3.0
"""Fabric bends over so many rounds at most..."""
_SHARE_BENT = 0.06
"""...and over this share of the whole line, so that a small piece keeps its shape."""
_NODES = 40
"""Places along a filled piece that are moved outwards; more change the picture by less than a line's width."""
# Times that all places are moved: more change the picture by less than a line's width.
_SWEEPS = 50
_HALVINGS = 12
"""Thirds taken to find the best place: to about a hundredth of the room that it has."""
_MOST_BENT = 2000
"""Longer lines are left as they are."""


def bent(points: Line) -> Line:
    """The line without kinks: its slope changes evenly over a few rounds, and each round stays as long as it is."""
    lengths = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points)]
    whole = sum(lengths)
    if len(lengths) < 2 or len(lengths) > _MOST_BENT or not whole:
        return points
    steps = [(length / _SAMPLES, atan2(b[1] - a[1], b[0] - a[0])) for length, (a, b) in _with(points, lengths)]
    fine = [step for step in steps for _ in range(_SAMPLES)]
    longest = max(lengths)
    window = max(longest, min(_ROUNDS_BENT * longest, _SHARE_BENT * whole))
    slopes = _averaged(fine, window)
    radius, level = points[0]
    curve = [points[0]]
    for index, ((length, _), slope) in enumerate(zip(fine, slopes, strict=True), 1):
        radius, level = max(0.0, radius + length * cos(slope)), level + length * sin(slope)
        if index % _SAMPLES == 0:
            curve.append((radius, level))
    return tuple(curve)


def _with(points: Line, lengths: Sequence[float]) -> list[tuple[float, tuple[tuple[float, float], ...]]]:
    return list(zip(lengths, pairwise(points), strict=True))


def _averaged(steps: Sequence[tuple[float, float]], window: float) -> list[float]:
    """The mean slope around each step, over as much of the window as lies evenly on both sides of it."""
    ends = [0.0, *accumulate(length for length, _ in steps)]
    turned = [0.0, *accumulate(length * slope for length, slope in steps)]
    means = []
    for index, (_, slope) in enumerate(steps):
        middle = (ends[index] + ends[index + 1]) / 2
        half = min(window / 2, middle, ends[-1] - middle)
        low, high = _between(ends, turned, middle - half), _between(ends, turned, middle + half)
        means.append((high - low) / (2 * half) if half else slope)
    return means


def _between(ends: Sequence[float], values: Sequence[float], at: float) -> float:
    """The value at a place, straight between those beside it; `ends` rise."""
    low, high = 0, len(ends) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if ends[middle] <= at else (low, middle)
    width = ends[high] - ends[low]
    share = min(1.0, max(0.0, (at - ends[low]) / width)) if width else 0.0
    return values[low] + (values[high] - values[low]) * share


def is_closed(points: Line, *, stuffed: bool = False) -> bool:
    """Whether both ends are shut, so that a filling can blow the piece out.

    The last round of a `stuffed` piece may stay open further: it is sewn shut, or onto another piece.
    """
    widest = max((radius for radius, _ in points), default=0.0)
    open_end = SEWN_ON if stuffed else CLOSED
    # Three points are one cone: it has no middle that could bow out.
    return len(points) > 3 and points[0][0] <= CLOSED * widest and points[-1][0] <= open_end * widest


@lru_cache(maxsize=64)
def filled(points: Line) -> Line:
    """The line of a closed piece as it bows out when it is filled: the most volume that the fabric can hold."""
    ends = [0.0, *accumulate(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))]
    # As above.
    if not ends[-1] or len(points) < 4:
        return points
    radii = [radius for radius, _ in points]
    pitch = ends[-1] / _NODES
    most = [_between(ends, radii, pitch * node) for node in range(_NODES + 1)]
    blown = _largest(most, pitch)
    places = [pitch * node for node in range(_NODES + 1)]
    levels = list(accumulate((_rise(a, b, pitch) for a, b in pairwise(blown)), initial=points[0][1]))
    return tuple((_between(places, blown, end), _between(places, levels, end)) for end in ends)


def _rise(low: float, high: float, pitch: float) -> float:
    return sqrt(max(0.0, pitch**2 - (high - low) ** 2))


def _largest(most: Sequence[float], pitch: float) -> list[float]:
    """The radii, none above its `most`, around which a line of such steps holds the largest volume.

    Each place in turn goes where it makes the volume largest; places far apart first, so that it settles soon.
    """
    radii = list(most)
    stride = 8
    while stride:
        places = list(range(stride, len(most) - 1, stride))
        for _ in range(ceil(_SWEEPS / stride / 2) if stride > 1 else _SWEEPS):
            for place in places:
                _move(radii, most, place, stride, pitch)
        stride //= 2
    return radii


def _move(radii: list[float], most: Sequence[float], place: int, stride: int, pitch: float) -> None:
    """Puts one place, and those between it and its neighbours in line with it, where the volume is largest."""
    before, after = max(0, place - stride), min(len(radii) - 1, place + stride)
    down, up = (place - before) * pitch, (after - place) * pitch
    inside = (radii[before], radii[after])
    low = max(0.0, inside[0] - down, inside[1] - up)
    high = min(most[place], inside[0] + down, inside[1] + up)
    if high <= low:
        return
    for _ in range(_HALVINGS):
        one, other = low + (high - low) / 3, high - (high - low) / 3
        if _holds(one, inside, down, up) < _holds(other, inside, down, up):
            low = one
        else:
            high = other
    best = (low + high) / 2
    line = {
        step: inside[0] + (best - inside[0]) * (step - before) / (place - before)
        for step in range(before + 1, place + 1)
    }
    line |= {step: best + (inside[1] - best) * (step - place) / (after - place) for step in range(place + 1, after)}
    for step, radius in line.items():
        radii[step] = min(radius, most[step])


def _holds(radius: float, beside: tuple[float, float], down: float, up: float) -> float:
    """The volume of the two slices at a place, without the factor that they share."""
    low, high = beside
    first = (low * low + low * radius + radius * radius) * _rise(low, radius, down)
    return first + (high * high + high * radius + radius * radius) * _rise(radius, high, up)
