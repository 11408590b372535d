"""What is asked of a journal of a few entries: all that was written, nothing that was not, and no more than is asked
for. What lies beside a journal has the names that it is found by."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from support.project_bench import NOON, Bench

from tracker.journal.errors import DamagedJournal, DiskRefuses, as_trouble
from tracker.journal.last_mark import AGAIN, LastMark
from tracker.journal.lock import take
from tracker.journal.opener import open_to_read
from tracker.journal.paths import (
    as_text,
    data_folder,
    day_begins,
    day_of,
    free_name,
    put_aside,
    readings_folder,
    turn_file,
)
from tracker.journal.reader import Reader
from tracker.journal.records import (
    EARLIEST,
    LATEST,
    MOST,
    Happened,
    ProjectRecord,
    Saved,
    Summary,
    Wording,
    is_moment,
    is_whole,
    link,
    seal,
)
from tracker.journal.writer import Journal
from tracker.session.events import Note, RoundDone, Stitch

DONE = [RoundDone(), RoundDone(), Stitch(3), Note("hello there"), Stitch(3)]


@pytest.fixture
def left(bench: Bench) -> Journal:
    """A journal that was left with the opening and five entries in it, to be looked at."""
    bench.work(*DONE).close()
    journal = open_to_read(bench.data)
    assert journal is not None
    return journal


def change(bench: Bench, sql: str, *values: object) -> None:
    with closing(sqlite3.connect(bench.journal)) as connection, connection:
        assert connection.execute(sql, values).rowcount == 1


def the_one(journal: Journal) -> ProjectRecord:
    (known,) = journal.projects()
    return known


def test_a_history_is_read_from_any_entry_on_and_backwards(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        entries = list(left.entries(known))
        numbers = [each.number for each in entries]
        assert numbers == list(range(1, known.number + 1))
        assert [each.event for each in entries if type(each.event) in (RoundDone, Stitch, Note)] == DONE
        assert list(left.entries(known, 3)) == entries[3:]
        assert list(left.backwards(known)) == entries[::-1]
        for first in range(1, len(entries)):
            assert left.since(known, entries[first].at) == entries[first - 1 :]
        assert left.since(known, 0.0) == entries
        assert left.since(known, NOON * 2) == entries[-1:]


def test_each_entry_has_its_link_and_none_has_none(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        links = [last for _, last in left.linked(known)]
        assert [left.link_at(known, number) for number in range(len(links) + 2)] == ["", *links, None]
        assert links[-1] == known.link


@pytest.mark.parametrize("number", [1, 3, 4])
def test_an_entry_that_says_something_else_is_left_out_and_going_on_is_refused(
    left: Journal, bench: Bench, number: int
) -> None:
    """The body is one that could stand there; only the link tells that it was not written."""
    change(bench, "UPDATE entry SET rounds = rounds + 1 WHERE number = ?", number)
    with closing(left):
        known = the_one(left)
        read = [each.number for each in left.entries(known)]
        assert read == [each for each in range(1, known.number + 1) if each != number]
        with pytest.raises(DamagedJournal):
            left.kept(known, from_start=True)


def test_an_entry_behind_one_that_is_gone_is_taken_for_what_it_says(left: Journal, bench: Bench) -> None:
    change(bench, "DELETE FROM entry WHERE number = 2")
    with closing(left):
        known = the_one(left)
        assert 3 in [each.number for each in left.entries(known)]
        with pytest.raises(DamagedJournal):
            left.kept(known, from_start=True)


def test_the_end_of_a_history_may_not_be_missing(left: Journal, bench: Bench) -> None:
    with closing(left):
        known = the_one(left)
        change(bench, "DELETE FROM entry WHERE number = ?", known.number)
        with pytest.raises(DamagedJournal):
            left.kept(known, from_start=True)


def test_a_project_is_found_by_its_path_and_title_together(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        assert left.find(known.path, known.title) == known
        assert left.find(known.path, "another") is None
        assert left.find("another", known.title) is None


def test_what_going_on_needs_begins_behind_the_saved_place(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        kept = left.kept(known)
        saved = left.saved(known)
        assert saved is not None and kept.saved == saved
        assert [each.number for each in kept.entries] == list(range(saved.number + 1, known.number + 1))
        from_start = left.kept(known, from_start=True)
        assert (from_start.saved, len(from_start.entries)) == (None, known.number)


def test_a_data_folder_is_made_with_the_folders_above_it(bench: Bench) -> None:
    bench.data = bench.folder / "not" / "yet" / "there"
    project = bench.work(Stitch())
    assert (project.trouble, bench.journal.exists()) == ("", True)


SOUND = Summary(0.5, "2 sc", False, NOON)
RECORD = ProjectRecord(3, "/a.toml", "A", "digest", NOON, SOUND, 7, "link")


@pytest.mark.parametrize(
    "spoilt",
    [
        Summary(1.5, "2 sc", False, NOON),
        Summary(-0.1, "2 sc", False, NOON),
        Summary(True, "2 sc", False, NOON),
        Summary(0.5, 2, False, NOON),  # type: ignore[arg-type]
        Summary(0.5, "2 sc", 0, NOON),  # type: ignore[arg-type]
        Summary(0.5, "2 sc", False, "noon"),  # type: ignore[arg-type]
        Summary(0.5, "2 sc", False, LATEST * 2),
    ],
)
def test_a_summary_has_values_that_can_be_told(spoilt: Summary) -> None:
    assert SOUND.is_sound and Summary(0, "", True, EARLIEST).is_sound and Summary(1, "", True, LATEST).is_sound
    assert not spoilt.is_sound
    assert not ProjectRecord(3, "/a.toml", "A", "digest", NOON, spoilt).is_sound


@pytest.mark.parametrize(
    "spoilt",
    [
        ProjectRecord(-1, "/a.toml", "A", "digest", NOON, SOUND),
        ProjectRecord(3, 5, "A", "digest", NOON, SOUND),  # type: ignore[arg-type]
        ProjectRecord(3, "/a.toml", "A", "digest", LATEST * 2, SOUND),
        ProjectRecord(3, "/a.toml", "A", "digest", NOON, SOUND, -1),
        ProjectRecord(3, "/a.toml", "A", "digest", NOON, SOUND, 1, None),  # type: ignore[arg-type]
    ],
)
def test_a_record_has_values_that_can_be_worked_with(spoilt: ProjectRecord) -> None:
    assert RECORD.is_sound
    assert not spoilt.is_sound
    assert ProjectRecord.from_row(spoilt.sealed()) is None


def test_a_row_is_read_back_as_it_was_written_and_no_other_is() -> None:
    saved = Saved(7, "link", "/a.toml", "A", "digest", "{}")
    wording = Wording("digest", "Rnd 1: 6 sc", "[]")
    assert ProjectRecord.from_row(RECORD.sealed()) == RECORD
    assert Saved.from_row(saved.sealed(3)) == saved
    assert Wording.from_row(wording.sealed(3)) == wording
    for read, row in (
        (ProjectRecord.from_row, RECORD.sealed()),
        (Saved.from_row, saved.sealed(3)),
        (Wording.from_row, wording.sealed(3)),
    ):
        for column in range(len(row)):
            assert read((*row[:column], "other", *row[column + 1 :])) is None
    assert not Saved(-1, "link", "/a.toml", "A", "digest", "{}").is_sound
    assert not Saved(7, "link", "/a.toml", "A", "digest", None).is_sound  # type: ignore[arg-type]
    assert not Wording("digest", None, "[]").is_sound  # type: ignore[arg-type]


def test_whole_numbers_and_moments_that_a_journal_holds() -> None:
    assert [is_whole(each) for each in (0, MOST, -1, MOST + 1, 1.0, True, "1")] == [True, True, *[False] * 5]
    assert [is_whole(each, 1) for each in (0, 1, 2)] == [False, True, True]
    moments = (0, 0.5, EARLIEST, LATEST, EARLIEST - 1, LATEST + 1, True, "0", float("nan"))
    assert [is_moment(each) for each in moments] == [True] * 4 + [False] * 5


def test_a_link_tells_every_part_of_an_entry_apart() -> None:
    entries = [("", 1, 2.0, "b", 3), ("a", 1, 2.0, "b", 3), ("", 2, 2.0, "b", 3), ("", 1, 3.0, "b", 3)]
    entries += [("", 1, 2.0, "c", 3), ("", 1, 2.0, "b", 4)]
    assert len({link(*entry) for entry in entries}) == len(entries)
    assert len({seal("1"), seal(1), seal(None), seal("1", ""), seal("", "1")}) == 5
    assert len(seal("1")) == 24, "96 bits in hexadecimal"


def test_a_mark_is_read_from_either_file_and_counts_when_it_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "one.last"
    mark = LastMark(path)
    assert mark.number() == 0
    mark.put(1234, "abc")
    mark.put(9, "def")
    assert mark.number() == 9
    first, second = path.read_bytes(), path.with_suffix(AGAIN).read_bytes()
    assert first == second and len(first) == 80
    mark.close()
    mark.put(10, "ghi")
    path.write_bytes(first.replace(b"9", b"8", 1))
    assert LastMark(path).number() == 10
    path.with_suffix(AGAIN).write_bytes(first[:-78])
    assert LastMark(path).number() == 0
    mark.close()


def test_a_lock_is_taken_once_and_shared_only_with_those_that_share(tmp_path: Path) -> None:
    path = tmp_path / "not" / "there" / "use"
    first = take(path)
    assert first is not None and take(path) is None and take(path, shared=True) is None
    first.share()
    second = take(path, shared=True)
    assert second is not None and take(path) is None
    first.close()
    second.close()
    third = take(path)
    assert third is not None
    third.close()


def test_names_beside_a_journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "journal.sqlite3"
    assert free_name(path, "damaged").name == "journal-damaged-1.sqlite3"
    path.write_bytes(b"x" * 3_000_000)
    path.with_name("journal.sqlite3-wal").write_bytes(b"log")
    first, second = put_aside(path, "damaged"), put_aside(path, "damaged")
    assert (first.name, second.name) == ("journal-damaged-1.sqlite3", "journal-damaged-2.sqlite3")
    assert first.read_bytes() == path.read_bytes()
    assert first.with_name(f"{first.name}-wal").read_bytes() == b"log"
    (tmp_path / "journal-damaged-3.sqlite3-shm").touch()
    assert free_name(path, "damaged").name == "journal-damaged-4.sqlite3", "a log must not be taken for its own"
    assert turn_file(tmp_path, "a", "b") != turn_file(tmp_path, "ab", "")
    assert as_text(Path(os.fsdecode(b"/h\xfct.toml"))) == "/h\\xfct.toml"
    monkeypatch.setenv("ROUNDS_DATA", str(tmp_path))
    assert (data_folder(), data_folder(Path("here"))) == (tmp_path, Path("here"))
    assert (readings_folder(), readings_folder(Path("here"))) == (tmp_path / "readings", Path("here/readings"))
    monkeypatch.delenv("ROUNDS_DATA")
    assert readings_folder(Path("here")) == Path("here/readings")
    assert tmp_path not in (data_folder(), readings_folder().parent)
    assert (data_folder().name, readings_folder().name) == ("round-tracker", "readings")


def test_a_day_begins_at_midnight_where_the_maker_is() -> None:
    at = datetime(2023, 11, 14, 22, 13, 20, 500_000).timestamp()
    assert day_of(at) == "2023-11-14"
    assert day_begins(at) == datetime(2023, 11, 14).timestamp()


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        (PermissionError(13, "Permission denied"), "the data folder cannot be used (Permission denied)"),
        (
            IsADirectoryError(21, "Is a directory", "/data/journal.use"),
            "journal.use in the data folder is a folder; move it away, or name another folder with --data",
        ),
        (IsADirectoryError(21, "Is a directory"), "the data folder cannot be used (Is a directory)"),
        (OSError("odd"), "the data folder cannot be used (odd)"),
        ("\ud800".encode, "there are characters in it that cannot be written down"),
    ],
)
def test_a_disk_that_refuses_is_told_by_its_reason(problem: object, told: str) -> None:
    if callable(problem):
        with pytest.raises(UnicodeEncodeError) as raised:
            problem("utf-8")
        problem = raised.value
    assert isinstance(problem, Exception)
    trouble = as_trouble(problem)
    assert (type(trouble), str(trouble)) == (DiskRefuses, told)


def test_what_is_no_refusal_of_the_disk_is_damage() -> None:
    assert isinstance(as_trouble(sqlite3.DatabaseError("malformed")), DamagedJournal)
    full, odd = sqlite3.OperationalError("full"), sqlite3.OperationalError("odd")
    full.sqlite_errorcode, odd.sqlite_errorcode = sqlite3.SQLITE_IOERR_WRITE, sqlite3.SQLITE_CORRUPT  # type: ignore[misc]
    assert str(as_trouble(full)) == "the disk refuses to write"
    assert isinstance(as_trouble(odd), DamagedJournal)


def test_causes_are_asked_for_in_all_projects_but_one(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        assert left.causes_elsewhere(known) == left.causes_elsewhere(None) == ()


def test_rows_of_another_project_are_none_of_this_one(left: Journal) -> None:
    with closing(left):
        known = the_one(left)
        other = ProjectRecord(known.id + 1, known.path, known.title, known.digest, known.begun_at, known.summary)
        reader: Reader = left
        assert list(reader.entries(other)) == [] and reader.saved(other) is None and reader.wordings(other) == ()
        assert [type(each) for each in reader.backwards(known)] == [Happened] * known.number
