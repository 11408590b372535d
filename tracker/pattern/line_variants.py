"""A line as it is written in other words: without its total, with another number in one place."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from tracker.lazy_dataclass import replace
from tracker.normalize import fold
from tracker.notation.ast import Line
from tracker.notation.context import Context
from tracker.notation.lexer import scan_behind
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token
from tracker.pattern.model import Entry

Written = tuple[Line, Entry]
"""A line as it was read, and what is written of it."""

Reads = Callable[[str], Line]


_LONGEST = 60
"""Words in which a number is looked for that changes from round to round; "(3 sc, inc) x 6" has ten."""


def with_numbers(last: Written, context: Context, read: Reads) -> Iterator[tuple[int, Written]]:
    """For each number of a line, and each stitch that has none and is made once, which of its words it is, and the
    line with that number written."""
    line, entry = without_total(last, read)
    words = words_of(line, context)
    for nth, word in enumerate(words[:_LONGEST]):
        if word.kind in (T.NUMBER, T.ORDINAL):
            yield nth, (line, entry)
        elif word.kind is T.STITCH and (not nth or words[nth - 1].kind is not T.NUMBER):
            text = f"{line.text[: word.start]}1 {line.text[word.start :]}"
            yield nth, (read(text), replace(entry, text=text))


def with_number_stepped(written: Written, nth: int, by: int, context: Context, read: Reads) -> Written | None:
    """The line with its word number `nth`, a number, so many higher; without what it counts where that is nothing;
    None where it was less."""
    line, entry = written
    words = words_of(line, context)
    if nth >= len(words) or words[nth].kind is not T.NUMBER or (count := words[nth].number + by) < 0:
        return None
    start, end = words[nth].start, words[nth].end
    if count == 0:
        comma = next((word for word in words[nth:] if word.kind is T.COMMA), None)
        end = comma.end if comma is not None else end
    text = f"{line.text[:start]}{count or ''}{line.text[end:]}"
    return read(text), replace(entry, text=text)


def words_of(line: Line, context: Context) -> list[Token]:
    """The words of the instructions."""
    return scan_behind(fold(line.text), line.heading.end, context.terms, context.colours)


_BRACKETED = re.compile(r"\s*[(\[{=:-]*\s*$"), re.compile(r"\s*[)\]}]*")


def on_one_line(written: Written, read: Reads) -> Written:
    """The line without its breaks, which stand elsewhere in each round."""
    line, entry = written
    text = line.text.replace("\n", " ")
    return (read(text), replace(entry, text=text)) if text != line.text else written


def without_total(written: Written, read: Reads) -> Written:
    """The line without the total that it states, which is another one in each round."""
    line, entry = written
    text = line.text
    for total in reversed(line.stated):
        if total.span.line == 0 and "\n" not in text:
            before = _BRACKETED[0].sub("", text[: total.span.start])
            behind = text[total.span.end :]
            text = before + behind[_end_of(_BRACKETED[1], behind) :]
    return (read(text), replace(entry, text=text)) if text != line.text else written


def _end_of(pattern: re.Pattern[str], text: str) -> int:
    match = pattern.match(text)
    return match.end() if match else 0
