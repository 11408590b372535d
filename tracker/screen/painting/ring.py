"""The round drawn as a ring that fills as the work goes.

It starts at the top and runs against the clock, as a right-handed maker sees it from the right side. Shape says what
colour cannot be trusted to say: what is done is thick, what is being worked now is thicker and reaches inwards, what
is ahead is a thin line; an increase is a tooth on the outside and a decrease a tooth on the inside.

Two pixels share a character, one above the other, which makes them square.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import atan2, hypot, pi

from tracker.screen.painting.lines import Bit, Line, Look
from tracker.screen.painting.sketch import Sketch, Sort, Stretch


@dataclass(frozen=True, slots=True)
class Progress:
    """Moves done, and the end of what the main key would do next."""

    done: int
    until: int


@dataclass(frozen=True, slots=True)
class Pixel:
    """One square of the drawing."""

    look: Look
    colour: str = ""


@dataclass(frozen=True, slots=True)
class _Polar:
    """A pixel's place: how far from the outer edge, in pixels, and which share of the round."""

    depth: float
    share: float


SMALLEST = 13
"""Lines below which a ring is a blot."""


def room_inside(lines: int) -> tuple[int, int]:
    """Columns and lines that are free in the middle of a ring of so many lines."""
    radius = lines - _MARGIN - _reach(lines) - 1
    across = int(radius * 2 * 0.86)
    return across, int(radius * 0.86)


def ring(a_sketch: Sketch, progress: Progress, lines: int, colours: dict[str, str], left: bool = False) -> list[Line]:
    """The ring as `lines` lines of twice as many columns. `colours` gives the yarns' colours by key."""
    grid = _grid(lines, left)
    side = 2 * lines
    pixels = [_pixel(place, a_sketch, progress, lines, colours) if place else None for place in grid]
    rows = [pixels[y * side : (y + 1) * side] for y in range(side)]
    return [_joined(upper, lower) for upper, lower in zip(rows[::2], rows[1::2], strict=True)]


_MARGIN = 1.0


@lru_cache(maxsize=8)
def _grid(lines: int, left: bool) -> tuple[_Polar | None, ...]:
    side = 2 * lines
    middle = (side - 1) / 2
    edge = side / 2
    places: list[_Polar | None] = []
    for y in range(side):
        for x in range(side):
            across, up = x - middle, middle - y
            depth = edge - hypot(across, up)
            if depth < 0:
                places.append(None)
                continue
            turned = atan2(across if left else -across, up) / (2 * pi)
            places.append(_Polar(depth, turned % 1.0))
    return tuple(places)


def _reach(lines: int) -> float:
    """How deep the part being worked reaches inwards, in pixels."""
    return max(5.0, lines * 0.34)


def _pixel(place: _Polar, a_sketch: Sketch, progress: Progress, lines: int, colours: dict[str, str]) -> Pixel | None:
    stretch = a_sketch.at(place.share)
    if stretch is None:
        return None
    look = _look(stretch, place.share * a_sketch.moves, progress)
    outer, inner = _depths(look, stretch.sort, _reach(lines))
    if not outer <= place.depth <= inner:
        return None
    return Pixel(look, colours.get(stretch.colour, ""))


def _look(stretch: Stretch, move: float, progress: Progress) -> Look:
    if move < progress.done:
        return Look.DONE
    return Look.NOW if move < progress.until else Look.AHEAD


def _depths(look: Look, sort: Sort, reach: float) -> tuple[float, float]:
    """Where the band begins and ends, counted inwards from the edge."""
    tooth = max(1.5, reach * 0.25)
    outer = _MARGIN + tooth
    inner = {Look.DONE: reach * 0.78, Look.NOW: reach}.get(look, outer + 1.2)
    if sort is Sort.MORE:
        outer -= tooth
    elif sort is Sort.FEWER:
        inner += tooth
    return outer, inner


def _joined(upper: list[Pixel | None], lower: list[Pixel | None]) -> Line:
    """Two rows of pixels as one line of characters, neighbours of one look together."""
    bits: list[Bit] = []
    for pair in zip(upper, lower, strict=True):
        bit = _character(*pair)
        if bits and (bits[-1].look, bits[-1].colour) == (bit.look, bit.colour):
            bits[-1] = Bit(bits[-1].text + bit.text, bit.look, bit.colour)
        else:
            bits.append(bit)
    return tuple(bits)


def _character(upper: Pixel | None, lower: Pixel | None) -> Bit:
    if upper is None and lower is None:
        return Bit(" ")
    if upper is None or lower is None:
        pixel = upper or lower
        assert pixel is not None
        return Bit("▀" if upper else "▄", pixel.look, pixel.colour)
    strongest = upper if _RANK[upper.look] >= _RANK[lower.look] else lower
    return Bit("█", strongest.look, strongest.colour)


_RANK = {Look.AHEAD: 0, Look.DONE: 1, Look.NOW: 2}
