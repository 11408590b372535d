"""A pattern opened by name, or the reason on standard error why it cannot be."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from tracker.cli.file_hints import tell_what_to_do
from tracker.cli.shipped_patterns import path_of
from tracker.diagnostics import show
from tracker.journal.errors import JournalTrouble
from tracker.journal.paths import data_folder, readings_folder
from tracker.normalize import clean
from tracker.pattern.kept_reading import load_kept
from tracker.pattern.model import Pattern
from tracker.pattern.pattern_file import UnreadableFile
from tracker.project.project import Project, open_project


def load_or_tell(name: str, readings: Path | None = None, *, keeps: bool = True) -> tuple[Path, Pattern] | None:
    """The file that is meant and the pattern in it; as it is kept in the folder `readings`, if one is given, and is
    to be kept there from then on unless `keeps` is false."""
    path = path_of(name)
    try:
        return path, load_kept(path, readings, keeps=keeps) if readings else _load(path)
    except UnreadableFile as wrong:
        for problem in wrong.problems:
            print(show(problem, wrong.source.split("\n") if wrong.source else [], name), file=sys.stderr)
        tell_what_to_do(path, name, wrong)
        return None


def _load(path: Path) -> Pattern:
    from tracker.pattern.loader import load  # what is kept needs nothing of all that reads

    return load(path)


def has_nothing_to_work(name: str, pattern: Pattern) -> bool:
    """Whether there are no rounds in a pattern; that is told."""
    if any(piece.rounds for piece in pattern.pieces):
        return False
    print(f"{clean(name)}: there are no rounds in this pattern to work", file=sys.stderr)
    return True


def open_or_tell(name: str, data: Path | None) -> Project | None:
    """The project of a pattern, opened to be worked."""
    pattern_file = load_or_tell(name, readings_folder(data))
    if pattern_file is None:
        return None
    path, pattern = pattern_file
    if has_nothing_to_work(name, pattern):
        return None
    try:
        return open_project(pattern, path, data_folder(data), time.time)
    except JournalTrouble as trouble:
        print(f"rounds: {trouble}", file=sys.stderr)
        return None
