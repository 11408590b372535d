"""Opening the journal: look first without writing, save what can be saved if it is damaged, bring it up to date."""

from __future__ import annotations

import sqlite3
import struct
import time
from contextlib import closing
from os import SEEK_END
from pathlib import Path
from typing import IO

from tracker.journal import lock
from tracker.journal.errors import FAULTS, DamagedJournal, DiskRefuses, JournalTrouble, as_trouble, in_the_way
from tracker.journal.paths import FILE, TURNS, beside, put_aside, take_rescued
from tracker.journal.schema import migrate, refuse_newer, to_read, to_write, version_of
from tracker.journal.writer import Journal
from tracker.lazy_dataclass import dataclass

SMALL = 1 << 20
"""Up to this many bytes the whole file is checked at each opening; what is read is checked always."""

SMALLEST = 512
"""A database has at least one page of so many bytes (sqlite.org/fileformat2.html); SQLite takes less for nothing."""

_FORMS = slice(18, 20)

# Times; with the pause below five seconds, longer than any other start holds the file.
_PATIENCE = 50
# Short beside what a person notices.
_PAUSE_SECONDS = 0.1


def open_journal(folder: Path, now: float, *, is_damaged: bool = False) -> Journal:
    """The journal of a data folder, made if there is none. Raises `JournalTrouble`.

    `is_damaged` tells what opening did not see and writing did.
    """
    path = folder / FILE
    try:
        folder.mkdir(parents=True, exist_ok=True)
        use = lock.take(folder / "journal.use")
        alone = use is not None
        use = use or _shared(folder)
        try:
            notices = _looked_after(path, now, is_damaged) if alone else _looked_at(path, is_damaged)
            connection = _brought_up_to_date(path, now, bool(notices))
        except BaseException:
            use.close()
            raise
        if alone:
            use.share()
        return Journal(connection, path, use, notices)
    except FAULTS as problem:
        raise as_trouble(problem) from problem


def open_to_read(folder: Path) -> Journal | None:
    """The journal as it is, for looking only; None if there is none. Raises `JournalTrouble`."""
    path = folder / FILE
    try:
        _must_be_ours(folder)
        if _size(path) == 0:
            return None
        connection = to_read(path)
        try:
            version = version_of(connection)
            refuse_newer(version)
        except BaseException:
            connection.close()
            raise
        if version:
            return Journal(connection, path)
        connection.close()
        return None
    except FAULTS as problem:
        raise as_trouble(problem) from problem


def _must_be_ours(folder: Path) -> None:
    """Raises `DiskRefuses` where a file stands for the folder, or a folder for the file."""
    if folder.exists() and not folder.is_dir():
        raise DiskRefuses("what was named as the data folder is a file; name a folder with --data")
    if (folder / FILE).is_dir():
        raise DiskRefuses(in_the_way(FILE))


def _shared(folder: Path) -> lock.Lock:
    """A share of the folder while another window has it; that one looks after the file for a moment only."""
    for _ in range(_PATIENCE):
        use = lock.take(folder / "journal.use", shared=True)
        if use is not None:
            return use
        time.sleep(_PAUSE_SECONDS)
    raise JournalTrouble("another window is busy with the journal; close it, or try again")


def _looked_at(path: Path, is_damaged: bool) -> tuple[str, ...]:
    """Refuse what must not be opened while another window works with the file."""
    try:
        _examine(path, is_damaged)
    except DamagedJournal as problem:
        raise JournalTrouble("the journal is damaged and open in another window: close that one first") from problem
    return ()


def _looked_after(path: Path, now: float, is_damaged: bool) -> tuple[str, ...]:
    """Examine the file before anything writes to it, and save what can be saved if it is damaged."""
    if take_rescued(path):
        return ("the journal was damaged; what could be read of it goes on, and the damaged one is kept",)
    if _size(path) == 0 and (path.parent / TURNS).exists():
        return (_put_aside_log(path),)
    try:
        unread = _examine(path, is_damaged)
    except DamagedJournal:
        from tracker.journal.recovery import rescue

        return (rescue(path, now),)
    if not unread:
        return ()
    aside = put_aside(path, "unread")
    return (f"the end of the journal was damaged and does not count; it is kept as it was in {aside.name}",)


def _put_aside_log(path: Path) -> str:
    """There was a journal once. SQLite would remove a log that belongs to nothing, so it is put aside first."""
    notice = "the journal was found empty, so it begins anew"
    if _size(beside(path, "-wal")) == 0:
        return notice
    return f"{notice}; what was left of it is kept as {put_aside(path, 'unread').name}"


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0


def _examine(path: Path, is_damaged: bool) -> bool:
    """Check a file without changing it. True if its log has an end that is not read."""
    size = _size(path)
    if size == 0 and not is_damaged:
        return False
    if is_damaged or size < SMALLEST or not _has_known_form(path):
        raise DamagedJournal()
    try:
        connection = to_read(path)
        try:
            return _examined(connection, path)
        finally:
            connection.close()
    except FAULTS as problem:
        raise as_trouble(problem) from problem


def _has_known_form(path: Path) -> bool:
    """Whether the marks of how it is to be written and read are ones that exist; SQLite only reads a file of another.

    Layout: sqlite.org/fileformat2.html, section 1.3.3.
    """
    with path.open("rb") as file:
        head = file.read(_FORMS.stop)
    return all(1 <= form <= 2 for form in head[_FORMS])


def _examined(connection: sqlite3.Connection, path: Path) -> bool:
    version = version_of(connection)
    refuse_newer(version)
    unread = has_unread_end(path)
    if path.stat().st_size <= SMALL and connection.execute("PRAGMA quick_check(1)").fetchone() != ("ok",):
        raise DamagedJournal()
    if version:
        Journal(connection, path).check()
    return unread


def _brought_up_to_date(path: Path, now: float, looked_after: bool) -> sqlite3.Connection:
    connection = to_write(path)
    try:
        migrate(connection, now)
        if looked_after:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except BaseException:
        connection.close()
        raise
    return connection


# The end of a write-ahead log that SQLite passes over.

# Bytes of the header of a write-ahead log (SQLite file format, 4.1).
_HEADER = 32
# Bytes of the header of each frame (the same).
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
    # The magic number of a write-ahead log, in either order of bytes (the same).
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


# Projects under way, for a list: read from the journal without opening any of them.


@dataclass(frozen=True, slots=True)
class UnderWay:
    """One project. `share` is how much of it is done, 0 to 1, and `next` what comes next, in words."""

    title: str
    path: Path
    share: float
    next: str
    finished: bool
    touched_at: float
    """Seconds since the epoch."""
    digest: str
    """Of the pattern text it is worked from."""


def projects_under_way(folder: Path) -> list[UnderWay]:
    """Every project of a data folder, the last touched first. Raises `JournalTrouble`."""
    journal = open_to_read(folder)
    if journal is None:
        return []
    with closing(journal):
        projects = [
            UnderWay(
                record.title,
                Path(record.path),
                record.summary.share,
                record.summary.next,
                record.summary.finished,
                record.summary.touched_at,
                record.digest,
            )
            for record in journal.projects()
        ]
    return sorted(projects, key=lambda project: project.touched_at, reverse=True)
