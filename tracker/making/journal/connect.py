"""Connections to the file: one that reads and changes nothing, one that writes."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from tracker.making.journal.troubles import FAULTS

WAIT_SECONDS = 5.0
"""How long to wait for another window that is just writing."""


def readable(raw: bytes) -> str:
    """The text of a column. What is no text is damaged, and its seal will say so."""
    return raw.decode("utf-8", "replace")


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
