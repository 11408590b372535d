"""`rounds` alone: what is being made, with how far each is, and the patterns that could be begun."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.shipped_patterns import shipped
from tracker.journal import JournalTrouble, UnderWay, data_folder, projects_under_way
from tracker.pattern.loader import load
from tracker.pattern.pattern_file import UnreadableFile
from tracker.phrasing.printable_text import clean
from tracker.session.view_words import percent


def list_projects(data: Path | None) -> int:
    """Print the list; the exit code."""
    try:
        under_way = projects_under_way(data_folder(data))
    except JournalTrouble as trouble:
        print(f"rounds: {trouble}", file=sys.stderr)
        return ExitCode.REFUSED
    print("\n".join(clean(line) for line in (*_projects(under_way), "", *_patterns())))
    return ExitCode.DONE


def _projects(under_way: list[UnderWay]) -> list[str]:
    if not under_way:
        return ["nothing is under way yet; begin with: rounds work PATTERN"]
    return ["under way:", *(line for project in under_way for line in _project(project))]


def _project(project: UnderWay) -> list[str]:
    far = "finished" if project.finished else f"{percent(project.share)} made, next: {project.next}"
    touched = datetime.fromtimestamp(project.touched_at).strftime("%d %b %Y")
    return [f"  {project.title}: {far}", f"    {project.path}, last touched {touched}"]


def _patterns() -> list[str]:
    """By the name that the commands take."""
    return ["shipped patterns:", *(f"  {path.stem}: {_title(path)}" for path in shipped())]


def _title(path: Path) -> str:
    try:
        return load(path).title
    except UnreadableFile:
        return "cannot be read"
