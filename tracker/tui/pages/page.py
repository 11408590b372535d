"""A page over the working screen: read it, scroll it, choose from it, go back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from textual import events
from textual.app import ComposeResult
from textual.screen import Screen

from tracker.tui.palette import Palette
from tracker.tui.panel import Panel
from tracker.tui.render.list_view import (
    Leaf,
    Row,
    in_sight,
    is_mark_seen,
    moved,
    paint_leaf,
    room_for,
    turned,
    with_rows,
)
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look

BACK = Choice("q", "back")
CHOOSE = (Choice("↑↓", "choose"), Choice("space", "take it"))


class Page(Screen[object]):
    """Ends with the value of the row that was chosen, or with None. `rows` may be different at each painting."""

    CSS = "#leaf { height: 1fr; }"

    def __init__(self, title: str, palette: Palette, keys: tuple[Choice, ...] = (BACK,)) -> None:
        super().__init__()
        self._palette = palette
        self.leaf = Leaf(title, (), keys)

    def rows(self) -> tuple[Row, ...]:
        """What the page shows now."""
        return ()

    def taken(self, value: object) -> None:
        """The maker took the chosen row."""
        self.dismiss(value)

    def pressed(self, key: str) -> bool:
        """A key that only this page knows; whether it was one."""
        return False

    def compose(self) -> ComposeResult:
        yield Panel(paint_leaf, id="leaf")

    def on_mount(self) -> None:
        self.repaint()

    def on_resize(self) -> None:
        self.leaf = in_sight(self.leaf, *self.size)
        self.repaint()

    def repaint(self) -> None:
        fresh = with_rows(self.leaf, self.rows())
        self.leaf = fresh if fresh.chosen == self.leaf.chosen else in_sight(fresh, *self.size)
        self.query_one("#leaf", Panel).show(self.leaf, self._palette)

    def choose(self, number: int) -> None:
        """Choose the row of this number."""
        self.leaf = in_sight(replace(self.leaf, chosen=number), *self.size)
        self.repaint()

    def is_mark_seen(self) -> bool:
        """Whether the chosen row is in sight; no key acts on one that is not."""
        return is_mark_seen(self.leaf, *self.size)

    def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if self.app.screen is not self:
            # Typed on before this page was gone.
            self.app.screen.post_message(events.Key(event.key, event.character))
        elif not self.pressed(event.key):
            self._usual(event.key)

    def _usual(self, key: str) -> None:
        width, height = self.size
        match key:
            case "q" | "escape" | "backspace":
                self.dismiss(None)
            case "ctrl+q" | "ctrl+c":
                self.app.exit()
            case "space" | "enter" if self.leaf.value is not None:
                if self.is_mark_seen():
                    self.taken(self.leaf.value)
                else:
                    self._show(in_sight(self.leaf, width, height))
            case "down" | "j" | "up" | "k":
                self._show(moved(self.leaf, 1 if key in "down j".split() else -1, width, height))
            case "pagedown" | "space" | "pageup":
                by = room_for(self.leaf, width, height)
                by = -by if key == "pageup" else by
                self._show(turned(self.leaf, by, width, height, by))
            case "home" | "end":
                by = -(10**6) if key == "home" else 10**6
                self._show(turned(self.leaf, by, width, height, by))

    def _show(self, leaf: Leaf) -> None:
        self.leaf = leaf
        self.repaint()

    def on_mouse_scroll_down(self) -> None:
        self._show(turned(self.leaf, 1, *self.size))

    def on_mouse_scroll_up(self) -> None:
        self._show(turned(self.leaf, -1, *self.size))


# A page that tells something and asks whether to go on.

LEAVE = Choice("q", "leave")


class AskingPage(Page):
    """Ends with the key that was pressed, one of `answers`, or with None on leaving."""

    def __init__(
        self,
        title: str,
        lines: Iterable[str],
        answers: tuple[Choice, ...],
        palette: Palette,
        away: Choice = LEAVE,
    ) -> None:
        super().__init__(title, palette, (*answers, away))
        self._sentences = tuple(lines)
        self._answers = {answer.key: answer for answer in answers}

    def rows(self) -> tuple[Row, ...]:
        return tuple(_row(part) for part in self._sentences)

    def pressed(self, key: str) -> bool:
        if key not in self._answers:
            return False
        self.dismiss(key)
        return True


def _row(words: str) -> Row:
    """Lines that were taken out of a text or put into it look different."""
    return Row(words, look={"- ": Look.DONE, "+ ": Look.STRONG}.get(words[:2], Look.PLAIN))
