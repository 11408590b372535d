"""What a key puts on the terminal at once is what is there when all of it is painted anew. The outside check is pyte,
a terminal in a library."""

from __future__ import annotations

from pathlib import Path

import pyte
import pytest
from support.terminal_driver import Terminal

PATTERN = """title = "Boje"
[yarn.A]
name = "weiß 白い糸"
colour = "#f0e8d8"
[yarn.B]
name = "rot"
colour = "#a02818"
[[piece]]
name = "Körper 本体"
rounds = \"\"\"
Rnd 1: with A, 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: with B, (sc, inc) x 6 (18) (赤い)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: sc around (24)
\"\"\"
"""

KEYS = (
    *"ssrus",
    "space",
    *"srssrs",
    "right",
    "right",
    "left",
    "space",
    *"c1",
    "backspace",
    "7",
    "escape",
    *"n赤x",
    "enter",
)


@pytest.mark.parametrize(("columns", "lines"), [(80, 24), (50, 30), (36, 12)])
def test_what_a_key_paints_is_what_a_whole_paint_shows(columns: int, lines: int, tmp_path: Path) -> None:
    (tmp_path / "p.toml").write_text(PATTERN, "utf-8")
    with Terminal("work", str(tmp_path / "p.toml"), data=tmp_path / "data", columns=columns, lines=lines) as terminal:
        terminal.wait_for("begin")
        terminal.press("space")
        terminal.wait_for("stitch")
        for key in KEYS:
            before = terminal.written
            terminal.press(key)
            terminal.wait_until(lambda before=before: terminal.written > before, f"anything after {key}")
            while terminal.read(0.05):
                pass
            shown = cells(terminal.screen)
            terminal.wipe()
            terminal.wait_until(lambda shown=shown: cells(terminal.screen) == shown, f"the same after {key}")


def cells(screen: pyte.Screen) -> list[list[tuple[object, ...]]]:
    """Every cell; of a blank that is not marked, only what can be seen."""
    return [[_seen(screen.buffer[y][x]) for x in range(screen.columns)] for y in range(screen.lines)]


def _seen(cell: pyte.screens.Char) -> tuple[object, ...]:
    if cell.data == " " and not (cell.reverse or cell.underscore or cell.strikethrough):
        return (cell.bg,)
    return tuple(cell)
