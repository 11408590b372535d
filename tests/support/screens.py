"""A maker's desk on a temporary folder, for tests that need no terminal, and the app on it for those that do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from tracker.pattern.loader import load
from tracker.pattern.model import Pattern
from tracker.project.project import Project, open_project
from tracker.tui.app import RoundsApp
from tracker.tui.controller import Desk
from tracker.tui.render.styled_text import Line, text_of
from tracker.tui.settings import Settings

SHIPPED = Path(__file__).parents[2] / "patterns"


OPENED: list[Project] = []
"""Closed after each test."""


class Clock:
    """Time that passes only when told."""

    def __init__(self) -> None:
        self.now = 1_750_000_000.0

    def __call__(self) -> float:
        return self.now


def project_of(pattern: Pattern, folder: Path, clock: Callable[[], float] | None = None) -> Project:
    project = open_project(pattern, folder / "pattern.toml", folder / "data", clock or Clock())
    OPENED.append(project)
    return project


def shipped(name: str) -> Pattern:
    return load(SHIPPED / f"{name}.toml")


def desk_of(pattern: Pattern, folder: Path, settings: Settings | None = None) -> Desk:
    return Desk(project_of(pattern, folder), settings or Settings())


def app_of(pattern: Pattern, folder: Path, settings: Settings | None = None) -> RoundsApp:
    return RoundsApp(folder / "data", settings or Settings(), project_of(pattern, folder))


def shown(lines: Sequence[Line]) -> str:
    """What is painted, as text."""
    return "\n".join(text_of(line).rstrip() for line in lines)
