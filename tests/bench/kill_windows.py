"""The real program in a pseudo-terminal, by typed lines or on its screen, as one who kills it sees it."""

from __future__ import annotations

import os
import re
import signal
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Protocol

import pexpect
from bench.forked_program import ForkedProgram
from bench.tube import Place, Tap
from support.terminal_driver import ROOT, Terminal

PROGRAM = ("-m", "tracker")

DIES_AT_A_LIMIT = """
import resource, runpy, signal
signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
runpy.run_module("tracker", run_name="__main__")
"""
"""The same program with one signal put back to what it does outside Python: a write that crosses the size limit of a
file is cut there and ends the process, without a chance to tidy up. That is a death in the middle of a write."""

MORTAL = ("-c", DIES_AT_A_LIMIT)
FORKED = "forked"
"""Before the words of a program: not started anew, but as a copy of this process."""

SAID_WITHOUT_PLACE = ("Noted.", "You will be asked", "You will never be asked")
"""What is said to a tap that does not move."""

PATIENCE = 30.0
"""Seconds until something counts as not coming."""


class WrongPlace(AssertionError):
    """The program showed another place than the taps add up to, or none."""


class Gone(WrongPlace):
    """The program ended by itself."""


class Window(Protocol):
    """One start of the program."""

    @property
    def pid(self) -> int: ...

    def greeted(self) -> Place:
        """The place that is shown first. Raises `Gone`."""

    def send(self, taps: Sequence[Tap]) -> None: ...

    def shows(self, places: Sequence[Place]) -> int:
        """Wait for the answers to all taps sent, which should lead to these places; how many were answered so."""

    def shown(self, places: Sequence[Place]) -> int:
        """After the end: how many of these places had been shown."""

    def end(self) -> None: ...


class PlainWindow:
    """`rounds work PATTERN --plain` in a terminal: each tap is answered with whole lines."""

    def __init__(self, pattern: Path, data: Path, program: Sequence[str] = PROGRAM) -> None:
        words = ("work", str(pattern), "--plain")
        if program[0] == FORKED:
            self._child: pexpect.spawn | ForkedProgram = ForkedProgram(
                words, environment(data), ROOT, mortal=program[1:] == MORTAL
            )
        else:
            self._child = pexpect.spawn(
                sys.executable,
                [*program, *words],
                env=environment(data),
                cwd=str(ROOT),
                echo=False,
                timeout=PATIENCE,
            )
            self._child.delaybeforesend = None
        self._rest = b""
        self._told: list[Place | None] = []
        self.heard: list[str] = []
        """Every line so far."""

    @property
    def pid(self) -> int:
        return int(self._child.pid)

    def greeted(self) -> Place:
        self._hear_until(1)
        return _the(self._told.pop(0))

    def send(self, taps: Sequence[Tap]) -> None:
        self._child.send("".join(f"{tap.line}\n" for tap in taps))

    def shows(self, places: Sequence[Place]) -> int:
        with suppress(Gone):
            self._hear_until(len(places))
        return self._agreeing(places)

    def shown(self, places: Sequence[Place]) -> int:
        while self._hear(1.0):
            pass
        return self._agreeing(places)

    def end(self) -> None:
        _kill(self._child)

    def _agreeing(self, places: Sequence[Place]) -> int:
        """How many answers came; each is what it should be, or it is a wrong place."""
        told, self._told = self._told[: len(places)], self._told[len(places) :]
        for place, wanted in zip(told, places, strict=False):
            if place not in (None, wanted):
                raise WrongPlace(f"{place} was shown, it is {wanted}")
        return len(told)

    def _hear_until(self, answers: int) -> None:
        end = time.monotonic() + PATIENCE
        while len(self._told) < answers:
            if not self._hear(PATIENCE):
                raise Gone(f"it ended; the last lines were {self.heard[-3:]}")
            if time.monotonic() > end:
                raise WrongPlace(f"no answer came; the last lines were {self.heard[-3:]}")

    def _hear(self, patience: float) -> bool:
        """Take in what was said; False at the end."""
        try:
            self._rest += self._child.read_nonblocking(1 << 16, patience)
        except (pexpect.EOF, pexpect.TIMEOUT):
            return False
        *lines, self._rest = self._rest.split(b"\n")
        for raw in lines:
            line = raw.decode().strip()
            self.heard.append(line)
            found = re.search(r"Rnd (\d+), stitch (\d+) of", line)
            if found:
                self._told.append(Place(int(found[1]), int(found[2])))
            elif line.startswith(SAID_WITHOUT_PLACE):
                self._told.append(None)
        return True


class ScreenWindow:
    """`rounds work PATTERN` in a terminal of 80 by 24, read as a person reads it."""

    def __init__(self, pattern: Path, data: Path, program: Sequence[str] = PROGRAM) -> None:
        self._terminal = Terminal("work", str(pattern), data=data, program=tuple(program))

    @property
    def pid(self) -> int:
        return int(self._terminal.child.pid)

    def greeted(self) -> Place:
        self._wait_until(lambda: self._place() is not None)
        return _the(self._place())

    def send(self, taps: Sequence[Tap]) -> None:
        self._terminal.type("".join(tap.key for tap in taps))

    def shows(self, places: Sequence[Place]) -> int:
        try:
            self._wait_until(lambda: self._place() == places[-1])
        except Gone:
            return self.shown(places)
        return len(places)

    def shown(self, places: Sequence[Place]) -> int:
        """A picture that was cut off in its middle shows no place at all, and acknowledges nothing."""
        while self._terminal.read(0.05):
            pass
        place = self._place()
        return places.index(place) + 1 if place in places else 0

    def end(self) -> None:
        _kill(self._terminal.child)

    def _place(self) -> Place | None:
        text = self._terminal.text
        number, stitch = re.search(r"\bRnd (\d+)\b", text), re.search(r"\bstitch (\d+) of", text)
        return Place(int(number[1]), int(stitch[1])) if number and stitch else None

    def _wait_until(self, holds: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not holds():
            if not self._terminal.read(0.1) and not self._terminal.child.isalive():
                while self._terminal.read(0.05):
                    pass
                if holds():
                    return
                raise Gone(f"it ended; on the screen:\n{self._terminal.text}")
            if time.monotonic() > end:
                raise WrongPlace(f"the place that should be shown did not come:\n{self._terminal.text}")


def environment(data: Path) -> Mapping[str, str]:
    """Our own data folder, and nothing that changes what a terminal shows."""
    given = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLORTERM")}
    return {**given, "TERM": "xterm-256color", "ROUNDS_DATA": str(data), "PYTHONPATH": str(ROOT)}


def _the(place: Place | None) -> Place:
    assert place is not None
    return place


def _kill(child: pexpect.spawn | ForkedProgram) -> None:
    """With -9, if it is not dead already."""
    if child.isalive():
        child.kill(signal.SIGKILL)
        child.wait()
