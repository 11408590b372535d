"""A damaged journal: it opens with the last good place, or says what was set aside, and never writes over it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.building import cap, pattern
from support.project_bench import Bench, place

from tracker.project.project import Project, open_project, projects_under_way
from tracker.session.events import Note, RoundDone, Stitch
from tracker.session.state import Work

PAGE = 4096
SCRIPT = [RoundDone(), RoundDone(), Stitch(3), Note("hello there"), Stitch(3)]


class Shelf:
    """A data folder as it was left, to be damaged again and again."""

    def __init__(self, bench: Bench, closed: bool) -> None:
        self.bench = bench
        self.places: list[Work] = []
        project = bench.open()
        self.places.append(project.state.work)
        for event in SCRIPT:
            project.do(event)
            self.places.append(project.state.work)
        if closed:
            project.close()
        self.left = bench.folder / "left"
        shutil.copytree(bench.data, self.left)
        self.number = 0

    def damaged(self, name: str, content: bytes) -> tuple[Project, Path]:
        """The project opened from a copy in which one file holds something else."""
        folder = self.bench.folder / f"trial-{self.number}"
        self.number += 1
        shutil.copytree(self.left, folder)
        (folder / name).write_bytes(content)
        return open_project(self.bench.pattern, self.bench.file, folder, self.bench.clock), folder

    def judge(self, name: str, content: bytes, *, may_go_back: bool = False) -> bool:
        """Whether the place is the last one; if it is not, it must be an earlier one, and told."""
        project, folder = self.damaged(name, content)
        try:
            work, notices = project.state.work, project.notices
            assert project.trouble == "" and project.changed is None
            assert work in self.places
            assert work == self.places[-1] or (may_go_back and notices)
            if notices and content:
                aside = [path.read_bytes() for path in folder.glob(f"journal-*{name.removeprefix('journal')}")]
                assert content in aside, "what was found must be kept as it was"
            return work == self.places[-1]
        finally:
            project.close()
            shutil.rmtree(folder)


@pytest.fixture
def closed(bench: Bench) -> Shelf:
    return Shelf(bench, closed=True)


@pytest.fixture
def broken_off(bench: Bench) -> Shelf:
    return Shelf(bench, closed=False)


def flips(content: bytes, positions: Iterator[int]) -> Iterator[tuple[int, bytes]]:
    for position in positions:
        changed = bytearray(content)
        changed[position] ^= 1 << (position % 8)
        yield position, bytes(changed)


def test_no_flipped_bit_of_the_journal_loses_the_place(closed: Shelf) -> None:
    """The marks of the file and of its pages, and a byte here and there. (tests/bench/damage.py tries every byte.)"""
    content = (closed.left / "journal.sqlite3").read_bytes()
    heads = {page + byte for page in range(0, len(content), PAGE) for byte in (0, 3, 5)}
    positions = sorted({*range(0, 100, 11), *heads, *range(0, len(content), 1009)})
    for position, changed in flips(content, iter(positions)):
        assert closed.judge("journal.sqlite3", changed), position


def test_a_flipped_bit_of_the_log_is_told_and_goes_back_at_most(broken_off: Shelf) -> None:
    """But for the last commit, of which nobody can know whether it was ever acknowledged."""
    content = (broken_off.left / "journal.sqlite3-wal").read_bytes()
    last_commit = len(content) - 3 * (PAGE + 24)
    for _, changed in flips(content, iter(range(0, last_commit, 4001))):
        broken_off.judge("journal.sqlite3-wal", changed, may_go_back=True)


def test_a_log_that_was_cut_goes_back_to_an_earlier_place_and_tells_how_far(broken_off: Shelf) -> None:
    """Nothing in what is left tells it; the mark beside the journal does."""
    content = (broken_off.left / "journal.sqlite3-wal").read_bytes()
    told = set()
    for length in [*range(0, len(content), 5003), len(content)]:
        project, folder = broken_off.damaged("journal.sqlite3-wal", content[:length])
        assert project.state.work in broken_off.places
        assert project.trouble == ""
        assert bool(project.notices) == (project.state.work != broken_off.places[-1]), length
        told |= set(project.notices)
        project.close()
        shutil.rmtree(folder)
    lost = "the last thing that you did is missing from the journal: look whether the place is right"
    assert {lost, lost.replace("thing that you did is", "3 things that you did are")} <= told


def test_a_log_that_was_removed_after_a_kill_is_told(broken_off: Shelf) -> None:
    """The file itself is sound then, and holds only what was brought over from the log before."""
    project, folder = broken_off.damaged("journal.sqlite3-wal", b"")
    shutil.rmtree(folder, ignore_errors=True)
    assert project.notices
    project.close()


@pytest.mark.parametrize("content", [b"", b"9 x y", b"9" * 5_000, bytes(80), b"\xff" * 80, b"9 abc 0123"])
def test_a_mark_that_is_not_as_it_was_written_tells_nothing(content: bytes, broken_off: Shelf) -> None:
    (mark,) = (broken_off.left / "turns").glob("*.last")
    project, folder = broken_off.damaged(f"turns/{mark.name}", content)
    assert (project.state.work, project.notices) == (broken_off.places[-1], ())
    project.close()
    shutil.rmtree(folder)


def test_a_log_that_was_removed_is_told_by_either_mark(broken_off: Shelf) -> None:
    for mark in (broken_off.left / "turns").glob("*.[la]*"):
        content = mark.read_bytes()
        mark.write_bytes(b"")
        project, folder = broken_off.damaged("journal.sqlite3-wal", b"")
        assert project.state.work != broken_off.places[-1] and project.notices
        project.close()
        shutil.rmtree(folder)
        mark.write_bytes(content)


def test_a_half_written_last_frame_loses_only_what_was_not_acknowledged(broken_off: Shelf) -> None:
    content = (broken_off.left / "journal.sqlite3-wal").read_bytes()
    torn = content + content[-(PAGE + 24) : -PAGE // 2]
    assert broken_off.judge("journal.sqlite3-wal", torn)


@pytest.mark.parametrize("length", [1, 99, 100, PAGE - 1, PAGE, 2 * PAGE, 3 * PAGE + 7, 5 * PAGE])
def test_a_journal_cut_off_is_set_aside_and_told(closed: Shelf, length: int) -> None:
    content = (closed.left / "journal.sqlite3").read_bytes()
    closed.judge("journal.sqlite3", content[:length], may_go_back=True)


def test_an_empty_journal_is_told(closed: Shelf) -> None:
    project, _ = closed.damaged("journal.sqlite3", b"")
    assert project.notices == ("the journal was found empty, so it begins anew",)
    project.close()


def test_a_log_without_its_journal_is_set_aside(broken_off: Shelf) -> None:
    log = (broken_off.left / "journal.sqlite3-wal").read_bytes()
    project, folder = broken_off.damaged("journal.sqlite3", b"")
    told = "the journal was found empty, so it begins anew; what was left of it is kept as journal-unread-1.sqlite3"
    assert project.notices == (told,)
    assert (folder / "journal-unread-1.sqlite3-wal").read_bytes() == log
    project.close()


def test_something_else_in_its_place_is_set_aside(closed: Shelf) -> None:
    project, folder = closed.damaged("journal.sqlite3", b"dear diary, " * 1000)
    assert project.notices == (
        "the journal was damaged. Nothing in it could be read, so the journal begins anew. "
        "The damaged one is kept as journal-damaged-1.sqlite3",
    )
    assert (folder / "journal-damaged-1.sqlite3").read_bytes() == b"dear diary, " * 1000
    project.close()


def test_what_was_set_aside_before_is_never_written_over(closed: Shelf) -> None:
    content = (closed.left / "journal.sqlite3").read_bytes()
    project, folder = closed.damaged("journal.sqlite3", content[: 2 * PAGE])
    project.close()
    (folder / "journal.sqlite3").write_bytes(content[: 3 * PAGE])
    again = open_project(closed.bench.pattern, closed.bench.file, folder, closed.bench.clock)
    assert (folder / "journal-damaged-1.sqlite3").read_bytes() == content[: 2 * PAGE]
    assert (folder / "journal-damaged-2.sqlite3").read_bytes() == content[: 3 * PAGE]
    again.close()


def test_damage_that_comes_while_working_is_worked_on_from(bench: Bench) -> None:
    """The window knows the place; what the file lost of the history stays lost, the place does not."""
    project = bench.work(*SCRIPT)
    bench.break_off(project)
    content = bytearray(bench.journal.read_bytes())
    project = bench.open()
    with bench.journal.open("r+b") as file:
        file.write(bytes(200))
    journal = project._keeper.journal
    assert journal is not None
    journal._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    with bench.journal.open("r+b") as file:
        file.write(b"\0" * (len(content) + PAGE))
    journal._connection.execute("PRAGMA cache_size = 0")
    project.do(Stitch())
    assert place(project.view()) == ("Cap", 1, 3, 7)
    assert project.trouble == ""
    assert any("was damaged" in notice for notice in project.notices)
    project.close()
    assert place(bench.open().view()) == ("Cap", 1, 3, 7)


def test_other_projects_in_a_damaged_journal_are_saved_too(bench: Bench) -> None:
    other = bench.open(pattern(cap(), title="Other"), file=bench.folder / "other.toml")
    other.do(Stitch(2))
    other.close()
    bench.work(*SCRIPT).close()
    content = bytearray(bench.journal.read_bytes())
    content[:100] = bytes(100)
    bench.journal.write_bytes(content)
    project = bench.open()
    told = "All places could be read and go on. The damaged one is kept as journal-damaged-1.sqlite3"
    assert project.notices == (f"the journal was damaged. {told}",)
    assert place(project.view()) == ("Cap", 1, 3, 6)
    assert {found.title for found in projects_under_way(bench.data)} == {"Toadstool", "Other"}
    assert [type(each.event).__name__ for each in project.history()][:3] == ["Opened", "RoundDone", "RoundDone"]


def test_damage_found_while_another_window_works_is_left_for_later(bench: Bench) -> None:
    first = bench.open(pattern(cap(), title="Other"), file=bench.folder / "other.toml")
    bench.work(*SCRIPT).close()
    journal = first._keeper.journal
    assert journal is not None
    journal._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    content = bytearray(bench.journal.read_bytes())
    content[PAGE + 1 : 5 * PAGE] = bytes(4 * PAGE - 1)
    bench.journal.write_bytes(content)
    with pytest.raises(Exception, match="damaged and open in another window: close that one first"):
        bench.open()
    assert bench.journal.read_bytes() == bytes(content)
