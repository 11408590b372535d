"""Every key and what it does, on one screen."""

from __future__ import annotations

from itertools import groupby

from tracker.tui.commands import COMMANDS, Command, Keys, name_of
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row

KEYS_WIDE = 18
"""Columns for the keys."""

MOST_NAMED = 2
"""Keys that are named of one command; the others are read in the settings."""


class HelpPage(Page):
    """Made from the table of commands, with the keys as they are set now."""

    def __init__(self, keys: Keys, palette: Palette) -> None:
        super().__init__("keys", palette)
        self._rows = help_rows(keys)

    def rows(self) -> tuple[Row, ...]:
        return self._rows


def help_rows(keys: Keys) -> tuple[Row, ...]:
    """A row for each command, one for neighbours that are told together."""
    same = groupby(COMMANDS, key=lambda command: COMMANDS[command].help)
    return tuple(help_row(keys, tuple(commands), help_text) for help_text, commands in same)


def help_row(keys: Keys, commands: tuple[Command, ...], words: str) -> Row:
    """One command, or several with a stroke between them: the keys, then what they do."""
    key_names = " / ".join(" ".join(name_of(key) for key in keys.of(command)[:MOST_NAMED]) for command in commands)
    return Row(f"{key_names:<{KEYS_WIDE}} {words}", hang=KEYS_WIDE + 1)
