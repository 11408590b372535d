"""Words on the command line that are no command or no option: taken for what they mean, or told with the nearest."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING, NoReturn

from tracker.suggestion import suggestion

if TYPE_CHECKING:
    from _typeshed import SupportsWrite

TAKE_A_VALUE = ("--data", "--completion")
"""Options before a command that are followed by a word of their own."""


class Parser(argparse.ArgumentParser):
    """A parser that tells what is wrong in one line, and where to read more."""

    _width: int | None = 80
    """Columns of what is told; None for those of the terminal. While options are added nothing is, and to ask for the
    terminal loads what no command needs."""

    def _get_formatter(self) -> argparse.HelpFormatter:
        return argparse.RawDescriptionHelpFormatter(self.prog, width=self._width)

    def format_help(self) -> str:
        """As wide as the terminal."""
        self._width = None
        return super().format_help()

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{self.prog}: {message}\n  {self.prog} --help tells what it takes\n")

    def print_help(self, file: SupportsWrite[str] | None = None) -> None:
        """Unlike the usual one it does not swallow that nothing can be written."""
        print(self.format_help(), end="", file=file)

    def refuse_unknown(self, extra: Sequence[str]) -> NoReturn:
        """Refuse words that nothing is known of, with the nearest option to the first."""
        word = next((word for word in extra if word.startswith("-")), extra[0])
        if not word.startswith("-"):
            self.error(f"there is one word too many: {word}")
        near = suggestion(word.partition("=")[0], [name for name in self._option_string_actions if len(name) > 2])
        self.error(f"there is no option {word}" + (f"; do you mean {near}?" if near else ""))


def with_command(words: Sequence[str], commands: Sequence[str], parser: Parser) -> tuple[list[str], str]:
    """The words with `work` before a pattern that stands alone, and the command; "" where only options are given.

    Leaves with a message where nothing is meant.
    """
    index = _first_word(words)
    if index is None:
        return list(words), ""
    if words[index] in commands:
        return list(words), words[index]
    word = words[index]
    if not _is_pattern(word):
        _refuse(word, commands, parser)
    return [*words[:index], "work", *words[index:]], "work"


def _refuse(word: str, commands: Sequence[str], parser: Parser) -> NoReturn:
    from tracker.cli.shipped_patterns import shipped

    near = suggestion(word, commands) or suggestion(word, [path.stem for path in shipped()])
    hint = f"do you mean {near}?" if near else f"commands are {', '.join(commands)}"
    parser.error(f"there is no command and no pattern called {word}; {hint}")


def _first_word(words: Sequence[str]) -> int | None:
    index = 0
    while index < len(words):
        word = words[index]
        if not word.startswith("-"):
            return index
        index += 2 if word in TAKE_A_VALUE else 1
    return None


def _is_pattern(word: str) -> bool:
    """Whether it is a file, is called like one, or is the name of a shipped pattern."""
    from tracker.cli.shipped_patterns import path_of

    return word.endswith(".toml") or os.sep in word or os.path.exists(path_of(word))
