"""What is saved of a journal of which some rows are gone or spoilt, and what is told of the rest."""

from __future__ import annotations

import sqlite3
import struct
from contextlib import closing
from pathlib import Path

import pytest
from support.building import cap, pattern
from support.project_bench import NOON, Bench, place

from tracker.journal.opener import has_unread_end, open_to_read
from tracker.journal.recovery import rescue
from tracker.session.events import RoundDone, Stitch

ALL_GO_ON = "the journal was damaged. All places could be read and go on."
NOTHING = "the journal was damaged. Nothing in it could be read, so the journal begins anew."


def changed(bench: Bench, *statements: str) -> None:
    with closing(sqlite3.connect(bench.journal)) as connection, connection:
        for statement in statements:
            connection.execute(statement)


def rescued(bench: Bench) -> tuple[str, list[int]]:
    """What is told, and which entries of the first project are there then."""
    told = rescue(bench.journal, NOON)
    journal = open_to_read(bench.data)
    assert journal is not None
    with closing(journal):
        known = journal.projects()
        numbers = [each.number for each in journal.entries(known[0])] if known else []
        journal.check()
    return told, numbers


@pytest.mark.parametrize(
    ("statements", "told", "numbers"),
    [
        ((), ALL_GO_ON, [1, 2, 3, 4, 5]),
        (("DELETE FROM saved",), ALL_GO_ON, [1, 2, 3, 4, 5]),
        (("UPDATE saved SET state = '{}'",), ALL_GO_ON, [1, 2, 3, 4, 5]),
        (("DELETE FROM saved", "DELETE FROM entry WHERE number = 1"), NOTHING, []),
        (("DELETE FROM saved", "DELETE FROM entry WHERE number = 2"), "lacks its last 4 entries", [1]),
        (("DELETE FROM saved", "DELETE FROM entry WHERE number = 5"), "lacks its last entry", [1, 2, 3, 4]),
        (
            ("DELETE FROM saved", "UPDATE entry SET rounds = 9 WHERE number = 4"),
            "lacks its last 2 entries",
            [1, 2, 3],
        ),
        (("DELETE FROM project",), "may lack its last entries", [1, 2, 3, 4, 5]),
        (("UPDATE project SET title = 'Other'",), "may lack its last entries", [1, 2, 3, 4, 5]),
        (("DELETE FROM entry WHERE number = 2",), ALL_GO_ON, [1, 3, 4, 5]),
        (("DELETE FROM project", "DELETE FROM saved", "DELETE FROM entry", "DELETE FROM wording"), NOTHING, []),
    ],
)
def test_what_is_left_goes_on_and_what_is_lost_is_told(
    bench: Bench, statements: tuple[str, ...], told: str, numbers: list[int]
) -> None:
    bench.work(RoundDone(), Stitch(2), Stitch()).close()
    changed(bench, *statements)
    before = bench.journal.read_bytes()
    said, left = rescued(bench)
    assert told in said and left == numbers
    assert said.endswith("The damaged one is kept as journal-damaged-1.sqlite3")
    assert (bench.data / "journal-damaged-1.sqlite3").read_bytes() == before
    assert {path.name for path in bench.data.glob("journal-*.sqlite3")} == {"journal-damaged-1.sqlite3"}


def test_a_project_that_is_lost_is_told_beside_one_that_is_not(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(2)).close()
    other = bench.open(pattern(cap(), title="Other"), file=bench.folder / "other.toml")
    other.do(Stitch(2))
    other.close()
    changed(bench, *(f"DELETE FROM {table} WHERE project = 2" for table in ("saved", "entry")))
    told, _ = rescued(bench)
    assert "What could be read goes on; a project whose place could not be read is missing." in told
    assert place(bench.open().view()) == ("Cap", 1, 2, 2)


def test_a_place_that_is_known_from_its_saved_one_alone_is_not_finished(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(2)).close()
    changed(bench, "DELETE FROM project")
    rescued(bench)
    journal = open_to_read(bench.data)
    assert journal is not None
    with closing(journal):
        (known,) = journal.projects()
        assert (known.title, known.path, known.number) == ("Toadstool", str(bench.file), 4)
        assert (known.summary.finished, known.summary.share, known.begun_at) == (False, 0.0, 0.0)
        assert journal.wording(known) is not None
    assert place(bench.open().view()) == ("Cap", 1, 2, 2)


def test_a_lost_first_page_is_made_anew(bench: Bench) -> None:
    bench.work(RoundDone(), Stitch(2)).close()
    bench.journal.write_bytes(bytes(4096) + bench.journal.read_bytes()[4096:])
    told, numbers = rescued(bench)
    assert told.startswith(ALL_GO_ON) and numbers == [1, 2, 3, 4]


def test_a_first_start_tells_nothing(bench: Bench) -> None:
    project = bench.open()
    assert (project.notices, project.trouble) == ((), "")
    assert not list(bench.data.glob("journal-*"))
    project.close()
    assert bench.open().notices == ()


def test_a_journal_of_other_work_in_its_place_gets_what_this_window_had(bench: Bench, tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    elsewhere = Bench(tmp_path / "there", pattern(cap(), title="Other"))
    elsewhere.work(Stitch()).close()
    project = bench.work(RoundDone(), Stitch(2))
    bench.journal.unlink()
    bench.journal.write_bytes(elsewhere.journal.read_bytes())
    project.do(Stitch())
    assert (project.trouble, list(bench.data.glob("journal-kept-*"))) == ("", [])
    project.close()
    again = bench.open()
    assert place(again.view()) == ("Cap", 1, 2, 3)
    assert [each.number for each in again.history()] == list(range(1, 7))


def test_the_end_of_a_log_is_unread_only_where_commits_stand_behind_what_sqlite_found_good(bench: Bench) -> None:
    """Layout of the log and of its index: sqlite.org/walformat.html."""
    project = bench.work(RoundDone(), Stitch(2))
    log, index = bench.data / "journal.sqlite3-wal", bench.data / "journal.sqlite3-shm"
    written, found = log.read_bytes(), index.read_bytes()
    bench.break_off(project)
    frame = 24 + int.from_bytes(written[8:12], "big")
    good = struct.unpack("=I", found[16:20])[0]
    assert good == (len(written) - 32) // frame

    def is_unread(log_holds: bytes, index_holds: bytes | None) -> bool:
        log.write_bytes(log_holds)
        index.unlink(missing_ok=True)
        if index_holds is not None:
            index.write_bytes(index_holds)
        return has_unread_end(bench.journal)

    def index_of(frames: int) -> bytes:
        return found[:16] + struct.pack("=I", frames) + found[20:]

    assert not is_unread(written, found)
    assert is_unread(written, index_of(0))
    assert not is_unread(written, None)
    assert not is_unread(written, found[:19])
    assert is_unread(written, index_of(0)[:20])
    assert not is_unread(written[:55], index_of(0))
    assert is_unread(b"x" + written[1:], found)
    assert is_unread(written[:24] + bytes(8) + written[32:], found)
    other_salts = written[:32] + b"".join(
        written[at : at + 8] + bytes(8) + written[at + 16 : at + frame] for at in range(32, len(written), frame)
    )
    assert not is_unread(other_salts, index_of(0))
