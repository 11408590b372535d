"""Disks that refuse in earnest: full ones, and folders that cannot be written to.

Each scene runs with a limit that every system has and, where this one lets us mount, on a real small file system.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import pytest
from support.building import cap, pattern
from support.project_bench import Bench, place

from tracker.project.project import projects_under_way
from tracker.session.events import RoundDone, Stitch

SCENES = Path(__file__).with_name("disk_scenes.py")


@cache
def apart() -> tuple[str, ...]:
    """How to run something where it may mount and nobody else sees it; () if this system does not let us."""
    for way in (("unshare", "--mount"), ("unshare", "--user", "--map-root-user", "--mount")):
        trial = [*way, "mount", "-t", "tmpfs", "tmpfs", str(SCENES.parent)]
        if shutil.which("unshare") and subprocess.run(trial, capture_output=True, check=False).returncode == 0:
            return way
    return ()


FULL = ["limit", *(["mounted"] if apart() else [])]
READ_ONLY = ["permissions", *(["mounted"] if apart() else [])]


@pytest.fixture
def anywhere() -> Iterator[Path]:
    """A folder that every user may reach; pytest's own ones belong to one user alone."""
    folder = Path(mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def seen(scene: str, way: str, folder: Path) -> dict[str, Any]:
    """What a scene tells; it gives its figures as JSON."""
    command = [*(apart() if way == "mounted" else ()), sys.executable, str(SCENES), scene, way, str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def are_plain(told: list[str], *reasons: str, first: int = 1) -> None:
    """Each tap tells why nothing is written, and how many entries wait."""
    for number, line in enumerate(told, start=first):
        assert line.endswith(f"kept in memory and written down as soon as it can be ({number} so far)")
        assert line.startswith(reasons)


@pytest.mark.parametrize("way", FULL)
def test_a_disk_that_fills_up_under_way_loses_nothing(way: str, anywhere: Path) -> None:
    found = seen("fills_up", way, anywhere)
    are_plain(found["told"], "the disk is full", "the disk refuses to write")
    assert (found["waited"], found["saved"], found["trouble"]) == (False, True, "")
    assert found["place"] == ["Cap", 1, 2, 3]
    assert found["numbers"] == list(range(1, 10))


@pytest.mark.parametrize("way", FULL)
def test_a_disk_that_is_full_at_the_first_start_does_not_keep_the_maker_from_working(
    way: str, anywhere: Path
) -> None:
    found = seen("is_full", way, anywhere)
    assert all("kept in memory and written down as soon as it can be" in line for line in found["told"])
    assert (found["saved"], found["trouble"], found["notices"]) == (True, "", [])
    assert found["place"] == ["Cap", 1, 1, 1]
    assert found["numbers"] == list(range(1, 8))


@pytest.mark.parametrize("way", FULL)
def test_leaving_with_a_full_disk_keeps_what_was_written_before(way: str, anywhere: Path) -> None:
    """What was told to be in memory only ends with the program; the journal itself is whole."""
    found = seen("is_left_full", way, anywhere)
    are_plain(found["told"], "the disk is full", "the disk refuses to write")
    assert (found["place"], found["notices"], found["trouble"]) == (["Cap", 1, 2, 2], [], "")


@pytest.mark.parametrize("way", FULL)
def test_a_damaged_journal_is_not_touched_while_there_is_no_room_to_put_it_aside(way: str, anywhere: Path) -> None:
    found = seen("is_damaged_and_full", way, anywhere)
    assert found["refused"].startswith("the journal is damaged and cannot be put aside: the d")
    assert found["refused"].endswith("it was left as it is: make room and try again")
    assert found["untouched"] and found["aside"]
    assert found["left"] == ["journal.sqlite3", "journal.use", "turns"], "no half copies"
    assert found["place"] == ["Cap", 1, 2, 2]
    assert [notice.split(".")[0] for notice in found["notices"]] == ["the journal was damaged"]


@pytest.mark.parametrize("way", READ_ONLY)
def test_a_folder_that_cannot_be_written_to_is_read_and_written_when_it_can_be(way: str, anywhere: Path) -> None:
    found = seen("is_read_only", way, anywhere)
    assert found["found"] == ["Cap", 1, 2, 2]
    are_plain(found["told"], "the data folder cannot be ", first=2)  # the begin of this session waits too
    assert (found["saved"], found["trouble"]) == (True, "")
    assert found["place"] == ["Cap", 1, 2, 3]
    assert found["numbers"] == list(range(1, len(found["numbers"]) + 1))


def test_a_data_folder_can_be_moved(bench: Bench) -> None:
    """All that is kept lies in it, and nothing in it says where it is."""
    other = bench.open(pattern(cap(), title="Other"), file=bench.folder / "other.toml")
    other.do(Stitch(2))
    other.close()
    bench.work(RoundDone(), Stitch(2)).close()
    before = bench.open(to_work=False).history()
    bench.clear()
    bench.data = shutil.move(bench.data, bench.folder / "elsewhere") and bench.folder / "elsewhere"
    project = bench.open()
    assert (place(project.view()), project.notices) == (("Cap", 1, 2, 2), ())
    assert project.history()[: len(before)] == before
    assert {found.title for found in projects_under_way(bench.data)} == {"Toadstool", "Other"}


def test_a_data_folder_that_was_copied_while_it_was_in_use_goes_on(bench: Bench) -> None:
    """What file sync sees of a window that is open: the journal and its log, as they are at that moment."""
    project = bench.work(RoundDone(), Stitch(2))
    shutil.copytree(bench.data, bench.folder / "copy")
    bench.break_off(project)
    bench.data = bench.folder / "copy"
    again = bench.open()
    assert (place(again.view()), again.notices) == (("Cap", 1, 2, 2), ())
