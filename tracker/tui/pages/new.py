"""A new pattern: what it is called, yarn and gauge if wanted, and a shape if it is to begin from one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from textual import events

from tracker.journal.errors import JournalTrouble
from tracker.journal.pattern_files import keep_new
from tracker.measure.shapes import CannotShape, Shape, Shaped, shaped, stitches_of
from tracker.pattern.model import Gauge, Yarn
from tracker.pattern.toml_writer import as_toml
from tracker.reports.quantities import UnclearFigure, gauge_from_words, length_cm
from tracker.tui.pages.form import Form, form_of
from tracker.tui.pages.page import Page
from tracker.tui.pages.write import Beginning, WritePage
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look

KEYS = (Choice("enter", "begin"), Choice("↑↓", "yarn, gauge, shape"), Choice("esc", "back"))

TITLE, YARN, GAUGE, SHAPE, ACROSS = range(5)
QUESTIONS = ("what is it called?", "yarn:", "gauge over 10 cm:", "shape:", "how wide:")
HELP = (
    "then its rounds, one after the other; everything else can come later",
    'if you like: its name and weight, as "brick red, weight 3"',
    'if you like: "22 sc x 24 rounds"; without it no size is given',
    f"if it is to begin from one: {', '.join(shape.value for shape in Shape)}",
    "for a shape, at its widest: 8 cm",
)
USUAL_WIDTH = "8 cm"
"""How wide a shape is unless it is said; it is told before anything is kept."""

_WEIGHT = re.compile(r",?\s*\bweight\s*([0-7])\b", re.IGNORECASE)


class NewPage(Page):
    """Ends with the path of the new pattern's file, or with None."""

    def __init__(self, folder: Path, palette: Palette) -> None:
        super().__init__("a new pattern", palette, KEYS)
        self._folder = folder
        self._form = form_of(*QUESTIONS)
        self._refused = ""

    def rows(self) -> tuple[Row, ...]:
        return tuple(self._rows())

    def _rows(self) -> Iterator[Row]:
        yield from self._form.rows(self.size.width)
        yield Row(HELP[self._form.chosen], look=Look.FAINT)
        if self._refused:
            yield Row(f"! {self._refused}", look=Look.WARNING)
        elif self._form.text_at(SHAPE) and self._form.chosen in (SHAPE, ACROSS):
            yield from self._shape_rows()

    def _shape_rows(self) -> Iterator[Row]:
        try:
            shaped_piece = self._shaped()
        except (CannotShape, UnclearFigure) as unclear:
            yield Row(str(unclear), look=Look.FAINT)
            return
        rounds = sum(len(piece.text.splitlines()) for piece in shaped_piece.draft.pieces)
        size = f"{shaped_piece.across:.1f} cm across, {shaped_piece.tall:.1f} cm the other way"
        yield Row(f"about {size}, {rounds} lines of rounds")
        yield Row(shaped_piece.source, look=Look.FAINT)

    def _shaped(self) -> Shaped:
        """The shape that is asked for. Raises `CannotShape` and `UnclearFigure`."""
        word = self._form.text_at(SHAPE).casefold()
        wanted_shape = next((shape for shape in Shape if shape.value == word), None)
        if wanted_shape is None:
            raise CannotShape(f"a shape is one of {', '.join(shape.value for shape in Shape)}")
        yarns = _typed_yarns(self._form.text_at(YARN))
        weight = yarns[0].weight if yarns else None
        across = length_cm(self._form.text_at(ACROSS) or USUAL_WIDTH)
        return shaped(wanted_shape, across, stitches_of(self._gauge(), weight))

    def _gauge(self) -> Gauge | None:
        typed = self._form.text_at(GAUGE)
        return gauge_from_words(typed) if typed else None

    def on_key(self, event: events.Key) -> None:
        if self.app.screen is not self or event.key in ("ctrl+c", "ctrl+q"):
            super().on_key(event)
            return
        event.stop()
        event.prevent_default()
        self._refused = ""
        after = self._form.type(event.key, event.character)
        if isinstance(after, Form):
            self._form = after
        elif after is None:
            self.dismiss(None)
        else:
            self._begin()
        self.repaint()

    def on_paste(self, event: events.Paste) -> None:
        event.stop()
        self._form = self._form.paste(event.text)
        self.repaint()

    def _begin(self) -> None:
        title, yarns = self._form.text_at(TITLE), _typed_yarns(self._form.text_at(YARN))
        try:
            if self._form.text_at(SHAPE):
                draft = self._shaped().draft
                draft = replace(draft, title=title or draft.title, yarns=yarns or draft.yarns)
                self.dismiss(keep_new(self._folder, draft.title, as_toml(draft)))
                return
            beginning = Beginning(title, yarns, self._gauge())
        except (CannotShape, UnclearFigure, JournalTrouble) as trouble:
            self._refused = str(trouble)
            return
        if not title:
            self._form, self._refused = replace(self._form, chosen=TITLE), "give it a name"
            return
        self.app.push_screen(WritePage(self._folder, self._palette, beginning=beginning), self._written)

    def _written(self, path: object) -> None:
        if isinstance(path, Path):
            self.dismiss(path)


def _typed_yarns(text: str) -> tuple[Yarn, ...]:
    """ "brick red, weight 3" as the one yarn of a pattern."""
    weight = _WEIGHT.search(text)
    name = _WEIGHT.sub("", text).strip(" ,")
    if not name and weight is None:
        return ()
    return (Yarn("A", name or "yarn A", weight=int(weight[1]) if weight else None),)
