"""Yarns on paper: the letter that stands for one, and its colour if it has one."""

from __future__ import annotations

import string
from collections.abc import Iterable

from tracker.lazy_dataclass import dataclass
from tracker.normalize import clean
from tracker.pattern.model import Pattern

MOST_LETTERS = 4
"""A yarn key longer than this is cut where it stands in a picture."""


@dataclass(frozen=True, slots=True)
class Ink:
    """One yarn in a picture. `letter` is a single character of its own, `colour` "#rrggbb" or "" if it has none."""

    key: str
    letter: str
    name: str
    colour: str

    @property
    def label(self) -> str:
        """How the rounds call it, cut to fit."""
        return short(self.key, MOST_LETTERS)


def inks(pattern: Pattern, yarn_keys: Iterable[str]) -> dict[str, Ink]:
    """An ink for each yarn key in use, in order of first use; "" (no yarn named) gets none."""
    yarn_inks: dict[str, Ink] = {}
    for key in yarn_keys:
        if not key or key in yarn_inks:
            continue
        letter = _letter(key, {ink.letter for ink in yarn_inks.values()})
        colour = pattern.yarn_colour(key)
        yarn_inks[key] = Ink(key, letter, short(pattern.yarn_name(key), 60), colour)
    return yarn_inks


def _letter(key: str, letters: set[str]) -> str:
    """The first letter of the key that is still free, else any free one, else an asterisk."""
    own = [c.upper() for c in key if c.isalnum()]
    return next((c for c in [*own, *string.ascii_uppercase, *string.digits] if c not in letters), "*")


def mixed(colour: str, other: str, share: float) -> str:
    """`share` of the first colour in the second, both "#rrggbb"."""
    parts = zip(_parts(colour), _parts(other), strict=True)
    return "#" + "".join(f"{round(a * share + b * (1 - share)):02x}" for a, b in parts)


def lightness(colour: str) -> float:
    """How light a colour looks, 0 black to 1 white: relative luminance without the gamma of a screen.

    Weights of ITU-R Recommendation BT.709 (from memory).
    """
    red, green, blue = (part / 255 for part in _parts(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _parts(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def short(text: str, most: int) -> str:
    """Text from outside as one line of at most `most` characters."""
    line = " ".join(clean(text[: most * 8]).split())
    return line if len(line) <= most else line[: most - 1] + "…"
