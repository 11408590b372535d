"""What a command ends with, for programs that call it."""

from __future__ import annotations

from enum import IntEnum


class ExitCode(IntEnum):
    """How a command ended."""

    DONE = 0
    FINDINGS = 1
    """It was done, and there is something to look at."""
    REFUSED = 2
    """Something could not be read, written or understood; standard error says what and why."""
    FAULT = 70
    """The program itself is at fault (EX_SOFTWARE of sysexits.h)."""
    INTERRUPTED = 130
    """By ctrl-c: 128 and the number of the signal, as shells tell it."""
    UNHEARD = 141
    """Nobody reads its output any more, as in `rounds check x | head -1`: 128 and the number of SIGPIPE."""
