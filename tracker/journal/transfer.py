"""The history of a project out to a file and back in, as JSON Lines, so that it can go to another machine.

The first line tells which project it is and how it stands, then come the pattern texts, the last saved place, and
one line for each event. Two histories are never merged: one may continue the other, or they are told apart.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing
from dataclasses import asdict, dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import Any

from tracker.journal import lock
from tracker.journal.errors import JournalTrouble, as_trouble
from tracker.journal.opener import open_journal, open_to_read
from tracker.journal.paths import as_text, day_of, turn_file
from tracker.journal.reader import body_of, happened_in
from tracker.journal.records import Happened, ProjectRecord, Saved, Summary, Wording, link
from tracker.journal.writer import Journal
from tracker.plural import number_of

FORM = "round-tracker history"
VERSION = 4
"""1 had no rounds of the maker's own, no causes, and no events that happen together; 2 kept who it is for and what a
ball weighs as notes; 3 had no lines that the maker mended."""


LONGEST_LINE = 8_000_000
"""Characters of one line; the longest that is written holds a pattern text."""

LARGEST = 32_000_000
"""Bytes of a history; a hundred thousand entries have about twelve million."""

MOST_UNSAVED = 20_000
"""Entries after the last saved place, all of which are gone through at each opening; some hundreds are usual."""


@dataclass(frozen=True, slots=True)
class History:
    """A history as a file tells it. The project's path is still that of the other machine."""

    record: ProjectRecord
    wordings: tuple[Wording, ...]
    saved: Saved | None
    entries: tuple[tuple[Happened, str], ...]

    def link_at(self, number: int) -> str | None:
        if number == 0:
            return ""
        return next((last for happened, last in self.entries if happened.number == number), None)


def history_lines(folder: Path, path: Path, title: str) -> Iterator[str]:
    """The history of a project, line by line. Raises `JournalTrouble`."""
    journal = open_to_read(folder)
    if journal is None:
        raise JournalTrouble("there is no history yet")
    with closing(journal):
        record = journal.find(as_text(path.resolve()), title)
        if record is None:
            raise JournalTrouble(f"there is no history of {title} yet")
        entries = list(journal.linked(record))
        head = {"form": FORM, "version": VERSION, "entries": len(entries), "project": asdict(replace(record, id=0))}
        yield _line(head)
        yield from (_line({"wording": asdict(wording)}) for wording in journal.wordings(record))
        saved = journal.saved(record)
        yield _line({"saved": asdict(saved) if saved else None})
        for each, last in entries:
            event = json.loads(body_of(each))
            yield _line({"number": each.number, "at": each.at, "rounds": each.rounds, "link": last, "event": event})


def adopt_history(history: History, path: Path, folder: Path, clock: Callable[[], float]) -> str:
    """Take a history in, for the pattern file at `path`. A sentence that tells what was taken.

    Raises `JournalTrouble`, with nothing taken, if the journal here and the history went on separately.
    """
    text = as_text(path.resolve())
    history = replace(history, record=replace(history.record, path=text))
    try:
        turn = lock.take(turn_file(folder, text, history.record.title))
    except OSError as problem:
        raise as_trouble(problem) from problem
    if turn is None:
        raise JournalTrouble("this project is open in another window: close that one first")
    try:
        with closing(open_journal(folder, clock())) as journal:
            return _taken(journal, history)
    finally:
        turn.close()


def _taken(journal: Journal, history: History) -> str:
    theirs, ours = history.record, journal.find(history.record.path, history.record.title)
    if ours is None:
        journal.adopt(theirs, history.entries, history.saved, history.wordings, None)
        return f"{theirs.title}: {number_of(len(history.entries), 'entry')} taken"
    if theirs.number <= ours.number and journal.link_at(ours, theirs.number) == theirs.link:
        more = ours.number - theirs.number
        return f"{theirs.title}: nothing new, " + (
            f"this journal has {number_of(more, 'entry')} more" if more else "it is the same"
        )
    if history.link_at(ours.number) != ours.link:
        raise JournalTrouble(_apart(journal, ours, history))
    new = [pair for pair in history.entries if pair[0].number > ours.number]
    journal.adopt(theirs, new, history.saved, history.wordings, ours)
    return f"{theirs.title}: {number_of(len(new), 'entry')} taken"


def _apart(journal: Journal, ours: ProjectRecord, history: History) -> str:
    by_link = {last: happened for happened, last in journal.linked(ours)}
    common = [happened for happened, last in history.entries if last in by_link]
    since = f"after entry {common[-1].number} ({day_of(common[-1].at)})" if common else "from the start"
    return (
        f"{ours.title} was worked both here and there {since}: here it has {number_of(ours.number, 'entry')}, "
        f"in the file {history.record.number}. Nothing was taken; keep one of the two in another data folder"
    )


class NotWhole(JournalTrouble):
    """A file is not a history as this program writes it."""

    def __init__(self) -> None:
        super().__init__("this is not a whole history of a project: write it out again")


def read_history(lines: Iterable[str]) -> History:
    """The history that a file tells. Raises `JournalTrouble` if it is not whole, or not as it was written.

    Types and ranges of all its values are those that the journal itself writes; what its saved place and its texts
    mean is not looked at.
    """
    try:
        return _checked(_history(line for line in lines if line.strip()))
    except (AttributeError, IndexError, KeyError, RecursionError, StopIteration, TypeError, ValueError) as problem:
        raise NotWhole from problem


def _history(lines: Iterator[str]) -> History:
    head = _plain(next(lines))
    if head["form"] != FORM:
        raise ValueError("another form")
    if head["version"] > VERSION:
        raise JournalTrouble("the history was written by a later version of this program: use that one")
    project = head["project"]
    record = ProjectRecord(**{**project, "summary": Summary(**project["summary"])})
    wordings: list[Wording] = []
    saved: list[Saved | None] = []
    entries: list[tuple[Happened, str]] = []
    for line in map(_plain, lines):
        if "wording" in line:
            wordings.append(Wording(**line["wording"]))
        elif "saved" in line:
            saved.append(Saved(**line["saved"]) if line["saved"] else None)
        else:
            entries.append(_entry(line))
    if len(entries) != head["entries"] or len(saved) != 1:
        raise ValueError("entries are missing")
    parts: list[ProjectRecord | Wording | Saved] = [record, *wordings, *(place for place in saved if place)]
    if record.id != 0 or not all(part.is_sound for part in parts):
        raise ValueError("values that this program does not write")
    return History(record, tuple(wordings), saved[0], tuple(entries))


def _plain(line: str) -> Any:
    if len(line) > LONGEST_LINE:
        raise ValueError("a line that is too long")
    return json.loads(line)


def _entry(line: dict[str, Any]) -> tuple[Happened, str]:
    body, last = json.dumps(line["event"], separators=(",", ":")), line["link"]
    happened = happened_in((line["number"], line["at"], body, line["rounds"], last))
    if happened is None or type(last) is not str:
        raise ValueError("an entry that is not known here")
    return happened, last


def _checked(history: History) -> History:
    """Raises ValueError if the history has not all of what going on needs, or is not as it was written."""
    start = Happened(0, 0.0, history.entries[0][0].event, 0), ""
    for (before, before_link), (happened, last) in pairwise((start, *history.entries)):
        if happened.number <= before.number:
            raise ValueError("entries out of their order")
        own_link = link(before_link, happened.number, happened.at, body_of(happened), happened.rounds)
        if happened.number == before.number + 1 and own_link != last:
            raise ValueError("an entry that is not as it was written")
    reached, last = history.entries[-1][0].number, history.entries[-1][1]
    if (reached, last) != (history.record.number, history.record.link):
        raise ValueError("the end is missing")
    needed = range(history.saved.number + 1 if history.saved else 1, reached + 1)
    if len(needed) > MOST_UNSAVED:
        raise ValueError("the saved place is missing")
    if [each.number for each, _ in history.entries[len(history.entries) - len(needed) :]] != list(needed):
        raise ValueError("entries are missing")
    if history.saved is not None and history.link_at(history.saved.number) != history.saved.link:
        raise ValueError("the saved place belongs to another history")
    if history.saved is not None and history.saved.title != history.record.title:
        raise ValueError("the saved place belongs to another project")
    return history


def _line(value: dict[str, Any]) -> str:
    return json.dumps(value, separators=(",", ":"))
