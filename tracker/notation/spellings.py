"""How several spellings of the trade's words are written down as one."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product


def spellings(written: str) -> Iterator[str]:
    """Every phrase of several, "cut the? yarn|bind/cast off": a stroke parts words of which one stands there, and one
    with a question mark behind it may be missing."""
    for phrase in filter(None, written.split("|")):
        ways = [f"{word[:-1]}/".split("/") if word[-1] == "?" else word.split("/") for word in phrase.split()]
        yield from (" ".join(filter(None, way)) for way in product(*ways))
