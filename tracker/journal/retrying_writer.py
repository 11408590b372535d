"""Writing down what happens in one project, at once if it can be, else as soon as it can be.

While the disk refuses, events are held in memory in their order and `trouble` says so. Each new event, and `retry`,
tries again. Nothing that is held is dropped while the program runs.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from tracker.journal import lock
from tracker.journal.errors import (
    ChangedOutside,
    DamagedJournal,
    DiskRefuses,
    JournalTrouble,
    as_trouble,
)
from tracker.journal.last_mark import LastMark
from tracker.journal.opener import open_journal, open_to_read
from tracker.journal.paths import COMPANIONS, FILE, beside, free_name, turn_file
from tracker.journal.reader import Reader
from tracker.journal.records import Happened, ProjectRecord, Summary, Wording
from tracker.journal.schema import to_read
from tracker.journal.writer import Journal
from tracker.lazy_dataclass import dataclass, replace

SAVE_EVERY = 256
"""Entries between two saved places: what going on has to read at most."""


@dataclass(frozen=True, slots=True)
class Standing:
    """How the project stands after what happened last.

    `place` writes the state down; it is asked for now and then only, or when `is_stop`. `wording` is the pattern text
    that holds; `is_new_wording` that it holds from now on.
    """

    summary: Summary
    wording: Wording
    place: Callable[[], str]
    is_stop: bool = False
    is_new_wording: bool = False


def last_deeds(number: int) -> str:
    """The beginning of a sentence on what was lost, or may be: "the last 3 things that you did are"."""
    return "the last thing that you did is" if number == 1 else f"the last {number} things that you did are"


class Keeper:
    """Keeps one project. `record` is how it stands in the file, `unwritten` what is not there yet.

    `trouble` is what the maker is told while something is held, `refusal` why it could not be written the last time.
    """

    def __init__(self, folder: Path, path: str, title: str, clock: Callable[[], float]) -> None:
        self._folder = folder
        self._path = path
        self._title = title
        self._clock = clock
        self._turn: lock.Lock | None = None
        self._mark = LastMark(turn_file(folder, path, title).with_suffix(".last"))
        self._own_copy: Path | None = None
        self._in_file: ProjectRecord | None = None
        self._saved_at = 0
        self._is_damaged = False
        self.journal: Journal | None = None
        self.record: ProjectRecord | None = None
        self.unwritten: list[Happened] = []
        self.missing: list[Happened] = []
        self.notices: list[str] = []
        self.trouble = ""
        self.refusal = ""

    def open(self) -> bool:
        """Open the journal and take the turn to write. False if another window has it.

        Raises `JournalTrouble`, but for a disk or folder that refuses: that is told in `trouble`, and what can be
        read is read.
        """
        try:
            self.journal = self._opened()
            took = self._took_turn()
        except DiskRefuses as problem:
            self._in_trouble(problem)
            self.journal = self._read_although(problem)
            took = True
        self.know(self.journal.find(self._path, self._title) if self.journal else None)
        if took and self.journal is not None and not self.notices:
            self._compare_with_mark()
        return took

    def _compare_with_mark(self) -> None:
        """Tell what the journal lacks although it was there: its log was lost, or an older one lies in its place."""
        lost = self._mark.number() - (self.record.number if self.record else 0)
        if lost > 0:
            self.notices.append(f"{last_deeds(lost)} missing from the journal: look whether the place is right")

    def _read_although(self, refusal: DiskRefuses) -> Journal | None:
        """The journal for reading, while the disk refuses."""
        try:
            return open_to_read(self._folder)
        except DiskRefuses:
            if self._folder.is_dir():
                raise
            return None  # there is nothing to read where there is no folder
        except DamagedJournal as problem:
            reason = f"cannot be put aside: {refusal}; it was left as it is: make room and try again"
            raise JournalTrouble(f"the journal is damaged and {reason}") from problem

    def know(self, record: ProjectRecord | None, saved_at: int = 0) -> None:
        """Go on with a project as it is in the file, whose last saved place is that after entry `saved_at`."""
        self.record = self._in_file = record
        self._saved_at = saved_at

    def write(self, happened: Happened, standing: Standing) -> None:
        """Write down one more event; if it cannot be, hold it and say so in `trouble`."""
        self.unwritten.append(happened)
        self.retry(standing)

    def retry(self, standing: Standing) -> bool:
        """Write down what is held. Whether nothing is held any more."""
        try:
            try:
                self._write_all(standing)
            except DamagedJournal:
                self._let_go()
                self._is_damaged = True
                self._write_all(standing)
        except JournalTrouble as problem:
            self._in_trouble(problem)
            return False
        self.trouble = ""
        return True

    def close(self) -> None:
        """Let go of the file and of the turn to write."""
        self._let_go()
        self._give_up_turn()
        self._mark.close()

    def _write_all(self, standing: Standing) -> None:
        journal = self._ready()
        record = self.record or self._fresh(standing)
        record = replace(record, title=self._title)  # it may have been another when this was last worked
        happened = [*self.missing, *self.unwritten]
        last = happened[-1].number if happened else record.number
        is_whole = standing.is_stop or standing.is_new_wording or record != self._in_file
        place = standing.place() if is_whole or last - self._saved_at >= SAVE_EVERY else None
        wording = standing.wording if is_whole else None
        self.record = journal.append(record, happened, standing.summary, place, wording, self._in_file)
        self._in_file = self.record
        self._mark.put(self.record.number, self.record.link)
        self.unwritten.clear()
        self.missing.clear()
        if place is not None:
            self._saved_at = last

    def _fresh(self, standing: Standing) -> ProjectRecord:
        """The project before its first entry, not in the file yet."""
        summary = replace(standing.summary, share=0.0, next="", finished=False)
        return ProjectRecord(0, self._path, self._title, standing.wording.digest, self._clock(), summary)

    def _ready(self) -> Journal:
        """The journal open and in its place, and the turn taken."""
        if self.journal is not None and self.journal.is_writable and not self.journal.is_in_place:
            self._put_back()
        if self.journal is None or not self.journal.is_writable:
            self._let_go()
            self.journal = self._opened()
            self._go_on_in(self.journal)
        if self._turn is None and not self._took_turn():
            raise ChangedOutside("another window has this project open")
        return self.journal

    def _opened(self) -> Journal:
        journal = open_journal(self._folder, self._clock(), is_damaged=self._is_damaged)
        self._is_damaged = False
        self.notices += journal.notices
        return journal

    def _put_back(self) -> None:
        """The file was removed or replaced: save all that this window has of it, then look what is there now."""
        assert self.journal is not None
        path = self._folder / FILE
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            own = free_name(path, "kept")
            self.journal.copy_to(own)
            self.journal.abandon()
            self.journal = None
            self._give_up_turn()
            if not path.exists():
                own.replace(path)
                self.notices.append("the journal was removed while it was in use; it was put back")
            else:
                self._own_copy = own
        except OSError as problem:
            raise as_trouble(problem) from problem

    def _go_on_in(self, journal: Journal) -> None:
        """Go on in a file that was opened anew, if it has this project as this window left it, or an older part."""
        ours = self.record
        record = journal.find(self._path, self._title) or (journal.find(self._path, ours.title) if ours else None)
        if ours is None and record is None:
            return
        if ours is None or (record is not None and record.number > ours.number):
            self._let_go()
            raise ChangedOutside(self._kept_apart("the journal has another place for this"))
        self._in_file = record
        if record is not None and (record.number, record.link) == (ours.number, ours.link):
            self.record = record
        elif self._own_copy is not None:
            self._continue_from_own_copy(self._own_copy, ours, record)
        elif journal.notices:
            self.record = replace(ours, id=record.id if record else 0)
        else:
            self._let_go()
            raise ChangedOutside(self._kept_apart("the journal was replaced by another one"))

    def _continue_from_own_copy(self, copy: Path, ours: ProjectRecord, record: ProjectRecord | None) -> None:
        """Bring what this window had into a file that lacks its end. Raises `ChangedOutside` if the two differ."""
        with closing(to_read(copy)) as connection:
            own = Reader(connection)
            before = record or replace(ours, id=0, number=0, link="")
            if own.link_at(ours, before.number) != before.link:
                self._let_go()
                raise ChangedOutside(self._kept_apart("the journal was replaced by another one"))
            self.missing = list(own.entries(ours, before.number))
        self.record = before
        self._own_copy = None
        for companion in COMPANIONS:
            beside(copy, companion).unlink(missing_ok=True)

    def _kept_apart(self, name: str) -> str:
        """What was found, and where that is which this window had, if it lies in a file of its own."""
        own = self._own_copy
        return (
            f"{name}; what you had is kept in {own.name}" if own else f"{name}: close this window and open it again"
        )

    def _took_turn(self) -> bool:
        try:
            self._turn = lock.take(turn_file(self._folder, self._path, self._title))
        except OSError as problem:
            raise as_trouble(problem) from problem
        return self._turn is not None

    def _give_up_turn(self) -> None:
        if self._turn is not None:
            self._turn.close()
            self._turn = None

    def _let_go(self) -> None:
        if self.journal is not None:
            self.journal.close()
            self.journal = None

    def _in_trouble(self, problem: JournalTrouble) -> None:
        count = len(self.unwritten)
        waiting = f" ({count} so far)" if count else ""
        self.refusal = str(problem)
        self.trouble = f"{problem}: what you do is kept in memory and written down as soon as it can be{waiting}"
