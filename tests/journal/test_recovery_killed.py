"""A program that is killed while it puts a sound journal in the place of a damaged one loses nothing by it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from support.project_bench import Bench, place

from tracker.journal.paths import RESCUED, beside
from tracker.session.events import RoundDone, Stitch


class Killed(BaseException):
    """Ends the program where it is raised."""


def with_taps_in_the_log_only(bench: Bench) -> None:
    """The journal as a kill leaves it, with the last taps in its log, and then its head damaged."""
    project = bench.work(RoundDone(), Stitch(2))
    log = beside(bench.journal, "-wal")
    kept = {file: file.read_bytes() for file in (bench.journal, log)}
    bench.break_off(project)
    for file, content in kept.items():
        file.write_bytes(content)
    assert len(kept[log]) > 0
    damaged = bytearray(kept[bench.journal])
    damaged[18] = 6  # a form of writing that there is none of (sqlite.org/fileformat2.html, section 1.3.3)
    bench.journal.write_bytes(damaged)


@pytest.mark.parametrize("step", ["rescued", "log removed", "put in place"])
def test_a_kill_in_the_middle_of_a_rescue(bench: Bench, step: str) -> None:
    with_taps_in_the_log_only(bench)
    replace, unlink = os.replace, Path.unlink

    def replaced(source: Path, target: Path) -> None:
        if (step == "rescued" and target.name == RESCUED) or (step == "put in place" and source.name == RESCUED):
            raise Killed
        replace(source, target)

    def unlinked(path: Path, missing_ok: bool = False) -> None:
        unlink(path, missing_ok=missing_ok)
        if step == "log removed" and path == beside(bench.journal, "-wal"):
            raise Killed

    with pytest.MonkeyPatch.context() as killing, pytest.raises(Killed):
        killing.setattr(os, "replace", replaced)
        killing.setattr(Path, "unlink", unlinked)
        bench.open()
    project = bench.open()
    assert place(project.view()) == ("Cap", 1, 2, 2)
    assert project.trouble == ""
    assert project.notices and project.notices[0].startswith("the journal was damaged")
