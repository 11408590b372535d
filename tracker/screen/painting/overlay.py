"""Lines laid over other lines."""

from __future__ import annotations

from functools import lru_cache

from tracker.screen.painting.lines import Line, fit, split, width_of


def overlaid(below: list[Line], above: list[Line], column: int, row: int) -> list[Line]:
    """`below` with `above` on it, its corner at a column and a row. What lies outside is left out."""
    result = list(below)
    for index, over in enumerate(above):
        if 0 <= row + index < len(result):
            result[row + index] = _laid(result[row + index], over, column)
    return result


@lru_cache(maxsize=64)
def _laid(under: Line, over: Line, column: int) -> Line:
    before, rest = split(fit(under, max(width_of(under), column)), column)
    _, after = split(rest, width_of(over))
    return (*fit(before, column), *over, *after)
