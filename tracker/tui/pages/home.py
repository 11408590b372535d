"""The first screen, which is the maker's shelf: what is under way, resting and finished, and ways to begin anew."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from textual import events

from tracker.journal import JournalTrouble, UnderWay
from tracker.journal.pattern_files import keep_new, shelf, stand
from tracker.pattern.model import Correction
from tracker.pattern.pattern_file import MAX_FILE
from tracker.session.view_words import percent
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, paint_entry, typed

WRITE, PASTE, COUNT, AGAIN, LET_REST, OFF, FIND, ALL = "n", "v", "c", "a", "r", "d", "f", "o"

KEYS = (
    Choice("space", "go on"),
    Choice(WRITE, "new"),
    Choice(PASTE, "paste a page"),
    Choice(COUNT, "just count"),
    Choice(AGAIN, "make again"),
    Choice(LET_REST, "rest"),
    Choice(OFF, "off the list"),
    Choice(ALL, "all"),
    Choice(FIND, "find"),
    Choice("q", "leave"),
)

MOST_COUNTED = 999
"""Rounds that can be counted in a piece without a pattern."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A pattern to be worked. Of a page that was pasted the doubts are walked through first."""

    path: Path
    is_pasted: bool = False
    is_own: bool = False
    corrections: tuple[Correction, ...] = ()
    """How lines of the page were mended before it was kept."""


class HomePage(Page):
    """Ends with what was begun or is gone on with."""

    def __init__(
        self,
        folder: Path,
        under_way: Sequence[UnderWay],
        patterns: Sequence[tuple[str, Path]],
        palette: Palette,
        first: str = "",
    ) -> None:
        super().__init__("what shall we make?", palette, KEYS)
        self._folder, self._under_way, self._patterns = folder, under_way, patterns
        self._sought: TextEntry | None = None
        self._shows_all = False
        self._standings, self._trouble = shelf(folder)
        self._first = {"write": WRITE, "paste": PASTE}.get(first, "")

    def on_mount(self) -> None:
        super().on_mount()
        if self._first:
            self.pressed(self._first)

    def rows(self) -> tuple[Row, ...]:
        sought = self._sought.text.casefold() if self._sought else ""
        rows = list(home_rows(self._under_way, self._patterns, self._standings, sought, self._shows_all))
        if self._trouble:
            rows.insert(0, Row(f"! {self._trouble}", look=Look.WARNING))
        if self._sought is not None:
            rows.insert(0, Row("", drawn=paint_entry(self._sought, self.size.width)))
        return tuple(rows)

    def taken(self, value: object) -> None:
        if isinstance(value, UnderWay):
            self.dismiss(Begun(value.path))
        elif isinstance(value, Path):
            self.dismiss(Begun(value))

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self or self._sought is None or event.key in ("up", "down", "ctrl+c", "ctrl+q"):
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        if event.key == "enter" and self.leaf.value is not None:
            self.taken(self.leaf.value)
            return
        after = typed(self._sought, event.key, event.character)
        self._sought = after if isinstance(after, TextEntry) else None
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self._paste(event.text)

    def pressed(self, key: str) -> bool:
        self._trouble = ""
        match key:
            case "n":
                from tracker.tui.pages.new import NewPage

                self.app.push_screen(NewPage(self._folder, self._palette), self._written)
            case "v":
                self._paste("")
            case "c":
                self._keep("Counting", COUNTED)
            case "f":
                self._sought = fresh_entry("name:")
            case "o":
                self._shows_all = not self._shows_all
            case "a" | "r" | "d" if isinstance(self.leaf.value, UnderWay):
                self._shelve(key, self.leaf.value)
            case _:
                return False
        self.repaint()
        return True

    def _paste(self, text: str) -> None:
        from tracker.tui.pages.paste import PastePage

        self.app.push_screen(PastePage(self._folder, self._palette, text), self._pasted)

    def _pasted(self, pasted: object) -> None:
        from tracker.tui.pages.paste import Pasted

        if isinstance(pasted, Pasted):
            self.dismiss(Begun(pasted.path, is_pasted=True, corrections=pasted.corrections))

    def _written(self, path: object) -> None:
        if isinstance(path, Path):
            self.dismiss(Begun(path, is_own=True))

    def _keep(self, title: str, text: str) -> None:
        """Begin with a new pattern file."""
        try:
            self.dismiss(Begun(keep_new(self._folder, title, text), is_own=True))
        except JournalTrouble as trouble:
            self._trouble = str(trouble)

    def _shelve(self, key: str, project: UnderWay) -> None:
        try:
            if key == AGAIN:
                with project.path.open("rb") as file:  # what is no plain file may never end
                    text = file.read(MAX_FILE).decode("utf-8-sig")
                self.dismiss(Begun(keep_new(self._folder, project.title, text)))
                return
            before = self._standings.get(key_of(project), "")
            standing = "resting" if key == LET_REST else "off"
            stand(self._folder, key_of(project), "" if before == standing else standing)
            self._standings, self._trouble = shelf(self._folder)
        except OSError as wrong:
            self._trouble = f"{project.path}: {(wrong.strerror or 'it cannot be read').lower()}"
        except (JournalTrouble, UnicodeDecodeError) as trouble:
            self._trouble = str(trouble)


COUNTED = f'''title = "Counting"
stage = "draft"

[[piece]]
name = "Counting"
rounds = """
Rnds 1-{MOST_COUNTED}: as you like
"""
'''
"""A piece without a pattern: its rounds are counted, and each can be written down once it is there."""


def key_of(project: UnderWay) -> str:
    """What a project is called on the shelf."""
    return f"{project.path}|{project.title}"


def home_rows(
    under_way: Sequence[UnderWay],
    patterns: Sequence[tuple[str, Path]],
    standings: Mapping[str, str] | None = None,
    sought: str = "",
    shows_all: bool = False,
) -> Iterator[Row]:
    """What is under way, resting and finished, then the patterns to begin; only what has `sought` in its name."""
    standings = standings or {}
    begun_paths = {project.path.resolve() for project in under_way}
    sought_projects = [project for project in under_way if sought in project.title.casefold()]
    parts = {
        "under way": [p for p in sought_projects if not p.finished and not standings.get(key_of(p))],
        "resting": [p for p in sought_projects if not p.finished and standings.get(key_of(p)) == "resting"],
        "finished": [p for p in sought_projects if p.finished and standings.get(key_of(p)) != "off"],
        "taken off the list": [p for p in sought_projects if standings.get(key_of(p)) == "off"] if shows_all else [],
    }
    blank = False
    for heading, projects in parts.items():
        if projects:
            yield from (Row("") for _ in range(blank))
            yield Row(heading, look=Look.FAINT)
            yield from (_project(project) for project in projects)
            blank = True
    fresh = [
        (title, path) for title, path in patterns if path.resolve() not in begun_paths and sought in title.casefold()
    ]
    if fresh:
        yield from (Row("") for _ in range(blank))
        yield Row("patterns to begin", look=Look.FAINT)
        yield from (Row(title, path, path.name) for title, path in fresh)
    yield Row("")
    yield Row("a pattern file of your own: rounds work FILE", look=Look.FAINT)


def _project(project: UnderWay) -> Row:
    far = "finished" if project.finished else f"{percent(project.share)}, next: {project.next}"
    touched = datetime.fromtimestamp(project.touched_at).strftime("%d %b %Y")
    return Row(f"{project.title}  {far}", project, f"last touched {touched}  {project.path.name}")


def titled(paths: Sequence[Path]) -> list[tuple[str, Path]]:
    """Pattern files with their titles; a file that is no pattern goes by its name."""
    return [(_title(path), path) for path in paths]


def _title(path: Path) -> str:
    try:
        title = tomllib.loads(path.read_text("utf-8")).get("title")
    except (OSError, ValueError):
        title = None
    return title if isinstance(title, str) and title else path.stem
