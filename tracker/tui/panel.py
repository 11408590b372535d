"""The one widget that paints: it is given a scene and writes only what differs from what is on the screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.filter import ANSIToTruecolor
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from tracker.tui.palette import LAMP, Palette, style
from tracker.tui.render.styled_text import Line, Look, filled

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
        self._painted_in = Size(0, 0)
        self._lines: list[Line] = []
        self._strips: list[Strip] = []

    def show(self, what: object, palette: Palette) -> None:
        """Paint this from now on."""
        if palette is not self._palette:
            self._lines, self._strips = [], []
        self._shown, self._palette = what, palette
        self._repaint()

    def on_resize(self) -> None:
        self._repaint()

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they were painted: a panel has no border, no opacity and no links that would need more."""
        strips = self._strips[crop.y : crop.bottom]
        strips += [self._blank()] * (crop.height - len(strips))
        # A palette with a paper has true colours only, and there is nothing to make them out of.
        filters = [
            each
            for each in self.get_line_filters()
            if not self._palette.paper or not isinstance(each, ANSIToTruecolor)
        ]
        if filters:
            background = self.background_colors[1]
            for line_filter in filters:
                strips = [strip.apply_filter(line_filter, background) for strip in strips]
        is_whole = (crop.x, crop.width) == (0, self._painted_in.width)
        return strips if is_whole else [strip.crop(*crop.column_span) for strip in strips]

    def render_line(self, y: int) -> Strip:
        return self.render_lines(Region(0, y, self.size.width, 1))[0]

    def key_at(self, x: int, y: int) -> str:
        """The key that is named at this place, with the words behind it; "" if none is."""
        named, column = "", 0
        for bit in self._lines[y] if y < len(self._lines) else ():
            if bit.look is Look.KEY:
                named = bit.text.strip()
            elif bit.look is not Look.PLAIN:
                named = ""
            column += cell_len(bit.text)
            if x < column:
                return named
        return ""

    def is_big_at(self, y: int) -> bool:
        """Whether big letters stand in this line."""
        line = self._lines[y] if y < len(self._lines) else ()
        text = "".join(bit.text for bit in line).strip()
        return bool(text) and not set(text) - set("█▀▄ ") and any(bit.look is Look.STRONG for bit in line)

    def _blank(self) -> Strip:
        return Strip.blank(self.size.width, self._stylist(self._palette, Look.PLAIN, ""))

    def _repaint(self) -> None:
        size = width, height = self.size
        if self._shown is None or not width or not height:
            return
        if self._painted_in != size:
            self._lines, self._strips, self._painted_in = [], [], size
        fresh = filled(self._paint(self._shown, width, height), width, height)
        changed: list[Region] = []
        for y, a_line in enumerate(fresh):
            if y >= len(self._lines) or a_line != self._lines[y]:
                changed.append(self._replaced(y, a_line, width))
        self._lines = fresh
        if changed:
            self.refresh(*changed)

    def _replaced(self, y: int, a_line: Line, width: int) -> Region:
        """Put a line in its place; the part of it from its first cell to its last that is not as it was.

        That it begins with the line is no loss: Textual sends a line from its start to the last change in any case.
        """
        looks = (self._stylist(self._palette, bit.look, bit.colour) for bit in a_line)
        strip = Strip(_segments(zip((bit.text for bit in a_line), looks, strict=True)), width)
        if y == len(self._strips):
            self._strips.append(strip)
            return Region(0, y, width, 1)
        self._strips[y] = strip
        return Region(0, y, width - _same_at_end(self._lines[y], a_line), 1)


def _segments(parts: Iterable[tuple[str, Style]]) -> list[Segment]:
    """The texts in their styles. Blanks take the style beside them: each change of style costs some thirty bytes."""
    found: list[tuple[str, Style]] = []
    for text, looks in parts:
        before, styled = found[-1] if found else ("", looks)
        if found and styled is looks:
            found[-1] = before + text, looks
        elif found and (before.isspace() or text.isspace()) and _is_alike_on_blanks(styled, looks):
            found[-1] = before + text, looks if before.isspace() else styled
        else:
            found.append((text, looks))
    return [Segment(text, looks) for text, looks in found]


def _is_alike_on_blanks(one: Style, other: Style) -> bool:
    """Whether blanks look the same in both styles: they are on the same paper, and not marked."""
    marked = one.reverse or one.underline or other.reverse or other.underline
    return not marked and one.bgcolor == other.bgcolor


def _same_at_end(before: Line, after: Line) -> int:
    """How many cells at the end of two lines of one width look the same."""
    same = 0
    for old, new in zip(reversed(before), reversed(after), strict=False):
        if old == new:
            same += cell_len(new.text)
            continue
        if (old.look, old.colour) == (new.look, new.colour):
            same += cell_len(_common_end(old.text, new.text))
        break
    return same


def _common_end(one: str, other: str) -> str:
    """The longest text that both end with."""
    most = min(len(one), len(other))
    start = next((back - 1 for back in range(1, most + 1) if one[-back] != other[-back]), most)
    return other[len(other) - start :]
