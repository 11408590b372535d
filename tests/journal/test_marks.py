"""Damage to the few bytes that say what the journal is: it is put aside, and the place goes on."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.project_bench import Bench, place

from tracker.session.events import RoundDone, Stitch

WRITTEN_AS = 18
"""Where the file says in which form it may be written (sqlite.org/fileformat2.html, section 1.3.3)."""


def left(bench: Bench) -> bytearray:
    bench.work(RoundDone(), Stitch(2)).close()
    return bytearray(bench.journal.read_bytes())


def is_rescued(bench: Bench, damaged: bytes) -> None:
    bench.journal.write_bytes(damaged)
    project = bench.open()
    assert place(project.view()) == ("Cap", 1, 2, 2)
    assert project.trouble == ""
    (notice,) = project.notices
    assert notice.startswith("the journal was damaged. All places could be read and go on.")
    assert [path.read_bytes() for path in Path(bench.data).glob("journal-damaged-*")] == [damaged]


@pytest.mark.parametrize("form", [0, 3, 6, 130])
@pytest.mark.parametrize("where", [WRITTEN_AS, WRITTEN_AS + 1])
def test_a_form_that_there_is_none_of_is_damage(bench: Bench, where: int, form: int) -> None:
    """SQLite would open it for reading only, and for ever."""
    content = left(bench)
    content[where] = form
    is_rescued(bench, content)


@pytest.mark.parametrize("bit", range(8))
def test_a_changed_number_of_a_migration_is_damage_and_no_later_version(bench: Bench, bit: int) -> None:
    """The first row of the migrations holds its name "begin" and is kept under its number, which stands before it."""
    content = left(bench)
    where = content.index(b"begin")
    row = max(position for position in range(where - 8, where) if content[position] == 1)
    content[row] ^= 1 << bit
    bench.journal.write_bytes(content)
    project = bench.open()
    assert (place(project.view()), project.trouble) == (("Cap", 1, 2, 2), "")


@pytest.mark.parametrize("offset", range(11))
def test_a_changed_description_of_the_migrations_is_damage(bench: Bench, offset: int) -> None:
    content = left(bench)
    where = content.index(b"PRIMARY KEY, name TEXT NOT NULL, at") + offset
    content[where] ^= 1
    bench.journal.write_bytes(content)
    project = bench.open()
    assert (place(project.view()), project.trouble) == (("Cap", 1, 2, 2), "")
