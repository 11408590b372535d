"""The checklist for the end: each step can be ticked, and the tick taken back."""

from __future__ import annotations

from tracker.measure.safety import LOCAL_RULES, Cautions, cautions_for
from tracker.session.audience import answered
from tracker.session.events import StepDone
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look


class MakingUpPage(Page):
    """Ticks are committed one by one, as everything else."""

    def __init__(self, desk: Desk) -> None:
        keys = (Choice("↑↓", "choose"), Choice("space", "done or not"), BACK)
        super().__init__("making up", desk.palette, keys)
        self._desk = desk
        self._cautions = cautions_for(answered(desk.pattern, desk.project.state.work))

    def rows(self) -> tuple[Row, ...]:
        steps = self._desk.view.making_up
        if not steps:
            return (Row("this pattern has no making-up steps"),)
        step_rows = [self._row(index, step, done) for index, (step, done) in enumerate(steps)]
        if self._cautions.steps:
            step_rows.append(Row(f"of what to mind {LOCAL_RULES}", look=Look.FAINT))
        return tuple(step_rows)

    def _row(self, index: int, step: str, done: bool) -> Row:
        cautions = step_cautions(self._cautions, index)
        mark = "done" if done else "open"
        return Row(
            f"{index + 1}. {mark}  {step}", StepDone(index, not done), cautions, Look.DONE if done else Look.PLAIN
        )

    def on_mount(self) -> None:
        super().on_mount()
        self._to_next_open()

    def _to_next_open(self) -> None:
        first = next((index for index, (_, done) in enumerate(self._desk.view.making_up) if not done), None)
        if first is not None:
            self.choose(first)

    def taken(self, value: object) -> None:
        if isinstance(value, StepDone):
            self._desk.do(value)
        self.repaint()
        self._to_next_open()


def step_cautions(cautions: Cautions, index: int) -> str:
    """What to mind at a step (from 0), or "". Where the pattern does not say who it is for, the maker is to judge."""
    caution_words = "; ".join(caution.text for caution in cautions.at_step(index))
    return f"if a child will have it: {caution_words}" if caution_words and cautions.ask else caution_words
