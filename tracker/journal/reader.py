"""Reading the rows of the journal. Everything that is read is checked against its seal or its link."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from functools import lru_cache
from typing import Any, TypeVar

from tracker.journal.errors import FAULTS, DamagedJournal, as_trouble
from tracker.journal.records import Happened, Kept, ProjectRecord, Saved, Wording, is_moment, is_whole, link
from tracker.session.events import Event
from tracker.session.serialization import causes_in, event_in, event_out

_Place = TypeVar("_Place")

ENTRIES = "SELECT number, at, body, rounds, link FROM entry WHERE project = ? AND number > ? ORDER BY number"


def body_of(happened: Happened) -> str:
    """The event as it stands in its row."""
    return happened.written or _body(happened.event)


def _body(event: Event) -> str:
    return json.dumps(event_out(event), separators=(",", ":"))


_BODIES = 256
"""Bodies that are remembered once read: nearly all of a history is single stitches, written alike."""


@lru_cache(_BODIES)
def _event_of(body: str) -> tuple[Event, str]:
    """The event of a row, and how it stands there if that is not how it would be written now; raises `ValueError`."""
    event = event_in(json.loads(body))
    return event, "" if _body(event) == body else body


def happened_in(row: tuple[Any, ...]) -> Happened | None:
    """The entry of a row; None if it is not what was written."""
    try:
        number, at, body, rounds, _ = row
        if not (is_whole(number, 1) and is_whole(rounds) and is_moment(at)):
            return None
        event, written = _event_of(body)
        return Happened(number, float(at), event, rounds, written)
    except (RecursionError, TypeError, ValueError):
        return None


class Reader:
    """What can be asked of an open journal.

    All of it raises `JournalTrouble`, and `DamagedJournal` where a row is not as it was written.
    """

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def projects(self) -> tuple[ProjectRecord, ...]:
        """Every project, in the order in which they were begun."""
        rows = self._rows("SELECT * FROM project ORDER BY id")
        return tuple(_sound(ProjectRecord.from_row(row)) for row in rows)

    def find(self, path: str, title: str) -> ProjectRecord | None:
        """The project of a pattern file."""
        return next((record for record in self.projects() if (record.path, record.title) == (path, title)), None)

    def kept(self, record: ProjectRecord, *, from_start: bool = False) -> Kept:
        """What going on needs: few rows, however long the history; all of them if it is to go on `from_start`."""
        saved = None if from_start else self.saved(record)
        number, last = (saved.number, saved.link) if saved else (0, "")
        entries: list[Happened] = []
        for row in self._rows(ENTRIES, record.id, number):
            happened = _sound(happened_in(row))
            last = link(last, happened.number, happened.at, row[2], happened.rounds)
            number += 1
            if (happened.number, row[4]) != (number, last):
                raise DamagedJournal()
            entries.append(happened)
        if (number, last) != (record.number, record.link):
            raise DamagedJournal()
        return Kept(saved, tuple(entries))

    def entries(self, record: ProjectRecord, after: int = 0) -> Iterator[Happened]:
        """The history of a project after an entry, oldest first; an entry that is not as written is left out."""
        return (happened for happened, _ in self.linked(record, after))

    def since(self, record: ProjectRecord, at: float) -> list[Happened]:
        """What happened from a time on, oldest first, and the one entry before it; reads no further back."""
        entries: list[Happened] = []
        for row in self._rows(f"{ENTRIES} DESC", record.id, 0):
            happened = happened_in(row)
            if happened is not None:
                entries.append(happened)
                if happened.at < at:
                    break
        return entries[::-1]

    def backwards(self, record: ProjectRecord) -> Iterator[Happened]:
        """The history newest first; reads no further than it is asked for."""
        for row in self._rows(f"{ENTRIES} DESC", record.id, 0):
            happened = happened_in(row)
            if happened is not None:
                yield happened

    def causes_elsewhere(self, record: ProjectRecord | None) -> tuple[str, ...]:
        """The causes that the maker confirmed in other projects, up to their last saved places."""
        others = (other for other in self.projects() if record is None or other.id != record.id)
        saved = (self.saved(other) for other in others)
        return tuple(cause for place in saved if place for cause in causes_in(place.state))

    def linked(self, record: ProjectRecord, after: int = 0) -> Iterator[tuple[Happened, str]]:
        """The same, each entry with its link."""
        before, last = after, self.link_at(record, after)
        for row in self._rows(ENTRIES, record.id, after):
            happened, own = happened_in(row), row[4]
            if happened is not None and (
                last is None  # where the one before it is missing nobody can tell which link it should have
                or before != happened.number - 1
                or link(last, happened.number, happened.at, row[2], happened.rounds) == own
            ):
                yield happened, own
            before, last = row[0], own

    def saved(self, record: ProjectRecord) -> Saved | None:
        """The last saved place of a project."""
        rows = self._rows("SELECT * FROM saved WHERE project = ? ORDER BY number DESC, rowid DESC LIMIT 1", record.id)
        return next((_sound(Saved.from_row(row)) for row in rows), None)

    def link_at(self, record: ProjectRecord, number: int) -> str | None:
        """The link of an entry, to tell whether two histories are one; None if there is no such entry."""
        if number == 0:
            return ""
        rows = self._rows("SELECT link FROM entry WHERE project = ? AND number = ?", record.id, number)
        return next((str(row[0]) for row in rows), None)

    def wordings(self, record: ProjectRecord) -> tuple[Wording, ...]:
        """Every pattern text that the project was worked from, oldest first."""
        rows = self._rows("SELECT * FROM wording WHERE project = ? ORDER BY rowid", record.id)
        return tuple(_sound(Wording.from_row(row)) for row in rows)

    def wording(self, record: ProjectRecord) -> Wording | None:
        """The pattern text that the project is worked from; None if it was lost."""
        return next((wording for wording in self.wordings(record) if wording.digest == record.digest), None)

    def check(self) -> None:
        """Raises `DamagedJournal` if going on with any project would."""
        for record in self.projects():
            self.kept(record)
            self.wording(record)

    def _rows(self, sql: str, *values: object) -> Iterator[tuple[Any, ...]]:
        """Rows as they are asked for. The cursor is not delegated to: that would close it after the connection."""
        try:
            for row in self._connection.execute(sql, values):  # noqa: UP028
                yield row
        except FAULTS as problem:
            raise as_trouble(problem) from problem


def _sound(place: _Place | None) -> _Place:
    if place is None:
        raise DamagedJournal()
    return place
