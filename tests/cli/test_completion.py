"""Words completed by the shell, asked for as bash asks for them (the protocol of the library argcomplete)."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tracker.cli.main import main

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("rounds ch", {"check"}),
        ("rounds write toadstool --te", {"--terms", "--text"}),
        ("rounds check light", {"lighthouse"}),
        ("rounds draw toadstool --piece ", {"Cap", "Stem", "Large\\ spot", "Small\\ spot"}),
    ],
)
def test_a_shell_is_told_the_words_that_may_follow(line: str, words: set[str], tmp_path: Path) -> None:
    asked = {"_ARGCOMPLETE": "1", "_ARGCOMPLETE_IFS": "\n", "_ARGCOMPLETE_SHELL": "bash"}
    told = tmp_path / "told"
    subprocess.run(
        [sys.executable, "-m", "tracker"],
        env={
            **os.environ,
            **asked,
            "PYTHONPATH": str(ROOT),
            "_ARGCOMPLETE_STDOUT_FILENAME": str(told),
            "COMP_LINE": line,
            "COMP_POINT": str(len(line)),
        },
        cwd=tmp_path,
        timeout=60,
        check=True,
    )
    assert {word.strip() for word in told.read_text().split("\n")} == words


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_is_told_how_to_ask(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--completion", shell]) == 0
    assert "rounds" in capsys.readouterr().out
