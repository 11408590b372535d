"""What a command reads before it answers: the modules of the package, one by one, against a list.

A start is as long as what it has to read. A module that comes to be read by a command is seen here, and so is one
that is no longer needed. When the list is to follow a change that is meant:

    python tests/house/test_modules_read.py
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LIST = Path(__file__).with_name("modules_read.txt")
PATTERN = ROOT / "patterns" / "toadstool.toml"

COMMANDS = {
    "check": ["check", str(PATTERN)],
    "place": ["place", str(PATTERN)],
    "work --plain": ["work", str(PATTERN), "--plain"],
    "work": ["work", str(PATTERN)],
}
"""By the name that stands in the list. The screen is read as far as its first paint, in a terminal of no size."""

RUN_THEN_LIST = """
import runpy, sys
try:
    runpy.run_module("tracker", run_name="__main__", alter_sys=True)
except SystemExit as end:
    assert not end.code, end.code
print(*sorted(name for name in sys.modules if name.partition(".")[0] == "tracker"), file=sys.stderr)
"""

PAINT_THEN_LIST = """
import asyncio, sys
from pathlib import Path
from tracker.cli import main as command
from tracker.tui.app import RoundsApp

async def painted(app):
    async with app.run_test() as pilot:
        await pilot.pause()

RoundsApp.run = lambda self, *_, **__: asyncio.run(painted(self))
sys.stdin.isatty = sys.stdout.isatty = lambda: True
assert not command.main(sys.argv[1:])
print(*sorted(name for name in sys.modules if name.partition(".")[0] == "tracker"), file=sys.stderr)
"""


def modules_read(command: str, home: Path) -> list[str]:
    """The modules that a command has read when it ends, in a fresh interpreter with its data under `home`."""
    if command != "check":  # what is kept of a pattern is there at every start but the first
        _run(RUN_THEN_LIST, COMMANDS["work --plain"], home)
    return _run(PAINT_THEN_LIST if command == "work" else RUN_THEN_LIST, COMMANDS[command], home)


def _run(program: str, command: list[str], home: Path) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-c", program, *command],
        input="",
        capture_output=True,
        text=True,
        timeout=60,
        cwd=ROOT,
        env={
            **os.environ,
            **dict.fromkeys(("HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"), str(home)),
            "PYTHONPATH": str(ROOT),
        },
    )
    assert done.returncode == 0, done.stderr
    return done.stderr.splitlines()[-1].split()


def listed() -> dict[str, list[str]]:
    """The list: a command in brackets, and under it the modules that it may read."""
    found: dict[str, list[str]] = {}
    for row in LIST.read_text("utf-8").splitlines():
        if row.startswith("["):
            found[row.strip("[]")] = []
        elif row:
            found[list(found)[-1]].append(row)
    return found


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_reads_the_modules_that_are_listed_for_it(command: str, tmp_path: Path) -> None:
    assert modules_read(command, tmp_path) == listed()[command]


@pytest.mark.parametrize("command", ["place", "work"])
def test_a_pattern_that_is_kept_is_not_read_again(command: str) -> None:
    """If this fails, something in a pattern cannot be kept any more: see tests/pattern/test_kept_reading.py."""
    assert "tracker.pattern.loader" not in listed()[command]


def write_list() -> None:
    with tempfile.TemporaryDirectory() as home:
        parts = ["\n".join([f"[{command}]", *modules_read(command, Path(home))]) for command in COMMANDS]
    LIST.write_text("\n\n".join(parts) + "\n", "utf-8")


if __name__ == "__main__":
    write_list()
