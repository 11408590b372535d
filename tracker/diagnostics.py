"""Where something stands in a text, and what can be wrong with it.

Reading never raises on what a person typed: it returns what was understood and a list of problems.
Lines and columns are counted from 0 inside the program and from 1 where they are shown.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from enum import Enum
from typing import NamedTuple

from tracker.lazy_dataclass import dataclass, replace


class Span(NamedTuple):
    """A stretch of one source line, `end` excluded."""

    line: int
    start: int
    end: int

    def to(self, other: Span) -> Span:
        """The stretch from here to the end of `other`; on one line only."""
        if other.line != self.line:
            return self
        return Span(self.line, min(self.start, other.start), max(self.end, other.end))

    def moved(self, lines: int, columns: int) -> Span:
        """The same stretch inside a larger text."""
        return Span(self.line + lines, self.start + columns, self.end + columns)


NOWHERE = Span(0, 0, 0)


class Lines:
    """Turns offsets in a text of one or more lines into line and column."""

    def __init__(self, text: str) -> None:
        self._starts = [0]
        for match in re.finditer("\n", text):
            self._starts.append(match.end())

    def span(self, start: int, end: int) -> Span:
        line = max(bisect_right(self._starts, start) - 1, 0)
        base = self._starts[line]
        return Span(line, start - base, max(start + 1, end) - base)


LONGEST = 300
"""Characters of a message that are shown: it may quote a word without end."""


class Severity(Enum):
    """How much a problem matters; `NOTE` tells how something was read and is no finding."""

    NOTE = "note"
    WARNING = "warning"
    DISAGREES = "disagrees"
    ERROR = "error"

    @property
    def rank(self) -> int:
        return list(Severity).index(self)


CODES = {
    # Of a file, before there are rounds.
    "no-file": "the file cannot be read",
    "folder": "what should be a file is a folder",
    "empty": "there is nothing in the file",
    "not-text": "the file is no UTF-8 text",
    "not-toml": "the file is no pattern file",
    "too-long": "the file or the line is longer than any pattern",
    "too-deep": "groups, brackets or lists stand too deep inside each other",
    "too-many": "more pieces, copies, stitches or repeats than anybody makes",
    "unknown-key": "a key that pattern files do not have",
    "wrong-type": "a value of another kind than the key asks for",
    "bad-word": "a word that the pattern declares and that cannot be taken so",
    "bad-place": "a place to sew a piece on that is not there or not clear",
    "gauge": "a gauge without stitches or rounds",
    "no-pieces": "a pattern with nothing to make",
    "no-rounds": "a piece with nothing to make",
    "new-colour": "a colour that is not among the yarns",
    # Of the words of a line.
    "unknown-word": "a word that is not known and might be a stitch",
    "mixed-terms": "a stitch of the other terms",
    "not-understood": "a word that makes no sense where it stands",
    "no-stitch": "a count or a place without its stitch",
    "no-place": "a place that names no stitch, space or ring",
    "nothing": "zero of something, or a group of nothing",
    "open-bracket": "a bracket that is not closed",
    "stray-bracket": "a bracket that was not opened",
    "crossed-brackets": "a bracket closed with another sign",
    "slip-forgiven": "a slip of the keyboard that was read as the word it means",
    "size-told": "the one of several sizes that a round was read for, as the stitches that are there tell",
    "asked-stitch": "a stitch whose places the pattern has to tell",
    "undefined-group": "a named group that was taken at its usual size",
    "yarn-untold": "which yarn a round is made with is left open",
    # Of round numbers and of lines that name other rounds.
    "range-backwards": "a range of rounds whose end comes before its start",
    "range-too-long": "a range of more rounds than anybody makes",
    "rounds-of-range": "a number of rounds that is not that of the range",
    "round-number": "a round number that does not follow on",
    "no-such-round": "a round that is named and is not there",
    "omitted-unclear": "what a repeat leaves out the last time is not what it ends with",
    "goes-on-unclear": "rounds that go on in the same way, or up to a count, and the sums do not tell how",
    "often-by-eye": "rounds that come again until a measure is reached, which no sum can tell",
    "grows": "how many stitches there are when a round that changes the count has come again several times",
    "refers": "a line that repeats a round that is not given",
    "refers-to-itself": "a round that repeats itself",
    # Of words that were left out so that the rest could be read.
    "next-row": "a row with what is worked in the next one behind it",
    "times-lost": "a sign of multiplication, or a word for it, without its number",
    "total-inside": "a number in brackets before the end of a round, which says how many there are by then",
    "count-at-end": "a count of stitches at the end of a line, read as its total because it comes out only so",
    "taken-as-remark": "words that nobody understands were taken as a remark, and the arithmetic agrees",
    "proposal": "a way to read the round that the maker is asked about",
    "stitch-supposed": "an unknown word taken for a stitch over one place, as the numbers have it",
    # Of the numbers of a round; `rounds.checks` tells their order.
    "nothing-to-make": "a round of which no stitch was understood",
    "base-unknown": "nobody knows how many stitches there are to work into",
    "base-assumed": "the round below came to no number, or is of the piece before, and is taken to leave so many",
    "settled-by-next": "the words leave open how many stitches it makes, and the next round needs one of the numbers",
    "total-does-not-divide": "no whole number of repeats makes the total",
    "repeat-of-nothing": "what goes around uses no stitch",
    "open-inside": "something goes to the end inside a group that is repeated",
    "no-such-base": "a space or group to work into that the round below does not have",
    "read-by-total": "words were taken in an unlikely meaning, which makes the stated total of the stitches there",
    "read-otherwise": "words were taken in an unlikely meaning",
    "repeat-assumed": "only the total says that a line goes around",
    "total-unknown": "the total counts something that nobody knows, and nothing that is made is as many",
    "total-counts-otherwise": "the total counts chains too, or leaves something out",
    "spaces-from-total": "how many spaces there are was taken from the total",
    "base-from-total": "how many stitches or spaces it uses was taken from the total",
    "spaces-between": "the round below has no chains, so that a space is between two stitches",
    "closed-by-first": "the last repeat ends where the first stitch of the round stands",
    "cut-short": "what goes around does not come out",
    "nothing-left": "two things go to the end, and nothing is left for the second",
    "unworked": "stitches are left over",
    "runs-out": "more stitches are used than are there",
    "share-unclear": "so many over so many more, and not how many go where",
    "share-differs": "what each side has does not come to the total",
    "total-differs": "the instruction makes another number than the total says",
    "spaces-assumed": "the number of spaces to work into was assumed",
    "by-eye": "how many stitches it makes is left to the maker",
    "spaces-besides": "chain spaces are made besides the stitches",
    "chains-for-stitches": "chains may stand in for stitches",
    "chain-by-custom": "a starting chain counts as those of the rounds before it do",
    "chain-by-convention": "custom decides what a starting chain counts as",
    "by-convention": "custom decides between two readings",
    "two-readings": "two readings are equally good and make different numbers",
    "spaces-left": "spaces are passed over without a word",
}
"""What can be wrong: every code there is, and what it means. Programs read the codes, so none changes its meaning."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """How a round may be meant that its words do not plainly say; the maker agrees, or writes it anew.

    `text` is the round as it then stands, to be written in place of the one that is there. It `uses` and `leaves` so
    many stitches, and `reason` tells what was changed: "left out 'the side starts here'".
    """

    text: str
    uses: int
    leaves: int
    reason: str


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing the maker should hear about.

    `code` is one of `CODES`; `message` is a sentence without a full stop, `help` says what to do. With a `proposal`
    the message is a question, which the maker can answer with yes.
    """

    severity: Severity
    code: str
    message: str
    span: Span = NOWHERE
    help: str = ""
    proposal: Proposal | None = None

    def moved(self, lines: int, columns: int) -> Problem:
        """The same problem inside a larger text."""
        return replace(self, span=self.span.moved(lines, columns))


def error(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.ERROR, code, message, span, help)


def warning(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.WARNING, code, message, span, help)


def disagreement(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.DISAGREES, code, message, span, help)


def note(code: str, message: str, span: Span, help: str = "") -> Problem:
    return Problem(Severity.NOTE, code, message, span, help)


def verdict_of(problems: tuple[Problem, ...]) -> str:
    """The worst of the problems as a word; notes are no finding."""
    if not problems:
        return "ok"
    worst = max((p.severity for p in problems), key=lambda severity: severity.rank)
    return "ok" if worst is Severity.NOTE else worst.value


def show(problem: Problem, lines: list[str], name: str = "", width: int = 100) -> str:
    """The problem as a person reads it: place, message, the line as typed, a caret, what to do.

    A long line is shown as a window of `width` columns around the words in question; of a file without any text only
    the name.
    """
    where = f"{_printable(name)}:" if name else ""
    lines = lines if any(a_line.strip() for a_line in lines) else []
    message = problem.message if len(problem.message) <= LONGEST else problem.message[: LONGEST - 1] + "…"
    place = f"{problem.span.line + 1}:{problem.span.start + 1}: " if lines else " "
    head = f"{where}{place}{problem.severity.value}: {message}".lstrip()
    parts = [head]
    if 0 <= problem.span.line < len(lines):
        text = lines[problem.span.line].replace("\t", " ")
        start = min(problem.span.start, len(text))
        end = max(start + 1, min(problem.span.end, len(text)))
        left = max(0, start - width // 3) if len(text) > width else 0
        window = text[left : left + width]
        parts.append(f"    {window}")
        parts.append("    " + " " * (start - left) + "^" * max(1, min(end - start, width - (start - left))))
    if problem.help:
        parts.append(f"  help: {problem.help}")
    return "\n".join(parts)


def _printable(name: str) -> str:
    """A file can be called anything; a terminal would obey some of it."""
    return "".join(character if character.isprintable() else "?" for character in name)
