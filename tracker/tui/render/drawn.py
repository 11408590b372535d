"""Lines of a picture in the looks of the screen."""

from __future__ import annotations

from collections.abc import Mapping

from tracker.drawing.styled_text import Line as Drawn
from tracker.drawing.styled_text import Style
from tracker.pattern.model import Pattern
from tracker.tui.render.styled_text import Bit, Line, Look, line

_LOOKS = {
    Style.HEADING: Look.TITLE,
    Style.NUMBER: Look.STRONG,
    Style.QUIET: Look.FAINT,
    Style.AHEAD: Look.FAINT,
}


def drawn_line(a_line: Drawn, colours: Mapping[str, str]) -> Line:
    """A line of a picture in the looks of the screen, the yarns in their colours; never an empty one."""
    bits: list[Bit | str] = []
    done = 0
    for span in a_line.spans:
        bits.append(a_line.text[done : span.start])
        yarn = "" if span.style is Style.NUMBER else colours.get(span.colour, "")
        bits.append(Bit(a_line.text[span.start : span.end], _LOOKS.get(span.style, Look.PLAIN), yarn))
        done = span.end
    return line(*bits, a_line.text[done:]) or line(" ")


def whole_picture(pattern: Pattern, width: int, height: int, colours: Mapping[str, str]) -> list[Line]:
    """What is made, all pieces together; nothing if no piece has an outline."""
    from tracker.reports.pictures import ObjectPicture

    picture = ObjectPicture.of(pattern)
    if picture is None:
        return []
    return [drawn_line(each, colours) for each in picture.text(width, height)[:height]]
