"""`rounds read`: a saved page or a pasted text to a pattern file, with the story of what went where.

The pattern file goes to standard output (or to the file that is named); the story goes to standard error.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.output import Unwritable, write_new
from tracker.cli.page_source import read_page
from tracker.diagnostics import show
from tracker.lazy_dataclass import dataclass, replace
from tracker.normalize import clean
from tracker.pattern.loader import MAX_SIZES, all_problems, loads
from tracker.pattern.model import Pattern
from tracker.pattern.pattern_file import UnreadableFile
from tracker.pattern.text_import.draft_assembly import FromText, from_text
from tracker.pattern.text_import.draft_parts import Fate, Outcome
from tracker.pattern.text_import.page_terms import TermsUnclear
from tracker.pattern.text_import.saved_page import UnreadablePage
from tracker.pattern.toml_writer import as_toml


@dataclass(frozen=True, slots=True)
class ReadWish:
    """What the maker says of the page: the terms it is in, and which of its sizes is made, from 1; None: not said."""

    terms: str | None = None
    size: int | None = None


def read_text(source: Path | None, wish: ReadWish, target: Path | None, replace_file: bool = False) -> int:
    """Read a page (None: standard input), be it text, Markdown, HTML or PDF, and write the pattern file (None:
    standard output).

    0 if every round is clean, 1 if something needs the maker's eye, 2 if nothing could be read or written.
    """
    if wish.size is not None and not 1 <= wish.size <= MAX_SIZES:
        return _refuse(f"--size is a number from 1 to {MAX_SIZES}")
    try:
        page = read_page(source)
        if not page.text.strip():
            raise UnreadablePage("there is no text in it")
        page_reading = from_text(page.text, wish.terms, wish.size)
        name = str(target or "the pattern file")
        toml = as_toml(page_reading.draft)
        pattern = _loaded(toml, name)
        unexplained = _only_named(page_reading, pattern)
        words = _ask(unexplained) if source is not None and sys.stdin.isatty() and sys.stderr.isatty() else {}
        if words:
            again = from_text(page.text, page_reading.draft.terms, wish.size, tuple(words.items()))
            page_reading = replace(again, terms_why=page_reading.terms_why)
            toml = as_toml(page_reading.draft)
            pattern = _loaded(toml, name)
        if target is not None:
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
    if target is None:
        print(toml, end="")
    say = _Say()
    if page.note:
        say(f"page: {page.note}")
    _tell_words(say, page_reading, [name for name in unexplained if name not in words], wish)
    return _tell(say, page_reading, pattern, name)


def _loaded(toml: str, name: str) -> Pattern | UnreadableFile:
    """The pattern that a file comes to, or why it comes to none."""
    try:
        return loads(toml, name)
    except UnreadableFile as stop:
        return stop


def _ask(names: list[str]) -> dict[str, str]:
    """What the maker at the terminal says of the stitches that the page only names; the passed over are left out."""
    words: dict[str, str] = {}
    for name in names:
        print(f"{name}: how many places does it take, how many stitches does it leave? ", end="", file=sys.stderr)
        sys.stderr.flush()
        numbers = re.findall(r"\d{1,3}", sys.stdin.readline(_LONGEST_ANSWER))
        if len(numbers) == 2:
            words[name] = f"takes {int(numbers[0])}, leaves {int(numbers[1])}"
    return words


# Characters; a stitch is told in a line.
_LONGEST_ANSWER = 200


def _only_named(draft: FromText, pattern: Pattern | UnreadableFile) -> list[str]:
    """The stitches of the rounds that the page, or the trade, names without saying how they are made."""
    names = [word.short.lower() for word in draft.unexplained_words]
    if isinstance(pattern, UnreadableFile):
        return names
    for round_ in (round_ for piece in pattern.pieces for round_ in piece.rounds):
        for problem in round_.problems:
            if problem.code == "asked-stitch":
                line = round_.text.split("\n")[problem.span.line]
                names.append(line[problem.span.start : problem.span.end].lower())
    return list(dict.fromkeys(names))


def _tell_words(say: _Say, draft: FromText, unexplained: list[str], wish: ReadWish) -> None:
    """What the page's own words were read as, which stitches are still to be told, and which size was read."""
    by_sums = {word.phrase: word.sentence for word in draft.by_sums}
    for short, meaning in draft.draft.words:
        say("word: " + by_sums.get(short, f"'{short}' is {meaning}"))
    for word in draft.contrary:
        say(f"the page calls '{word.short}' {word.core}: kept as the {draft.draft.terms} stitch of that name")
    for name in unexplained:
        say(f"tell of '{name}' in the file how many places it takes and how many stitches it leaves, for example")
        say(f'  [words]\n  "{name}" = "takes 1, leaves 1"')
    if draft.sizes > 1 and wish.size is None:
        say(f"sizes: the page is for {draft.sizes}, and the first was read; for another one say --size 2")


def _refuse(message: str) -> int:
    print(f"rounds read: {message}", file=sys.stderr)
    return ExitCode.REFUSED


def _tell(say: _Say, draft: FromText, pattern: Pattern | UnreadableFile, name: str) -> int:
    counts = {fate: [t for t in draft.outcomes if t.fate is fate] for fate in Fate}
    rounds = len(counts[Fate.ROUND]) + sum(1 for t in counts[Fate.EYE] if t.why)
    say(f"terms: {draft.draft.terms} ({draft.terms_why})")
    pieces = len(draft.draft.pieces)
    say(
        f"placed: {rounds} lines of rounds in {pieces} piece{'s' * (pieces != 1)}, "
        f"{len(counts[Fate.PLACED])} other lines"
    )
    _list(say, "kept as notes, in their place", counts[Fate.NOTE])
    _list(say, "need your eye", counts[Fate.EYE])
    if isinstance(pattern, UnreadableFile):
        _list(say, "not a pattern yet", [])
        for problem in pattern.problems:
            say(f"  {problem.message}")
        return ExitCode.REFUSED
    problems = all_problems(pattern)
    lines = pattern.source.split("\n")
    for problem in problems:
        say(show(problem, lines, name))
    say("check: all clean" if not problems else f"check: {len(problems)} to look at")
    return ExitCode.FINDINGS if problems or counts[Fate.EYE] else ExitCode.DONE


class _Say:
    """Prints to standard error."""

    def __call__(self, line: str) -> None:
        print(line, file=sys.stderr)


def _list(say: _Say, heading: str, lines: list[Outcome]) -> None:
    if not lines:
        return
    say(f"{heading}: {len(lines)}")
    for entry in lines:
        why = f"  ({entry.why})" if entry.why else ""
        say(f"  line {entry.line}: {entry.text[:100]}{why}")
