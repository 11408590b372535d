"""`rounds new`: a pattern file from a shape and a size, and on a terminal only, one that is written as it is made."""

from __future__ import annotations

import io
import re
from math import pi
from pathlib import Path

import pytest

from tracker.cli.exit_codes import ExitCode
from tracker.cli.main import main
from tracker.pattern.loader import all_problems, load, loads

SHAPES = ("ball", "disk", "bowl", "egg", "cone", "tube", "oval", "square")


@pytest.mark.parametrize("shape", SHAPES)
def test_each_shape_is_a_pattern_that_agrees_with_itself(
    shape: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / f"{shape}.toml"
    assert main(["new", "--shape", shape, "--across", "8cm", "-o", str(target)]) == ExitCode.DONE
    assert "cm across and" in capsys.readouterr().err
    assert all_problems(load(target)) == []
    assert main(["check", str(target)]) == ExitCode.DONE


def test_a_disk_is_as_wide_as_was_asked(capsys: pytest.CaptureFixture[str]) -> None:
    """Geometry: the last round of a disk of 10 cm goes pi times 10 cm around, at 2 stitches to the centimetre; its
    number of stitches may differ from that by half of what one round adds."""
    assert main(["new", "--shape", "disk", "--across", "10cm", "--gauge", "20 sc x 20 rounds"]) == ExitCode.DONE
    rounds = loads(capsys.readouterr().out).pieces[0].rounds
    widest = rounds[-1].leaves
    assert widest is not None and rounds[-2].leaves is not None
    assert abs(widest - pi * 10 * 2) <= (widest - rounds[-2].leaves) / 2 + 1
    assert abs(len(rounds) - 5 * 2) <= 1, "half of 10 cm, at 2 rounds to the centimetre"


def test_the_title_is_the_maker_s_and_the_gauge_is_kept(capsys: pytest.CaptureFixture[str]) -> None:
    told = ["new", "--shape", "ball", "--across", "6 cm", "--gauge", "22x24", "--title", "Marble"]
    assert main(told) == ExitCode.DONE
    pattern = loads(capsys.readouterr().out)
    assert pattern.title == "Marble" and pattern.gauge is not None
    assert (pattern.gauge.stitches, pattern.gauge.rounds) == (22, 24)


def test_without_a_gauge_it_is_said_which_one_was_taken(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "--shape", "ball"]) == ExitCode.DONE
    assert re.search(r"weight 4", capsys.readouterr().err)


@pytest.mark.parametrize(
    "wrong",
    [("--across", "wide"), ("--across", "0cm"), ("--gauge", "tight"), ("--gauge", "0x0"), ("--across", "900000cm")],
)
def test_what_cannot_be_made_is_refused_in_a_line(
    wrong: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "ball.toml"
    assert main(["new", "--shape", "ball", *wrong, "-o", str(target)]) == ExitCode.REFUSED
    said = capsys.readouterr().err
    assert said.startswith("rounds new: ") and said.count("\n") == 1
    assert not target.exists()


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "ball.toml"
    target.write_text("mine", "utf-8")
    assert main(["new", "--shape", "ball", "-o", str(target)]) == ExitCode.REFUSED
    assert target.read_text("utf-8") == "mine" and capsys.readouterr().err
    assert main(["new", "--shape", "ball", "-o", str(target), "--replace"]) == ExitCode.DONE
    assert all_problems(load(target)) == []


def test_without_a_terminal_there_is_nothing_to_write_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO())
    assert main(["new"]) == ExitCode.REFUSED
    assert "or say which --shape it is to have" in capsys.readouterr().err
