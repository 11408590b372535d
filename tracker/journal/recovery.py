"""What to do with a damaged journal: keep it as it is, and begin a sound one with all that can still be read.

The damaged file is copied aside first and never written to. The new one is made beside and put in place in one step.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from tracker.journal.paths import COMPANIONS, RESCUED, beside, put_aside, take_rescued
from tracker.journal.reader import body_of, happened_in
from tracker.journal.records import ProjectRecord, Saved, Summary, Wording, link
from tracker.journal.schema import atomic, migrate, readable

# The size of a page where the header of the database is lost: SQLite's own default.
_PAGE = 4096

_TABLES = {"project": "id", "saved": "rowid", "wording": "rowid", "entry": "project, number"}
"""The tables, and in what order to read them."""


def rescue(path: Path, now: float) -> str:
    """Put a sound journal in the place of a damaged one. Tells what was saved and where the damaged one is kept."""
    aside = put_aside(path, "damaged")
    scratch, fresh = path.with_name("journal-scratch.sqlite3"), path.with_name("journal-fresh.sqlite3")
    try:
        remains = _salvaged(aside, scratch, now)
        projects = [_rebuilt(project) for project in remains]
        _write(fresh, [each for each in projects if each is not None], now)
    finally:
        _remove(scratch)
    os.replace(fresh, path.with_name(RESCUED))
    take_rescued(path)
    return f"the journal was damaged. {_rescue_sentence(projects)} The damaged one is kept as {aside.name}"


@dataclass(slots=True)
class _Remains:
    """What could be read of one project."""

    id: int
    record: ProjectRecord | None = None
    saved: list[Saved] = field(default_factory=list)
    wordings: list[Wording] = field(default_factory=list)
    entries: dict[int, tuple[Any, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Project:
    """A project as far as it could be put together, and how many of its last entries could not (None: unknown)."""

    record: ProjectRecord
    saved: Saved | None
    wordings: list[Wording]
    entries: list[tuple[Any, ...]]
    lost: int | None


def _salvaged(aside: Path, scratch: Path, now: float) -> list[_Remains]:
    """Every row that is as it was written; if none can be read, once more with the first page made anew."""
    _copy(aside, scratch)
    rows = _rows_of(scratch)
    if not any(rows.values()):
        _copy(aside, scratch)
        _renew_first_page(scratch, now)
        rows = _rows_of(scratch)
    return _by_project(rows)


def _copy(source: Path, target: Path) -> None:
    _remove(target)
    for companion in ("", "-wal"):
        if beside(source, companion).exists():
            beside(target, companion).write_bytes(beside(source, companion).read_bytes())


def _remove(path: Path) -> None:
    for companion in COMPANIONS:
        beside(path, companion).unlink(missing_ok=True)


def _rows_of(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    try:
        with closing(sqlite3.connect(path, isolation_level=None)) as connection:
            connection.text_factory = readable
            return {table: _rows(connection, table, order) for table, order in _TABLES.items()}
    except (sqlite3.Error, UnicodeError):
        return {table: [] for table in _TABLES}


def _rows(connection: sqlite3.Connection, table: str, order: str) -> list[tuple[Any, ...]]:
    """The rows before a damaged page from the front, those behind it from the back."""
    rows: dict[tuple[Any, ...], None] = {}
    for direction in ("", " DESC"):
        try:
            by = ", ".join(f"{column}{direction}" for column in order.split(", "))
            for row in connection.execute(f"SELECT * FROM {table} ORDER BY {by}"):
                rows[row] = None
        except (sqlite3.Error, UnicodeError):
            continue
    return list(rows)


def _renew_first_page(path: Path, now: float) -> None:
    """Put the first page of an empty journal in place of the file's own.

    It holds the marks of the file and the places of the tables, which are the same in every journal of one version.
    Layout: sqlite.org/fileformat2.html, section 1.3.
    """
    model = path.with_name("journal-model.sqlite3")
    _remove(model)
    with closing(sqlite3.connect(model, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        migrate(connection, now)
    page = bytearray(model.read_bytes()[:_PAGE])
    _remove(model)
    page[28:32] = (path.stat().st_size // _PAGE).to_bytes(4, "big")
    page[92:96] = page[24:28]
    page[32:40] = bytes(8)
    with path.open("r+b") as file:
        file.write(page)


def _by_project(rows: dict[str, list[tuple[Any, ...]]]) -> list[_Remains]:
    remains: dict[int, _Remains] = {}

    def of(project: Any) -> _Remains:
        return remains.setdefault(project, _Remains(project))

    for row in rows["project"]:
        if (record := ProjectRecord.from_row(row)) is not None:
            of(record.id).record = record
    for row in rows["saved"]:
        if (saved := Saved.from_row(row)) is not None:
            of(row[0]).saved.append(saved)
    for row in rows["wording"]:
        if (wording := Wording.from_row(row)) is not None:
            of(row[0]).wordings.append(wording)
    for row in rows["entry"]:
        if isinstance(row[0], int) and isinstance(row[1], int) and row[0] in remains:
            of(row[0]).entries[row[1]] = row
    return [remains[project] for project in sorted(remains)]


def _rebuilt(remains: _Remains) -> _Project | None:
    """The project up to the last entry that can be reached; None if nothing tells where it was."""
    starts = [None, *sorted(remains.saved, key=lambda saved: saved.number)]
    reached = [(_reach(remains, saved), saved) for saved in starts if saved or 1 in remains.entries]
    if not reached:
        return None
    (number, last), saved = max(reached, key=lambda pair: (pair[0][0], pair[1].number if pair[1] else -1))
    record = remains.record or (_record_from(remains.id, saved) if saved else None)
    if record is None:
        return None
    lost = record.number - number if remains.record else None
    digest = saved.digest if saved else record.digest
    entries = [row for key, row in sorted(remains.entries.items()) if 0 < key <= number and _reads(row)]
    return _Project(replace(record, number=number, link=last, digest=digest), saved, remains.wordings, entries, lost)


def _record_from(project: int, saved: Saved) -> ProjectRecord:
    return ProjectRecord(project, saved.path, saved.title, saved.digest, 0.0, Summary(0.0, "", False, 0.0))


def _reach(remains: _Remains, saved: Saved | None) -> tuple[int, str]:
    """How far the entries go on from a saved place without a gap, and the link there."""
    number, last = (saved.number, saved.link) if saved else (0, "")
    while (row := remains.entries.get(number + 1)) is not None:
        happened = happened_in(row[1:])
        if happened is None:
            break
        following = link(last, happened.number, happened.at, body_of(happened), happened.rounds)
        if following != row[5]:
            break
        number, last = number + 1, following
    return number, last


def _reads(row: tuple[Any, ...]) -> bool:
    return happened_in(row[1:]) is not None


def _write(fresh: Path, projects: list[_Project], now: float) -> None:
    _remove(fresh)
    with closing(sqlite3.connect(fresh, isolation_level=None)) as connection:
        connection.execute("PRAGMA synchronous = FULL")
        migrate(connection, now)
        with atomic(connection):
            for project in projects:
                _write_one(connection, project)


def _write_one(connection: sqlite3.Connection, project: _Project) -> None:
    record = project.record
    rows = [("project", record.sealed())]
    rows += [("wording", wording.sealed(record.id)) for wording in project.wordings]
    rows += [("entry", row) for row in project.entries]
    if project.saved is not None:
        rows.append(("saved", project.saved.sealed(record.id)))
    for table, values in rows:
        connection.execute(f"INSERT INTO {table} VALUES ({', '.join('?' * len(values))})", values)


def _rescue_sentence(projects: list[_Project | None]) -> str:
    saved = [project for project in projects if project is not None]
    if not saved:
        return "Nothing in it could be read, so the journal begins anew."
    parts = [f"{project.record.title} {_lacks(project.lost)}" for project in saved if project.lost != 0]
    if len(saved) < len(projects):
        parts.append("a project whose place could not be read is missing")
    return f"What could be read goes on; {'; '.join(parts)}." if parts else "All places could be read and go on."


def _lacks(lost: int | None) -> str:
    if lost is None:
        return "may lack its last entries"
    return "lacks its last entry" if lost == 1 else f"lacks its last {lost} entries"
