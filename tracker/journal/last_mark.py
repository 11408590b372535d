"""The number of the last entry of a project, kept apart from the journal, so that no one damage takes both.

A write-ahead log that was cut, emptied or removed after the program was killed leaves a sound but older journal, and
nothing in it tells so. The mark is not forced onto the disk, because that would cost each tap a second wait: after a
power cut it may be older than the journal, which is never told as a loss. It is kept twice, so that damage to the
log and to one mark is told as well.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import IO

from tracker.journal.records import seal

WIDTH = 80
"""Bytes of a mark; all of it lies in one sector, so that half a mark is never on the disk."""


AGAIN = ".again"
"""The ending of the second file."""


class LastMark:
    """The mark of one project, in two files. What the disk refuses is passed over: it is a second opinion."""

    def __init__(self, path: Path) -> None:
        self._copies = (_Copy(path), _Copy(path.with_suffix(AGAIN)))

    def put(self, number: int, link: str) -> None:
        """Entry `number` with this link is on the disk."""
        mark = f"{number} {link} {seal(number, link)}".encode().ljust(WIDTH)
        for copy in self._copies:
            copy.put(mark)

    def number(self) -> int:
        """The last entry that was on the disk; 0 if nothing tells, or if no mark is as it was written."""
        return max(copy.number() for copy in self._copies)

    def close(self) -> None:
        """Let go of the files."""
        for copy in self._copies:
            copy.close()


class _Copy:
    def __init__(self, path: Path) -> None:
        self._path = path
        self._file: IO[bytes] | None = None

    def put(self, mark: bytes) -> None:
        with suppress(OSError):
            if self._file is None:
                self._file = self._path.open("r+b" if self._path.exists() else "w+b", buffering=0)
            self._file.seek(0)
            self._file.write(mark)

    def number(self) -> int:
        try:
            with self._path.open("rb") as file:
                number, link, check = file.read(WIDTH).decode("ascii").split()
            return int(number) if check == seal(int(number), link) else 0
        except (OSError, ValueError):
            return 0

    def close(self) -> None:
        if self._file is not None:
            self._file.close()
            self._file = None
