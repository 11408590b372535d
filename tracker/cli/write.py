"""`rounds write`: a pattern written out as Markdown, plain text or a page for print; and a history out and in.

Standard output or the file named is the sheet; what is to be said about it goes to standard error.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from enum import Enum
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.open_project import load_or_tell
from tracker.cli.output import Unwritable, write_new
from tracker.document.as_made import WorkHistory
from tracker.document.builder import Wish, compose
from tracker.document.model import Document
from tracker.journal import JournalTrouble, data_folder
from tracker.lazy_dataclass import dataclass
from tracker.normalize import clean
from tracker.pattern.model import Pattern
from tracker.project.project import open_project
from tracker.reports.sheet import history_of, pictures_of


class PaperForm(Enum):
    """What a sheet is written as."""

    MARKDOWN = "markdown"
    TEXT = "text"
    PAGE = "html"


_BY_ENDING = {".html": PaperForm.PAGE, ".htm": PaperForm.PAGE, ".txt": PaperForm.TEXT}


class _CannotWrite(Exception):
    """What was asked for cannot be written; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class WriteRequest:
    """How the sheet is wanted: into `output` (None: standard output), as "markdown", "text" or "html".

    Without a `form` the ending of `output` tells it, and Markdown is written where that does not.
    """

    form: str | None = None
    output: Path | None = None
    terms: str | None = None
    is_spoken: bool = False
    as_made: bool = False
    with_pictures: bool = True
    replace_file: bool = False
    as_printed: bool = False


def write_file(name: str, request: WriteRequest, data: Path | None = None) -> int:
    """Write the sheet of a pattern; 0 when written, 2 when that is not possible.

    `data` is the folder that the places are kept in.
    """
    pattern_file = load_or_tell(name)
    if pattern_file is None:
        return ExitCode.REFUSED
    path, pattern = pattern_file
    form, terms = _form(request), request.terms or pattern.terms
    try:
        history = _history(pattern, path, data) if request.as_made else None
        if not request.as_printed:
            pattern = _as_mended(pattern, path, data)
        pictures = pictures_of(pattern, terms, form is PaperForm.PAGE) if request.with_pictures else {}
        sheet = compose(pattern, Wish(terms, request.is_spoken, history, pictures))
        _put(_writer(form)(sheet), request.output, request.replace_file)
    except (_CannotWrite, Unwritable) as reason:
        print(f"rounds write: {reason}", file=sys.stderr)
        return ExitCode.REFUSED
    return ExitCode.DONE


def _form(request: WriteRequest) -> PaperForm:
    if request.form is not None:
        return PaperForm(request.form)
    return _BY_ENDING.get(request.output.suffix.lower(), PaperForm.MARKDOWN) if request.output else PaperForm.MARKDOWN


def _writer(form: PaperForm) -> Callable[[Document], str]:
    """What writes this form; the others are not read."""
    if form is PaperForm.PAGE:
        from tracker.document.html import as_page

        return as_page
    if form is PaperForm.TEXT:
        from tracker.document.text import as_text

        return as_text
    from tracker.document.markdown import as_markdown

    return as_markdown


def _as_mended(pattern: Pattern, path: Path, data: Path | None) -> Pattern:
    """The pattern with the lines that the maker mended; as printed where no journal can be read."""
    try:
        project = open_project(pattern, path, data_folder(data), time.time, to_work=False)
        try:
            return project.pattern
        finally:
            project.close()
    except JournalTrouble as trouble:
        print(f"rounds write: as printed, because {trouble}", file=sys.stderr)
        return pattern


def _history(pattern: Pattern, path: Path, data: Path | None) -> WorkHistory:
    """What was made, looked at without keeping anybody from working."""
    try:
        project = open_project(pattern, path, data_folder(data), time.time, to_work=False)
        try:
            history = history_of(project)
        finally:
            project.close()
    except JournalTrouble as trouble:
        raise _CannotWrite(str(trouble)) from None
    if history.is_empty:
        raise _CannotWrite("nothing of this pattern is made yet: leave out --as-made, or begin with rounds work")
    return history


def _put(text: str, output: Path | None, replace_file: bool) -> None:
    """To standard output, or into a file."""
    if output is None:
        sys.stdout.write(text)
        return
    write_new(text, output, replace=replace_file)
    print(f"written: {clean(str(output))}", file=sys.stderr)


def write_history(name: str, data: Path | None, output: Path, replace_file: bool = False) -> int:
    """Write everything that was done in a project, as JSON Lines, for another machine ("-": standard output)."""
    pattern_file = load_or_tell(name)
    if pattern_file is None:
        return ExitCode.REFUSED
    from tracker.journal.transfer import history_lines

    path, pattern = pattern_file
    try:
        lines = list(history_lines(data_folder(data), path, pattern.title))
        _put("\n".join(lines) + "\n", None if str(output) == "-" else output, replace_file)
    except (JournalTrouble, Unwritable) as trouble:
        print(f"rounds write: {trouble}", file=sys.stderr)
        return ExitCode.REFUSED
    return ExitCode.DONE


def take_in_history(name: str, data: Path | None, source: Path) -> int:
    """Take in a history that was written on another machine; tells what was taken."""
    pattern_file = load_or_tell(name)
    if pattern_file is None:
        return ExitCode.REFUSED
    from tracker.project.history_import import take_history

    path, pattern = pattern_file
    try:
        print(take_history(_lines_of(source), pattern, path, data_folder(data), time.time))
    except (OSError, ValueError) as trouble:  # no text, or a name that no file can have
        reason = getattr(trouble, "strerror", None) or "it cannot be read"
        print(f"rounds write: {clean(str(source))}: {reason.lower()}", file=sys.stderr)
        return ExitCode.REFUSED
    except JournalTrouble as trouble:
        print(f"rounds write: {trouble}", file=sys.stderr)
        return ExitCode.REFUSED
    return ExitCode.DONE


def _lines_of(source: Path) -> list[str]:
    """The lines of a history; no more is read than one can have, because what is no plain file may never end."""
    from tracker.journal.transfer import LARGEST

    with source.open("rb") as file:
        data = file.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise JournalTrouble(f"{clean(str(source))} has more than {LARGEST:,} bytes: it is no history of a project")
    return data.decode("utf-8").split("\n")
