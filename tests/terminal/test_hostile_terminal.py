"""A pattern that would steer the terminal, worked on the real screen: everything in it is painted as text."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import tomli_w
from support.terminal_driver import Terminal

HARMFUL = (
    *("[bold]b[/bold]", "[@click=app.quit]x[/]", "[link=file:///etc]l[/]"),
    *("\x1b]0;pwned\x07", "\x1b[2J", "\x9b2J", "\x1b[6n", "\x1bP$q\x1b\\", "\u202egnp", "\u2066"),
)
ASKED = re.compile(rb"\x1b(?:\][0-9]+|P|_|\^|X|c|\[[0-9;]*[nc])")
"""What sets titles and links, asks the terminal for an answer, or resets it (ECMA-48, 5th edition, 8.3)."""


def pattern_with(word: str) -> str:
    rounds = "\n".join(f"Rnd {number}: sc around {word}" for number in range(3, 9))
    piece = {"name": f"Cap {word}", "rounds": f"Rnd 1: 6 sc in magic ring {word}\nRnd 2: inc x 6 (12)\n{rounds}"}
    yarn = {"R": {"name": f"red {word}", "colour": "#b23a2e"}}
    return tomli_w.dumps({"title": f"T {word}", "yarn": yarn, "piece": [piece], "making-up": [{"step": word}]})


def painted(folder: Path, text: str, watched: Callable[[Terminal], None] = lambda _: None) -> bytes:
    """Every byte that was written while pages and rounds were looked at."""
    (folder / "p.toml").write_text(text, "utf-8")
    written = io.BytesIO()
    with Terminal("work", str(folder / "p.toml"), data=folder / "data", columns=100, lines=30) as terminal:
        terminal.child.logfile_read = written
        terminal.wait_for("space begin")
        terminal.press("space")
        terminal.wait_for("next  Rnd 2", "q leave")
        terminal.press("r")
        terminal.wait_for("next  Rnd 3")
        terminal.press("p")
        terminal.wait_for("q back")
        terminal.press("escape")
        terminal.wait_for("q leave")
        watched(terminal)
        terminal.press("q")
        assert terminal.wait_for_end() == 0
    return written.getvalue()


def test_nothing_but_text_reaches_the_terminal(tmp_path: Path) -> None:
    """The harmful pattern makes the program write no sort of command that a harmless one does not."""
    for name in ("harmless", "harmful"):
        (tmp_path / name).mkdir()
    harmless = painted(tmp_path / "harmless", pattern_with("plain words"))
    harmful = painted(tmp_path / "harmful", pattern_with(" ".join(HARMFUL)))
    assert set(ASKED.findall(harmful)) <= set(ASKED.findall(harmless))
    assert b"pwned\x07" not in harmful
    assert not set(harmful.decode("utf-8")) & set("\x9b\u202e\u2066")


def test_markup_is_shown_as_it_is_written_and_a_click_on_it_does_nothing(tmp_path: Path) -> None:
    """The click goes to the place of the words, which are no button; the program goes on."""

    def click(terminal: Terminal) -> None:
        lines = terminal.text.split("\n")
        row, line = next((number, line) for number, line in enumerate(lines, 1) if "[@click=app.quit]x[/]" in line)
        column = line.index("[@click") + 3
        terminal.type(f"\x1b[<0;{column};{row}M\x1b[<0;{column};{row}m")
        terminal.press("s")
        terminal.wait_for("stitch 1 of")

    painted(tmp_path, pattern_with("[@click=app.quit]x[/] [bold]b[/bold]"), click)
