"""Slices of fabric on an SVG sheet: the yarn's colour, light over it where it is made, pale where still to come."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from tracker.drawing.geometry import Point
from tracker.drawing.solid import Slice
from tracker.drawing.svg import Paper, number
from tracker.drawing.yarn_letters import Ink, lightness, mixed
from tracker.lazy_dataclass import dataclass, field

LINE = "#1d1a17"
QUIET = "#5b554d"
NO_YARN = "#cfc8be"
# Share of the yarn in the colour of what is still to come: seen, and not taken for made; by eye.
_PALE = 0.22
_STEPS = 40
"""Lights are told in steps of a fortieth, so that rounds which face alike share one."""


@dataclass(slots=True)
class Painter:
    """Paints slices on a sheet, and keeps the lights that they need, each once."""

    paper: Paper
    yarn_inks: Mapping[str, Ink]
    _lights: dict[tuple[float, ...], str] = field(default_factory=dict)

    def paint(self, slices: Iterable[Slice]) -> None:
        """All slices, each over those before it."""
        for each in slices:
            for index, shape in enumerate(each.shapes):
                self.paper.polygon(shape.points, self._fill(shape.colour, each.done, is_whole=index == 0))
            if each.done and (light := self._light(each.light)):
                self.paper.polygon(each.whole, light)

    def _fill(self, yarn: str, done: bool, *, is_whole: bool) -> str:
        ink = self.yarn_inks.get(yarn)
        colour = ink.colour if ink and ink.colour else NO_YARN
        if not done:
            dash = f' stroke="{QUIET}" stroke-width="0.5" stroke-dasharray="2 2"' if is_whole else ""
            return f'fill="{mixed(colour, "#ffffff", _PALE)}"{dash}'
        edge = mixed(LINE, colour, 0.45) if lightness(colour) > 0.12 else mixed("#ffffff", colour, 0.35)
        return f'fill="{colour}"' + (f' stroke="{edge}" stroke-width="0.6"' if is_whole else "")

    def _light(self, light: tuple[float, ...]) -> str:
        """What lies over a slice to shade it; "" where it has the yarn's own colour."""
        steps = tuple(round(each * _STEPS) / _STEPS for each in light)
        if all(each == 1 for each in steps):
            return ""
        if len(set(steps)) == 1:
            return f'fill="{_shade(steps[0])}" fill-opacity="{number(abs(1 - steps[0]))}"'
        if steps not in self._lights:
            # Its name tells what it is: of two pictures on one page each may take the light of the other.
            self._lights[steps] = "light-" + "-".join(f"{step * _STEPS:.0f}" for step in steps)
            self.paper.raw(_gradient(self._lights[steps], steps))
        return f'fill="url(#{self._lights[steps]})"'


def _shade(light: float) -> str:
    return "#000000" if light < 1 else "#ffffff"


def _gradient(name: str, steps: tuple[float, ...]) -> str:
    stops = "".join(
        f'<stop offset="{number(index / (len(steps) - 1))}" stop-color="{_shade(light)}" '
        f'stop-opacity="{number(abs(1 - light))}"/>'
        for index, light in enumerate(steps)
    )
    return f'<linearGradient id="{name}">{stops}</linearGradient>'


def box_of(slices: Iterable[Slice]) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of what is painted; all 0 where nothing is."""
    points: list[Point] = [point for each in slices for point in each.whole]
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    across, up = [point.x for point in points], [point.y for point in points]
    return min(across), min(up), max(across), max(up)
