"""The program in a process that is a copy of this one: its modules are read already, so that it starts in no time.

A kill at a random moment then falls into what the program does, and not into Python's start.
"""

from __future__ import annotations

import os
import resource
import select
import signal
import sys
import termios
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

import pexpect

from tracker.cli.main import main


class ForkedProgram:
    """A copy of this process that runs `rounds` with these words, with the calls of `pexpect.spawn` that are used."""

    def __init__(
        self, words: Sequence[str], env: Mapping[str, str], cwd: Path, mortal: bool = False, limit: int | None = None
    ) -> None:
        sys.stdout.flush()
        sys.stderr.flush()
        self.pid, self._terminal = os.forkpty()
        if self.pid == 0:
            _run(words, env, cwd, mortal or limit is not None, limit)
        self._ending: int | None = None

    def send(self, text: str) -> None:
        """Type it. What is typed to a program that has died is lost."""
        with suppress(OSError):
            os.write(self._terminal, text.encode())

    def read_nonblocking(self, size: int, timeout: float) -> bytes:
        """What it wrote by now; waits so many seconds for the first byte. Raises pexpect.EOF and pexpect.TIMEOUT."""
        if not select.select([self._terminal], [], [], timeout)[0]:
            raise pexpect.TIMEOUT("nothing was written")
        try:
            data = os.read(self._terminal, size)
        except OSError:  # what Linux says of a terminal that nobody has open any more
            data = b""
        if not data:
            raise pexpect.EOF("it ended")
        return data

    def isalive(self) -> bool:
        """Whether it has not come to its end."""
        if self._ending is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self._ending = None if pid == 0 else os.waitstatus_to_exitcode(status)
        return self._ending is None

    def kill(self, number: int) -> None:
        """Send it a signal."""
        os.kill(self.pid, number)

    def wait(self) -> int:
        """Its exit code, or below 0 the signal that ended it."""
        if self._ending is None:
            self._ending = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        return self._ending

    def close(self) -> None:
        """Kill it, if it lives, and let go of the terminal."""
        if self.isalive():
            self.kill(signal.SIGKILL)
            self.wait()
        self._let_go()

    def _let_go(self) -> None:
        """Close the terminal, once."""
        terminal, self._terminal = self._terminal, -1
        if terminal >= 0:
            os.close(terminal)

    def __del__(self) -> None:
        """Thousands of these are made in a run, and a process may have a thousand files open."""
        self._let_go()


def _run(words: Sequence[str], env: Mapping[str, str], cwd: Path, mortal: bool, limit: int | None) -> NoReturn:
    """In the copy: as the program finds itself when it is started in a terminal without echo."""
    code = 1
    try:
        mode = termios.tcgetattr(0)
        mode[3] &= ~termios.ECHO
        termios.tcsetattr(0, termios.TCSANOW, mode)
        os.chdir(cwd)
        os.environ.clear()
        os.environ.update(env)
        sys.stdin, sys.stdout = open(0, closefd=False), open(1, "w", buffering=1, closefd=False)  # noqa: SIM115
        sys.stderr = sys.stdout
        if mortal:  # Python would be told of the limit; this way a write is cut there, and nobody tidies up
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
            resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
        code = main(list(words))
        sys.stdout.flush()
    finally:
        os._exit(code)
