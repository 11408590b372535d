"""Yarn colours on a screen: as the pattern gives them, moved only as far as needed to be seen at all."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from tracker.identity_cache import remembered
from tracker.pattern.model import Pattern

LEAST_CONTRAST = 3.0
"""For large shapes; source: WCAG 2.1, success criterion 1.4.11, non-text contrast."""

_STEPS = 20
"""From a colour to black or white: finer ones are not told apart on a screen (our own choice)."""

Rgb = tuple[float, float, float]


@remembered
def swatches(pattern: Pattern, background: str) -> Mapping[str, str]:
    """The colour to paint each yarn in, by its key; yarns whose colour nobody tells are left out."""
    return {key: legible(colour, background) for key, colour in _own_colours(pattern).items()}


def _own_colours(pattern: Pattern) -> dict[str, str]:
    colours = {yarn.key: pattern.yarn_colour(yarn.key) for yarn in pattern.yarns}
    return {key: colour for key, colour in colours.items() if colour}


@lru_cache(maxsize=256)
def legible(colour: str, background: str) -> str:
    """The colour, made lighter or darker until it stands out from the background."""
    own_colour, behind = _rgb(colour), _rgb(background)
    # Black and white contrast alike with this luminance (WCAG 2, contrast ratio).
    aim: Rgb = (1.0, 1.0, 1.0) if luminance(behind) < 0.18 else (0.0, 0.0, 0.0)
    for step in range(_STEPS + 1):
        mixed = _mix(own_colour, aim, step / _STEPS)
        if contrast(mixed, behind) >= LEAST_CONTRAST:
            return _written(mixed)
    return _written(aim)


@lru_cache(maxsize=256)
def ink_on(colour: str) -> str:
    """Black or white, whichever is read more easily on this colour."""
    behind = _rgb(colour)
    black, white = (0.0, 0.0, 0.0), (1.0, 1.0, 1.0)
    return _written(max((black, white), key=lambda ink: contrast(ink, behind)))


@remembered
def yarn_colours(pattern: Pattern) -> Mapping[str, str]:
    """Each yarn's own colour by its key, as the pattern gives it or its name tells."""
    return {key: _written(_rgb(colour)) for key, colour in _own_colours(pattern).items()}


def luminance(colour: Rgb) -> float:
    """Relative luminance, 0 to 1. Source: WCAG 2.1, definition of relative luminance (sRGB)."""
    red, green, blue = (_linear(part) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """Contrast ratio, 1 to 21. Source: WCAG 2.1, definition of contrast ratio."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _linear(part: float) -> float:
    # The curve of sRGB (IEC 61966-2-1).
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def _rgb(colour: str) -> Rgb:
    red, green, blue = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return red, green, blue


def _mix(one: Rgb, other: Rgb, share: float) -> Rgb:
    red, green, blue = (a + (b - a) * share for a, b in zip(one, other, strict=True))
    return red, green, blue


def _written(colour: Rgb) -> str:
    return "#" + "".join(f"{round(part * 255):02x}" for part in colour)
