"""Opening the journal: look first without writing, save what can be saved if it is damaged, bring it up to date."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path

from tracker.making.journal import lock
from tracker.making.journal.connect import to_read, to_write
from tracker.making.journal.folder import FILE, TURNS, beside, put_aside, take_rescued
from tracker.making.journal.schema import migrate, refuse_newer, version_of
from tracker.making.journal.store import Journal
from tracker.making.journal.troubles import FAULTS, DamagedJournal, JournalTrouble, as_trouble
from tracker.making.journal.wal import has_unread_end

SMALL = 1 << 20
"""Up to this many bytes the whole file is checked at each opening; what is read is checked always."""

SMALLEST = 512
"""A database has at least one page of so many bytes (sqlite.org/fileformat2.html); SQLite takes less for nothing."""

_FORMS = slice(18, 20)

_PATIENCE = 50
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
        if _size(path) == 0:
            return None
        connection = to_read(path)
        try:
            version = version_of(connection)
            refuse_newer(version)
        except BaseException:
            connection.close()
            raise
        return Journal(connection, path) if version else None
    except FAULTS as problem:
        raise as_trouble(problem) from problem


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
        return (_found_empty(path),)
    try:
        unread = _examine(path, is_damaged)
    except DamagedJournal:
        from tracker.making.journal.rescue import rescue

        return (rescue(path, now),)
    if not unread:
        return ()
    kept = put_aside(path, "unread")
    return (f"the end of the journal was damaged and does not count; it is kept as it was in {kept.name}",)


def _found_empty(path: Path) -> str:
    """There was a journal once. SQLite would remove a log that belongs to nothing, so it is put aside first."""
    told = "the journal was found empty, so it begins anew"
    if _size(beside(path, "-wal")) == 0:
        return told
    return f"{told}; what was left of it is kept as {put_aside(path, 'unread').name}"


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0


def _examine(path: Path, is_damaged: bool) -> bool:
    """Check a file without changing it. True if its log has an end that is not read."""
    size = _size(path)
    if size == 0 and not is_damaged:
        return False
    if is_damaged or size < SMALLEST or not _has_known_form(path):
        raise DamagedJournal("the journal is damaged")
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
        raise DamagedJournal("the journal is damaged")
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
