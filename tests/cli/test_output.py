"""Files that are asked for with -o: whole or not at all, and never over another unless that was said.

A limit on the size of a file (POSIX, setrlimit, RLIMIT_FSIZE) stands for a full disk: a write stops part of the way.
"""

from __future__ import annotations

import os
import resource
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.cli.output import Unwritable, write_new
from tracker.cli.shipped_patterns import path_of

TEXT = "Hat\nRnd 1: 7 sc in magic ring (7)\nRnd 2: inc in each st around (14)\n"

PATTERN = '''title = "Bead"
[gauge]
stitch = "sc"
stitches = 22
rounds = 24
over = "10 cm"
[[piece]]
name = "Bead"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc around (12)
Rnds 3-4: sc around (12)
Rnd 5: dec around (6)
"""
'''

COMMANDS = {
    "draw": ["draw", "toadstool", "--piece", "Cap"],
    "write": ["write", "toadstool"],
    "write a page": ["write", "toadstool", "--html"],
    "read": ["read", "TEXT"],
    "measure": ["measure", "PATTERN", "--fit", "4cm"],
}
each_command = pytest.mark.parametrize("words", COMMANDS.values(), ids=COMMANDS)


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "hat.txt"
    path.write_text(TEXT, "utf-8")
    (tmp_path / "bead.toml").write_text(PATTERN, "utf-8")
    return path


def run(words: list[str], source: Path, target: Path, *more: str) -> int:
    files = {"TEXT": str(source), "PATTERN": str(source.with_name("bead.toml"))}
    words = [files.get(word, word) for word in words]
    return main([*words, "-o", str(target), "--data", str(source.parent / "data"), *more])


@contextmanager
def full_disk(room: int) -> Iterator[None]:
    """No file can get more bytes than this."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    ignored = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, ignored)


@each_command
def test_a_file_that_is_there_is_left_alone(
    words: list[str], source: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "mine"
    target.write_text("my own words", "utf-8")
    assert run(words, source, target) == 2
    assert f"{target} is there already, and was left alone" in capsys.readouterr().err
    assert target.read_text("utf-8") == "my own words"


@each_command
def test_a_file_is_replaced_where_that_is_said(words: list[str], source: Path, tmp_path: Path) -> None:
    fresh, target = tmp_path / "fresh", tmp_path / "mine"
    target.write_text("my own words", "utf-8")
    assert run(words, source, fresh) in (0, 1)
    assert run(words, source, target, "--replace") in (0, 1)
    assert target.read_bytes() == fresh.read_bytes()
    there = sorted(path.name for path in tmp_path.iterdir() if path.name != "data")
    assert there == ["bead.toml", "fresh", "hat.txt", "mine"]


@each_command
@pytest.mark.parametrize("is_there", [False, True])
def test_a_full_disk_leaves_everything_as_it_was(
    words: list[str], is_there: bool, source: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "mine"
    if is_there:
        target.write_text("my own words", "utf-8")
    before = sorted(path.name for path in tmp_path.iterdir())
    with full_disk(100):
        assert run(words, source, target, *["--replace"] * is_there) == 2
    told = capsys.readouterr().err
    assert f"{target}: " in told and "choose another file with -o" in told
    assert sorted(path.name for path in tmp_path.iterdir() if path.name != "data") == before
    assert not is_there or target.read_text("utf-8") == "my own words"
    assert run(words, source, target, *["--replace"] * is_there) in (0, 1)


def test_of_several_drawings_none_is_made_if_one_is_there(tmp_path: Path) -> None:
    """Of the pieces of the toadstool the one drawn last has its file already."""
    assert main(["draw", "toadstool", "-o", str(tmp_path / "a.svg")]) == 0
    first, *_, last = sorted(tmp_path.iterdir())
    first.unlink()
    kept = last.read_bytes()
    names = {path.name for path in tmp_path.iterdir()}
    assert main(["draw", "toadstool", "-o", str(tmp_path / "a.svg")]) == 2
    assert {path.name for path in tmp_path.iterdir()} == names and last.read_bytes() == kept


def test_a_pattern_is_not_drawn_over_itself(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_bytes(path_of("toadstool").read_bytes())
    assert main(["draw", str(own), "--piece", "Cap", "-o", str(own)]) == 2
    assert own.read_bytes() == path_of("toadstool").read_bytes()


def test_a_link_to_nothing_is_there_too(tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "nothing")
    with pytest.raises(Unwritable, match="is there already"):
        write_new("words", link)
    assert not (tmp_path / "nothing").exists()


def test_behind_a_link_the_file_itself_is_replaced_and_keeps_its_rights(tmp_path: Path) -> None:
    file, link = tmp_path / "file", tmp_path / "link"
    file.write_text("old", "utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    write_new("new", link, replace=True)
    assert link.is_symlink() and file.read_text("utf-8") == "new"
    assert file.stat().st_mode & 0o777 == 0o640


def test_what_is_no_plain_file_is_never_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for target in (tmp_path, pipe):
        with pytest.raises(Unwritable, match="is no plain file, and was left alone"):
            write_new("words", target, replace=True)
    assert pipe.is_fifo()


def test_a_disk_without_links_gets_its_file_and_keeps_what_it_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """FAT has no second name for a file, and link() says EPERM there (Linux, link(2))."""

    def refuse(*_: object) -> None:
        target.with_name("late").touch()
        raise PermissionError(1, "Operation not permitted")

    target = tmp_path / "mine"
    monkeypatch.setattr(os, "link", refuse)
    write_new("words", target)
    assert target.read_text("utf-8") == "words"
    (tmp_path / "late").unlink()
    with pytest.raises(Unwritable, match="is there already"):
        write_new("words", tmp_path / "late")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["late", "mine"]
    assert (tmp_path / "late").read_bytes() == b""
