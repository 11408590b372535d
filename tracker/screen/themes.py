"""The palettes as Textual themes, for what Textual paints itself: backgrounds and the field to type into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from textual.theme import Theme

from tracker.screen.palette import Palette


def themes(palettes: Iterable[Palette]) -> Iterator[Theme]:
    """A theme for each palette, of the same name."""
    return (_theme(palette) for palette in palettes)


def _theme(palette: Palette) -> Theme:
    own = not palette.paper
    return Theme(
        name=palette.name,
        dark=palette.dark,
        ansi=own,
        primary=palette.now or "ansi_default",
        warning=palette.warning or "ansi_default",
        error=palette.warning or "ansi_default",
        success=palette.good or "ansi_default",
        accent=palette.cue or "ansi_default",
        foreground=palette.ink or "ansi_default",
        background=palette.paper or "ansi_default",
        surface=palette.paper or "ansi_default",
        panel=palette.paper or "ansi_default",
        boost=palette.paper or "ansi_default",
    )
