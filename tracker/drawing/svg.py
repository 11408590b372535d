"""A sheet to draw on that becomes one self-contained SVG picture. Text is escaped here and nowhere else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import degrees

from tracker.drawing.geometry import Point
from tracker.drawing.strokes import Ellipse, Letter, Polyline, Stroke
from tracker.lazy_pattern import compile_later
from tracker.normalize import clean

FONT = "'DejaVu Sans', Verdana, Arial, sans-serif"
_NOT_XML = compile_later("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def safe(text: str) -> str:
    """Text from outside as it may stand in XML: no control characters, markup shown as text."""
    return escaped(_NOT_XML.sub("", clean(text)))


def escaped(text: str) -> str:
    """Text as it stands in XML. What the standard library has for it reads forty modules, the network's too."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _quoted(value: str) -> str:
    return escaped(value).replace('"', "&quot;")


def number(value: float) -> str:
    """A length with two decimals, written as short as it can be."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Paper:
    """Collects drawing in pixels, y pointing down. `unit` is how many pixels a stitch width has."""

    def __init__(self, unit: float) -> None:
        self.unit = unit
        self._parts: list[str] = []

    def group(self, **attributes: str) -> None:
        """Open a group; attribute names are written with _ for -."""
        text = "".join(f' {name.replace("_", "-")}="{_quoted(value)}"' for name, value in attributes.items())
        self._parts.append(f"<g{text}>")

    def end(self) -> None:
        """Close the last opened group."""
        self._parts.append("</g>")

    def raw(self, element: str) -> None:
        """An element without any text from outside."""
        self._parts.append(element)

    def at(self, point: Point) -> str:
        """A point of the chart as two numbers of the sheet."""
        return f"{number(point.x * self.unit)} {number(-point.y * self.unit)}"

    def text(
        self,
        words: str,
        x: float,
        y: float,
        size: float,
        *,
        bold: bool = False,
        anchor: str = "start",
        fill: str = "",
    ) -> None:
        """Words at a place in pixels."""
        more = ' font-weight="bold"' if bold else ""
        more += f' text-anchor="{anchor}"' if anchor != "start" else ""
        more += f' fill="{fill}"' if fill else ""
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}"{more}>{safe(words)}</text>'
        )

    def polygon(self, points: Iterable[Point], attributes: str) -> None:
        """A closed shape through points of the chart."""
        path = " L".join(self.at(point) for point in points)
        self._parts.append(f'<path d="M{path} Z" {attributes}/>')

    def polyline(self, points: Iterable[Point]) -> None:
        """An open line through points of the chart."""
        self._parts.append(f'<path d="M{" L".join(self.at(point) for point in points)}"/>')

    def stroke(self, stroke: Stroke) -> None:
        """One stroke of a symbol; its colour and weight come from the group."""
        if isinstance(stroke, Polyline):
            self._parts.append(self._line(stroke))
        elif isinstance(stroke, Ellipse):
            self._parts.append(self._ellipse(stroke))
        else:
            self._letter(stroke)

    def strokes(self, strokes: Sequence[Stroke]) -> None:
        """All of them; plain lines go into one path, to keep the file small."""
        lines = [stroke for stroke in strokes if isinstance(stroke, Polyline) and not stroke.fine]
        if lines:
            self._parts.append(f'<path d="{"".join(self._path(line) for line in lines)}"/>')
        for stroke in strokes:
            if not isinstance(stroke, Polyline) or stroke.fine:
                self.stroke(stroke)

    def _path(self, line: Polyline) -> str:
        # A curve has a start, a point that it bends towards, and an end.
        if line.curved and len(line.points) == 3:
            first, middle, last = (self.at(point) for point in line.points)
            return f"M{first} Q{middle} {last}"
        return "M" + " L".join(self.at(point) for point in line.points)

    def _line(self, line: Polyline) -> str:
        fine = ' stroke-width="0.7" opacity="0.6"' if line.fine else ""
        return f'<path d="{self._path(line)}"{fine}/>'

    def _ellipse(self, oval: Ellipse) -> str:
        x, y = self.at(oval.centre).split()
        turn = f' transform="rotate({number(-degrees(oval.along))} {x} {y})"' if oval.along else ""
        fill = ' fill="currentColor"' if oval.filled else ""
        rx, ry = number(oval.long / 2 * self.unit), number(oval.broad / 2 * self.unit)
        return f'<ellipse cx="{x}" cy="{y}" rx="{rx}" ry="{ry}"{turn}{fill}/>'

    def _letter(self, letter: Letter) -> None:
        x, y = letter.centre.x * self.unit, -letter.centre.y * self.unit
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y + 0.16 * self.unit)}" font-size="{number(0.45 * self.unit)}" '
            f'text-anchor="middle" fill="currentColor" stroke="none">{safe(letter.text)}</text>'
        )

    def document(self, left: float, top: float, width: float, height: float, title: str, description: str) -> str:
        """The whole picture: a window of this place and size, in pixels, on white."""
        box = " ".join(number(value) for value in (left, top, width, height))
        return "\n".join(
            [
                '<?xml version="1.0" encoding="UTF-8"?>',
                f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}" height="{number(height)}" '
                f'viewBox="{box}" role="img" font-family="{FONT}" color="#1d1a17" fill="#1d1a17">',
                f"<title>{safe(title)}</title>",
                f"<desc>{safe(description)}</desc>",
                f'<rect x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}" '
                'fill="#ffffff"/>',
                *self._parts,
                "</svg>\n",
            ]
        )
