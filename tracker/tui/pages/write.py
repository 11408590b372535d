"""Writing a pattern as it is made: a round typed, worked, typed, worked."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from textual import events

from tracker.diagnostics import Severity
from tracker.journal.errors import JournalTrouble
from tracker.journal.pattern_files import keep_new
from tracker.measure.next_round import next_number, size_words, whole_rounds, written_line
from tracker.measure.stitch_sizes import stitch_size
from tracker.notation.line import Context
from tracker.pattern.live_reading import Around, around
from tracker.pattern.loader import loads
from tracker.pattern.model import Piece, Start
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml, with_round
from tracker.session.state import Refused
from tracker.tui.controller import Desk
from tracker.tui.pages.live_line import LiveLine, live_line
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, asked, inserted, paint_entry, typed

KEYS = (Choice("enter", "take it"), Choice("tab", "complete"), Choice("esc", "back"))
SHOWN = 6
"""Rounds that are shown above the one being typed."""


class WritePage(Page):
    """A title, then rounds.

    Without a desk it begins a pattern and ends with the path of its file once the first round is typed; at a desk it
    adds one round to the pattern there and ends with True.
    """

    def __init__(self, folder: Path, palette: Palette, desk: Desk | None = None) -> None:
        super().__init__("write as you go", palette, KEYS)
        self._folder = folder
        self._desk = desk
        self._naming: TextEntry | None = None if desk else asked("what is it called?")
        self._called = "" if desk is None else desk.pattern.title
        self._line = self._fresh_line()
        self._refused = ""
        self._offer = 0

    @property
    def _piece(self) -> Piece | None:
        if self._desk is None:
            return None
        work = self._desk.project.state.work
        return self._desk.project.printed.pieces[(work.ended or work.copy).piece]

    @property
    def _piece_index(self) -> int:
        work = self._desk.project.state.work if self._desk else None
        return (work.ended or work.copy).piece if work else 0

    def _fresh_line(self) -> LiveLine:
        there = Around(None, Context())
        if self._desk is not None and self._piece is not None:
            there = around(self._desk.project.pattern, self._piece_index, len(self._piece.rounds))
        return live_line(there, "")

    @property
    def _terms(self) -> str:
        return self._line.around.context.terms

    @property
    def _offered(self) -> tuple[str, ...]:
        """Whole rounds that what is typed stands for."""
        return whole_rounds(self._line.entry.text, self._piece, self._terms)

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._rows())

    def _rows(self) -> Iterator[Row]:
        if self._naming is not None:
            yield Row("", drawn=paint_entry(self._naming, self.size.width))
            yield Row("then its rounds, one after the other; everything else can come later", look=Look.FAINT)
        else:
            yield Row(self._called, look=Look.STRONG)
            for item in self._piece.rounds[-SHOWN:] if self._piece else ():
                yield Row(f"  {' '.join(item.text.split())}", look=Look.DONE)
            yield Row("")
            yield Row(f"{'Row' if self._is_rows else 'Rnd'} {next_number(self._piece)}", look=Look.FAINT)
            yield from self._line.rows(self.size.width)
            if words := self._size_words():
                yield Row(words)
            offered = self._offered
            if offered:
                yield Row("tab: a whole round", look=Look.FAINT)
                yield from (Row(f"  {text}", look=Look.FAINT) for text in offered)
            if not self._line.entry.text and self._piece:
                yield Row('or type "same again", "as round 3", "to 40 stitches, evenly"', look=Look.FAINT)
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)

    @property
    def _is_rows(self) -> bool:
        return self._piece is not None and self._piece.start is Start.ROWS

    def _written(self) -> str:
        return written_line(next_number(self._piece), self._line.entry.text, self._line.reading.leaves, self._is_rows)

    def _size_words(self) -> str:
        """How the piece lies and how big it is once this round is made."""
        if self._desk is None or not self._line.reading.is_clean:
            return ""
        grown = loads(with_round(self._desk.project.printed.source, self._piece_index, self._written()))
        return size_words(grown, self._piece_index, stitch_size(grown))

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._refused = ""
        if event.key in ("ctrl+c", "ctrl+q"):
            self.dismiss(None)
            return
        if self._naming is not None:
            self._type_title(event)
        else:
            self._type_round(event)
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._naming is not None:
            self._naming = inserted(self._naming, event.text.strip())
        else:
            self._line.paste(event.text)
        self.repaint()

    def _type_title(self, event: events.Key) -> None:
        assert self._naming is not None
        after = typed(self._naming, event.key, event.character)
        if isinstance(after, TextEntry):
            self._naming = after
        elif after:
            self._called, self._naming = after, None
        elif after is None:
            self.dismiss(None)

    def _type_round(self, event: events.Key) -> None:
        offered = self._offered
        if event.key == "tab" and offered:
            text = offered[self._offer % len(offered)]
            self._line.entry = asked("", text)
            return
        after = self._line.type(event.key, event.character)
        if after == "":
            self.dismiss(None)
        elif after is not None:
            if offered:
                self._line.entry = asked("", offered[0])
            self._take()

    def _take(self) -> None:
        reading = self._line.reading
        wrong = next((problem for problem in reading.problems if problem.severity in _STOPS), None)
        if reading.plan is None or not reading.plan.moves or wrong is not None:
            self._refused = wrong.message if wrong else "there is nothing to make in this line: name its stitches"
            return
        try:
            if self._desk is None:
                self.dismiss(
                    keep_new(self._folder, self._called, new_pattern(self._called, self._written(), self._terms))
                )
                return
            self._desk.project.write_on(self._piece_index, self._written())
        except (JournalTrouble, Refused) as trouble:
            self._refused = str(trouble)
            return
        self.dismiss(True)


_STOPS = (Severity.ERROR, Severity.DISAGREES)


def new_pattern(title: str, line: str, terms: str = "US") -> str:
    """The file of a pattern that has one round so far."""
    return as_toml(Draft(title=title, terms=terms, pieces=(DraftPiece(title, line),)))
