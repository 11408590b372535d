"""Reading rounds of which many say the same: a line is read once for all rounds that differ in their number only."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from tracker.normalize import fold
from tracker.notation.parser.heading import Heading, heading
from tracker.notation.reader import Line, read_line
from tracker.notation.token_stream import Context

LONGEST_HEADING = 400
"""Characters of a line that are looked at for its heading."""

_KEPT = 16_384
"""How many headings are kept; a piece is gone through twice, once to cut it up and once to read it."""


@lru_cache(maxsize=_KEPT)
def heading_of(text: str) -> Heading:
    """The heading of a line as typed."""
    return heading(fold(text[:LONGEST_HEADING]))


def read_round(text: str, context: Context, main: str) -> Line:
    """The same as `read_line`, without reading again what only has another round number."""
    head = heading_of(text)
    if len(head.numbers) != 1:
        return read_line(text, context, main)
    start, end = head.span
    alike = _read_alike(text[:start] + re.sub(r"\d", "1", text[start:end]) + text[end:], context, main)
    if alike.reference is not None or alike.heading.end != head.end:
        return read_line(text, context, main)
    return replace(alike, text=text, heading=head)


@lru_cache(maxsize=2_048)
def _read_alike(text: str, context: Context, main: str) -> Line:
    return read_line(text, context, main)


@lru_cache(maxsize=1_024)
def read_once(text: str, context: Context) -> Line:
    """The same as `read_line`, for a line that is looked at several times before it is told what it is."""
    return read_line(text, context)
