"""Size, yarn and time of what is being made; the ball is weighed here, and the pictures are one key further."""

from __future__ import annotations

from dataclasses import replace

from textual import events

from tracker.reports.ball_weights import weight_in, weight_note
from tracker.reports.quantities import NotUnderstood
from tracker.screen.desk import Desk
from tracker.screen.foot import TYPING
from tracker.screen.pages.page import BACK, Page
from tracker.screen.pages.sums import sum_rows, sums_of, yarns_of
from tracker.screen.painting.entry import Entry, asked, inserted, paint_entry, typed
from tracker.screen.painting.leaf import Row
from tracker.screen.painting.lines import Look
from tracker.screen.painting.scene import Choice
from tracker.session.state import Copy

WEIGH, PICTURES = "g", "d"
KEYS = (Choice(WEIGH, "weigh"), Choice(PICTURES, "pictures"), BACK, Choice("↑↓", "scroll"))


class MeasurePage(Page):
    """Of the copy in hand, or of another one that was chosen."""

    def __init__(self, desk: Desk, copy: Copy | None = None) -> None:
        super().__init__("size, yarn and time", desk.palette, KEYS)
        self._desk = desk
        self._copy = copy or desk.project.state.work.in_hand
        self._entry: Entry | None = None
        self._said: Row | None = None
        self._reckon()

    def _reckon(self) -> None:
        self._told = tuple(sum_rows(sums_of(self._desk.project, self._copy), WEIGH))

    def rows(self) -> tuple[Row, ...]:
        """What is being typed, or was just said, stands first: it must be in sight."""
        if self._entry is not None:
            return (Row("", drawn=paint_entry(self._entry, max(8, self.size.width))), *self._told)
        return (self._said, *self._told) if self._said else self._told

    def pressed(self, key: str) -> bool:
        if key == WEIGH:
            self._ask()
        elif key == PICTURES:
            from tracker.screen.pages.pictures import PicturesPage

            self.app.push_screen(PicturesPage(self._desk, self._copy))
        return key in (WEIGH, PICTURES)

    def _ask(self) -> None:
        self._entry = asked(f"grams on the scale{self._of_yarn()}:")
        self._to_top()

    def _of_yarn(self) -> str:
        view = self._desk.view
        return f", {view.colour} ({view.colour_key})" if view.colour_key and view.colour else ""

    def repaint(self) -> None:
        self.leaf = replace(self.leaf, keys=TYPING if self._entry else KEYS)
        super().repaint()

    def _to_top(self) -> None:
        self._usual("home")

    def on_key(self, event: events.Key) -> None:
        """While grams are typed every key goes there."""
        if self._entry is None or self.app.screen is not self:
            return
        event.stop()
        event.prevent_default()
        self._type(self._entry, event.key, event.character)
        self._to_top()

    def _type(self, entry: Entry, key: str, character: str | None) -> None:
        after = typed(entry, key, character)
        self._entry = after if isinstance(after, Entry) else None
        if isinstance(after, str) and after:
            self._weighed(after)

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        if self._entry is not None:
            self._entry = inserted(self._entry, event.text.strip())
            self.repaint()

    def _weighed(self, text: str) -> None:
        """Keep the reading as a note; what was typed and makes no sense stays in the line."""
        try:
            key, grams = weight_in(text, self._desk.view.colour_key, yarns_of(self._desk.pattern))
        except NotUnderstood as wrong:
            self._entry = asked(f"{wrong}:", text)
            return
        kept = self._desk.do(weight_note(key, grams), "the weight is noted")
        self._said = Row(self._desk.talk.said, look=Look.GOOD if kept else Look.STRONG)
        self._reckon()
