"""Locks that die with the process that holds them: the system's own, on a file beside the journal.

A row in a table would still be there after the program was killed, and nobody could tell.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import IO


class Lock:
    """A lock on a file. It is given up when it is closed and when the process ends, however it ends."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file

    def share(self) -> None:
        """Let others in that ask for a shared lock."""
        _share(self._file)

    def close(self) -> None:
        """Give it up. The file stays: removing it would let two have the lock at once."""
        self._file.close()


def take(path: Path, *, shared: bool = False) -> Lock | None:
    """The lock on a file, made if it is not there; None if another has it. Raises OSError if the disk refuses."""
    path.parent.mkdir(parents=True, exist_ok=True)
    file = path.open("ab")
    try:
        if _taken(file, shared):
            return Lock(file)
    except OSError:
        file.close()
        raise
    file.close()
    return None


if sys.platform == "win32":
    import msvcrt

    def _taken(file: IO[bytes], shared: bool) -> bool:
        if shared:
            return True  # there a file in use cannot be replaced anyway, which is what the shared lock is for
        file.seek(0)
        try:
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _share(file: IO[bytes]) -> None:
        file.seek(0)
        msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _taken(file: IO[bytes], shared: bool) -> bool:
        try:
            fcntl.flock(file, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _share(file: IO[bytes]) -> None:
        fcntl.flock(file, fcntl.LOCK_SH)
