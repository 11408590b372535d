"""Lines of a picture in the looks of the screen."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.drawing.styled_text import PictureBit, PictureLine, Style, half_block
from tracker.pattern.model import Pattern
from tracker.tui.render.styled_text import Bit, Line, Look, line

KEY_LINES = 7
"""Lines below a picture for its key, so that both are in sight at once where that is possible."""

_LOOKS = {
    Style.HEADING: Look.TITLE,
    Style.NUMBER: Look.STRONG,
    Style.QUIET: Look.FAINT,
    Style.AHEAD: Look.FAINT,
}


def drawn_line(a_line: PictureLine, colours: Mapping[str, str], *, in_colour: bool = False) -> Line:
    """A line of a picture in the looks of the screen, the yarns in their colours; never an empty one.

    `in_colour` the cells of an outline are half blocks, lit as the piece is; else the letters of its yarns.
    """
    return line(*(_drawn_bit(bit, colours, in_colour=in_colour) for bit in a_line.bits)) or line(" ")


def _drawn_bit(bit: PictureBit, colours: Mapping[str, str], *, in_colour: bool) -> Bit:
    if in_colour and any(bit.halves):
        block, ink, ground = half_block(bit.halves)
        return Bit(block * len(bit.text), Look.HALVES, ink + ground)
    yarn = "" if bit.style is Style.NUMBER else colours.get(bit.colour, "")
    return Bit(bit.text, _LOOKS.get(bit.style, Look.PLAIN), yarn)


def whole_picture(
    pattern: Pattern, width: int, height: int, colours: Mapping[str, str], *, in_colour: bool = False
) -> list[Line]:
    """What is made, all pieces together; nothing if no piece has an outline."""
    from tracker.reports.pictures import ObjectPicture

    picture = ObjectPicture.of(pattern)
    if picture is None:
        return []
    room = max(4, height - KEY_LINES)
    return [drawn_line(each, colours, in_colour=in_colour) for each in picture.text(width, room)[:height]]
