"""The keys named at the foot of the screen, as many as there is room for."""

from __future__ import annotations

from functools import lru_cache

from tracker.screen.painting.lines import Bit, Line, Look, fit, width_of
from tracker.screen.painting.scene import Choice, Scene

_GAP = 2


def keyline(scene: Scene, width: int, height: int) -> list[Line]:
    """The keys in `height` lines, the most needed first."""
    return list(keys_in(scene.keys, width, height))


@lru_cache(maxsize=8)
def keys_in(keys: tuple[Choice, ...], width: int, height: int) -> tuple[Line, ...]:
    """Keys and their words packed into lines; those that do not fit are left out."""
    lines: list[list[Bit]] = [[] for _ in range(height)]
    used = [0] * height
    for choice in keys:
        named = (Bit(choice.key, Look.KEY), Bit(f" {choice.words}"))
        size = width_of(named)
        for index in range(height):
            gap = _GAP if used[index] else 0
            if used[index] + gap + size <= width:
                lines[index] += [Bit(" " * gap), *named] if gap else named
                used[index] += gap + size
                break
    return tuple(fit(tuple(bits), width) for bits in lines)
