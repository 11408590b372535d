"""The rows of a table of rounds that has their numbers first and how many stitches they leave behind it:
"12 <tab> 36 <tab> +6" as "Rnd 12 | 36 | +6".

That such numbers are of rounds is told by their sequence, and by what the last column says: more or fewer stitches,
or what is made.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.lexer import scan
from tracker.notation.parser.heading import heading_of
from tracker.notation.token_kinds import MADE, T

_ROW = compile_later(
    r"\W{0,3}(?P<first>\d{1,3})(?: ?[-~\u2013\uff5e] ?(?P<last>\d{1,3}))?(?: ?[.)])?"
    r"(?: {3,}| *\| *)(?P<count>\d{1,4})(?:(?: {3,}| *\| *)(?P<text>\S.{0,400}?))?[ |]*$"
)
"""A number or a range, a number, and what is done, with the gap between them that a tab becomes, or a bar."""

_CHANGE = compile_later(r"[-+\u2212\u2013\uff0b\uff0d] ?\d{1,3}(?: ?[a-z]{1,12}\.?)?$")
"""How many stitches there are more or fewer."""

_OF_ROWS = compile_later(r"(?i)\W*rows?\b")
"""The head of the first column of a table of rows."""

_LONGEST = 400
"""Characters of a row; what is longer is a paragraph."""

_FEWEST = 3
"""Rows from which on a page has such a table: two lines with two numbers may list anything."""

_TELLING = 0.7
"""How many of the rows say what is made or changed, or nothing; a list of parts or yarns has other words."""


@dataclass(frozen=True, slots=True)
class _TableRow:
    at: int
    first: int
    last: int
    count: str
    text: str


def with_numbered_rows(lines: Sequence[str]) -> list[str]:
    """The lines, with those that are rows of such a table as the page's rounds."""
    whole = list(lines)
    chains = [chain for chain in _chains(lines) if len(chain) > 1]
    rows = [row for chain in chains for row in chain]
    if max(map(len, chains), default=0) < _FEWEST:
        return whole
    telling, bare = sum(_tells_work(row.text) for row in rows), sum(not row.text for row in rows)
    if telling < _FEWEST or telling + bare < _TELLING * len(rows):
        return whole
    for chain in chains:
        word = "Row" if chain[0].at and _OF_ROWS.search(lines[chain[0].at - 1]) else "Rnd"
        for row in chain:
            numbers = f"{row.first}" if row.first == row.last else f"{row.first}-{row.last}"
            whole[row.at] = " | ".join(filter(None, (f"{word} {numbers}", row.count, row.text)))
    return whole


_COUNT_ALONE = compile_later(
    r"\W{0,3}(?P<first>\d{1,3})(?: ?[-~\u2013] ?(?P<last>\d{1,3}))?[.):] {1,3}(?P<count>\d{1,4})\W*$"
)
""" "4. 21", "6-7) 26": a round, and the stitches that it is worked over plainly"""


def with_counts_alone(lines: Sequence[str]) -> list[str]:
    """The lines, with those that are a number and a count as plain rounds, where they stand between the rounds before
    and behind that number."""
    whole = list(lines)
    alone = {
        at: match for at, line in enumerate(lines) if len(line) <= _LONGEST and (match := _COUNT_ALONE.match(line))
    }
    if not alone:
        return whole
    heads = [heading_of(line[:_LONGEST]).numbers for line in lines]
    spans = {at: (int(match["first"]), int(match["last"] or match["first"])) for at, match in alone.items()}
    numbered = [(at, heads[at] or spans.get(at, ())) for at in range(len(lines)) if heads[at] or at in spans]
    above = 0
    for (at, numbers), (_, behind) in pairwise([*numbered, (len(lines), ())]):
        first, last = numbers[0], numbers[-1]
        below = behind[0] if behind else last + 1
        if heads[at]:
            above = last
        elif above and (above, below) == (first - 1, last + 1) and first <= last:
            whole[at] = f"Rnd {first if first == last else f'{first}-{last}'}: {alone[at]['count']}"
            above = last
    return whole


def _chains(lines: Sequence[str]) -> Iterator[list[_TableRow]]:
    """The rows that go on one behind the other, each from 1."""
    chain: list[_TableRow] = []
    for at, line in enumerate(lines):
        match = _ROW.match(line) if len(line) <= _LONGEST else None
        if match is None:
            continue
        first, last = int(match["first"]), int(match["last"] or match["first"])
        if not chain or first != chain[-1].last + 1:
            yield chain
            chain = []
        if (chain or first == 1) and first <= last:
            chain.append(_TableRow(at, first, last, match["count"], match["text"] or ""))
    yield chain


def _tells_work(text: str) -> bool:
    return bool(_CHANGE.match(text)) or any(word.kind in _WORK for word in scan(fold(text), "US"))


_WORK = MADE | {T.EVEN, T.RING}
