"""What can go wrong with the journal, said plainly."""

from __future__ import annotations

import os
import sqlite3


class JournalTrouble(Exception):
    """The journal cannot be used; `str()` of it is a sentence for the maker."""


class NewerJournal(JournalTrouble):
    """A later version of this program wrote it. It was not touched."""


class DiskRefuses(JournalTrouble):
    """The disk or the system does not let it be opened or written; it may tomorrow."""


class DamagedJournal(JournalTrouble):
    """What is in the file is not what was written there. Whoever only looks is told what would mend it."""

    def __init__(
        self,
        text: str = "the journal is damaged; 'rounds work PATTERN' saves what can be read and keeps the damaged one",
    ) -> None:
        super().__init__(text)


class ChangedOutside(JournalTrouble):
    """Somebody else wrote to the project, or put another file in its place."""


_REFUSALS = {
    sqlite3.SQLITE_FULL: "the disk is full",
    sqlite3.SQLITE_READONLY: "the data folder cannot be written to",
    sqlite3.SQLITE_CANTOPEN: "the data folder cannot be opened",
    sqlite3.SQLITE_PERM: "the data folder cannot be written to",
    sqlite3.SQLITE_IOERR: "the disk refuses to write",
    sqlite3.SQLITE_BUSY: "another program holds the journal",
    sqlite3.SQLITE_LOCKED: "another program holds the journal",
    sqlite3.SQLITE_NOMEM: "there is no memory left",
}
"""Faults of the disk or the system, by the primary result code of SQLite (sqlite.org/rescode.html)."""


FAULTS = (OSError, sqlite3.Error, UnicodeError)
"""What reading or writing a file can raise; a damaged name of a table is not even text."""


def in_the_way(name: str) -> str:
    """What is told where a folder has the name of one of our files."""
    return f"{name} in the data folder is a folder; move it away, or name another folder with --data"


def refusal_of(problem: Exception) -> str:
    """Why the disk or the system refuses; "" if the fault lies in what the file holds."""
    if isinstance(problem, UnicodeEncodeError):  # what was to be written is at fault, and not what is in the file
        return "there are characters in it that cannot be written down"
    if isinstance(problem, IsADirectoryError) and problem.filename:
        return in_the_way(os.path.basename(problem.filename))
    if isinstance(problem, OSError):
        return f"the data folder cannot be used ({problem.strerror or problem})"
    code = getattr(problem, "sqlite_errorcode", None)
    return "" if code is None else _REFUSALS.get(code & 0xFF, "")


def as_trouble(problem: Exception) -> JournalTrouble:
    """What the maker is told of a fault."""
    refusal = refusal_of(problem)
    return DiskRefuses(refusal) if refusal else DamagedJournal()
