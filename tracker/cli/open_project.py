"""A pattern opened by name, or the reason on standard error why it cannot be."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from tracker.cli.file_hints import tell_what_to_do
from tracker.cli.shipped_patterns import path_of
from tracker.diagnostics import show
from tracker.journal.errors import JournalTrouble
from tracker.journal.paths import data_folder
from tracker.normalize import clean
from tracker.pattern.loader import UnreadableFile, load
from tracker.pattern.model import Pattern
from tracker.project.project import Project, open_project


def load_or_tell(name: str) -> tuple[Path, Pattern] | None:
    """The file that is meant and the pattern in it."""
    path = path_of(name)
    try:
        return path, load(path)
    except UnreadableFile as wrong:
        for problem in wrong.problems:
            print(show(problem, wrong.source.split("\n") if wrong.source else [], name), file=sys.stderr)
        tell_what_to_do(path, name, wrong)
        return None


def has_nothing_to_work(name: str, pattern: Pattern) -> bool:
    """Whether there are no rounds in a pattern; that is told."""
    if any(piece.rounds for piece in pattern.pieces):
        return False
    print(f"{clean(name)}: there are no rounds in this pattern to work", file=sys.stderr)
    return True


def open_or_tell(name: str, data: Path | None) -> Project | None:
    """The project of a pattern, opened to be worked."""
    found = load_or_tell(name)
    if found is None:
        return None
    path, pattern = found
    if has_nothing_to_work(name, pattern):
        return None
    try:
        return open_project(pattern, path, data_folder(data), time.time)
    except JournalTrouble as trouble:
        print(f"rounds: {trouble}", file=sys.stderr)
        return None
