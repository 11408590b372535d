"""The bytes of a pattern file and the text in them, before anything of it is read."""

from __future__ import annotations

from pathlib import Path

from tracker.diagnostics import Problem, Span, error

MAX_FILE = 2_000_000
"""The largest pattern file in bytes; a large pattern has about 50,000, one of ten thousand rounds 500,000. The TOML
reader alone takes about a second for so much."""

LOOKED_AT = 8_192
"""Bytes at the start in which no text has a zero; a file of another kind nearly always has one there."""


class UnreadableFile(Exception):
    """There is no pattern in this file at all; `problems` say why."""

    def __init__(self, problems: tuple[Problem, ...], source: str = "") -> None:
        super().__init__("; ".join(problem.message for problem in problems))
        self.problems = problems
        self.source = source


def of_whole(code: str, message: str, help: str) -> Problem:
    """A problem of a file as a whole."""
    return error(code, message, Span(0, 0, 1), help)


def bytes_in(path: Path) -> bytes:
    """What a file holds. Raises `UnreadableFile` for one that is too large, or is no file that can be read."""
    try:
        with path.open("rb") as file:  # no more is read, because what is no plain file may never end
            data = file.read(MAX_FILE + 1)
    except IsADirectoryError:
        problem = of_whole("folder", "this is a folder and no pattern", "name a pattern file in it")
        raise UnreadableFile((problem,)) from None
    except (OSError, ValueError) as wrong:
        reason = getattr(wrong, "strerror", None) or "no file can have this name"
        raise UnreadableFile((of_whole("no-file", reason.lower(), "check the name and the folder"),)) from None
    if len(data) > MAX_FILE:
        raise UnreadableFile(
            (of_whole("too-long", f"the file has more than {MAX_FILE:,} bytes", "is this a pattern?"),)
        )
    return data


def text_in(data: bytes) -> str:
    """The text of a file. Raises `UnreadableFile` for one that is empty, is no text, or is saved in another way."""
    if not data.strip():
        raise UnreadableFile((of_whole("empty", "the file is empty", "a pattern has a title and [[piece]]"),))
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise UnreadableFile((of_whole("not-text", "the file is saved as UTF-16", "save it as UTF-8"),))
    if b"\0" in data[:LOOKED_AT]:
        problem = of_whole(
            "not-text", "this is no text: a picture, a printed page or a program", "copy the text out of it"
        )
        raise UnreadableFile((problem,))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        problem = of_whole("not-text", f"byte {wrong.start + 1} is not UTF-8 text", "save the file as UTF-8")
        raise UnreadableFile((problem,)) from None
