"""The palettes as Textual themes, for what Textual paints itself: backgrounds and the field to type into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from textual.theme import BUILTIN_THEMES, Theme

from tracker.screen.palette import Palette


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
