"""What the tests of the journal share: a clock that goes by itself, and a project to open again and again."""

from __future__ import annotations

from pathlib import Path

from support.building import toadstool

from tracker.pattern.model import Pattern
from tracker.project.project import Project, open_project
from tracker.session.events import Event
from tracker.session.view import View

NOON = 1_700_000_000.0


class Clock:
    """Seconds since the epoch; each look is one second later."""

    def __init__(self, at: float = NOON) -> None:
        self.at = at

    def __call__(self) -> float:
        self.at += 1.0
        return self.at


class Bench:
    """A maker's table: a pattern file, a data folder, a clock, and the windows that are open."""

    def __init__(self, folder: Path, pattern: Pattern | None = None) -> None:
        self.folder = folder
        self.pattern = pattern or toadstool()
        self.file = folder / "toadstool.toml"
        self.file.write_text(self.pattern.source, "utf-8")
        self.data = folder / "data"
        self.clock = Clock()
        self._windows: list[Project] = []

    @property
    def journal(self) -> Path:
        return self.data / "journal.sqlite3"

    def open(self, pattern: Pattern | None = None, *, file: Path | None = None, to_work: bool = True) -> Project:
        """One more window on the project."""
        window = open_project(pattern or self.pattern, file or self.file, self.data, self.clock, to_work=to_work)
        self._windows.append(window)
        return window

    def work(self, *events: Event) -> Project:
        """Open, do these, and stay open."""
        project = self.open()
        for event in events:
            project.do(event)
        return project

    @staticmethod
    def break_off(project: Project) -> None:
        """Let go of the file without a word, as a program that is killed does."""
        project._keeper.close()

    def clear(self) -> None:
        """Let go of everything."""
        for window in self._windows:
            window._stop_watching()
            window._keeper.close()


def place(view: View) -> tuple[str, int, int, int]:
    """Piece, copy, number of the round, stitch."""
    return view.piece, view.copy, view.round_number, view.stitch
