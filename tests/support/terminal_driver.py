"""A person at a terminal: types into a real pseudo-terminal and reads what was painted there.

    with Terminal("work", "toadstool", data=folder) as terminal:
        terminal.wait_for("begin")
        terminal.press("space")

Nothing sleeps: whoever wants to read waits for what should appear, and gets the whole screen in the error if it
does not. A screen is painted in several writes, which a loaded machine hands over in pieces; so this terminal says
that it can update at once (private mode 2026, as DECRQM asks for it), and a frame shows when all of it is there.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from types import TracebackType

import pexpect
import pyte

ROOT = Path(__file__).parents[2]

KEYS: Mapping[str, bytes] = {
    "space": b" ",
    "enter": b"\r",
    "backspace": b"\x7f",
    "escape": b"\x1b",
    "up": b"\x1b[A",
    "down": b"\x1b[B",
    "right": b"\x1b[C",
    "left": b"\x1b[D",
    "pageup": b"\x1b[5~",
    "pagedown": b"\x1b[6~",
    "ctrl+c": b"\x03",
    "click": b"\x1b[<0;5;5M\x1b[<0;5;5m",
    "wheel": b"\x1b[<65;5;5M",
}
"""What a terminal sends for keys that have no character of their own, and for the mouse (SGR, as xterm sends it)."""

FRAME_QUERY = b"\x1b[?2026$p"
FRAME_ANSWER = b"\x1b[?2026;2$y"
"""Is the mode for updating at once there? It is, and not set (DECRQM and DECRPM, DEC STD 070, from memory)."""

FRAME_BEGINS, FRAME_ENDS = b"\x1b[?2026h", b"\x1b[?2026l"

PATIENCE = 20.0
"""Seconds to wait for something before it counts as not coming; a loaded machine is slow."""


class Terminal:
    """The command `rounds` in a terminal of `columns` by `lines`."""

    def __init__(
        self,
        *arguments: str,
        data: Path,
        columns: int = 80,
        lines: int = 24,
        env: Mapping[str, str] | None = None,
        program: tuple[str, ...] = ("-m", "tracker"),
    ) -> None:
        self.screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self.screen)
        self.written = 0
        """Bytes that the program wrote so far."""
        self._sent = b""
        self._unpainted = b""
        """The beginning of a frame that has not come to its end."""
        self.bells = 0
        """How often it rang."""
        given = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLORTERM")}
        given |= {"TERM": "xterm-256color", "ROUNDS_DATA": str(data), "PYTHONPATH": str(ROOT), **(env or {})}
        self.child = pexpect.spawn(
            sys.executable,
            [*program, *arguments],
            env=given,
            cwd=str(ROOT),
            dimensions=(lines, columns),
            timeout=PATIENCE,
            echo=False,
        )
        self.child.delaybeforesend = None

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.child.isalive():
            self.kill()
        self.child.close()

    @property
    def text(self) -> str:
        """What is on the screen, line by line."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    def type(self, text: str) -> None:
        """Type characters as they are."""
        self.child.send(text.encode())

    def press(self, *names: str) -> None:
        """Press keys by name; a name that is no key's is typed."""
        for name in names:
            self.child.send(KEYS.get(name, name.encode()))

    def paste(self, text: str) -> None:
        """Paste as a terminal does that brackets what is pasted."""
        self.child.send(b"\x1b[200~" + text.encode() + b"\x1b[201~")

    def wait_for(self, *texts: str) -> None:
        """Read until all the texts stand on the screen."""
        self.wait_until(lambda: all(text in self.text for text in texts), " and ".join(map(repr, texts)))

    def wait_until(self, holds: Callable[[], bool], what: str) -> None:
        """Read until something holds; fails with what is on the screen if it does not come to hold."""
        end = time.monotonic() + PATIENCE
        while not holds():
            if time.monotonic() > end:
                raise AssertionError(f"{what} did not appear; on the screen:\n{self.text}")
            self.read(0.1)

    def read(self, timeout: float = 0.0) -> bool:
        """Take in what was written; whether there was anything."""
        try:
            got = self.child.read_nonblocking(1 << 16, timeout)
        except pexpect.TIMEOUT:
            return False
        except pexpect.EOF:
            time.sleep(0.01)  # the end comes again at each read; whoever waits for something else gives up in time
            return False
        self.written += len(got)
        self._sent = (self._sent + got)[-(1 << 20) :]
        self.bells += got.count(b"\x07")
        if FRAME_QUERY in self._sent[-len(got) - len(FRAME_QUERY) + 1 :]:
            self.child.send(FRAME_ANSWER)
        self._paint(got)
        return True

    def _paint(self, got: bytes) -> None:
        """Show what came, but for a frame that is not all there, or the beginning of what may begin one."""
        written = self._unpainted + got
        begin = written.rfind(FRAME_BEGINS)
        if begin < 0 or FRAME_ENDS in written[begin:]:
            begin = written.rfind(b"\x1b", -len(FRAME_BEGINS) + 1)
            whole = begin if begin >= 0 and FRAME_BEGINS.startswith(written[begin:]) else len(written)
        else:
            whole = begin
        self._stream.feed(written[:whole])
        self._unpainted = written[whole:]

    def has_sent(self, sequence: bytes) -> bool:
        """Whether the program sent this, in its last megabyte."""
        return sequence in self._sent

    def resize(self, columns: int, lines: int) -> None:
        """Another size. What stood there is gone, so that only what is painted for the new one can be waited for."""
        self.screen.resize(lines, columns)
        self.screen.erase_in_display(2)
        self.child.setwinsize(lines, columns)

    def wipe(self) -> None:
        """Forget what is on the screen, and tell the program that the terminal changed, though its size did not."""
        self.screen.erase_in_display(2)
        self.child.kill(signal.SIGWINCH)

    def kill(self) -> None:
        """End it as a power cut would."""
        self.child.kill(signal.SIGKILL)
        self.child.wait()

    def wait_for_end(self) -> int:
        """Read to the end; the exit code, or the number of the signal as a negative one."""
        self.child.expect(pexpect.EOF)
        self.child.close()
        return -self.child.signalstatus if self.child.signalstatus else int(self.child.exitstatus or 0)
