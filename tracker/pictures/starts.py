"""What the first round that is drawn goes into: a magic ring, a ring of chains, a chain, or stitches not drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, tau

from tracker.notation.ast import Into
from tracker.pattern.model import Start as Way
from tracker.pictures.drawn import Middle, Oval, Shape, Start
from tracker.pictures.frames import BREAK
from tracker.pictures.spans import OVAL_BREADTH
from tracker.pictures.tracks import Circle, Foot, Point, Stadium, Straight, Track
from tracker.pictures.unroll import Worked, chain_step, is_chain_alone
from tracker.rounds.plan import Act, Role

RING_RADIUS = 0.42
MOST_BASES = 400
"""Places under a first round that are drawn."""
MOST_RING = 60
"""Chains of a ring that are drawn."""
_FIRST_LEVEL = 1.04
"""How far from the chain the first round of an oval runs."""
_CLOSING = ("join ring", "join", "close")


@dataclass(frozen=True, slots=True)
class Beginning:
    """How a chart begins: its shape, what is in its middle and the track of that.

    `spent` of the acts are drawn with it; `spare` chains of a foundation stand up at the start of the first round.
    `left_out` tells what is not drawn of it, "" if nothing.
    """

    shape: Shape
    start: Start
    track: Track
    spent: int = 0
    spare: int = 0
    left_out: str = ""


def beginning(way: Way, acts: Sequence[Worked], before: int | None, *, broken: bool = False) -> Beginning:
    """What these acts of a first round stand on, where `before` bases are known to be there.

    `broken` leaves the same room at the end of a ring of bases as the round above them does.
    """
    first = [each.act for each in acts[:2]]
    chain = _foundation(first, before)
    closed = chain > 0 and len(first) > 1 and first[1].name in _CLOSING
    work = [each.act for each in acts if each.act.role is Role.WORK]
    takes = min(MOST_BASES, sum(each.act.takes for each in acts))
    into_ring = bool(work) and work[0].into is Into.RING
    if way is Way.ROWS and not into_ring:
        counted = sum(made.count for each in acts[1:2] for made in each.act.makes if made.counts_as)
        return _row(chain, takes, counted)
    if into_ring:
        return _ring(chain if closed else 0, 2 if closed else 0)
    if any(each.act.name == "other side" for each in acts) and takes > 3:
        return _oval(takes, chain, sum(each.act.stitches for each in acts))
    if closed and takes > 3:
        return _round(takes, Middle.CHAIN_RING, 2)
    if takes > 1:
        return _round(takes, Middle.BASES, 1 if chain > takes else 0, BREAK if broken else 0.0)
    return _ring(0, 1 if chain else 0)


def _foundation(first: Sequence[Act], before: int | None) -> int:
    """The length of the chain that everything is worked into; 0 if the work begins otherwise."""
    if not first:
        return 0
    if is_chain_alone(first[0]) and not before and not any(made.counts_as for made in first[0].makes):
        return first[0].makes[0].count
    return chain_step(first[0])


def _ring(chain: int, spent: int) -> Beginning:
    if not chain:
        return Beginning(Shape.ROUND, Start(Middle.RING, (), reach=RING_RADIUS), Circle(RING_RADIUS), spent)
    drawn = min(chain, MOST_RING)
    radius = max(RING_RADIUS, drawn * 0.62 / tau)
    ovals = _around(Circle(radius), drawn)
    start = Start(Middle.CHAIN_RING, (), ovals, radius + OVAL_BREADTH / 2)
    left_out = f"the ring has {chain:,} chains; {drawn} are drawn" if chain > drawn else ""
    return Beginning(Shape.ROUND, start, Circle(radius), spent, left_out=left_out)


def _round(count: int, middle: Middle, spent: int, spare: float = 0.0) -> Beginning:
    track = Circle(max(1.0, (count + spare) / tau))
    return Beginning(Shape.ROUND, _on(track, count, middle, spare), track, spent)


def _row(chain: int, count: int, counted: int) -> Beginning:
    count = max(count, 1)
    middle = Middle.CHAIN if chain else Middle.BASES
    track = Straight(count / 2, float(count), 0.0)
    spare = max(0, chain - count - counted)
    return Beginning(Shape.ROWS, _on(track, count, middle), track, 1 if chain else 0, spare)


def _on(track: Track, count: int, middle: Middle, spare: float = 0.0) -> Start:
    places = tuple(track.at((each + 0.5) * track.length / (count + spare)) for each in range(count))
    ovals = tuple(Oval(place.point, place.outward + pi / 2) for place in places)
    return Start(middle, places, ovals, track.level_of(track.at(0.0).point) + OVAL_BREADTH / 2)


def _around(track: Circle, count: int) -> tuple[Oval, ...]:
    feet = [track.at((each + 0.5) * track.length / count) for each in range(count)]
    return tuple(Oval(foot.point, foot.outward + pi / 2) for foot in feet)


def _oval(takes: int, length: int, stitches: int) -> Beginning:
    """Both sides of a chain: its last stitch is worked into once, the others from both sides.

    The chain is drawn as long as the stitches around it leave it room, so that they stand over it.
    """
    chain = takes // 2 + (1 if takes % 2 or length > takes // 2 + 1 else 0)
    pitch = (stitches + 1.3 - tau * _FIRST_LEVEL) / 2 / max(1, chain - 1)
    pitch = min(1.1, max(0.65, pitch))
    along = [((chain - 1) / 2 - each) * pitch for each in range(chain)]
    back = along[::-1] if takes == 2 * chain else along[-2::-1]
    places = [*(Foot(Point(x, 0.0), pi / 2) for x in along), *(Foot(Point(x, 0.0), -pi / 2) for x in back)]
    ovals = tuple(Oval(Point(x, 0.0), 0.0) for x in along)
    start = Start(Middle.CHAIN, tuple(places[:takes]), ovals, OVAL_BREADTH)
    track = Stadium((chain - 1) * pitch, 0.0)
    return Beginning(Shape.OVAL, start, track, 1 if length else 0, max(0, length - chain))
