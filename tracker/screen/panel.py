"""The one widget that paints: it is given a scene and writes only what differs from what is on the screen."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from itertools import repeat
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tracker.screen.painting.lines import Line, Look, filled
from tracker.screen.palette import LAMP, Palette, style

Painter = Callable[[Any, int, int], list[Line]]
"""From what is to be shown, a width and a height to lines."""

Stylist = Callable[[Palette, Look, str], Style]


class Panel(Widget):
    """A part of the screen. `paint` is a pure function; the panel keeps what it painted last."""

    DEFAULT_CSS = "Panel { width: 1fr; height: 1; }"

    def __init__(self, paint: Painter, id: str | None = None, stylist: Stylist = style) -> None:
        super().__init__(id=id)
        self._paint = paint
        self._stylist = stylist
        self._palette = LAMP
        self._shown: object | None = None
        self._lines: list[Line] = []
        self._strips: list[Strip] = []

    def show(self, what: object, palette: Palette) -> None:
        """Paint this from now on."""
        if palette is not self._palette:
            self._lines = []
        self._shown, self._palette = what, palette
        self._repaint()

    def on_resize(self) -> None:
        self._lines, self._strips = [], []
        self._repaint()

    def render_line(self, y: int) -> Strip:
        if y < len(self._strips):
            return self._strips[y]
        return Strip.blank(self.size.width, self._stylist(self._palette, Look.PLAIN, ""))

    def _repaint(self) -> None:
        width, height = self.size
        if self._shown is None or not width or not height:
            return
        fresh = filled(self._paint(self._shown, width, height), width, height)
        changed: list[Region] = []
        for y, a_line in enumerate(fresh):
            if y >= len(self._lines) or a_line != self._lines[y]:
                changed += self._replaced(y, a_line)
        self._lines = fresh
        if changed:
            self.refresh(*changed)

    def _replaced(self, y: int, a_line: Line) -> list[Region]:
        """Put a line in its place; the parts of it that look different now."""
        strip = Strip(Segment(bit.text, self._stylist(self._palette, bit.look, bit.colour)) for bit in a_line)
        if y >= len(self._strips):
            self._strips.append(Strip.blank(0))
        parts = _differing(self._strips[y], strip)
        # Cut where a change begins and ends: the terminal is sent whole segments.
        cuts = [cell for part in parts for cell in part]
        self._strips[y] = Strip.join(strip.divide([*cuts, strip.cell_length])) if cuts else strip
        return [Region(first, y, last - first, 1) for first, last in parts]


NEAR = 12
"""Cells between two changes that are sent along: moving the cursor and setting the style again costs as much."""


def _differing(before: Strip, after: Strip) -> list[tuple[int, int]]:
    """The stretches of cells that are not the same; all of them where the widths differ."""
    if before.cell_length != after.cell_length:
        return [(0, after.cell_length)]
    parts: list[tuple[int, int]] = []
    cells = zip(_cells(before), _cells(after), strict=False)
    for index in [index for index, (old, new) in enumerate(cells) if old != new]:
        first = parts.pop()[0] if parts and index - parts[-1][1] <= NEAR else index
        parts.append((first, index + 1))
    return parts


def _cells(strip: Strip) -> list[tuple[str, Style | None]]:
    """What stands in each cell; the second half of a wide character is empty."""
    cells: list[tuple[str, Style | None]] = []
    for text, looks, _ in strip:
        cells.extend(zip(text if text.isascii() else _spaced(text), repeat(looks)))
    return cells


@lru_cache(maxsize=512)
def _spaced(text: str) -> tuple[str, ...]:
    """The characters, with an empty one behind each that takes two cells."""
    spaced: list[str] = []
    for character in text:
        spaced += (character, "") if cell_len(character) == 2 else (character,)
    return tuple(spaced)
