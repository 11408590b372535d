"""How each look is painted: for dark rooms, daylight, weak eyes, and terminals with colours of their own.

Every look that matters has an attribute (bold, reverse, underline) besides its colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

from rich.color import Color
from rich.style import Style
from textual.theme import BUILTIN_THEMES, Theme

from tracker.lazy_dataclass import dataclass
from tracker.tui.render.styled_text import Look
from tracker.tui.render.yarn_colours import ink_on


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one palette, "#rrggbb", or "" for the terminal's own."""

    name: str
    description: str
    """What it is for, in a few words."""
    dark: bool
    paper: str
    ink: str
    faint: str
    done: str
    now: str
    cue: str
    warning: str
    good: str


LAMP = Palette(
    "lamp", "dark, for the evening", True,
    "#17140f", "#efe6d5", "#a2967f", "#a2967f", "#ffd479", "#ffd479", "#ff8f7a", "#a9cf8b",
)  # fmt: skip
DAYLIGHT = Palette(
    "daylight", "light, for a bright room", False,
    "#faf6ec", "#2a2620", "#6d6557", "#6d6557", "#7a4b00", "#7a4b00", "#a3200d", "#2f6b1f",
)  # fmt: skip
CONTRAST = Palette(
    "contrast", "black and white, as strong as it goes", True,
    "#000000", "#ffffff", "#ffffff", "#ffffff", "#ffff00", "#ffff00", "#ffff00", "#ffffff",
)  # fmt: skip
TERMINAL = Palette("terminal", "the terminal's own colours", True, "", "", "", "", "", "", "", "")

PALETTES = {palette.name: palette for palette in (LAMP, DAYLIGHT, CONTRAST, TERMINAL)}


@lru_cache(maxsize=256)
def style(palette: Palette, look: Look, colour: str = "") -> Style:
    """The look in a palette; a yarn's colour comes before the look's own, but never before a signal."""
    if look is Look.FILLED:
        return _filled(palette, colour)
    if look is Look.HALVES:
        ink, ground = colour[:7], colour[7:]
        return Style(color=ink, bgcolor=ground or palette.paper or None)
    painted = _style(palette, look)
    if colour and palette.paper and not painted.reverse:
        painted += Style(color=Color.parse(colour))
    return painted


def _filled(palette: Palette, colour: str) -> Style:
    """Letters on the yarn's own colour; where there is none, on what stands out."""
    if not colour or not palette.paper:
        return _style(palette, Look.CUE)
    return Style(color=ink_on(colour), bgcolor=colour, bold=True)


@lru_cache(maxsize=256)
def drawn(palette: Palette, look: Look, colour: str = "") -> Style:
    """The look of something that is drawn and not written: filled shapes need no reverse, what is done stands out."""
    if look is Look.NOW:
        return _made(palette, palette.now, bold=True)
    if colour and palette.paper:
        return style(palette, look, colour)
    if look is Look.AHEAD:
        return style(palette, Look.FAINT)
    return style(palette, Look.PLAIN if look is Look.DONE else look)


def _style(palette: Palette, look: Look) -> Style:
    own = not palette.faint
    match look:
        case Look.STRONG | Look.TITLE:
            return _made(palette, palette.ink, bold=True)
        case Look.FAINT:
            return _made(palette, palette.faint, dim=own)
        case Look.DONE:
            return _made(palette, palette.done, dim=own)
        case Look.NOW:
            return _made(palette, palette.now, bold=True, reverse=True)
        case Look.CUE:
            return _made(palette, palette.cue, bold=True, reverse=True)
        case Look.WARNING:
            return _made(palette, palette.warning, bold=True, reverse=True)
        case Look.GOOD:
            return _made(palette, palette.good, bold=True)
        case Look.KEY:
            return _made(palette, palette.now, bold=True, underline=True)
        case _:
            return _made(palette, palette.ink)


def _made(
    palette: Palette,
    colour: str,
    bold: bool = False,
    dim: bool = False,
    reverse: bool = False,
    underline: bool = False,
) -> Style:
    return Style(
        color=colour or "default",
        bgcolor=palette.paper or "default",
        bold=bold,
        dim=dim,
        reverse=reverse,
        underline=underline,
    )


# The palettes as Textual themes, for what Textual paints itself: backgrounds and the field to type into.


def themes(palettes: Iterable[Palette]) -> Iterator[Theme]:
    """A theme for each palette, of the same name."""
    return (_theme(palette) for palette in palettes)


def _theme(palette: Palette) -> Theme:
    if not palette.paper:
        return replace(BUILTIN_THEMES["ansi-dark"], name=palette.name)
    return Theme(
        name=palette.name,
        dark=palette.dark,
        primary=palette.now,
        warning=palette.warning,
        error=palette.warning,
        success=palette.good,
        accent=palette.cue,
        foreground=palette.ink,
        background=palette.paper,
        surface=palette.paper,
        panel=palette.paper,
        boost=palette.paper,
    )
