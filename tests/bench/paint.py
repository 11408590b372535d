"""How long until something is painted, beside a bare Textual app with one label, in the same run; and beside one
that also commits a row with the settings of the journal before it shows the key, which is the least that ours can do.

    python tests/bench/paint.py [--keys 200] [--starts 10] [--json]

All run in a pseudo-terminal of 80 by 24. A start lasts from the launch to the last byte before the terminal is quiet;
a key from its sending to the last byte that it causes. Starts and keys take turns, so that a busy machine slows all.
Only the ratios mean something on another machine.
"""

from __future__ import annotations

import argparse
import fcntl
import json
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from statistics import fmean, median, quantiles

ROOT = Path(__file__).parents[2]

BARE = """
from textual.app import App
from textual.widgets import Label

class Bare(App):
    presses = 0
    def compose(self):
        yield Label("stitch 0")
    def on_key(self, event):
        if event.key == "q":
            self.exit()
        self.presses += 1
        self.query_one(Label).update(f"stitch {self.presses}")

Bare().run()
"""

KEEPING = """
import sqlite3
from pathlib import Path
from textual.app import App
from textual.widgets import Label
from tracker.journal.schema import to_write

class Keeping(App):
    presses = 0
    def compose(self):
        yield Label("stitch 0")
    def on_mount(self):
        self.kept = to_write(Path({path!r}))
        self.kept.execute("CREATE TABLE IF NOT EXISTS entry (number INTEGER PRIMARY KEY, body TEXT)")
    def on_key(self, event):
        self.presses += 1
        self.kept.execute("BEGIN IMMEDIATE")
        self.kept.execute("INSERT OR REPLACE INTO entry VALUES (?, ?)", (self.presses, "stitch"))
        self.kept.execute("COMMIT")
        self.query_one(Label).update(f"stitch {{self.presses}}")

Keeping().run()
"""

QUIET = 0.12
"""Seconds without a byte after which a paint is over; a frame is a sixtieth of a second."""

QUIET_START = 0.6
"""The same of a start: on a busy machine a program waits for longer than that between its first bytes, which set up
the terminal, and its first paint. A start that is taken for over then looks shorter than it is."""


class Painted:
    """A program in a pseudo-terminal, and the times of what it writes."""

    def __init__(self, command: Sequence[str], data: Path) -> None:
        self.began = time.perf_counter()
        main, side = pty.openpty()
        fcntl.ioctl(side, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        env = _environment(data)
        self.process = subprocess.Popen(
            command, stdin=side, stdout=side, stderr=side, env=env, cwd=ROOT, start_new_session=True
        )
        os.close(side)
        self._terminal = main

    def until_quiet(self, since: float, quiet: float = QUIET, patience: float = 10.0) -> tuple[float, int]:
        """Seconds from `since` to the last byte before it is `quiet` for so long, and how many bytes came."""
        last, count = since, 0
        while select.select([self._terminal], [], [], quiet if count else patience)[0]:
            got = os.read(self._terminal, 1 << 16)
            if not got:
                break
            last, count = time.perf_counter(), count + len(got)
        return last - since, count

    def press(self, key: bytes) -> tuple[float, int]:
        """The time to the last byte that a key causes, and the bytes."""
        sent = time.perf_counter()
        os.write(self._terminal, key)
        return self.until_quiet(sent)

    def idle(self, seconds: float) -> float:
        """Share of one processor used while nothing happens."""
        before = _used(self.process.pid)
        time.sleep(seconds)
        return (_used(self.process.pid) - before) / seconds

    def end(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        os.close(self._terminal)


def _environment(data: Path) -> dict[str, str]:
    """Ours and Textual compiled beforehand alike, as an installer does it."""
    given = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    compiled = str(data / "compiled")
    ours = {"ROUNDS_DATA": str(data), "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": compiled}
    return {**given, **ours, "TERM": "xterm-256color"}


def _used(pid: int) -> float:
    """Processor seconds of a process (Linux)."""
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def measure(starts: int, keys: int) -> dict[str, dict[str, float]]:
    """The figures of each program."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        ours = (sys.executable, "-m", "tracker", "work", "lighthouse")
        bare = (sys.executable, "-c", BARE)
        keeping = (sys.executable, "-c", KEEPING.format(path=str(data / "keeping.sqlite3")))
        plain = (sys.executable, "-m", "tracker", "work", "lighthouse", "--plain")
        env = _environment(data)
        begin = "ask never\n" + "round\n" * 4
        subprocess.run(plain, input=begin, text=True, env=env, cwd=ROOT, stdout=subprocess.DEVNULL, check=True)
        commands = {"bare": bare, "keeping": keeping, "ours": ours}
        begun: dict[str, list[float]] = {name: [] for name in commands}
        worked: dict[str, list[float]] = {name: [] for name in commands}
        for turn in range(starts + 1):
            for name, command in commands.items():
                program = Painted(command, data)
                seconds, _ = program.until_quiet(program.began, QUIET_START)
                spent = _used(program.process.pid)
                program.end()
                if turn:  # the first start compiles
                    begun[name].append(seconds)
                    worked[name].append(spent)
        programs = {name: Painted(command, data) for name, command in commands.items()}
        pressed, written, used, idle = _keys(programs, keys)
    return {
        name: _figures(begun[name], worked[name], pressed[name], written[name], used[name], idle[name])
        for name in commands
    }


def _keys(
    programs: Mapping[str, Painted], keys: int
) -> tuple[dict[str, list[float]], dict[str, list[int]], dict[str, float], dict[str, float]]:
    pressed: dict[str, list[float]] = {name: [] for name in programs}
    written: dict[str, list[int]] = {name: [] for name in programs}
    for program in programs.values():
        program.until_quiet(time.perf_counter(), QUIET_START)
    used = {name: _used(program.process.pid) for name, program in programs.items()}
    for _ in range(keys):
        for name, program in programs.items():
            seconds, count = program.press(b"s")
            pressed[name].append(seconds)
            written[name].append(count)
    used = {name: (_used(program.process.pid) - used[name]) / keys for name, program in programs.items()}
    idle = {name: program.idle(5.0) for name, program in programs.items()}
    for program in programs.values():
        program.end()
    return pressed, written, used, idle


def _figures(
    begun: list[float],
    worked: list[float],
    pressed: list[float],
    written: list[int],
    used: float,
    idle: float,
) -> dict[str, float]:
    hundredths = quantiles(pressed, n=100)
    return {
        "start to first paint, ms": median(begun) * 1000,
        "processor per start, ms": fmean(worked) * 1000,  # the system tells it in hundredths of a second
        "key to last byte, p50, ms": median(pressed) * 1000,
        "key to last byte, p99, ms": hundredths[98] * 1000,
        "processor per key, ms": used * 1000,
        "bytes per key": median(written),
        "idle processor, %": idle * 100,
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--keys", type=int, default=200)
    parser.add_argument("--starts", type=int, default=10)
    parser.add_argument("--json", action="store_true")
    told = parser.parse_args()
    found = measure(told.starts, told.keys)
    if told.json:
        print(json.dumps(found, indent=2))
        return
    print(f"{'':28}{'bare':>10}{'keeping':>10}{'ours':>10}{'/ bare':>8}{'/ keeping':>10}")
    for figure, ours in found["ours"].items():
        bare, keeping = found["bare"][figure], found["keeping"][figure]
        print(
            f"{figure:28}{bare:10.1f}{keeping:10.1f}{ours:10.1f}{ours / max(bare, 1e-9):8.2f}"
            f"{ours / max(keeping, 1e-9):10.2f}"
        )


if __name__ == "__main__":
    main()
