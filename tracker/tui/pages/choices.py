"""Lists to choose from: how far the main key goes, and when a count is asked for."""

from __future__ import annotations

from tracker.phrasing.stitches import short_words
from tracker.session.events import AskChosen
from tracker.session.steps import step_now
from tracker.session.view import StepSize
from tracker.session.view_words import asked_words
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, CHOOSE, Page
from tracker.tui.render.list_view import Row

ASKING = (
    AskChosen("each"),
    AskChosen("change"),
    *(AskChosen("every", every) for every in (2, 3, 4, 5, 10)),
    AskChosen("never"),
)


class StepPage(Page):
    """Ends with the `StepSize` of the main key. Each is told with what it would take now."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("what the main key takes", desk.palette, (*CHOOSE, BACK))
        self._desk = desk

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._row(size) for size in StepSize)

    def _row(self, size: StepSize) -> Row:
        step = step_now(self._desk.pattern, self._desk.project.state, size)
        letters = short_words(step.stretch, self._desk.pattern.terms) if step else ""
        mark = "  ← now" if size is self._desk.main_step else ""
        return Row(f"{size.value}{mark}", size, f"would take {letters}" if letters else "")

    def on_mount(self) -> None:
        super().on_mount()
        self.choose(list(StepSize).index(self._desk.main_step))


class AskPage(Page):
    """Ends with the `AskChosen` that is wished for."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("when to ask for a count", desk.palette, (*CHOOSE, BACK))
        self._asks = desk.project.state.work.asks

    def rows(self) -> tuple[Row, ...]:
        return tuple(Row(f"{asked_words(wish)}{'  ← now' if wish == self._asks else ''}", wish) for wish in ASKING)

    def on_mount(self) -> None:
        super().on_mount()
        if self._asks in ASKING:
            self.choose(ASKING.index(self._asks))
