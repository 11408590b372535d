"""A maker's desk on a temporary folder, for tests that need no terminal, and the app on it for those that do."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from tracker.pattern.loader import load
from tracker.pattern.model import Pattern, Start
from tracker.project.project import Project, open_project
from tracker.tui.app import RoundsApp
from tracker.tui.controller import Desk
from tracker.tui.render.instructions import size_of_now, words
from tracker.tui.render.progress import drawing
from tracker.tui.render.scene import Scene
from tracker.tui.render.status_lines import heading, keyline, shares, talk
from tracker.tui.render.strip import strip
from tracker.tui.render.styled_text import Line, text_of
from tracker.tui.settings import Settings
from tracker.tui.work_screen import arrangement

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


def screen(scene: Scene, width: int, height: int) -> list[Line]:
    """All that is painted on the working screen at this size, panel after panel, without a terminal."""
    flat = scene.pattern.pieces[scene.view.piece_index].start is Start.ROWS
    room = arrangement(width, height, flat)
    if room.strip:
        return strip(scene, width, height)
    scene = replace(scene, now_size=size_of_now(scene, *room.words))
    body = height - 5
    drawn = (room.drawing, body) if room.clock else (width, room.drawing)
    above = (*heading(scene, width, 1), *drawing(scene, *drawn), *words(scene, *room.words))
    return [*above, *shares(scene, width, 1), *talk(scene, width, 1), *keyline(scene, width, 2)]


def shown(lines: Sequence[Line]) -> str:
    """What is painted, as text."""
    return "\n".join(text_of(line).rstrip() for line in lines)
