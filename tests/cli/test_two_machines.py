"""A project between two machines, by the commands that a maker has: taken along, brought back, never merged."""

from __future__ import annotations

import io
import json
import shutil
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.cli.shipped_patterns import path_of


class Machine:
    """A home with its own pattern file and data folder."""

    def __init__(self, folder: Path, said: pytest.CaptureFixture[str], typed: pytest.MonkeyPatch) -> None:
        folder.mkdir()
        self.data, self.pattern = folder / "data", folder / "toadstool.toml"
        shutil.copy(path_of("toadstool"), self.pattern)
        self._said, self._typed = said, typed

    def work(self, *lines: str) -> str:
        self._typed.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        return self.asked("work", "--plain")

    def asked(self, verb: str, *options: str, code: int = 0) -> str:
        """What a command prints; it ends with that code."""
        assert main(["--data", str(self.data), verb, str(self.pattern), *options]) == code
        printed = self._said.readouterr()
        return printed.out if code == 0 else printed.err

    @property
    def place(self) -> dict[str, object]:
        told: dict[str, object] = json.loads(self.asked("place", "--json"))
        return told


@pytest.fixture
def here(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Machine:
    return Machine(tmp_path / "here", capsys, monkeypatch)


@pytest.fixture
def there(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Machine:
    return Machine(tmp_path / "there", capsys, monkeypatch)


def test_a_history_taken_along_gives_the_same_place(here: Machine, there: Machine, tmp_path: Path) -> None:
    here.work("round", "round", "stitch 3", "note tight here", "undo", "stitch 2")
    file = tmp_path / "history.jsonl"
    here.asked("write", "--history", str(file))
    assert all(isinstance(json.loads(line), dict) for line in file.read_text("utf-8").splitlines())
    there.asked("write", "--history-from", str(file))
    assert there.place == here.place
    assert there.place["round"] == 3


def test_what_was_made_there_comes_back(here: Machine, there: Machine, tmp_path: Path) -> None:
    here.work("round", "stitch 3")
    here.asked("write", "--history", str(tmp_path / "out.jsonl"))
    there.asked("write", "--history-from", str(tmp_path / "out.jsonl"))
    there.work("round", "round", "stitch 2")
    there.asked("write", "--history", str(tmp_path / "back.jsonl"))
    here.asked("write", "--history-from", str(tmp_path / "back.jsonl"))
    assert here.place == there.place
    here.work("undo")
    assert here.place["stitch"] == 0


def test_a_machine_that_went_on_from_an_older_copy_is_told(here: Machine, there: Machine, tmp_path: Path) -> None:
    """Nothing is merged and nothing changes."""
    here.work("round", "stitch 3")
    here.asked("write", "--history", str(tmp_path / "out.jsonl"))
    there.asked("write", "--history-from", str(tmp_path / "out.jsonl"))
    here.work("round")
    there.work("stitch 2")
    before = there.place
    here.asked("write", "--history", str(tmp_path / "later.jsonl"))
    told = there.asked("write", "--history-from", str(tmp_path / "later.jsonl"), code=2)
    assert "was worked both here and there after entry" in told and "Nothing was taken" in told
    assert there.place == before


def test_a_data_folder_that_was_moved_with_its_pattern_goes_on(here: Machine, tmp_path: Path) -> None:
    """The pattern file is not where it was: whether it is the same work is asked, and it goes on from there."""
    here.work("round", "stitch 3")
    before = here.place
    moved = tmp_path / "moved"
    shutil.move(here.data.parent, moved)
    here.data, here.pattern = moved / "data", moved / "toadstool.toml"
    told = here.work("take up", "undo", "stitch 3")
    assert "It was worked before as" in told
    assert here.place["stitch"] == before["stitch"] and here.place["round"] == before["round"]
