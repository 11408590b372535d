"""One line to type into: a question, a field, and what is done with the answer."""

from __future__ import annotations

from collections.abc import Callable

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Input, Static

LONGEST = 4000


class Prompt(Horizontal):
    """Goes away when it is answered, or on escape, or on backspace in the empty field."""

    DEFAULT_CSS = """
    Prompt { height: 1; }
    Prompt > Static { width: auto; text-style: bold; padding: 0 1 0 0; }
    Prompt > Input { border: none; height: 1; padding: 0; width: 1fr; background: $background; }
    Prompt > Input:focus { border: none; }
    """

    def __init__(self, question: str, typed: str, then: Callable[[str], None], done: Callable[[], None]) -> None:
        super().__init__()
        self._question = question
        self._typed = typed
        self._then = then
        self._done = done

    def compose(self) -> ComposeResult:
        yield Static(self._question, markup=False)
        yield Input(self._typed, max_length=LONGEST, select_on_focus=False, highlighter=None)

    def on_mount(self) -> None:
        field = self.query_one(Input)
        field.focus()
        field.cursor_position = len(self._typed)

    def on_key(self, event: events.Key) -> None:
        """Ways out. Other keys go on, because the field's own keys are found after everybody has seen the key."""
        empty = not self.query_one(Input).value
        if event.key == "escape" or (event.key in ("backspace", "enter") and empty):
            event.stop()
            self._done()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self._done()
        if event.value.strip():
            self._then(event.value)
