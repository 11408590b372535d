"""What is kept of a pattern is what is read of it; and whatever lies in its place, the pattern is read right."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from tracker.pattern import kept_reading, loader
from tracker.pattern.kept_reading import MOST_KEPT, load_kept
from tracker.pattern.loader import load, loads
from tracker.pattern.pattern_file import UnreadableFile
from tracker.pattern.plain_values import as_rows, from_rows

ROOT = Path(__file__).parents[2]
SHIPPED = sorted((ROOT / "patterns").glob("*.toml"))
ROUNDS = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc around (12)"
TEXT = f'title = "{{title}}"\n[[piece]]\nname = "Cap"\nrounds = """\n{ROUNDS}\n"""\n'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "cap.toml"
    path.write_text(TEXT.format(title="Cap"), "utf-8")
    return path


@pytest.fixture
def readings(tmp_path: Path) -> Path:
    return tmp_path / "home" / "readings"


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts that were read, and not taken out of what is kept."""
    texts: list[str] = []
    monkeypatch.setattr(loader, "loads", lambda text, name="": (texts.append(text), loads(text, name))[1])
    return texts


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_what_is_kept_is_what_was_read(path: Path, readings: Path, read: list[str]) -> None:
    first, again = load_kept(path, readings), load_kept(path, readings)
    assert len(read) == 1
    assert first == again == load(path)
    assert again.digest == first.digest


def test_every_sort_of_value_in_our_sample_of_lines_can_be_kept() -> None:
    rows = [row for name in ("survey", "lace", "garments") for row in _lines(f"{name}.tsv")]
    piece = {"name": "P", "rounds": "\n".join(f"Rnd {number}: {line}" for number, line in enumerate(rows, 1))}
    pattern = loads(tomli_w.dumps({"title": "All", "piece": [piece]}))
    assert sum(bool(round_.problems) for round_ in pattern.pieces[0].rounds) > 10
    assert from_rows(json.loads(json.dumps(as_rows(pattern)))) == pattern


def _lines(name: str) -> list[str]:
    rows = (ROOT / "tests" / "notation" / name).read_text("utf-8").splitlines()
    lines = [row.split("\t")[2] for row in rows[1:100]]
    return [line.partition(":")[2].strip() or line for line in lines]


def test_what_stands_in_two_places_is_one_thing_again(file: Path) -> None:
    """Places in a plan are remembered by which plan it is."""
    file.write_text(TEXT.format(title="Cap").replace("Rnd 2: inc around (12)", "Rnds 2-9: sc around"), "utf-8")
    rounds = from_rows(as_rows(load(file))).pieces[0].rounds
    assert len({id(each.plan) for each in rounds}) == len({id(each.plan) for each in load(file).pieces[0].rounds}) < 9


def test_another_text_another_name_and_another_program_are_read_anew(
    file: Path, readings: Path, read: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load_kept(file, readings)
    file.write_text(TEXT.format(title="Hat"), "utf-8")
    assert load_kept(file, readings).title == "Hat"
    renamed = file.rename(file.with_name("hat.toml"))  # a file without a title is called by its name
    load_kept(renamed, readings)
    assert len(read) == 3
    program = tmp_path / "program"
    for folder in kept_reading._READS:
        (program / folder).mkdir(parents=True, exist_ok=True)
    source = program / "rounds" / "plan.py"
    source.write_text("1", "utf-8")
    monkeypatch.setattr(kept_reading, "_PROGRAM", program)
    load_kept(renamed, readings)
    os.utime(source, ns=(1, 1))
    load_kept(renamed, readings)
    assert len(read) == 5
    load_kept(renamed, readings)
    assert len(read) == 5
    monkeypatch.setattr(kept_reading, "_PROGRAM", tmp_path / "nothing")  # run out of an archive
    load_kept(renamed, readings)
    load_kept(renamed, readings)
    assert len(read) == 7


def test_every_folder_that_reads_is_looked_at() -> None:
    folders = {path.parent.relative_to(ROOT / "tracker").as_posix() for path in (ROOT / "tracker").rglob("*.py")}
    reading = {folder for folder in folders if folder.split("/")[0] in (".", "notation", "rounds", "pattern")}
    leaves = {folder for folder in reading if folder.startswith("pattern/")}  # they stand on what was read
    assert set(kept_reading._READS) == reading - leaves


def _sealed(value: object) -> bytes:
    body = value if isinstance(value, bytes) else json.dumps(value).encode()
    return sha256(body).hexdigest().encode() + b"\n" + body


def _rows(*rows: list[Any], sorts: tuple[str, ...] = ("tuple",)) -> bytes:
    return _sealed({"sorts": sorts, "rows": rows})


DAMAGE: dict[str, Callable[[bytes], bytes]] = {
    "cut short": lambda kept: kept[: len(kept) // 2],
    "emptied": lambda kept: b"",
    "one byte changed": lambda kept: kept.replace(b"Cap", b"Hat", 1),
    "its first line alone": lambda kept: kept.split(b"\n")[0],
    "no line end": lambda kept: b"x" * 3_000_000,
    "binary": lambda kept: _sealed(b"\x80\x04\x95c\x00\x00posix\x8c\x06system\x93."),
    "no object": lambda kept: _sealed([1, 2]),
    "nothing in it": lambda kept: _rows(),
    "another thing": lambda kept: _rows([0, 1, 2]),
    "a row that is not there": lambda kept: _rows([0, [7]]),
    "a sort that is not there": lambda kept: _rows([3, 1]),
    "too few fields": lambda kept: _rows([0], sorts=("tracker.pattern.model.Pattern",)),
    "what is no value": lambda kept: _rows([0, "echo"], sorts=("tracker.pattern.model.field",)),
    "what another module has": lambda kept: _rows([0, "x"], sorts=("tracker.pattern.model.Enum",)),
    "a module": lambda kept: _rows([0, "x"], sorts=("tracker.pattern.kept_reading.Path",)),
    "a module that is not there": lambda kept: _rows([0, "x"], sorts=("tracker.pattern.nothing.Pattern",)),
    "another program": lambda kept: _rows([0, "x"], sorts=("subprocess.Popen",)),
    "another room": lambda kept: _rows([0, "x"], sorts=("tracker.journal.records.Known",)),
    "a class that is no value": lambda kept: _rows([0, "x"], sorts=("tracker.pattern.toml_reader.Places",)),
    "a part of a sort": lambda kept: _rows([0, "x"], sorts=("tracker.pattern.model.Pattern.__init__",)),
    "very deep": lambda kept: _sealed(b"[" * 500_000),
    "a number without end": lambda kept: _sealed(b"9" * 100_000),
}


@pytest.mark.parametrize("how", DAMAGE)
def test_what_is_damaged_or_made_by_another_is_read_anew_and_kept_again(
    how: str, file: Path, readings: Path, read: list[str]
) -> None:
    right = load_kept(file, readings)
    (kept,) = readings.iterdir()
    whole = kept.read_bytes()
    kept.write_bytes(DAMAGE[how](whole))
    assert load_kept(file, readings) == right
    assert len(read) == 2
    assert kept.read_bytes() == whole
    assert load_kept(file, readings) == right
    assert len(read) == 2


def test_only_the_maker_can_get_at_what_is_kept(file: Path, readings: Path, read: list[str]) -> None:
    load_kept(file, readings)
    (kept,) = readings.iterdir()
    assert readings.stat().st_mode & 0o777 == 0o700 and kept.stat().st_mode & 0o777 == 0o600
    readings.chmod(0o770)  # somebody else may have put something there
    load_kept(file, readings)
    assert len(read) == 2
    readings.chmod(0o700)
    linked = readings.with_name("linked")
    linked.symlink_to(readings)
    load_kept(file, linked)
    assert len(read) == 3


def test_few_are_kept_and_nothing_else_is_touched(file: Path, readings: Path) -> None:
    readings.mkdir(mode=0o700, parents=True)
    (readings / "notes.txt").write_text("mine", "utf-8")
    (readings / f"{'0' * 64}.77.part").write_text("left by a program that was killed", "utf-8")
    for number in range(MOST_KEPT + 5):
        file.write_text(TEXT.format(title=f"Cap {number}"), "utf-8")
        load_kept(file, readings)
    names = sorted(path.name for path in readings.iterdir())
    assert names.count("notes.txt") == 1 and len(names) == MOST_KEPT + 1
    assert not any(name.endswith(".part") for name in names)


@pytest.mark.parametrize("refused", ["mkdir", "write", "replace", "large", "a file in its place"])
def test_a_disk_that_refuses_keeps_nothing_and_hinders_nobody(
    refused: str, file: Path, readings: Path, read: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "no space left")

    if refused == "mkdir":
        monkeypatch.setattr(Path, "mkdir", refuse)
    elif refused == "write":
        monkeypatch.setattr(kept_reading.os, "open", refuse)
    elif refused == "replace":
        monkeypatch.setattr(kept_reading.os, "replace", refuse)
    elif refused == "large":
        monkeypatch.setattr(kept_reading, "LARGEST", 100)
    else:
        readings.parent.mkdir()
        readings.write_text("", "utf-8")
    assert load_kept(file, readings).title == load_kept(file, readings).title == "Cap"
    assert len(read) == 2
    assert not readings.is_dir() or not list(readings.iterdir())


def test_two_programs_may_keep_the_same_at_once(file: Path, readings: Path) -> None:
    program = (
        "import sys; from pathlib import Path; from tracker.pattern.kept_reading import load_kept\n"
        "for _ in range(20):\n"
        "    load_kept(*map(Path, sys.argv[1:]))\n"
        "    [each.unlink(missing_ok=True) for each in Path(sys.argv[2]).iterdir()]\n"
        "assert load_kept(*map(Path, sys.argv[1:])).title == 'Cap'"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    both = [subprocess.Popen([sys.executable, "-c", program, str(file), str(readings)], env=env) for _ in range(2)]
    assert [each.wait(60) for each in both] == [0, 0]
    assert load_kept(file, readings) == load(file)


def test_what_cannot_be_read_is_not_kept(file: Path, readings: Path) -> None:
    for text in ("", "rounds = [", "\0"):
        file.write_text(text, "utf-8")
        with pytest.raises(UnreadableFile):
            load_kept(file, readings)
    with pytest.raises(UnreadableFile):
        load_kept(file.with_name("nothing.toml"), readings)
    assert not readings.exists()
