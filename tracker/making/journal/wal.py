"""The end of a write-ahead log that SQLite passes over.

SQLite reads such a log up to the first frame whose checksum is wrong and drops the rest without a word. A cut of
power or a kill can leave one commit half written, which nobody was told of; more than one is damage, and loses what
was acknowledged. Layout: sqlite.org/fileformat2.html,
section 4, and sqlite.org/walformat.html, section 2.1.
"""

from __future__ import annotations

import struct
from os import SEEK_END
from pathlib import Path
from typing import IO

from tracker.making.journal.folder import beside

_HEADER = 32
_FRAME = 24
_MAX_FRAME_AT = 16
"""Where the index beside the log says how many of its frames are good, in the byte order of the machine."""


def has_unread_end(path: Path) -> bool:
    """Whether the log of a journal holds commits that are not read. Asked while it is open and nobody writes."""
    log = beside(path, "-wal")
    if not log.exists() or log.stat().st_size < _HEADER + _FRAME:
        return False
    with log.open("rb") as file:
        header = file.read(_HEADER)
        if not _is_whole(header):
            return True
        return _commits_after(_frames_read(path), file, header) > 1


def _commits_after(frames_read: int, file: IO[bytes], header: bytes) -> int:
    """How many commits of this log stand behind so many frames, whether or not what they hold is right."""
    page, salts = int.from_bytes(header[8:12], "big"), header[16:24]
    frames = (file.seek(0, SEEK_END) - _HEADER) // (_FRAME + page)
    commits = 0
    for number in range(frames_read, frames):
        file.seek(_HEADER + number * (_FRAME + page))
        frame = file.read(_FRAME)
        commits += frame[8:16] == salts and frame[4:8] != bytes(4)
    return commits


def _is_whole(header: bytes) -> bool:
    magic = struct.unpack(">I", header[:4])[0]
    if magic & ~1 != 0x377F0682:
        return False
    words = struct.unpack(f"{'>' if magic & 1 else '<'}6I", header[:24])
    first = second = 0
    for left, right in zip(words[::2], words[1::2], strict=True):
        first = (first + left + second) & 0xFFFFFFFF
        second = (second + right + first) & 0xFFFFFFFF
    return struct.pack(">2I", first, second) == header[24:32]


def _frames_read(path: Path) -> int:
    """How many frames SQLite found good; all of them where its index is not a file."""
    index = beside(path, "-shm")
    if not index.exists():
        return 1 << 32
    with index.open("rb") as file:
        start = file.read(_MAX_FRAME_AT + 4)
    return int(struct.unpack("=I", start[_MAX_FRAME_AT:])[0]) if len(start) == _MAX_FRAME_AT + 4 else 1 << 32
