"""Places of stitches on a ring of terminal cells, which are twice as high as they are wide."""

from __future__ import annotations

from functools import lru_cache
from math import cos, pi, sin, tau

CELL_HEIGHT = 2.0
"""How many times higher than wide a cell is: common practice, no source; most terminal fonts are close to it."""

Cell = tuple[int, int]
"""Column and row, counted from the upper left."""


@lru_cache(maxsize=256)
def around(count: int, columns: int, rows: int, seam: float = 1.0) -> tuple[Cell, ...] | None:
    """Cells for `count` stitches evenly on the largest ring in so many columns and rows.

    They begin at the right and run counter-clockwise, with room for `seam` stitches between the last and the first.
    None if two stitches would need the same cell.
    """
    radius = min((columns - 1) / 2 / CELL_HEIGHT, (rows - 1) / 2)
    if count < 1 or radius < 1 or count + seam > tau * radius * CELL_HEIGHT:
        return None
    cells = tuple(_cell((each + (1 + seam) / 2) / (count + seam), radius, columns, rows) for each in range(count))
    return cells if len(set(cells)) == count else None


def _cell(share: float, radius: float, columns: int, rows: int) -> Cell:
    angle = share * 2 * pi
    across = (columns - 1) / 2 + cos(angle) * radius * CELL_HEIGHT
    down = (rows - 1) / 2 - sin(angle) * radius
    return int(across + 0.5), int(down + 0.5)
