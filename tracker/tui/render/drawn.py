"""Lines of a picture in the looks of the screen."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.drawing.styled_text import Line as Drawn
from tracker.drawing.styled_text import Style, half_block
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


def drawn_line(a_line: Drawn, colours: Mapping[str, str], *, in_colour: bool = False) -> Line:
    """A line of a picture in the looks of the screen, the yarns in their colours; never an empty one.

    `in_colour` the cells of an outline are half blocks, lit as the piece is; else the letters of its yarns.
    """
    bits: list[Bit | str] = []
    done = 0
    for span in a_line.spans:
        bits.append(a_line.text[done : span.start])
        yarn = "" if span.style is Style.NUMBER else colours.get(span.colour, "")
        if in_colour and any(span.halves):
            block, ink, ground = half_block(span.halves)
            bits.append(Bit(block * (span.end - span.start), Look.HALVES, ink + ground))
            done = span.end
            continue
        bits.append(Bit(a_line.text[span.start : span.end], _LOOKS.get(span.style, Look.PLAIN), yarn))
        done = span.end
    return line(*bits, a_line.text[done:]) or line(" ")


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
