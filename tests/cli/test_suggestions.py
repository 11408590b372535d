"""`rounds check` says under the problems what a misprint looks like, for people and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tracker.cli import suggestions
from tracker.cli.check import check_files
from tracker.cli.exit_codes import ExitCode
from tracker.pattern.misprints.finder import Finding
from tracker.pattern.model import Pattern

PATTERN = """
title = "Two parts"
[[piece]]
name = "Cap"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: {third}
'''
[[piece]]
name = "Stem"
rounds = '''
Rnd 1: 6 sc in magic ring (6)
{stem}
'''
"""
CLEAN_THIRD, CLEAN_STEM = "(1 sc, inc) x 6 (18)", "Rnd 2: inc x 6 (12)\nRnd 3: (1 sc, inc) x 6 (18)"
SWAPPED = "Rnd 2: (1 sc, inc) x 6 (18)\nRnd 3: inc x 6 (12)"


def written(folder: Path, third: str = CLEAN_THIRD, stem: str = CLEAN_STEM) -> Path:
    path = folder / "parts.toml"
    path.write_text(PATTERN.format(third=third, stem=stem), "utf-8")
    return path


def test_a_misprint_is_told_with_its_piece_and_the_line_as_it_should_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert check_files([written(tmp_path, third="(1 sc, inc) x 5 (18)")], as_json=False) == ExitCode.FINDINGS
    out = capsys.readouterr().out
    told = out[out.index("looks like:") :].split("\n")[:3]
    assert told == [
        "looks like:",
        "  Cap, Rnd 3: 'x 5' is probably 'x 6': it then uses the 12 that Rnd 2 leaves, and makes 18 as stated",
        "      Rnd 3: (1 sc, inc) x 6 (18)",
    ]


def test_both_lines_of_a_swap_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    check_files([written(tmp_path, stem=SWAPPED)], as_json=False)
    out = capsys.readouterr().out
    assert "  Stem, Rnd 2 and Rnd 3 look swapped" in out
    assert "      Rnd 2: inc x 6 (12)\n      Rnd 3: (1 sc, inc) x 6 (18)\n" in out


def test_json_has_a_list_of_suggestions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, third="(1 sc, inc) x 5 (18)", stem=SWAPPED)
    assert check_files([path], as_json=True) == ExitCode.FINDINGS
    first, second = json.loads(capsys.readouterr().out)[0]["suggestions"]
    assert (first["piece"], first["round"]) == ("Cap", 3)
    assert first["corrected_line"] == "Rnd 3: (1 sc, inc) x 6 (18)"
    assert first["sentence"].startswith("Rnd 3: 'x 5' is probably 'x 6'")
    assert (second["piece"], second["round"], second["second_round"]) == ("Stem", 2, 3)
    assert second["second_corrected_line"] == "Rnd 3: (1 sc, inc) x 6 (18)"


def test_where_no_change_is_known_the_corrected_line_is_empty(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, third="(5 sc, inc, dec) x 7 (47)")
    check_files([path], as_json=True)
    (only,) = json.loads(capsys.readouterr().out)[0]["suggestions"]
    assert only["corrected_line"] is None
    assert "no single change" in only["sentence"]


def test_a_clean_pattern_has_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert check_files([written(tmp_path)], as_json=False) == ExitCode.DONE
    assert "looks like" not in capsys.readouterr().out
    assert check_files([written(tmp_path)], as_json=True) == ExitCode.DONE
    assert json.loads(capsys.readouterr().out)[0]["suggestions"] == []


@pytest.mark.parametrize("as_json", [False, True])
def test_misprints_are_searched_once_a_file(
    as_json: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    searched: list[str] = []

    def find(pattern: Pattern) -> list[Finding]:
        searched.append(pattern.title)
        return []

    monkeypatch.setattr(suggestions, "find", find)
    assert check_files([written(tmp_path, third="(1 sc, inc) x 6 (17)")], as_json) == ExitCode.FINDINGS
    capsys.readouterr()
    assert searched == ["Two parts"]
