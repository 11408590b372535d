"""For a maker who lost the place: two or three questions on what lies there, then a place or two to choose from."""

from __future__ import annotations

from collections.abc import Iterator

from textual import events

from tracker.session.state import Refused, copy_name
from tracker.session.whereabouts import (
    PlaceQuestion,
    Search,
    Whereabouts,
    begin_search,
    narrowed,
    places_left,
    question_of,
)
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, CHOOSE, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look
from tracker.tui.render.text_field import TextEntry, fresh_entry, paint_entry, typed

NOT_SURE = ""
"""The answer that says nothing."""


class WhereaboutsPage(Page):
    """Ends with the `Whereabouts` that was chosen. Backspace takes the last answer back."""

    def __init__(self, desk: Desk) -> None:
        name = copy_name(desk.pattern, desk.project.state.work.in_hand)
        super().__init__(f"where am I in {name}?", desk.palette)
        self._desk = desk
        self._searches: list[Search] = [begin_search(desk.pattern, desk.project.state)]
        self._refused = ""
        self._ask()

    def _ask(self) -> None:
        """The next question, or the places that are left."""
        self._question: PlaceQuestion | None = question_of(self._desk.pattern, self._searches[-1])
        self._number = fresh_entry("type the number:") if self._question and not self._question.answers else None
        self._refused = ""
        back = (Choice("backspace", "last question"),) if len(self._searches) > 1 else ()
        keys = CHOOSE if self._number is None else (Choice("enter", "take it"), Choice("tab", "cannot tell"))
        away = BACK if self._number is None else Choice("esc", "back")
        self.leaf = type(self.leaf)(self.leaf.title, self.rows(), (*keys, *back, away))

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._question_rows())

    def _question_rows(self) -> Iterator[Row]:
        search = self._searches[-1]
        if search.nearest:
            yield Row(search.nearest, look=Look.FAINT)
        if self._question is None:
            yield from self._places(search)
            return
        yield Row(self._question.words, look=Look.STRONG)
        if self._number is not None:
            yield Row("", drawn=paint_entry(self._number, self.size.width))
            if self._refused:
                yield Row(f"! {self._refused}", look=Look.STRONG)
            return
        yield from (Row(answer, answer) for answer in self._question.answers)
        yield Row("I cannot tell", NOT_SURE)

    def _places(self, search: Search) -> Iterator[Row]:
        places = places_left(self._desk.pattern, self._desk.project.state, search)
        if not places:
            yield Row("this piece has no rounds")
            return
        words = "you are here" if len(places) == 1 else "you are in one of two places"
        more = len(search.rounds) - len(places)
        yield Row(
            f"{words}; {more} more would fit, these are nearest to your kept place" if more > 0 else words,
            look=Look.STRONG,
        )
        yield from (Row(place.words, place) for place in places)
        yield Row("what is made of the round after it is tapped again", look=Look.FAINT)

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self or self._number is None:
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._typed(event.key, event.character)
        self.repaint()

    def _typed(self, key: str, character: str | None) -> None:
        assert self._number is not None
        if key == "tab":
            self._answer(NOT_SURE)
            return
        if key == "backspace" and not self._number.text:
            self._take_back()
            return
        after = typed(self._number, key, character)
        if isinstance(after, TextEntry):
            self._number = after
        elif after is None:
            self.dismiss(None)
        elif after:
            self._answer(after)

    def pressed(self, key: str) -> bool:
        if key == "backspace" and len(self._searches) > 1:
            self._take_back()
            self.repaint()
            return True
        return False

    def _take_back(self) -> None:
        if len(self._searches) == 1:
            self.dismiss(None)
            return
        self._searches.pop()
        self._ask()

    def taken(self, value: object) -> None:
        if isinstance(value, Whereabouts):
            self.dismiss(value)
        elif isinstance(value, str):
            self._answer(value)
            self.repaint()

    def _answer(self, answer: str) -> None:
        assert self._question is not None
        try:
            self._searches.append(narrowed(self._searches[-1], self._question, answer))
        except Refused as refused:
            self._refused = refused.reason
            return
        self._ask()
