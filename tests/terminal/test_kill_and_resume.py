"""A person at a real terminal: the place survives a kill, and nothing but the screen is needed to find the keys."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from support.terminal_driver import ROOT, Terminal

from tracker.tui.work_screen import LEAST_HEIGHT, LEAST_WIDTH

ANSWER = re.compile(r"stitch \d+ of \d+[^\n]*")


def place(data: Path, name: str = "toadstool") -> dict[str, object]:
    done = subprocess.run(
        [sys.executable, "-m", "tracker", "place", name, "--json"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
        env={**os.environ, "ROUNDS_DATA": str(data)},
    )
    found: dict[str, object] = json.loads(done.stdout)
    return found


def where(terminal: Terminal) -> str:
    found = ANSWER.search(terminal.text)
    assert found, terminal.text
    return found[0].rstrip()


def test_what_was_shown_is_there_again_after_a_kill(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("space begin")
        terminal.press("space")
        terminal.wait_for("stitch 0 of 6")
        terminal.press("r", "r")
        terminal.wait_for("Rnd 3: (1 sc, inc) x 6 (18)", "count Rnd 2")
        terminal.press("space", "s")
        terminal.wait_for("stitch 4 of 18 · repeat 2 of 6")
        shown = where(terminal)
        terminal.kill()
    assert place(tmp_path)["stitch"] == 4
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("Rnd 3: (1 sc, inc) x 6 (18)", shown)
        assert where(terminal) == shown
        terminal.press("q")
        assert terminal.wait_for_end() == 0


@pytest.mark.parametrize("taps", [1, 5, 11])
def test_a_kill_right_after_a_tap_keeps_every_tap_that_was_shown(taps: int, tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("space begin")
        terminal.press("space")
        terminal.wait_for("stitch 0 of 6")
        terminal.press("r", *["s"] * taps)
        terminal.wait_for(f"stitch {taps} of 12")
        terminal.kill()
    assert (place(tmp_path)["round"], place(tmp_path)["stitch"]) == (2, taps)


def test_the_keys_of_pedals_and_presenters_and_the_mouse_advance(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("space begin")
        terminal.press("enter")
        terminal.wait_for("stitch 0 of 6")
        terminal.press("o")
        terminal.wait_for("would take 1 sc")
        terminal.press("down", "down", "down", "space")
        terminal.wait_for("space stitch")
        for made, key in enumerate(("pagedown", "enter", "click", "wheel", "space"), 1):
            terminal.press(key)
            terminal.wait_for(f"stitch {made} of 6")


def test_the_terminal_is_itself_again_after_leaving_and_after_a_signal(tmp_path: Path) -> None:
    for leave, code in (("q", 0), ("ctrl+c", 0), (signal.SIGTERM, 128 + 15), (signal.SIGHUP, 128 + 1)):
        with Terminal("work", "toadstool", data=tmp_path) as terminal:
            terminal.wait_for("Toadstool pincushion")
            terminal.press(leave) if isinstance(leave, str) else terminal.child.kill(leave)
            terminal.wait_until(
                lambda: terminal.has_sent(b"\x1b[?1049l") and terminal.has_sent(b"\x1b[?25h"), str(leave)
            )
            assert terminal.wait_for_end() == code


def test_without_colour_nothing_is_coloured_and_the_present_part_still_stands_out(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path, env={"NO_COLOR": "1"}) as terminal:
        terminal.wait_for("space begin")
        terminal.press("space")
        terminal.wait_for("6 sc in magic ring")
        cells = [cell for row in terminal.screen.buffer.values() for cell in row.values()]
        assert {(cell.fg, cell.bg) for cell in cells} == {("default", "default")}
        row = next(y for y, line in enumerate(terminal.screen.display) if "6 sc in magic ring" in line)
        marked = "".join(cell.data for _, cell in sorted(terminal.screen.buffer[row].items()) if cell.reverse)
        assert marked == "6 sc in magic ring"


def test_two_windows_and_the_second_looks_on(tmp_path: Path) -> None:
    with Terminal("work", "toadstool", data=tmp_path) as first:
        first.wait_for("space begin")
        first.press("space", "s")
        first.wait_for("stitch 1 of 6")
        with Terminal("work", "toadstool", data=tmp_path) as second:
            second.wait_for("stitch 1 of 6", "open in another window")
            second.press("s")
            second.wait_for("another window")
            first.press("s")
            second.wait_for("stitch 2 of 6")
    assert place(tmp_path)["stitch"] == 2


def test_resizing_while_working_loses_nothing(tmp_path: Path) -> None:
    """Also where the shell tells the size that it began with, and through a window that is too small to paint in."""
    with Terminal("work", "toadstool", data=tmp_path, env={"COLUMNS": "80", "LINES": "24"}) as terminal:
        terminal.wait_for("space begin")
        terminal.press("space", "r", "s")
        terminal.wait_for("stitch 1 of 12")
        least, too_small = (LEAST_WIDTH, LEAST_HEIGHT), (LEAST_WIDTH - 1, LEAST_HEIGHT - 1)
        shown = {least: "1/12", too_small: "too small"}
        for size in ((40, 20), (120, 40), least, too_small, (80, 24)):
            terminal.resize(*size)
            terminal.wait_for(shown.get(size, "stitch 1 of 12"))
        terminal.press("s")
        terminal.wait_for("stitch 2 of 12")


def test_everything_is_painted_anew_after_a_resize_to_the_same_size(tmp_path: Path) -> None:
    """A window drawn smaller and larger again may tell of it once, and has lost what stood there."""
    with Terminal("work", "toadstool", data=tmp_path) as terminal:
        terminal.wait_for("space begin")
        terminal.press("space", "r", "s")
        terminal.wait_for("stitch 1 of 12", "Toadstool pincushion", "q leave")
        terminal.wipe()
        terminal.wait_for("stitch 1 of 12", "Toadstool pincushion", "q leave")
        for columns, lines in ((40, 20), (120, 40), (80, 24)):
            terminal.resize(columns, lines)
        terminal.wait_for("stitch 1 of 12", "Toadstool pincushion", "q leave")


def test_the_program_ends_with_its_terminal_and_keeps_the_place(tmp_path: Path) -> None:
    """Without the signal for it as well, which only the child of a terminal gets; and it does not go on reading."""
    ours = [sys.executable, "-m", "tracker", "work", "toadstool"]
    main, side = os.openpty()
    env = {**os.environ, "TERM": "xterm-256color", "ROUNDS_DATA": str(tmp_path)}
    with subprocess.Popen(
        ours, stdin=side, stdout=side, stderr=side, cwd=ROOT, env=env, start_new_session=True
    ) as it:
        os.close(side)
        painted = b""
        while b"begin" not in painted:
            painted += os.read(main, 1 << 16)
        os.write(main, b" rss")
        while place(tmp_path).get("stitch") != 2:
            os.read(main, 1 << 16)
        os.close(main)
        assert it.wait(20) == 128 + 1
    assert (place(tmp_path)["round"], place(tmp_path)["stitch"]) == (2, 2)
