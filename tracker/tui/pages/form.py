"""Several lines to be typed, one under the other: the arrows and tab go between them, enter takes them all."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Bit, Look, line
from tracker.tui.render.text_field import TextEntry, fresh_entry, inserted, paint_entry, typed


@dataclass(frozen=True, slots=True)
class Form:
    """The lines, and which of them is typed into."""

    entries: tuple[TextEntry, ...]
    chosen: int = 0

    def text_at(self, number: int) -> str:
        """What stands in one of the lines."""
        return self.entries[number].text.strip()

    def _with(self, entry: TextEntry) -> Form:
        return Form((*self.entries[: self.chosen], entry, *self.entries[self.chosen + 1 :]), self.chosen)

    def type(self, key: str, character: str | None) -> Form | str | None:
        """A key: the lines as they are then, "" once they are taken, None once they are put away."""
        if key in ("down", "tab", "up", "shift+tab"):
            step = 1 if key in ("down", "tab") else -1
            return Form(self.entries, (self.chosen + step) % len(self.entries))
        after = typed(self.entries[self.chosen], key, character)
        if isinstance(after, TextEntry):
            return self._with(after)
        if after is None and key == "backspace":
            return self  # an empty line is no reason to lose the others
        return after if after is None else ""

    def paste(self, text: str) -> Form:
        return self._with(inserted(self.entries[self.chosen], text.strip()))

    def rows(self, width: int) -> tuple[Row, ...]:
        painted = []
        for number, entry in enumerate(self.entries):
            if number == self.chosen:
                painted.append(Row("", drawn=paint_entry(entry, width)))
            else:
                painted.append(Row("", drawn=line(Bit(f"{entry.question} ", Look.FAINT), entry.text)))
        return tuple(painted)


def form_of(*questions: str) -> Form:
    """A form with these questions and nothing typed yet."""
    return Form(tuple(fresh_entry(question) for question in questions))
