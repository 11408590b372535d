"""`rounds read`: a saved page or a pasted text to a pattern file, with the story of what went where.

The pattern file goes to standard output (or to the file that is named); the story goes to standard error.
"""

from __future__ import annotations

import sys
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.output import Unwritable, write_new
from tracker.cli.page_source import read_page
from tracker.diagnostics import show
from tracker.normalize import clean
from tracker.pattern.loader import Unreadable, all_problems, loads
from tracker.pattern.text_import.draft_parts import Fate, Told
from tracker.pattern.text_import.importer import FromText, from_text
from tracker.pattern.text_import.materials import TermsUnclear
from tracker.pattern.text_import.saved_page import UnreadablePage
from tracker.pattern.toml_writer import as_toml


def read_text(source: Path | None, terms: str | None, target: Path | None, replace_file: bool = False) -> int:
    """Read a page (None: standard input), be it text, Markdown, HTML or PDF, and write the pattern file (None:
    standard output).

    0 if every round is clean, 1 if something needs the maker's eye, 2 if nothing could be read or written.
    """
    try:
        page = read_page(source)
        found = from_text(page.text, terms)
        toml = as_toml(found.draft)
        if target is None:
            print(toml, end="")
        else:
            write_new(toml, target, replace=replace_file)
    except TermsUnclear:
        return _refuse("the words do not tell US from UK terms: say --terms US or --terms UK")
    except OSError as wrong:
        return _refuse(f"{clean(str(source or 'standard input'))}: {(wrong.strerror or 'cannot be used').lower()}")
    except UnreadablePage as wrong:
        return _refuse(f"{clean(str(source or 'standard input'))}: {wrong}")
    except Unwritable as wrong:
        return _refuse(str(wrong))
    except ValueError:
        return _refuse(f"{clean(str(source))}: no file can have this name")
    if page.note:
        print(f"page: {page.note}", file=sys.stderr)
    return _tell(found, toml, str(target or "the pattern file"))


def _refuse(message: str) -> int:
    print(f"rounds read: {message}", file=sys.stderr)
    return ExitCode.REFUSED


def _tell(found: FromText, toml: str, name: str) -> int:
    counts = {fate: [t for t in found.told if t.fate is fate] for fate in Fate}
    rounds = len(counts[Fate.ROUND]) + sum(1 for t in counts[Fate.EYE] if t.why)
    say = _Say()
    say(f"terms: {found.draft.terms} ({found.terms_why})")
    pieces = len(found.draft.pieces)
    say(
        f"placed: {rounds} lines of rounds in {pieces} piece{'s' * (pieces != 1)}, "
        f"{len(counts[Fate.PLACED])} other lines"
    )
    _list(say, "kept as notes, in their place", counts[Fate.NOTE])
    _list(say, "need your eye", counts[Fate.EYE])
    try:
        pattern = loads(toml, name)
    except Unreadable as stop:
        _list(say, "not a pattern yet", [])
        for problem in stop.problems:
            say(f"  {problem.message}")
        return ExitCode.REFUSED
    problems = all_problems(pattern)
    for problem in problems:
        say(show(problem, pattern.source.split("\n"), name))
    say("check: all clean" if not problems else f"check: {len(problems)} to look at")
    return ExitCode.FINDINGS if problems or counts[Fate.EYE] else ExitCode.DONE


class _Say:
    """Prints to standard error."""

    def __call__(self, line: str) -> None:
        print(line, file=sys.stderr)


def _list(say: _Say, heading: str, lines: list[Told]) -> None:
    if not lines:
        return
    say(f"{heading}: {len(lines)}")
    for told in lines:
        why = f"  ({told.why})" if told.why else ""
        say(f"  line {told.line}: {told.text[:100]}{why}")
