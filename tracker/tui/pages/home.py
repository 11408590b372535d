"""The first screen: what is being made, and what could be begun."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from tracker.journal import UnderWay
from tracker.session.phrases import percent
from tracker.tui.pages.page import CHOOSE, Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look


class HomePage(Page):
    """Ends with the path of the pattern to work."""

    def __init__(self, under_way: Sequence[UnderWay], patterns: Sequence[tuple[str, Path]], palette: Palette) -> None:
        super().__init__("what shall we make?", palette, (*CHOOSE, Choice("q", "leave")))
        self._rows = tuple(home_rows(under_way, patterns))

    def rows(self) -> tuple[Row, ...]:
        return self._rows


def home_rows(under_way: Sequence[UnderWay], patterns: Sequence[tuple[str, Path]]) -> list[Row]:
    known = {project.path.resolve() for project in under_way}
    fresh = [(title, path) for title, path in patterns if path.resolve() not in known]
    rows: list[Row] = []
    if under_way:
        rows += [Row("under way", look=Look.FAINT), *(_project(project) for project in under_way)]
    if fresh:
        rows += (
            [Row(""), Row("patterns to begin", look=Look.FAINT)]
            if rows
            else [Row("patterns to begin", look=Look.FAINT)]
        )
        rows += [Row(title, path, path.name) for title, path in fresh]
    rows += [Row(""), Row("your own pattern: rounds work FILE", look=Look.FAINT)]
    return rows


def _project(project: UnderWay) -> Row:
    far = "finished" if project.finished else f"{percent(project.share)}, next: {project.next}"
    touched = datetime.fromtimestamp(project.touched_at).strftime("%d %b %Y")
    return Row(f"{project.title}  {far}", project.path, f"last touched {touched}  {project.path.name}")


def titled(paths: Sequence[Path]) -> list[tuple[str, Path]]:
    """Pattern files with their titles; a file that is no pattern goes by its name."""
    return [(_title(path), path) for path in paths]


def _title(path: Path) -> str:
    try:
        title = tomllib.loads(path.read_text("utf-8")).get("title")
    except (OSError, ValueError):
        title = None
    return title if isinstance(title, str) and title else path.stem
