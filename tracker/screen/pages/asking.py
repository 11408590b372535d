"""A page that tells something and asks whether to go on."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.screen.pages.page import Page
from tracker.screen.painting.leaf import Row
from tracker.screen.painting.lines import Look
from tracker.screen.painting.scene import Choice
from tracker.screen.palette import Palette

LEAVE = Choice("q", "leave")


class AskingPage(Page):
    """Ends with the key that was pressed, one of `answers`, or with None on leaving."""

    def __init__(self, title: str, told: Iterable[str], answers: tuple[Choice, ...], palette: Palette) -> None:
        super().__init__(title, palette, (*answers, LEAVE))
        self._told = tuple(told)
        self._answers = {answer.key: answer for answer in answers}

    def rows(self) -> tuple[Row, ...]:
        return tuple(_row(part) for part in self._told)

    def pressed(self, key: str) -> bool:
        if key not in self._answers:
            return False
        self.dismiss(key)
        return True


def _row(told: str) -> Row:
    """Lines that were taken out of a text or put into it look different."""
    return Row(told, look={"- ": Look.DONE, "+ ": Look.STRONG}.get(told[:2], Look.PLAIN))
