"""One written round, read: its heading, what it says to make, and the total it states.

`read_line` never raises on what a person typed: what cannot be understood comes back as a problem.
"""

from __future__ import annotations

import re
from functools import lru_cache

from tracker.diagnostics import Lines
from tracker.lazy_dataclass import replace
from tracker.normalize import fold
from tracker.notation.ast import Heading, Line
from tracker.notation.both_terms import in_one
from tracker.notation.context import Context
from tracker.notation.numbers_by_size import for_one_size
from tracker.notation.parser.heading import heading_and_rest, heading_of
from tracker.notation.parser.plain_line import plain_line

MAX_TEXT = 20_000
"""The longest round, in characters; a long lace round has about a thousand."""


def read_line(text: str, context: Context = Context(), main: str = "sc") -> Line:  # noqa: B008 - a frozen value
    """Read one round. `main` is the stitch that "inc" means when the line names none."""
    if len(text) > MAX_TEXT:
        return _refused(text)
    folded = for_one_size(fold(text), context) if context.sizes else fold(text)
    folded, head = heading_and_rest(in_one(folded, context.terms))
    head = head.for_size(context.size)
    plain = plain_line(folded, head, context, main)
    if plain is not None:
        return Line(text, head, plain.body, plain.stated, words=plain.words, chains_count=context.chains_count)
    from tracker.notation.grammar import read_words  # plain lines need none of it

    return read_words(text, folded, head, context, main)


def _refused(text: str) -> Line:
    from tracker.notation.grammar import too_long

    return Line(text, Heading(0), problems=(too_long(len(text), "characters", MAX_TEXT, Lines(text)),))


# Reading rounds of which many say the same: a line is read once for all rounds that differ in their number only.


def read_round(text: str, context: Context, main: str) -> Line:
    """The same as `read_line`, without reading again what only has another round number."""
    if len(text) > MAX_TEXT:
        return _refused(text)
    head, folded = heading_of(text), in_one(fold(text), context.terms)
    plain = plain_line(folded, head, context, main)
    if plain is not None:
        return Line(text, head, plain.body, plain.stated, words=plain.words, chains_count=context.chains_count)
    if len(head.numbers) != 1 or head.by_size:
        return _not_into_itself(read_line(text, context, main))
    start, end = head.span
    alike = _read_alike(text[:start] + re.sub(r"\d", "1", text[start:end]) + text[end:], context, main)
    if alike.reference is not None or alike.heading.end != head.end:
        return _not_into_itself(read_line(text, context, main))
    return _not_into_itself(replace(alike, text=text, heading=head))


def _not_into_itself(line: Line) -> Line:
    """ "Rnds 4-6: ... In the last st of Rnd 6 change to B" names its own round, which nothing of it goes into"""
    return replace(line, worked_into=None) if line.worked_into in line.heading.numbers else line


@lru_cache(maxsize=2_048)
def _read_alike(text: str, context: Context, main: str) -> Line:
    return read_line(text, context, main)


@lru_cache(maxsize=1_024)
def read_once(text: str, context: Context) -> Line:
    """The same as `read_line`, for a line that is looked at several times before it is told what it is."""
    return read_round(text, context, "sc")
