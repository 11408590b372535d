"""The pattern is the maker's: a page pasted, mended, worked and written out in a real terminal, and killed midway."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from support.printed_pages import PEBBLE
from support.terminal_driver import ROOT, Terminal

from tracker.pattern.loader import all_problems, load, loads
from tracker.pattern.text_import.draft_assembly import from_text
from tracker.pattern.toml_writer import as_toml


def run(data: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "ROUNDS_DATA": str(data)}
    command = [sys.executable, "-m", "tracker", *arguments]
    return subprocess.run(command, env=environment, cwd=ROOT, capture_output=True, text=True, timeout=60)


def pasted(terminal: Terminal) -> None:
    """The page is kept, and its first doubt is on the screen."""
    terminal.wait_for("just count")
    terminal.paste(PEBBLE)
    terminal.wait_for("keep and begin")
    terminal.press("enter")
    terminal.wait_for("mend Rnd 3 of Pebble", "x 6 (18)")


def test_a_page_is_pasted_mended_worked_to_its_end_and_written_out(tmp_path: Path) -> None:
    with Terminal(data=tmp_path) as terminal:
        pasted(terminal)
        terminal.press("1")
        terminal.wait_for("Rnd 5: how many stitches does it leave?")
        terminal.press("2", "4", "enter")
        terminal.wait_for("mend Rnd 8 of Pebble")
        terminal.press("1")
        terminal.wait_for("begin")
        terminal.press("space")
        terminal.wait_for("Rnd 1", "next")
        for _ in range(11):
            terminal.press("r")
        terminal.wait_for("write the next round")
        terminal.press("q")
        assert terminal.wait_for_end() == 0
    path = tmp_path / "patterns" / "pebble.toml"
    assert "(1 sc, inc) x 5 (18)" in path.read_text("utf-8"), "the page stays as it was printed"
    target = tmp_path / "pebble.txt"
    written = run(tmp_path, "write", str(path), "--text", "--no-pictures", "-o", str(target))
    assert written.returncode == 0, written.stderr
    text = target.read_text("utf-8")
    assert "(1 sc, inc) x 6" in text and "x 5" not in text
    again = loads(as_toml(from_text(text).draft))
    assert all_problems(again) == []
    assert [item.leaves for item in again.pieces[0].rounds] == [6, 12, 18, 24, 24, 24, 24, 18, 12, 6]
    printed = run(tmp_path, "write", str(path), "--text", "--no-pictures", "--as-printed")
    assert "(1 sc, inc) x 5 (18)" in printed.stdout


def test_what_was_mended_is_there_after_the_program_is_killed(tmp_path: Path) -> None:
    with Terminal(data=tmp_path) as terminal:
        pasted(terminal)
        terminal.press("1")
        terminal.wait_for("Rnd 5: how many stitches does it leave?")
        terminal.press("2", "4")
        terminal.wait_for("leave? 24")
        terminal.kill()
    with Terminal(data=tmp_path) as terminal:
        terminal.wait_for("under way", "Pebble")
        terminal.press("space")
        terminal.wait_for("begin")
        terminal.press("space", "i")
        terminal.wait_for("(1 sc, inc) x 6 (18)", "as printed", "Rnd 5: wander about")


def test_a_pattern_is_written_as_it_is_made_and_survives_a_kill(tmp_path: Path) -> None:
    with Terminal("new", data=tmp_path) as terminal:
        terminal.wait_for("what is it called?")
        terminal.type("Button")
        terminal.press("enter")
        terminal.wait_for("Rnd 1", "tab: a whole round")
        terminal.type("6 sc in magic ring")
        terminal.wait_for("leaves 6")
        terminal.press("enter")
        terminal.wait_for("of 6")
        terminal.press("r")
        terminal.wait_for("write the next round")
        terminal.press("space")
        terminal.wait_for("Rnd 2")
        terminal.type("inc x 6")
        terminal.wait_for("takes 6 of 6, leaves 12")
        terminal.press("enter")
        terminal.wait_for("of 12")
        terminal.kill()
    path = tmp_path / "patterns" / "button.toml"
    pattern = load(path)
    assert [item.text for item in pattern.pieces[0].rounds] == [
        "Rnd 1: 6 sc in magic ring (6)",
        "Rnd 2: inc x 6 (12)",
    ]
    assert run(tmp_path, "check", str(path)).returncode == 0
    with Terminal(data=tmp_path) as terminal:
        terminal.wait_for("Button  33%")
        terminal.press("space")
        terminal.wait_for("Rnd 2", "of 12")


def test_rounds_are_counted_two_keys_from_the_first_screen(tmp_path: Path) -> None:
    with Terminal(data=tmp_path) as terminal:
        terminal.wait_for("just count")
        terminal.press("c", "space")
        terminal.wait_for("Rnd 2", "as you like")
