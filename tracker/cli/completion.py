"""Words completed by the shell: commands, options, pattern names and the pieces of the pattern that was named."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping
from typing import Any

from argcomplete import autocomplete
from argcomplete.completers import FilesCompleter
from argcomplete.shell_integration import shellcode

from tracker.cli.shipped_patterns import path_of, shipped
from tracker.pattern.loader import load
from tracker.pattern.pattern_file import UnreadableFile


def shell_words(shell: str) -> str:
    """What a shell ("bash", "zsh" or "fish") is to run so that it asks this program for words."""
    return shellcode(["rounds"], shell=shell)


def complete(whole: argparse.ArgumentParser, by_verb: Mapping[str, argparse.ArgumentParser]) -> None:
    """Answer the shell and leave, if it is the shell that asks."""
    for verb in by_verb.values():
        for action in verb._actions:
            if action.dest in ("pattern", "patterns"):
                action.completer = _patterns  # type: ignore[attr-defined]
            elif action.dest == "piece":
                action.completer = _pieces  # type: ignore[attr-defined]
    autocomplete(whole)


def _patterns(prefix: str, **_: Any) -> Iterable[str]:
    """Shipped patterns by name, and pattern files."""
    return [*(path.stem for path in shipped()), *FilesCompleter(["toml"])(prefix)]


def _pieces(prefix: str, parsed_args: argparse.Namespace, **_: Any) -> Iterable[str]:
    try:
        return [piece.name for piece in load(path_of(parsed_args.pattern)).pieces]
    except (AttributeError, TypeError, UnreadableFile):
        return ()
