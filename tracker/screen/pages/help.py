"""Every key and what it does, on one screen."""

from __future__ import annotations

from pathlib import Path

from tracker.screen.commands import COMMANDS, Command, Keys, name_of
from tracker.screen.pages.page import Page
from tracker.screen.painting.leaf import Row
from tracker.screen.painting.lines import Look
from tracker.screen.palette import Palette


class HelpPage(Page):
    """Made from the table of commands, with the keys as they are set now."""

    def __init__(self, keys: Keys, settings: Path, palette: Palette) -> None:
        super().__init__("keys", palette)
        self._told = help_rows(keys, settings)

    def rows(self) -> tuple[Row, ...]:
        return self._told


def help_rows(keys: Keys, settings: Path) -> tuple[Row, ...]:
    """A row for each command, and where the keys can be changed."""
    return (
        *(help_row(keys, command) for command in COMMANDS),
        Row(f"keys, bell, voice and more are set in {settings}", look=Look.FAINT),
    )


def help_row(keys: Keys, command: Command) -> Row:
    """One command: its keys, then what it does."""
    named = " ".join(name_of(key) for key in keys.of(command)[:3])
    return Row(f"{named:<16} {COMMANDS[command].help}")
