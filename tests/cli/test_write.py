"""`rounds write` from its command line: forms, files, refusals, and a history that goes to another machine."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.cli.shipped_patterns import path_of
from tracker.pattern.loader import load
from tracker.project.project import open_project
from tracker.session.events import Note, RoundDone


@pytest.fixture
def data(tmp_path: Path) -> Path:
    """A folder in which two rounds of the toadstool's cap are made."""
    folder, path = tmp_path / "data", path_of("toadstool")
    project = open_project(load(path), path, folder, time.time)
    for event in (RoundDone(), Note("tight"), RoundDone()):
        project.do(event)
    project.close()
    return folder


def written(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> str:
    assert main(["write", *arguments]) == code
    shown = capsys.readouterr()
    return shown.out if code == 0 else shown.err


def test_markdown_is_written_unless_something_else_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert written(capsys, "toadstool").startswith("# Toadstool pincushion\n")
    assert written(capsys, "toadstool", "--text").startswith("Toadstool pincushion\nUS terms.")
    assert written(capsys, "toadstool", "--html").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize(
    ("name", "begins"), [("a.html", "<!DOCTYPE html>"), ("a.txt", "Toadstool"), ("a.md", "# Toad"), ("a", "# Toad")]
)
def test_the_ending_of_the_file_tells_the_form(name: str, begins: str, tmp_path: Path) -> None:
    assert main(["write", "toadstool", "-o", str(tmp_path / name)]) == 0
    assert (tmp_path / name).read_text("utf-8").startswith(begins)


def test_what_is_said_about_the_sheet_is_not_in_it(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["write", "toadstool", "-o", str(tmp_path / "sheet.md")]) == 0
    shown = capsys.readouterr()
    assert (shown.out, shown.err) == ("", f"written: {tmp_path / 'sheet.md'}\n")


def test_a_file_that_is_there_is_left_alone(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "mine.md"
    path.write_text("my own words", "utf-8")
    assert "left alone" in written(capsys, "toadstool", "-o", str(path), code=2)
    assert path.read_text("utf-8") == "my own words"


def test_a_file_that_cannot_be_written_is_refused(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    told = written(capsys, "toadstool", "-o", str(tmp_path / "no" / "sheet.md"), code=2)
    assert told.startswith("rounds write: ") and "choose another file with -o" in told


def test_a_pattern_that_is_not_there_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert "toadstool" in written(capsys, "toadstol", code=2)


def test_pictures_can_be_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    assert "```" in written(capsys, "toadstool") and "```" not in written(capsys, "toadstool", "--no-pictures")
    assert "<svg" not in written(capsys, "toadstool", "--html", "--no-pictures")


def test_terms_and_speech(capsys: pytest.CaptureFixture[str]) -> None:
    told = written(capsys, "toadstool", "--text", "--spoken", "--terms", "UK")
    assert "Round three: one double crochet, then an increase; do that six times; you have eighteen." in told


def test_as_made(capsys: pytest.CaptureFixture[str], data: Path) -> None:
    told = written(capsys, "toadstool", "--text", "--as-made", "--data", str(data))
    assert '"tight"' in told and "Made as far as Rnd 2." in told


def test_as_made_of_what_is_not_begun_says_what_to_do(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    told = written(capsys, "toadstool", "--as-made", "--data", str(tmp_path), code=2)
    assert told == (
        "rounds write: nothing of this pattern is made yet: leave out --as-made, or begin with rounds work\n"
    )


def test_a_history_goes_out_and_in(capsys: pytest.CaptureFixture[str], data: Path, tmp_path: Path) -> None:
    file, other = tmp_path / "history.jsonl", tmp_path / "other"
    assert main(["write", "toadstool", "--history", str(file), "--data", str(data)]) == 0
    told = written(capsys, "toadstool", "--history-from", str(file), "--data", str(other))
    assert "taken" in told
    assert '"tight"' in written(capsys, "toadstool", "--text", "--as-made", "--data", str(other))


def test_a_history_that_is_none_is_refused(capsys: pytest.CaptureFixture[str], data: Path, tmp_path: Path) -> None:
    file = tmp_path / "no-history"
    file.write_text("{}\n", "utf-8")
    assert "rounds write: " in written(capsys, "toadstool", "--history-from", str(file), "--data", str(data), code=2)
    assert "no such file" in written(capsys, "toadstool", "--history-from", str(tmp_path / "x"), code=2)
