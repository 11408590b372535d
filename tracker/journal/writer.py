"""The journal that is written to. Each call is one transaction, and on the disk when it returns."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tracker.journal.errors import FAULTS, ChangedOutside, as_trouble
from tracker.journal.lock import Lock
from tracker.journal.paths import COMPANIONS, beside
from tracker.journal.reader import Reader, body_of
from tracker.journal.records import Happened, ProjectRecord, Saved, Summary, Wording, link
from tracker.journal.schema import atomic
from tracker.lazy_dataclass import replace

SAVED_KEPT = 2
"""How many saved places of a project are kept: the last, and one more should it be unreadable."""

_MOVE_ON = (
    "UPDATE project SET path = ?, title = ?, digest = ?, begun_at = ?, share = ?, next = ?, finished = ?, "
    "touched_at = ?, number = ?, link = ?, seal = ? WHERE id = ?"
)


class Journal(Reader):
    """One open journal. `notices` tell what happened to the file when it was opened.

    It `is_writable` when it holds its share of the folder; otherwise it is only read from.
    """

    def __init__(
        self, connection: sqlite3.Connection, path: Path, use: Lock | None = None, notices: tuple[str, ...] = ()
    ) -> None:
        super().__init__(connection)
        self._use = use
        self.path = path
        self.notices = notices
        self._file = _identity(path)
        self.is_writable = use is not None
        self._log = _identity(beside(path, "-wal"))

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()
        if self._use is not None:
            self._use.close()

    def abandon(self) -> None:
        """Let go of a file that is not in its place any more, with the log that was its own.

        Left behind, that log would be taken for one of whatever file has the name now.
        """
        log = self._log
        self.close()
        if log is not None and _identity(beside(self.path, "-wal")) == log:
            for companion in COMPANIONS[1:]:
                beside(self.path, companion).unlink(missing_ok=True)

    @property
    def is_in_place(self) -> bool:
        """Whether the file is still the one that was opened: not removed, not replaced."""
        if _identity(self.path) != self._file:
            return False
        return self._log is None or _identity(beside(self.path, "-wal")) == self._log

    def append(
        self,
        record: ProjectRecord,
        happened: Sequence[Happened],
        summary: Summary,
        saved: str | None = None,
        wording: Wording | None = None,
        in_file: ProjectRecord | None = None,
    ) -> ProjectRecord:
        """Write down what happened after `record`, all of it or nothing.

        `saved` is the place after it, given every now and then. `wording` is a pattern text that holds from here on.
        `in_file` is how the project should stand in the file before, None if it should not be there. Raises
        `JournalTrouble`; `ChangedOutside` if it stands otherwise.
        """
        with self._writing():
            self._must_stand(record, in_file)
            after = replace(record, summary=summary, digest=wording.digest if wording else record.digest)
            if in_file is None:
                after = replace(after, id=self._new_row())
            for each in happened:
                after = self._entered(after, each)
            self._put(after, saved, wording)
        return after

    def _entered(self, record: ProjectRecord, happened: Happened) -> ProjectRecord:
        body = body_of(happened)
        last = link(record.link, happened.number, happened.at, body, happened.rounds)
        row = (record.id, happened.number, happened.at, body, happened.rounds, last)
        self._insert("entry", row, "INSERT OR REPLACE")
        return replace(record, number=happened.number, link=last)

    def adopt(
        self,
        after: ProjectRecord,
        entries: Iterable[tuple[Happened, str]],
        saved: Saved | None,
        wordings: Iterable[Wording],
        in_file: ProjectRecord | None,
    ) -> ProjectRecord:
        """Write down entries that come from elsewhere with their links, and how the project stands `after` them."""
        with self._writing():
            self._must_stand(after, in_file)
            after = replace(after, id=self._new_row() if in_file is None else in_file.id)
            for each, last in entries:
                row = (after.id, each.number, each.at, body_of(each), each.rounds, last)
                self._insert("entry", row, "INSERT OR REPLACE")
            for wording in wordings:
                self._put_wording(after, wording)
            if saved is not None:
                self._insert("saved", replace(saved, path=after.path).sealed(after.id))
            self._put(after, None, None)
        return after

    def move(self, record: ProjectRecord, path: str) -> ProjectRecord:
        """The pattern file is in another place from now on."""
        moved = replace(record, path=path)
        with self._writing():
            self._must_stand(record, record)
            self._put(moved, None, None)
        return moved

    def copy_to(self, path: Path) -> None:
        """Write the whole journal to a new file."""
        target = sqlite3.connect(path)
        try:
            self._connection.backup(target)
        except sqlite3.Error as problem:
            raise as_trouble(problem) from problem
        finally:
            target.close()

    @contextmanager
    def _writing(self) -> Iterator[None]:
        try:
            with atomic(self._connection):
                yield
        except FAULTS as problem:
            raise as_trouble(problem) from problem
        if self._log is None:
            self._log = _identity(beside(self.path, "-wal"))

    def _must_stand(self, record: ProjectRecord, in_file: ProjectRecord | None) -> None:
        """Nobody else may have written in between. Only the project's own row is read: this is done at each tap."""
        if in_file is None:
            stands = self.find(record.path, record.title) is None
        else:
            sql = "SELECT number, link FROM project WHERE id = ?"
            stands = self._connection.execute(sql, (in_file.id,)).fetchone() == (in_file.number, in_file.link)
        if not stands:
            raise ChangedOutside("something else wrote to this project: close this window and open it again")

    def _new_row(self) -> int:
        (number,) = self._connection.execute("SELECT coalesce(max(id), 0) + 1 FROM project").fetchone()
        self._insert("project", ProjectRecord(number, "", "", "", 0.0, Summary(0.0, "", False, 0.0)).sealed())
        return int(number)

    def _put(self, record: ProjectRecord, saved: str | None, wording: Wording | None) -> None:
        self._connection.execute(_MOVE_ON, (*record.sealed()[1:], record.id))
        if wording is not None:
            self._put_wording(record, wording)
        if saved is not None:
            self._put_saved(record, saved)

    def _put_wording(self, record: ProjectRecord, wording: Wording) -> None:
        values = wording.sealed(record.id)
        self._connection.execute("DELETE FROM wording WHERE project = ? AND digest = ?", values[:2])
        self._insert("wording", values)

    def _put_saved(self, record: ProjectRecord, state: str) -> None:
        saved = Saved(record.number, record.link, record.path, record.title, record.digest, state)
        self._insert("saved", saved.sealed(record.id))
        self._connection.execute(
            "DELETE FROM saved WHERE project = ? AND rowid NOT IN "
            "(SELECT rowid FROM saved WHERE project = ? ORDER BY number DESC, rowid DESC LIMIT ?)",
            (record.id, record.id, SAVED_KEPT),
        )

    def _insert(self, table: str, values: tuple[Any, ...], how: str = "INSERT") -> None:
        marks = ", ".join("?" * len(values))
        self._connection.execute(f"{how} INTO {table} VALUES ({marks})", values)


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file is there; None if there is none."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_dev, status.st_ino
