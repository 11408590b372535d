"""The one widget that paints: it is given what is to be shown and tells which parts of its lines differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual.filter import ANSIToTruecolor
from textual.geometry import Region, Size
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widget import Widget

from tracker.tui.palette import LAMP, Palette, style
from tracker.tui.pen import CellPatch
from tracker.tui.render.styled_text import Bit, Line, Look, fit

Painter = Callable[[Any, int, int], list[Line]]
"""From what is to be shown, a width and a height to lines."""

Stylist = Callable[[Palette, Look, str], Style]


def still_size() -> Reactive[Size]:
    """The `virtual_size` of what never scrolls: once it is told its size, nothing has to be laid out again."""
    return Reactive(Size(0, 0), repaint=False)


class Panel(Widget):
    """A part of the screen. `paint` is a pure function; the panel keeps what it painted last."""

    virtual_size = still_size()

    DEFAULT_CSS = "Panel { width: 1fr; height: 1; }"

    def __init__(self, paint: Painter, id: str | None = None, stylist: Stylist = style) -> None:
        super().__init__(id=id)
        self._paint = paint
        self._stylist = stylist
        self._palette = LAMP
        self._shown: object | None = None
        self._painted_in = Size(0, 0)
        self._painted_lines: list[Line] = []
        """The lines as the painter gave them: one that is the same again needs no further look."""
        self._lines: list[Line] = []
        self._by_look: dict[tuple[Look, str], Style] = {}
        self._strips: dict[int, Strip] = {}
        """The lines as Textual takes them, by their rows, as far as it asked for them."""

    def show(self, subject: object, palette: Palette) -> None:
        """Paint this from now on; what differs is sent with the next frame of Textual."""
        self.send(self.take_on(subject, palette))

    def take_on(self, subject: object, palette: Palette) -> list[Region]:
        """Paint this from now on. The parts of lines that differ, which whoever asks has to send."""
        if palette is not self._palette:
            self._lines, self._by_look = [], {}
        self._shown, self._palette = subject, palette
        return self._repainted()

    def send(self, changed: Sequence[Region]) -> None:
        """Have these parts sent with the next frame of Textual."""
        if changed:
            self.refresh(*changed)

    def patches(self, changed: Sequence[Region]) -> Iterator[CellPatch]:
        """The same parts, to be put on the terminal at once."""
        left, top = self.region.offset if changed else (0, 0)
        for part in changed:
            bits = _between(self._lines[part.y], part.x, part.right, self._painted_in.width)
            yield CellPatch(left + part.x, top + part.y, [(bit.text, self._style(bit)) for bit in bits])

    def on_resize(self) -> None:
        if self._painted_in != self.size:
            self.send(self._repainted())

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines as they were painted: a panel has no border, no opacity and no links that would need more."""
        if self._painted_in != self.size:
            self._repainted()  # the first frame of a size is painted before the panel is told of it
        strips = [self._strip(y) for y in range(crop.y, min(crop.bottom, len(self._lines)))]
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
        key_name, column = "", 0
        for bit in self._lines[y] if y < len(self._lines) else ():
            if bit.look is Look.KEY:
                key_name = bit.text.strip()
            elif bit.look is not Look.PLAIN:
                key_name = ""
            column += cell_len(bit.text)
            if x < column:
                return key_name
        return ""

    def is_big_at(self, y: int) -> bool:
        """Whether big letters stand in this line."""
        line = self._lines[y] if y < len(self._lines) else ()
        text = "".join(bit.text for bit in line).strip()
        return bool(text) and not set(text) - set("█▀▄ ") and any(bit.look is Look.STRONG for bit in line)

    def _blank(self) -> Strip:
        return Strip.blank(self.size.width, self._stylist(self._palette, Look.PLAIN, ""))

    def _style(self, bit: Bit) -> Style:
        """Kept by what tells it apart: to ask for it by a whole palette takes longer than to paint with it."""
        look_style = self._by_look.get(bit[1:])
        if look_style is None:
            look_style = self._by_look[bit[1:]] = self._stylist(self._palette, bit.look, bit.colour)
        return look_style

    def _strip(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            parts = ((bit.text, self._style(bit)) for bit in self._lines[y])
            strip = self._strips[y] = Strip(_segments(parts), self._painted_in.width)
        return strip

    def _repainted(self) -> list[Region]:
        size = width, height = self.size
        if self._shown is None or not width or not height:
            self._painted_in = Size(0, 0)  # what it is shown meanwhile is painted when there is room again
            return []
        if self._painted_in != size:
            self._lines, self._painted_in = [], size
        painted_before, before = self._painted_lines, self._lines
        painted = self._paint(self._shown, width, height)[:height]
        self._painted_lines = [*painted, *[()] * (height - len(painted))]
        if not before:
            self._lines = [fit(a_line, width) for a_line in self._painted_lines]
            self._strips = {}
            return [Region(0, y, width, 1) for y in range(height)]
        self._lines, changed = list(before), []
        for y, new in enumerate(self._painted_lines):
            if new is not painted_before[y] and (fitted := fit(new, width)) != before[y]:
                self._lines[y] = fitted
                self._strips.pop(y, None)
                start, end = _changed_part(before[y], fitted, width)
                changed.append(Region(start, y, end - start, 1))
        return changed


def _segments(parts: Iterable[tuple[str, Style]]) -> list[Segment]:
    """The texts in their styles. Blanks take the style beside them: each change of style costs some thirty bytes."""
    styled_texts: list[tuple[str, Style]] = []
    for text, looks in parts:
        before, styled = styled_texts[-1] if styled_texts else ("", looks)
        if styled_texts and styled is looks:
            styled_texts[-1] = before + text, looks
        elif styled_texts and (before.isspace() or text.isspace()) and _is_alike_on_blanks(styled, looks):
            styled_texts[-1] = before + text, looks if before.isspace() else styled
        else:
            styled_texts.append((text, looks))
    return [Segment(text, looks) for text, looks in styled_texts]


def _is_alike_on_blanks(one: Style, other: Style) -> bool:
    """Whether blanks look the same in both styles: they are on the same paper, and not marked."""
    marked = one.reverse or one.underline or other.reverse or other.underline
    return not marked and one.bgcolor == other.bgcolor


def _changed_part(before: Line, after: Line, width: int) -> tuple[int, int]:
    """The columns of a line of this width that look otherwise than before: the first, and the one behind the last."""
    if not (_is_narrow(before, width) and _is_narrow(after, width)):
        return 0, width
    start = _alike(before, after)
    return start, width - min(_alike(before, after, backwards=True), width - start)


def _is_narrow(a_line: Line, width: int) -> bool:
    """Whether each character takes one cell, so that a line may be cut between any two. Not all terminals agree how
    wide others are, or draw them together with those beside them."""
    return sum([len(bit.text) for bit in a_line]) == width


def _alike(before: Line, after: Line, backwards: bool = False) -> int:
    """How many characters look the same, from the beginning of two lines or from their ends."""
    step = -1 if backwards else 1
    same = 0
    for old, new in zip(before[::step], after[::step], strict=False):
        if old != new:
            if old[1:] == new[1:]:
                same += _alike_texts(old.text[::step], new.text[::step])
            break
        same += len(new.text)
    return same


def _alike_texts(one: str, other: str) -> int:
    """How many characters two texts begin with alike."""
    most = min(len(one), len(other))
    return next((place for place in range(most) if one[place] != other[place]), most)


def _between(a_line: Line, start: int, end: int, width: int) -> Iterable[Bit]:
    """The bits of a line between two columns; one that is cut has narrow characters only."""
    if (start, end) == (0, width):
        yield from a_line
        return
    column = 0
    for bit in a_line:
        text = bit.text[max(0, start - column) : max(0, end - column)]
        if text:
            yield bit if len(text) == len(bit.text) else bit._replace(text=text)
        column += len(bit.text)
        if column >= end:
            break
