"""Strokes as points on paper, to look for symbols that run into each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from math import ceil, cos, pi, sin

from tracker.drawing.chart_model import Mark
from tracker.drawing.geometry import Point
from tracker.drawing.strokes import Ellipse, Letter, Polyline, strokes_of

STEP = 0.04


def points(mark: Mark) -> Iterator[Point]:
    for stroke in strokes_of(mark):
        if isinstance(stroke, Polyline):
            yield from _line(stroke)
        elif isinstance(stroke, Ellipse):
            yield from _around(stroke)
        else:
            assert isinstance(stroke, Letter)


def _line(line: Polyline) -> Iterator[Point]:
    if line.curved and len(line.points) == 3:
        first, middle, last = line.points
        for step in range(21):
            share = step / 20
            yield first.toward(middle, share).toward(middle.toward(last, share), share)
        return
    for start, end in zip(line.points, line.points[1:], strict=False):
        steps = max(1, ceil((end - start).size / STEP))
        yield from (start.toward(end, step / steps) for step in range(steps + 1))


def _around(oval: Ellipse) -> Iterator[Point]:
    for step in range(24):
        a, b = oval.long / 2 * cos(step * pi / 12), oval.broad / 2 * sin(step * pi / 12)
        along, across = cos(oval.along), sin(oval.along)
        yield Point(oval.centre.x + a * along - b * across, oval.centre.y + a * across + b * along)


def collisions(marks: list[Mark], clear: float = 0.05, near_foot: float = 0.5) -> list[tuple[int, int, Point]]:
    """Pairs of marks whose ink comes closer than `clear`, except close to a foot, where fans meet and stand."""
    cells: dict[tuple[int, int], list[tuple[int, Point]]] = defaultdict(list)
    found = {}
    for index, mark in enumerate(marks):
        for point in points(mark):
            if any((point - foot).size < near_foot for foot in mark.feet):
                continue
            cell = round(point.x / clear / 2), round(point.y / clear / 2)
            for x in (-1, 0, 1):
                for y in (-1, 0, 1):
                    for other, there in cells.get((cell[0] + x, cell[1] + y), ()):
                        if other != index and (point - there).size < clear:
                            found[other, index] = point
            cells[cell].append((index, point))
    return [(*pair, point) for pair, point in found.items()]
