"""The tables of the journal, and how an older journal becomes one of today.

Each migration and the record that it ran are one transaction. A migration that was ever released is never changed.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from operator import methodcaller
from pathlib import Path

from tracker.journal.errors import FAULTS, DamagedJournal, JournalTrouble, NewerJournal
from tracker.lazy_dataclass import dataclass

APPLICATION_ID = 0x726E6473
"""Marks the file as ours ("rnds" in ASCII)."""


@dataclass(frozen=True, slots=True)
class Migration:
    """One step from a version of the tables to the next."""

    number: int
    name: str
    statements: tuple[str, ...]


MIGRATIONS: tuple[Migration, ...] = (
    Migration(
        1,
        "begin",
        (
            f"PRAGMA application_id = {APPLICATION_ID}",
            """CREATE TABLE project (
                id INTEGER PRIMARY KEY, path TEXT NOT NULL, title TEXT NOT NULL, digest TEXT NOT NULL,
                begun_at REAL NOT NULL, share REAL NOT NULL, next TEXT NOT NULL, finished INTEGER NOT NULL,
                touched_at REAL NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, seal TEXT NOT NULL)""",
            """CREATE TABLE entry (
                project INTEGER NOT NULL, number INTEGER NOT NULL, at REAL NOT NULL, body TEXT NOT NULL,
                rounds INTEGER NOT NULL, link TEXT NOT NULL, PRIMARY KEY (project, number)) WITHOUT ROWID""",
            """CREATE TABLE saved (
                project INTEGER NOT NULL, number INTEGER NOT NULL, link TEXT NOT NULL, path TEXT NOT NULL,
                title TEXT NOT NULL, digest TEXT NOT NULL, state TEXT NOT NULL, seal TEXT NOT NULL)""",
            """CREATE TABLE wording (
                project INTEGER NOT NULL, digest TEXT NOT NULL, source TEXT NOT NULL, outline TEXT NOT NULL,
                seal TEXT NOT NULL)""",
        ),
    ),
    # The tables stay. An older version would take an entry that it does not know for damage, so it must not look.
    Migration(2, "rounds of the maker's own, causes, several events together", ()),
    Migration(3, "who it is for and what a ball weighs as events", ()),
    Migration(4, "printed lines that the maker mended", ()),
    Migration(5, "rounds worked over the maker's own number", ()),
)


_RECORD = "CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, at REAL NOT NULL)"


@contextmanager
def atomic(connection: sqlite3.Connection) -> Iterator[None]:
    """All of it or nothing, and on the disk when it is left."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            if connection.in_transaction:
                connection.execute("ROLLBACK")
        raise


def version_of(connection: sqlite3.Connection) -> int:
    """The version of the tables; 0 for an empty file.

    Raises `JournalTrouble` for somebody else's file, `DamagedJournal` if its migrations are not those that led here.
    """
    names = {name for (name,) in connection.execute("SELECT name FROM sqlite_master")}
    if not names:
        return 0
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    if mark != APPLICATION_ID and "migration" not in names:
        raise JournalTrouble("the file in the data folder is not a journal of this program; it was left alone")
    done = connection.execute("SELECT number, name FROM migration ORDER BY number").fetchall()
    ours = [(migration.number, migration.name) for migration in MIGRATIONS]
    if not done or done[: len(ours)] != ours[: len(done)]:
        raise DamagedJournal()
    return int(done[-1][0])


def refuse_newer(version: int) -> None:
    """Raises `NewerJournal` if a later version of this program wrote the tables."""
    latest = MIGRATIONS[-1].number
    if version > latest:
        raise NewerJournal(
            f"the journal was written by a later version of this program (its tables are {version}, "
            f"this one knows {latest}); it was left as it is: use that version, or another data folder"
        )


def migrate(connection: sqlite3.Connection, now: float) -> None:
    """Bring the tables to today's version."""
    version = version_of(connection)
    refuse_newer(version)
    for migration in MIGRATIONS:
        if migration.number > version:
            _run(connection, migration, now)


def _run(connection: sqlite3.Connection, migration: Migration, now: float) -> None:
    with atomic(connection):
        if version_of(connection) >= migration.number:
            return
        if migration.number == 1:
            connection.execute(_RECORD)
        for statement in migration.statements:
            connection.execute(statement)
        connection.execute("INSERT INTO migration VALUES (?, ?, ?)", (migration.number, migration.name, now))


# Connections to the file: one that reads and changes nothing, one that writes.

WAIT_SECONDS = 5.0
"""How long to wait for another window that is just writing."""


readable = methodcaller("decode", "utf-8", "replace")
"""The text of a column. What is no text is damaged, and its seal will say so."""


def to_read(path: Path) -> sqlite3.Connection:
    """A connection that never writes to the file, also where the folder itself cannot be written to."""
    uri = f"{path.resolve().as_uri()}?mode=ro"
    try:
        return _answering(uri)
    except sqlite3.OperationalError as problem:
        if problem.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY):
            raise
    return _answering(f"{uri}&immutable=1")


def _answering(uri: str) -> sqlite3.Connection:
    connection = sqlite3.connect(uri, uri=True, timeout=WAIT_SECONDS, isolation_level=None)
    connection.text_factory = readable
    try:
        connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except FAULTS:
        connection.close()
        raise
    return connection


def to_write(path: Path) -> sqlite3.Connection:
    """A connection whose commits are on the disk when they return."""
    connection = sqlite3.connect(path, timeout=WAIT_SECONDS, isolation_level=None)
    connection.text_factory = readable
    try:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA cell_size_check = ON")
    except sqlite3.Error:
        connection.close()
        raise
    return connection
