"""The one widget that paints: it is given a scene and writes only what differs from what is on the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import zip_longest
from typing import Any

from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tracker.screen.painting.lines import Line, Look
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
        self._strips: list[Strip] = []

    def show(self, what: object, palette: Palette) -> None:
        """Paint this from now on."""
        self._shown, self._palette = what, palette
        self._repaint()

    def on_resize(self) -> None:
        self._repaint()

    def render_line(self, y: int) -> Strip:
        if y < len(self._strips):
            return self._strips[y]
        return Strip.blank(self.size.width, self._stylist(self._palette, Look.PLAIN, ""))

    def _repaint(self) -> None:
        width, height = self.size
        if self._shown is None or not width or not height:
            return
        strips = [self._strip(a_line) for a_line in self._paint(self._shown, width, height)]
        changed = list(_changed(self._strips, strips, width))
        self._strips = strips
        if changed:
            self.refresh(*changed)

    def _strip(self, a_line: Line) -> Strip:
        return Strip(Segment(bit.text, self._stylist(self._palette, bit.look, bit.colour)) for bit in a_line)


def _changed(before: list[Strip], after: list[Strip], width: int) -> Iterator[Region]:
    """Where the lines differ: for each line the cells from the first to the last that changed."""
    for y, (old, new) in enumerate(zip_longest(before, after)):
        if old is None or new is None:
            yield Region(0, y, width, 1)
            continue
        if old == new:
            continue
        cells = [(i, i + 1) for i, pair in enumerate(zip_longest(_cells(old), _cells(new))) if pair[0] != pair[1]]
        if cells:
            yield Region(cells[0][0], y, max(1, cells[-1][1] - cells[0][0]), 1)


def _cells(strip: Strip) -> Iterator[tuple[str, Style | None]]:
    """What stands in each cell; the second half of a wide character is ""."""
    for segment in strip:
        if segment.cell_length == len(segment.text):
            yield from ((character, segment.style) for character in segment.text)
        else:
            for part, _ in Segment(segment.text).split_cells(0)[1:] and [(segment.text, None)]:
                yield (part, segment.style)
