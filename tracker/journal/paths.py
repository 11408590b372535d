"""Where the journal is, and the names of what lies beside it."""

from __future__ import annotations

import os
from datetime import datetime
from pathlib import Path

from tracker.journal.records import seal

FILE = "journal.sqlite3"
TURNS = "turns"
READINGS = "readings"
RESCUED = "journal-rescued.sqlite3"
"""A sound journal that is to take the place of a damaged one, and is complete."""

VARIABLE = "ROUNDS_DATA"
"""The environment variable that names another data folder."""

COMPANIONS = ("", "-wal", "-shm")
"""What SQLite adds to the name of a journal for the files that belong to it."""


def data_folder(chosen: Path | None = None) -> Path:
    """The folder that was chosen, or else the one that the environment names, or else where this system keeps it."""
    if chosen is not None:
        return chosen
    folder_name = os.environ.get(VARIABLE, "")
    if folder_name:
        return Path(folder_name).expanduser()
    from platformdirs import user_data_path  # whoever names a folder does not wait for it

    return user_data_path("round-tracker", appauthor=False)


def readings_folder(chosen: Path | None = None) -> Path:
    """Where readings of patterns are kept, all of which may be deleted: in the data folder that was chosen or named,
    or else where this system keeps such files."""
    if chosen is not None or os.environ.get(VARIABLE):
        return data_folder(chosen) / READINGS
    from platformdirs import user_cache_path

    return user_cache_path("round-tracker", appauthor=False) / READINGS


def beside(path: Path, companion: str) -> Path:
    """One of the files that belong to a journal."""
    return path.with_name(path.name + companion)


def as_text(path: Path) -> str:
    """The path of a pattern file as the journal keeps it; a name that is no text is kept readable."""
    return os.fsencode(path).decode("utf-8", "backslashreplace")


def turn_file(folder: Path, path: str, title: str) -> Path:
    """The file whose lock is the turn to write to one project."""
    return folder / TURNS / f"{seal(path, title)}.turn"


def free_name(path: Path, word: str) -> Path:
    """A name beside `path` that nothing has yet: "journal-damaged-1.sqlite3"."""
    number = 1
    while True:
        name = path.with_name(f"{path.stem}-{word}-{number}{path.suffix}")
        if not any(beside(name, companion).exists() for companion in COMPANIONS):
            return name
        number += 1


def take_rescued(path: Path) -> bool:
    """Put a rescued journal in its place, if one waits; whether one did.

    The log of the damaged one goes first, since it must not be read into the new one. A program that is killed in
    between finds the rescued one still waiting.
    """
    rescued = path.with_name(RESCUED)
    if not rescued.exists():
        return False
    for companion in ("-wal", "-shm"):
        beside(path, companion).unlink(missing_ok=True)
    os.replace(rescued, path)
    return True


def put_aside(path: Path, word: str) -> Path:
    """A copy of a journal with all that belongs to it, under a free name and on the disk. The original stays."""
    name = free_name(path, word)
    for companion in ("-wal", ""):
        source = beside(path, companion)
        if source.exists():
            _copied(source, beside(name, companion))
    return name


def _copied(source: Path, target: Path) -> None:
    """All of it or nothing: half a copy would only fill a full disk further at each trial."""
    try:
        _copy(source, target)
    except OSError:
        target.unlink(missing_ok=True)
        raise


def _copy(source: Path, target: Path) -> None:
    with source.open("rb") as source_file, target.open("xb") as target_file:
        while part := source_file.read(1 << 20):
            target_file.write(part)
        target_file.flush()
        os.fsync(target_file.fileno())


# The maker's calendar: which day a time falls on, where they are.


def day_of(at: float) -> str:
    """The local date of a time in seconds since the epoch, as YYYY-MM-DD."""
    return datetime.fromtimestamp(at).date().isoformat()


def day_begins(at: float) -> float:
    """When the local day of this time began."""
    return datetime.fromtimestamp(at).replace(hour=0, minute=0, second=0, microsecond=0).timestamp()
