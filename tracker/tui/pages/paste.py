"""A page pasted inside the program: its lines, and what was understood of each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from textual import events

from tracker.journal.errors import JournalTrouble
from tracker.journal.pattern_files import keep_new
from tracker.pattern.loader import MAX_FILE, UnreadableFile, loads
from tracker.pattern.text_import.draft_parts import Fate, Told
from tracker.pattern.text_import.importer import FromText, from_text
from tracker.pattern.text_import.page_terms import TermsUnclear
from tracker.pattern.toml_writer import as_toml
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, asked, inserted, paint_entry, typed

BESIDE = 100
"""Columns from which on what was understood stands beside a line and not under it."""

EMPTY = (Choice("enter", "read that file"), Choice("esc", "back"))
READ = (
    Choice("enter", "keep it and begin"),
    Choice("t", "another title"),
    Choice("↑↓", "scroll"),
    Choice("q", "back"),
)
TERMS = (Choice("1", "US terms"), Choice("2", "UK terms"), Choice("q", "back"))


class PastePage(Page):
    """Ends with the path of the pattern file that was made of the page."""

    def __init__(self, folder: Path, palette: Palette, text: str = "") -> None:
        super().__init__("a page", palette, EMPTY)
        self._folder = folder
        self._text = ""
        self._terms: str | None = None
        self._made_in = 1
        self._found: FromText | None = None
        self._file: TextEntry | None = asked("name of a file:")
        self._naming: TextEntry | None = None
        self._called = ""
        self._refused = ""
        if text:
            self._read(text)

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._rows())

    def _rows(self) -> Iterator[Row]:
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)
        if self._found is not None:
            yield from self._understood(self._found)
        elif self._text:
            yield Row("the words do not tell US from UK terms: which are they?", look=Look.STRONG)
            yield from (Row(part) for part in self._text.split("\n")[:40])
        elif self._file is not None:
            yield Row("paste a page here, or type where it is", look=Look.STRONG)
            yield Row("", drawn=paint_entry(self._file, self.size.width))

    def _understood(self, found: FromText) -> Iterator[Row]:
        draft = found.draft
        if self._naming is not None:
            yield Row("", drawn=paint_entry(self._naming, self.size.width))
        else:
            yield Row(self._called or draft.title or "without a title", look=Look.STRONG)
        rounds = sum(told.fate is Fate.ROUND for told in found.told)
        eye = sum(told.fate is Fate.EYE for told in found.told)
        pieces = "1 piece" if len(draft.pieces) == 1 else f"{len(draft.pieces)} pieces"
        needs = f", {eye} to look at" if eye else ""
        yield Row(f"{pieces}, {rounds} lines of rounds{needs}; {draft.terms} terms, {found.terms_why}")
        if found.sizes > 1:
            yield Row(f"size {self._made_in} of {found.sizes}; s: the next one", look=Look.STRONG)
        yield Row("")
        half = self.size.width // 2 - 2
        for told in found.told:
            yield _row(told, half if self.size.width >= BESIDE else 0)

    def on_key(self, event: events.Key) -> None:
        entry = self._naming if self._naming is not None else self._file
        if self.app.screen is not self or entry is None or event.key in ("ctrl+c", "ctrl+q"):
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._refused = ""
        after = typed(entry, event.key, event.character)
        if self._naming is not None:
            self._called = after if isinstance(after, str) and after else self._called
            self._naming = after if isinstance(after, TextEntry) else None
        elif isinstance(after, TextEntry):
            self._file = after
        elif after is None:
            self.dismiss(None)
        elif after:
            self._open(after)
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._naming is not None:
            self._naming = inserted(self._naming, event.text.strip())
        elif "\n" not in event.text.strip() and self._file is not None:
            self._file = inserted(self._file, event.text.strip())
        else:
            self._read(event.text)
        self.repaint()

    def _open(self, name: str) -> None:
        try:
            data = Path(name).expanduser().read_bytes()[: MAX_FILE + 1]
            self._read(data.decode("utf-8-sig"))
        except (OSError, RuntimeError, ValueError) as wrong:
            self._refused = f"{name}: {(getattr(wrong, 'strerror', None) or 'it is no text').lower()}"

    def _read(self, text: str) -> None:
        if len(text) > MAX_FILE:
            self._refused = f"the page has more than {MAX_FILE:,} characters"
            return
        self._text, self._file = text, None
        try:
            self._found = from_text(text, self._terms, self._made_in)
            self._foot(READ)
        except TermsUnclear:
            self._foot(TERMS)

    def _foot(self, keys: tuple[Choice, ...]) -> None:
        self.leaf = type(self.leaf)(self.leaf.title, self.leaf.rows, keys, None, 0)

    def pressed(self, key: str) -> bool:
        if self._found is None and key in ("1", "2"):
            self._terms = "US" if key == "1" else "UK"
            self._read(self._text)
        elif self._found is not None and key == "t":
            self._naming = asked("title:", self._called or self._found.draft.title)
        elif self._found is not None and key == "s" and self._found.sizes > 1:
            self._made_in = self._made_in % self._found.sizes + 1
            self._read(self._text)
        elif self._found is not None and key == "enter":
            self._keep(self._found)
        else:
            return False
        self.repaint()
        return True

    def _keep(self, found: FromText) -> None:
        from dataclasses import replace

        draft = replace(found.draft, title=self._called or found.draft.title)
        text = as_toml(draft)
        try:
            if not any(piece.rounds for piece in loads(text).pieces):
                self._refused = "no round was found in it: nothing can be worked"
                return
            self.dismiss(keep_new(self._folder, draft.title or "pattern", text))
        except UnreadableFile as wrong:
            self._refused = wrong.problems[0].message
        except JournalTrouble as trouble:
            self._refused = str(trouble)


def _row(told: Told, half: int) -> Row:
    """A line of the page, with what became of it under it, or beside it in so many columns."""
    look = {Fate.EYE: Look.WARNING, Fate.NOTE: Look.FAINT}.get(told.fate, Look.PLAIN)
    words = f"{'! ' if told.fate is Fate.EYE else ''}{told.fate.value}{f': {told.why}' if told.why else ''}"
    text = " ".join(told.text.split())
    if not half:
        return Row(text, None, f"  {words}", look)
    if len(text) > half:
        return Row(text, None, f"{' ' * half}  {words}", look)
    return Row(f"{text:<{half}}  {words}", look=look)
