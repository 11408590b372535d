"""README and DEVELOPERS keep their word: the pattern is read, commands and options exist, files are there."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tracker.cli import main as cli
from tracker.pattern.loader import load
from tracker.tui.commands import SHOWN_AS, Command, Keys
from tracker.tui.settings import FILE, load_settings

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")

FENCES = re.findall(r"^```(\w*)\n(.*?)^```", README, flags=re.M | re.S)
SPANS = re.findall(r"`([^`\n]+)`", README)
LINES = [line for kind, block in FENCES if kind == "sh" for line in block.splitlines()]
COMMANDS = sorted({found[1] for text in (*SPANS, *LINES) if (found := re.search(r"(?:^|/)rounds ([a-z]+)\b", text))})
OPTIONS = sorted(
    {
        (found[1], option)
        for text in (*SPANS, *LINES)
        if (found := re.search(r"(?:^|/)rounds ([a-z]+)\b(.*)", text))
        for option in re.findall(r"(?<!\S)--?[a-z][a-z-]*", found[2])
    }
)


def examples() -> list[str]:
    return [block for kind, block in FENCES if kind == "toml" and "[[piece]]" in block]


def help_of(command: str, home: Path) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "tracker", command, "--help"],
        capture_output=True,
        text=True,
        timeout=60,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        env={**os.environ, "XDG_DATA_HOME": str(home), "XDG_CACHE_HOME": str(home), "COLUMNS": "200"},
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_example_pattern_is_read_without_a_finding(tmp_path: Path) -> None:
    (text,) = examples()
    path = tmp_path / "acorn.toml"
    path.write_text(text, "utf-8")
    pattern = load(path)
    assert pattern.problems == ()
    assert [(item.label, item.problems) for item in pattern.pieces[0].rounds if item.verdict != "ok"] == []
    assert [item.leaves for item in pattern.pieces[0].rounds] == [6, 9, 12, 12, 12, 12, 18, 18, 12, 6]


def test_every_command_there_is_is_told() -> None:
    assert {command.name for command in cli.COMMANDS} == set(COMMANDS)


def test_every_key_that_is_told_does_something_of_its_own() -> None:
    (table,) = re.findall(r"^\| key \| \|\n\|---\|---\|\n((?:\|.*\n)+)", README, flags=re.M)
    told = re.findall(r"^\| `(.+?)` \| (.+?) \|$", table, flags=re.M)
    keys = Keys()
    named = {shown: key for key, shown in SHOWN_AS.items()}
    words = {key: keys.command(named.get(key, key)) for key, _ in told}
    assert {key for key, command in words.items() if command is None} == set()
    assert len(set(words.values())) == len(told) >= 10


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_and_option_that_is_told_exists(command: str, tmp_path: Path) -> None:
    told = help_of(command, tmp_path)
    missing = [option for owner, option in OPTIONS if owner == command and option not in told]
    assert missing == []


def test_the_example_settings_are_understood(tmp_path: Path) -> None:
    (text,) = (block for kind, block in FENCES if kind == "toml" and "[keys]" in block)
    (tmp_path / FILE).write_text(text, "utf-8")
    settings = load_settings(tmp_path)
    assert settings.problems == ()
    assert settings.keys.command("z") is Command.UNDO
    assert settings.speak == ("espeak-ng",)


@pytest.mark.parametrize("target", re.findall(r"\]\(([^)#:]+)\)", README))
def test_every_file_that_is_linked_is_there(target: str) -> None:
    assert (ROOT / target).is_file()


def test_the_two_first_lines_open_a_shipped_pattern_and_run_the_tests() -> None:
    """One line each, from nothing; .ci/run runs the second one."""
    first, second = (line for line in LINES if line.startswith("python3 -m venv"))
    opened = re.search(r"rounds work (\S+)$", first)
    assert opened and (ROOT / opened[1]).is_file()
    assert "'.[test]'" in second and second.endswith("pytest -n auto")


def test_every_file_that_developers_are_sent_to_is_there() -> None:
    named = re.findall(r"\b(?:tracker|tests)/[\w/]+(?:\.py|/)", DEVELOPERS)
    assert named
    assert [path for path in named if not (ROOT / path).exists()] == []
    there = {path.name for folder in ("tracker", "tests") for path in (ROOT / folder).rglob("*.py")}
    assert set(re.findall(r"\b(\w+\.py)\b", DEVELOPERS)) <= there


def test_every_dependency_has_its_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {re.split(r"[<>=;\s]", want, maxsplit=1)[0] for want in wanted}
    table = DEVELOPERS.partition("## Dependencies")[2].partition("\n## ")[0]
    reasons = re.findall(r"^\| (.+?) \| (?:.+) \|$", table, flags=re.M)
    assert names == {name for cell in reasons for name in cell.split(", ")} - {"what", "---"}
