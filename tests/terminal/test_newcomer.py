"""A first-time maker who reads nothing but the README's command and the screen, and presses only what it names."""

from __future__ import annotations

import re
from pathlib import Path

from support.terminal_driver import KEYS, Terminal

README = Path(__file__).parents[2] / "README.md"


def press_named(terminal: Terminal, word: str) -> None:
    """Press the key that the screen names for this word: "space begin", "r round"."""
    named = re.compile(rf"(?:^|\s)(\S+) {re.escape(word)}(?=\s|$)", re.MULTILINE)
    terminal.wait_until(lambda: named.search(terminal.text) is not None, f"a key for {word!r}")
    found = named.search(terminal.text)
    assert found is not None
    assert found[1] in KEYS or len(found[1]) == 1, f"{found[1]!r} is no key that a newcomer knows"
    terminal.press(found[1])


def test_from_the_command_of_the_readme_to_the_first_counted_round(tmp_path: Path) -> None:
    """Six stitches tapped one by one, and counted, because the screen says with which key."""
    command = re.search(r"/bin/rounds work (\S+)$", README.read_text("utf-8"), re.MULTILINE)
    assert command is not None
    with Terminal("work", command[1], data=tmp_path) as terminal:
        press_named(terminal, "begin")
        terminal.wait_for("stitch 0 of")
        found = re.search(r"stitch 0 of (\d+)", terminal.text)
        assert found is not None
        for _ in range(int(found[1])):
            press_named(terminal, "stitch")
        press_named(terminal, "count")
        terminal.type(found[1])
        terminal.press("enter")
        terminal.wait_for(f"Rnd 1: {found[1]}, as it should be")
