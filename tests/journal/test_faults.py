"""Faults of the disk and the folder: told plainly, nothing lost, written down as soon as it can be."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from support.building import cap, pattern
from support.project_bench import Bench, place

from tracker.journal import opener
from tracker.journal.errors import JournalTrouble, NewerJournal
from tracker.journal.retrying_writer import SAVE_EVERY
from tracker.journal.schema import MIGRATIONS
from tracker.journal.transfer import history_lines
from tracker.pattern.loader import load, loads
from tracker.project.history_import import take_history
from tracker.project.project import Project, open_project, projects_under_way
from tracker.session.events import BallWeighed, Closed, Frog, Note, RoundDone, RoundRewritten, Stitch, Undo

HERE = Path(__file__).parent
EVERY = [migration.number for migration in MIGRATIONS]
LATEST = EVERY[-1]
NUMBERS = "SELECT number FROM migration ORDER BY number"


def connection_of(project: Project) -> sqlite3.Connection:
    assert project._keeper.journal is not None
    return project._keeper.journal._connection


def is_kept(bench: Bench) -> int:
    """How many entries are on the disk, looked at from outside."""
    with closing(sqlite3.connect(bench.journal)) as connection:
        (count,) = connection.execute("SELECT count(*) FROM entry").fetchone()
        return int(count)


def test_an_event_is_on_the_disk_when_do_returns(bench: Bench) -> None:
    project = bench.open()
    for number in range(2, 8):
        project.do(Stitch())
        assert is_kept(bench) == number


def test_a_full_disk_is_told_and_what_was_done_is_written_when_there_is_room(bench: Bench) -> None:
    """A limit on the pages of the file is what SQLite meets on a full disk (SQLITE_FULL)."""
    project = bench.work(Stitch())
    connection = connection_of(project)
    connection.execute("PRAGMA max_page_count = 1")
    long = [Note("x" * 3900), Stitch(), Stitch(), Undo()]
    for number, event in enumerate(long, start=1):
        project.do(event)
        told = (
            f"the disk is full: what you do is kept in memory and written down as soon as it can be ({number} so far)"
        )
        assert project.trouble == told
    assert place(project.view()) == ("Cap", 1, 1, 2)
    assert (is_kept(bench), len(project.history())) == (2, 6)
    assert not project.retry()
    connection.execute("PRAGMA max_page_count = 1000000")
    assert project.retry() and project.trouble == ""
    assert is_kept(bench) == 6
    project.close()
    assert place(bench.open().view()) == ("Cap", 1, 1, 2)


def test_the_next_tap_writes_what_waited(bench: Bench) -> None:
    project = bench.work(Stitch())
    connection = connection_of(project)
    connection.execute("PRAGMA query_only = ON")
    project.do(Stitch())
    assert project.trouble.startswith("the data folder cannot be written to: what you do is kept in memory")
    connection.execute("PRAGMA query_only = OFF")
    project.do(Stitch())
    assert (project.trouble, is_kept(bench)) == ("", 4)


def test_another_program_that_holds_the_journal_is_waited_for(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    project = bench.work(Stitch())
    connection_of(project).execute("PRAGMA busy_timeout = 10")
    with closing(sqlite3.connect(bench.journal, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        project.do(Stitch())
        assert project.trouble.startswith("another program holds the journal")
    assert project.retry() and is_kept(bench) == 3


def test_a_folder_in_the_place_of_one_of_our_files_is_named(bench: Bench) -> None:
    (bench.data / "journal.use").mkdir(parents=True)
    project = bench.work(Stitch())
    assert project.trouble.startswith("journal.use in the data folder is a folder; move it away")


def test_a_folder_that_cannot_be_made_leaves_the_maker_working_in_memory(bench: Bench) -> None:
    bench.data.write_text("a file is in the way", "utf-8")
    project = bench.work(RoundDone(), Stitch(2))
    assert place(project.view()) == ("Cap", 1, 2, 2)
    assert project.trouble.startswith("the data folder cannot be used (")
    assert [each.number for each in project.history()] == [1, 2, 3]
    bench.data.unlink()
    project.do(Stitch())
    assert (project.trouble, is_kept(bench)) == ("", 4)


NOBODY = 65534
"""The number of the user without rights, by common practice of Linux; READ_ONLY says it again."""

READ_ONLY = """
import os, sys
from pathlib import Path
import urllib.parse  # pathlib asks for it late, when this user may no longer read root's Python
sys.path[:0] = sys.argv[1:3]
from support.building import toadstool
from support.project_bench import Clock
from tracker.session.events import Stitch
from tracker.project.project import open_project, projects_under_way
if os.getuid() == 0:
    os.setgroups([]); os.setgid(65534); os.setuid(65534)
folder = Path(sys.argv[3])
project = open_project(toadstool(), folder / "toadstool.toml", folder / "data", Clock())
print(project.view().round_number, project.trouble)
print(project.do(Stitch()).stitch, project.trouble)
print(len(projects_under_way(folder / "data")))
project._keeper.close()
"""


@pytest.mark.parametrize(
    ("files", "told"),
    [
        (0o644, "the data folder cannot be written to"),
        (0o444, "the data folder cannot be used (Permission denied)"),
    ],
    ids=["its files could be written to", "nothing can be written to"],
)
def test_a_folder_that_may_only_be_read_is_read(files: int, told: str) -> None:
    """As another user where we are root, who may write anywhere: a folder that all may look into is given to them."""
    with TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        bench = Bench(Path(folder))
        bench.work(RoundDone()).close()
        for path in bench.data.iterdir():
            path.chmod(files)
        bench.data.chmod(0o555)
        if os.getuid() == 0:
            for path in (bench.data, *bench.data.iterdir()):
                os.chown(path, NOBODY, NOBODY)
        command = [sys.executable, "-c", READ_ONLY, str(HERE.parents[1]), str(HERE.parent), folder]
        done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        bench.data.chmod(0o755)
    assert done.returncode == 0, done.stderr
    first, second, third = done.stdout.splitlines()
    assert first.startswith(f"2 {told}")
    assert second.startswith(f"1 {told}: what you do is kept in memory")
    assert third == "1"


def test_a_journal_that_was_removed_under_way_is_put_back_with_all_that_is_in_it(bench: Bench) -> None:
    other = bench.open(pattern(cap(), title="Other"), file=bench.folder / "other.toml")
    other.do(Stitch(2))
    other.close()
    project = bench.work(RoundDone(), Stitch(2))
    shutil.rmtree(bench.data)
    project.do(Stitch())
    assert project.trouble == ""
    assert project.notices == ("the journal was removed while it was in use; it was put back",)
    project.close()
    assert place(bench.open().view()) == ("Cap", 1, 2, 3)
    assert [found.title for found in projects_under_way(bench.data)] == ["Toadstool", "Other"]


def test_a_log_that_was_removed_under_way_loses_nothing(bench: Bench) -> None:
    project = bench.work(RoundDone(), Stitch(2))
    (bench.data / "journal.sqlite3-wal").unlink()
    project.do(Stitch())
    bench.break_off(project)
    assert place(bench.open().view()) == ("Cap", 1, 2, 3)
    assert len(bench.open(to_work=False).history()) == 5


def test_an_older_copy_put_in_its_place_is_brought_up_to_date(bench: Bench) -> None:
    """What file sync and backups do."""
    bench.work(RoundDone()).close()
    older = bench.journal.read_bytes()
    project = bench.work(Stitch(2))
    bench.journal.unlink()
    bench.journal.write_bytes(older)
    project.do(Stitch())
    assert project.trouble == ""
    project.close()
    again = bench.open()
    assert place(again.view()) == ("Cap", 1, 2, 3)
    assert [each.number for each in again.history()] == list(range(1, 9))


def test_a_journal_that_went_another_way_is_not_merged(bench: Bench, tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    elsewhere = Bench(tmp_path / "there")
    elsewhere.file, elsewhere.clock.at = bench.file, 5.0
    elsewhere.work(Stitch()).close()
    project = bench.work(RoundDone(), Stitch(2), Stitch())
    bench.journal.unlink()
    bench.journal.write_bytes(elsewhere.journal.read_bytes())
    project.do(Stitch())
    told = "the journal was replaced by another one; what you had is kept in journal-kept-1.sqlite3"
    assert project.trouble.startswith(f"{told}: what you do is kept in memory")
    project.do(Stitch())
    assert place(project.view()) == ("Cap", 1, 2, 5)
    bench.break_off(project)
    elsewhere.clear()
    assert place(bench.open().view()) == ("Cap", 1, 1, 1)
    kept = bench.data / "journal-kept-1.sqlite3"
    with closing(sqlite3.connect(kept)) as connection:
        assert connection.execute("SELECT count(*) FROM entry").fetchone() == (4,)


def test_a_journal_of_a_later_version_is_refused_and_untouched(bench: Bench) -> None:
    bench.work(RoundDone()).close()
    with closing(sqlite3.connect(bench.journal)) as connection:
        connection.execute("INSERT INTO migration VALUES (99, 'from the future', 0)")
        connection.commit()
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    before = bench.journal.read_bytes()
    for attempt in (bench.open, lambda: bench.open(to_work=False), lambda: projects_under_way(bench.data)):
        with pytest.raises(NewerJournal, match=r"written by a later version of this program \(its tables are 99"):
            attempt()
    assert bench.journal.read_bytes() == before
    assert not list(bench.data.glob("journal-*"))


def test_somebody_elses_file_is_left_alone(bench: Bench) -> None:
    bench.data.mkdir()
    with closing(sqlite3.connect(bench.journal)) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
        connection.commit()
    before = bench.journal.read_bytes()
    with pytest.raises(JournalTrouble, match="is not a journal of this program"):
        bench.open()
    assert bench.journal.read_bytes() == before


def test_a_clock_that_was_set_back_spoils_nothing(bench: Bench) -> None:
    project = bench.work(Stitch())
    bench.clock.at -= 86400 * 3
    project.do(Stitch())
    project.close()
    again = bench.open()
    assert place(again.view()) == ("Cap", 1, 1, 2)
    assert [each.event for each in again.history()][-2:] == [Closed(), again.history()[-1].event]
    assert all(day.seconds >= 0 for day in again.days())


def test_going_on_reads_few_rows_however_long_the_history(bench: Bench) -> None:
    """Rows, not seconds: with the same number of taps since the last saved place, 10 and 20,000 read the same."""
    project = bench.work(Stitch())
    keeper = project._keeper
    journal, known = keeper.journal, keeper.record
    assert journal is not None and known is not None
    entries = project.history()
    start = len(entries)
    many = [type(entries[0])(start + n, bench.clock(), Stitch() if n % 2 else Undo(), 0) for n in range(1, 20_001)]
    standing = project._standing(is_stop=True)
    keeper.record = journal.append(known, many, standing.summary, standing.place(), None, known)
    keeper._in_file = keeper.record
    project._number = start + 20_000
    for _ in range(3):
        project.do(Stitch())
    bench.break_off(project)
    again = bench.open(to_work=False)
    reader = again._watched
    assert reader is not None
    found = reader.find(str(bench.file), "Toadstool")
    assert found is not None and found.number == start + 20_003
    kept = reader.kept(found)
    assert kept.saved is not None and len(kept.entries) < SAVE_EVERY
    assert place(again.view()) == ("Cap", 1, 1, 4)


def test_a_place_is_saved_now_and_then(bench: Bench) -> None:
    project = bench.open()
    for _ in range(SAVE_EVERY // 2 + 1):
        project.do(Stitch())
        project.do(Undo())
    bench.break_off(project)
    reader = bench.open(to_work=False)._watched
    assert reader is not None
    known = reader.projects()[0]
    kept = reader.kept(known)
    assert kept.saved is not None and kept.saved.number == SAVE_EVERY + 1
    assert len(kept.entries) == known.number - SAVE_EVERY - 1


def test_a_file_that_is_no_journal_yet_is_let_go_of(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a program leaves it that was killed at its first start: whoever only looks finds and holds nothing."""
    bench.data.mkdir()
    with closing(sqlite3.connect(bench.journal)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
    opened: list[sqlite3.Connection] = []
    to_read = opener.to_read

    def noted(path: Path) -> sqlite3.Connection:
        opened.append(to_read(path))
        return opened[-1]

    monkeypatch.setattr(opener, "to_read", noted)
    assert opener.open_to_read(bench.data) is None
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        opened[0].execute("SELECT 1")


def test_each_migration_runs_once_and_whole(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    """A migration that fails in its middle leaves the tables and their version as they were."""
    from tracker.journal import schema

    bench.work(RoundDone()).close()
    broken = schema.Migration(LATEST + 1, "broken", ("CREATE TABLE extra (a)", "CREATE TABLE extra (b)"))
    monkeypatch.setattr(schema, "MIGRATIONS", (*MIGRATIONS, broken))
    with pytest.raises(JournalTrouble):
        bench.open()
    monkeypatch.setattr(
        schema, "MIGRATIONS", (*MIGRATIONS, schema.Migration(LATEST + 1, "whole", ("CREATE TABLE extra (a)",)))
    )
    assert place(bench.open().view()) == ("Cap", 1, 2, 0)
    with closing(sqlite3.connect(bench.journal)) as connection:
        assert [row[0] for row in connection.execute(NUMBERS)] == [*EVERY, LATEST + 1]
        assert connection.execute("SELECT count(*) FROM extra").fetchone() == (0,)


def kept_in(bench: Bench, version: str, file: str = "/patterns/toadstool.toml") -> None:
    """A journal as an earlier version wrote it; each of these must open for ever."""
    bench.data.mkdir()
    with closing(sqlite3.connect(bench.journal)) as connection:
        connection.executescript((HERE / f"version-{version}.sql").read_text("utf-8"))
    bench.file = Path(file)


def test_a_journal_of_version_one_is_opened_and_goes_on_as_one_of_today(bench: Bench) -> None:
    kept_in(bench, "1")
    looker = bench.open(to_work=False)
    assert place(looker.view()) == ("Cap", 1, 3, 3)
    project = bench.open()
    assert project.notices == ()
    assert place(project.view()) == ("Cap", 1, 3, 3)
    project.do(Frog(1))
    changed = project.do(RoundRewritten(1, "Rnd 2: inc x 4, 1 sc (9)", 5))
    project.close()
    assert bench.open().view() == changed
    with closing(sqlite3.connect(bench.journal)) as connection:
        assert [row[0] for row in connection.execute(NUMBERS)] == EVERY


def test_a_journal_of_version_two_is_opened_with_its_changed_round(bench: Bench) -> None:
    kept_in(bench, "2")
    project = bench.open()
    view = project.view()
    assert (place(view), view.changed) == (("Cap", 1, 2, 3), True)
    assert (view.text, view.pattern_text) == ("Rnd 2: inc x 4, 1 sc (9)", "Rnd 2: 12 stitches")
    assert project.learned().as_json() == {"stitch skipped": 1}
    before = project.do(Undo())
    assert (place(before), before.changed) == (("Cap", 1, 2, 0), True)
    after = project.do(Undo())
    assert not after.changed and after.unanswered is not None and after.unanswered.counted == 5
    assert project.learned().as_json() == {}


def facts(project: Project) -> tuple[str, list[tuple[str, float]], list[str]]:
    work = project.state.work
    return work.audience, [(each.yarn, each.grams) for each in work.weights], [note.text for note in work.notes]


def bodies(bench: Bench) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(bench.journal)) as connection:
        return connection.execute("SELECT number, body, link FROM entry ORDER BY number").fetchall()


def test_notes_of_version_two_that_told_facts_are_facts_and_stay_as_they_were_written(bench: Bench) -> None:
    """Half of them lie in the saved place, half in the entries after it."""
    kept_in(bench, "2-notes")
    before = bodies(bench)
    project = bench.open()
    weights = [("R", 50.0), ("R", 43.5), ("", 41.0)]
    assert facts(project) == ("older child", weights, ["tight there", "the ball of R weighs 90000 g"])
    assert project.notices == ()
    assert bodies(bench)[: len(before)] == before
    told = [each.event for each in project.history()]
    assert [event for event in told if isinstance(event, BallWeighed)] == [BallWeighed(*each) for each in weights]
    for _ in range(3):
        project.do(Undo())
    assert facts(project) == ("older child", weights[:2], ["tight there"])
    for _ in range(5):
        project.do(Undo())
    assert facts(project) == ("older child", [], [])
    for _ in range(2):
        project.do(Undo())
    assert facts(project) == ("", [], [])


def test_a_maker_s_own_note_of_those_words_is_a_note_since_version_three(bench: Bench) -> None:
    kept_in(bench, "3")
    notes = ["the ball of R weighs 9 g", "this is for a child under 3"]
    for _ in range(2):
        project = bench.open()
        assert facts(project) == ("grown-up", [("R", 50.0), ("R", 43.5), ("", 41.0)], notes)
        project.do(Note("this is for an older child"))
        notes.append("this is for an older child")
        project.close()
    assert facts(bench.open()) == ("grown-up", [("R", 50.0), ("R", 43.5), ("", 41.0)], notes)


BUTTON = '''title = "Button"
for = "adult"
[[piece]]
name = "Face"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: work the fancy edge
Rnd 5: (1 sc, dec) x 5 (12)
"""
'''


def test_a_journal_of_version_four_is_opened_with_the_lines_that_were_mended(bench: Bench) -> None:
    """One of them lies in the saved place, three in the entries after it, two of these mended together."""
    kept_in(bench, "4", "/patterns/button.toml")
    bench.pattern = loads(BUTTON)
    project = bench.open()

    def lines() -> list[tuple[str, int | None]]:
        return [(item.text.partition(": ")[2], item.leaves) for item in project.pattern.pieces[0].rounds[2:]]

    third = ("(1 sc, inc) x 6 (18)", 18)
    assert (project.notices, place(project.view())) == ((), ("Face", 1, 5, 2))
    assert lines()[::2] == [third, ("(1 sc, dec) x 5 (12)", 10)] and lines()[1][1] == 18
    assert project.view().doubt == "", "the fifth round is worked as it is printed: nothing is asked"
    for _ in range(3):
        project.do(Undo())
    assert (lines()[::2], place(project.view())) == ([third, ("(1 sc, dec) x 6 (12)", 12)], ("Face", 1, 4, 0))
    for _ in range(2):
        project.do(Undo())
    assert (lines()[0], lines()[1][1], place(project.view())) == (third, None, ("Face", 1, 3, 4))
    for _ in range(2):
        project.do(Undo())
    assert lines()[0] == ("(1 sc, inc) x 5 (18)", 15)


def test_a_history_with_old_notes_goes_to_another_machine_as_it_was_written(bench: Bench, tmp_path: Path) -> None:
    kept_in(bench, "2-notes")
    project = bench.open()
    project.do(Note("the ball weighs 3 g"))
    project.close()
    lines = list(history_lines(bench.data, bench.file, "Toadstool"))
    there = tmp_path / "there"
    assert take_history(lines, bench.pattern, bench.file, there, bench.clock) == "Toadstool: 20 entries taken"
    other = open_project(bench.pattern, bench.file, there, bench.clock, to_work=False)
    assert facts(other) == facts(bench.open(to_work=False))
    other.close()
    assert list(history_lines(there, bench.file, "Toadstool")) == lines


def test_what_cannot_be_written_down_is_no_damage(bench: Bench) -> None:
    """Half a pair of UTF-16 is no character (Unicode Standard, 3.9, D92), so UTF-8 has no bytes for it."""
    project = bench.open(replace(pattern(cap()), title="half \ud83e"))
    project.do(Stitch())
    assert project.trouble.startswith("there are characters in it that cannot be written down: what you do is kept")
    assert [path.name for path in bench.data.iterdir() if "damaged" in path.name] == []
    assert is_kept(bench) == 0


def test_a_pattern_with_no_title_in_a_file_with_no_proper_name_is_kept(bench: Bench) -> None:
    """A name in bytes that are no UTF-8, as from an old disk."""
    text = '[[piece]]\nname = "Cap"\nrounds = "Rnd 1: 7 sc in magic ring (7)"\n'
    file = Path(os.fsdecode(os.fsencode(bench.folder) + b"/h\xfct.toml"))
    file.write_text(text, "utf-8")
    for stitches in (2, 4):
        project = bench.open(load(file), file=file)
        assert (project.pattern.title, project.do(Stitch(2)).stitch, project.trouble) == ("ht", stitches, "")
        project.close()
    assert [path.name for path in bench.data.iterdir() if "damaged" in path.name] == []
