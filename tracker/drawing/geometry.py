"""The lines that rounds and rows lie on: circles, ovals around a chain, straight rows.

Lengths are in stitch widths; y points up and angles are counter-clockwise, in radians. A distance along a track is
measured from where the work begins, in the direction in which a right-handed maker goes: counter-clockwise seen
from the right side, and from right to left in a row.
"""

from __future__ import annotations

from math import cos, hypot, pi, sin, tan, tau
from typing import Protocol

from tracker.lazy_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the paper, in stitch widths."""

    x: float
    y: float

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Point:
        return Point(self.x * factor, self.y * factor)

    @property
    def size(self) -> float:
        return hypot(self.x, self.y)

    def toward(self, other: Point, share: float) -> Point:
        """The place `share` of the way to `other`; 0 is here, 1 is there."""
        return Point(self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share)


def unit(angle: float) -> Point:
    """One stitch width in the direction of `angle`."""
    return Point(cos(angle), sin(angle))


@dataclass(frozen=True, slots=True)
class Foot:
    """A place on a track, and the direction that leads away from the middle of the work there."""

    point: Point
    outward: float

    def raised(self, height: float) -> Point:
        """The place `height` further out."""
        return self.point + unit(self.outward) * height


class Track(Protocol):
    """One closed line around the work, or one straight line; `radius` is its level, how far out or how high it is."""

    @property
    def radius(self) -> float: ...

    @property
    def length(self) -> float: ...

    @property
    def closed(self) -> bool: ...

    def at(self, distance: float) -> Foot:
        """The place at this distance from where the work begins."""
        ...

    def level(self, radius: float) -> Track:
        """The track of the same sort, begun at the same place, whose level is `radius`."""
        ...

    def level_of(self, point: Point) -> float:
        """The level of the track of this sort that goes through `point`."""
        ...

    def level_for(self, length: float) -> float:
        """The lowest level at which there is so much room; any where room does not depend on it."""
        ...


@dataclass(frozen=True, slots=True)
class Circle:
    """A round around one point. It begins at the right, turned by the angle `begin`."""

    radius: float
    begin: float = 0.0

    @property
    def length(self) -> float:
        return tau * self.radius

    @property
    def closed(self) -> bool:
        return True

    def at(self, distance: float) -> Foot:
        angle = self.begin + (distance / self.radius if self.radius else 0.0)
        return Foot(unit(angle) * self.radius, angle)

    def level(self, radius: float) -> Circle:
        return Circle(radius, self.begin)

    def level_of(self, point: Point) -> float:
        return point.size

    def level_for(self, length: float) -> float:
        return length / tau


@dataclass(frozen=True, slots=True)
class Stadium:
    """A round around a chain: two straight sides and two half circles.

    It begins `begin` radians above the middle of the right end.
    """

    straight: float
    radius: float
    begin: float = 0.0

    @property
    def length(self) -> float:
        return 2 * self.straight + tau * self.radius

    @property
    def closed(self) -> bool:
        return True

    def at(self, distance: float) -> Foot:
        half, arc = self.straight / 2, pi * self.radius
        along = (distance + self.begin * self.radius + arc / 2) % self.length
        if along < arc:
            return self._on_end(half, along / self.radius - pi / 2)
        along -= arc
        if along < self.straight:
            return Foot(Point(half - along, self.radius), pi / 2)
        along -= self.straight
        if along < arc:
            return self._on_end(-half, along / self.radius + pi / 2)
        return Foot(Point(along - arc - half, -self.radius), -pi / 2)

    def _on_end(self, centre: float, angle: float) -> Foot:
        return Foot(Point(centre, 0.0) + unit(angle) * self.radius, angle)

    def level(self, radius: float) -> Stadium:
        return Stadium(self.straight, radius, self.begin)

    def level_of(self, point: Point) -> float:
        return Point(max(0.0, abs(point.x) - self.straight / 2), point.y).size

    def level_for(self, length: float) -> float:
        return max(0.0, length - 2 * self.straight) / tau


_TURNS_BY = 0.7
"""So near to a corner, in stitch widths, a polygon already faces toward it."""


@dataclass(frozen=True, slots=True)
class Polygon:
    """A round with corners, standing on a side. `radius` is how far its sides are from the middle.

    It begins at the share `begin` of the way around, counted from the first corner above its right side's foot.
    """

    corners: int
    radius: float
    begin: float = 0.0

    @property
    def side(self) -> float:
        return 2 * self.radius * tan(pi / self.corners)

    @property
    def length(self) -> float:
        return self.corners * self.side

    @property
    def closed(self) -> bool:
        return True

    def corner_angle(self, corner: int) -> float:
        """The direction in which a corner is."""
        return -pi / 2 + pi / self.corners + tau * corner / self.corners

    def at(self, distance: float) -> Foot:
        share = (distance / self.length + self.begin) % 1.0 if self.length else 0.0
        corner, along = divmod(share * self.corners, 1.0)
        out = self.radius / cos(pi / self.corners)
        start, end = (unit(self.corner_angle(int(corner) + more)) * out for more in (0, 1))
        turned = pi / self.corners
        facing = self.corner_angle(int(corner)) + turned
        near = min(1.0, _TURNS_BY / self.side) / 2 if self.side else 0.5
        if along < near:
            facing -= turned * (1 - along / near)
        elif along > 1 - near:
            facing += turned * (1 - (1 - along) / near)
        return Foot(start.toward(end, along), facing)

    def level(self, radius: float) -> Polygon:
        return Polygon(self.corners, radius, self.begin)

    def level_of(self, point: Point) -> float:
        sides = (self.corner_angle(corner) + pi / self.corners for corner in range(self.corners))
        return max(point.x * cos(way) + point.y * sin(way) for way in sides)

    def level_for(self, length: float) -> float:
        return length / (2 * self.corners * tan(pi / self.corners))


@dataclass(frozen=True, slots=True)
class Straight:
    """A row at the height `radius`, from `right` to the left, `length` long."""

    right: float
    length: float
    radius: float

    @property
    def closed(self) -> bool:
        return False

    def at(self, distance: float) -> Foot:
        return Foot(Point(self.right - distance, self.radius), pi / 2)

    def level(self, radius: float) -> Straight:
        return Straight(self.right, self.length, radius)

    def level_of(self, point: Point) -> float:
        return point.y

    def level_for(self, length: float) -> float:
        return self.radius


def at_level(track: Track, distance: float, level: float) -> Foot:
    """The place over one on the track, at another level; with corners it keeps its share of the side."""
    if isinstance(track, Polygon) and track.length:
        other = track.level(level)
        return other.at(distance / track.length * other.length)
    foot = track.at(distance)
    return Foot(foot.raised(level - track.radius), foot.outward)
