"""Every key and what it does, on one screen."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from tracker.tui.commands import COMMANDS, Command, Keys, name_of
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Look

KEYS_WIDE = 16
"""Columns for the keys."""


class HelpPage(Page):
    """Made from the table of commands, with the keys as they are set now."""

    def __init__(self, keys: Keys, settings: Path, palette: Palette) -> None:
        super().__init__("keys", palette)
        self._told = help_rows(keys, settings)

    def rows(self) -> tuple[Row, ...]:
        return self._told


def help_rows(keys: Keys, settings: Path) -> tuple[Row, ...]:
    """A row for each command, one for neighbours that are told together, and where the keys can be changed."""
    same = groupby(COMMANDS, key=lambda command: COMMANDS[command].help)
    return (
        *(help_row(keys, tuple(commands), told) for told, commands in same),
        Row(f"keys, bell, voice and more are set in {settings}", look=Look.FAINT),
    )


def help_row(keys: Keys, commands: tuple[Command, ...], told: str) -> Row:
    """One command, or several with a stroke between them: the keys, then what they do."""
    named = " / ".join(" ".join(name_of(key) for key in keys.of(command)[:3]) for command in commands)
    return Row(f"{named:<{KEYS_WIDE}} {told}", hang=KEYS_WIDE + 1)
