"""`rounds place` and `rounds` alone: the saved place and the list, for people and for programs."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from tracker.cli.main import main
from tracker.cli.shipped_patterns import folder
from tracker.cli.work_plain import work_plainly
from tracker.pattern.loader import load
from tracker.project.project import open_project
from tracker.session.events import RoundDone

TOADSTOOL = folder() / "toadstool.toml"


def worked(data: Path, *lines: str) -> None:
    project = open_project(load(TOADSTOOL), TOADSTOOL, data, lambda: 1_750_000_000.0)
    work_plainly(project, [f"{line}\n" for line in lines], io.StringIO())


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(arguments) == 0
    return capsys.readouterr().out


def test_the_place_is_told_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    worked(tmp_path, "round", "round", "stitch 3")
    place = json.loads(told(capsys, "place", str(TOADSTOOL), "--json", "--data", str(tmp_path)))
    wanted = {"piece": "Cap", "copy": 1, "round": 3, "stitch": 3, "repeat": 2, "expected": 18, "finished": False}
    assert {name: place[name] for name in wanted} == wanted


def test_a_difference_that_was_carried_on_with_is_in_what_the_round_comes_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Thirteen where the pattern has twelve: (1 sc, inc) x 6 does not fit, and the one more goes on."""
    worked(tmp_path, "round", "round", "count 13", "carry on", "stitch 3")
    place = json.loads(told(capsys, "place", str(TOADSTOOL), "--json", "--data", str(tmp_path)))
    assert (place["round"], place["stitch"], place["expected"]) == (3, 3, 19)
    assert told(capsys, "place", str(TOADSTOOL), "--data", str(tmp_path)).startswith("Cap, Rnd 3, stitch 3 of 19")


def test_the_place_of_a_pattern_that_was_never_worked_is_its_beginning(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = json.loads(told(capsys, "--data", str(tmp_path), "place", "toadstool", "--json"))
    assert (place["piece"], place["round"], place["stitch"], place["whole_share"]) == ("Cap", 1, 0, 0.0)


def test_telling_the_place_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "place", "toadstool", "--data", str(tmp_path / "none"))
    assert not (tmp_path / "none").exists()


def test_the_place_is_told_while_another_window_works(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = open_project(load(TOADSTOOL), TOADSTOOL, tmp_path, lambda: 1_750_000_000.0)
    project.do(RoundDone())
    assert told(capsys, "place", "toadstool", "--data", str(tmp_path)).startswith("Cap, Rnd 2, stitch 0 of 12")
    project.do(RoundDone())
    project.close()


def test_the_place_is_told_in_sentences(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    worked(tmp_path, "round", "round", "stitch 3")
    assert told(capsys, "place", "toadstool", "--data", str(tmp_path)).splitlines() == [
        "Cap, Rnd 3, stitch 3 of 18, repeat 2 of 6: 1 single crochet, then an increase.",
        "The next colour comes after 338 stitches: cream.",
        "4% of Cap and 2% of everything is made.",
    ]


def test_the_list_names_projects_and_shipped_patterns(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    worked(tmp_path, "round")
    lines = told(capsys, "--data", str(tmp_path)).splitlines()
    assert lines[0] == "under way:"
    assert lines[1] == "  Toadstool pincushion: 1% made, next: Cap, Rnd 2: 6 increases"
    assert str(TOADSTOOL) in lines[2]
    assert "  lighthouse: Striped lighthouse paperweight" in lines


def test_an_empty_list_says_how_to_begin(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(capsys, "--data", str(tmp_path)).startswith("nothing is under way yet; begin with: rounds work")


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("place", "toadstol"), "there is a shipped pattern called toadstool"),
        (("work", "nothing-like-it", "--plain"), "nothing-like-it: error: "),
        (("work", "toadstool"), "the working screen needs a terminal; use --plain here"),
        (("check",), "rounds check needs a pattern file, or --lines"),
    ],
)
def test_what_cannot_be_done_is_said_and_the_exit_code_is_2(
    arguments: tuple[str, ...],
    message: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert main([*arguments, "--data", str(tmp_path)]) == 2
    assert message in capsys.readouterr().err


def test_a_pattern_without_rounds_cannot_be_worked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "empty.toml"
    path.write_text('title = "Nothing"\n', "utf-8")
    assert main(["work", str(path), "--plain", "--data", str(tmp_path)]) == 2
    assert "rounds" in capsys.readouterr().err


def test_the_data_folder_can_come_from_the_environment(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    worked(tmp_path, "round")
    monkeypatch.setenv("ROUNDS_DATA", str(tmp_path))
    assert json.loads(told(capsys, "place", "toadstool", "--json"))["round"] == 2
