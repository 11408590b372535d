"""The lines of a page of plain text in the order in which they are read: columns that stand side by side one after
the other.

Two columns are told by the page as a whole: a band of blanks runs down between them, at a place where many lines
begin again. Lines that cross it, such as a heading over both, part what is above them from what is below.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from tracker.lazy_dataclass import dataclass
from tracker.lazy_pattern import compile_later
from tracker.normalize import clean
from tracker.pattern.text_import.sections import is_page_number

# A book of patterns has some thousand.
MAX_LINES = 50_000

_BORDER = "   "
"""What a tab between the cells of a row becomes: a gap that no words have between them."""

_FEWEST_LINES = 5
"""Lines that begin again at one place for a column to begin there; words meet by chance in fewer."""

_SHARE_OF_COLUMN = 0.25
"""How much of the width of the text a usual line of a column has at least; the cells of a table are narrower."""

_PLACES_TRIED = 4
"""How many of the places where lines begin again are tried, the ones met most often."""

_DEEPEST = 3
"""How often columns are looked for within a column; a page has four side by side at most."""

_BEGINS_AGAIN = compile_later(r"\S\s{2,}(?=\S)")
_ROUND = compile_later(
    r"(?<!\w)(?:rnd|round|row|r)s?\.?\s*\d|(?<!\w)\d{1,3}(?:st|[nr]?d|th)\.?\s+(?:rnd|round|row)", re.I
)


@dataclass(frozen=True, slots=True)
class PageLine:
    """A line of a page with its number, from 1, where it stands there."""

    number: int
    text: str


def page_lines(text: str) -> tuple[list[str], list[int]]:
    """The lines of the page as they are read, made safe, and the number of each on the page."""
    typed = clean(text.replace("\t", _BORDER)).split("\n")[:MAX_LINES]
    lines = _in_order([PageLine(number, line.rstrip()) for number, line in enumerate(typed, 1)])
    return [line.text for line in lines], [line.number for line in lines]


def _in_order(lines: list[PageLine], depth: int = 0) -> list[PageLine]:
    """The lines with one column behind the other wherever several stand side by side."""
    starts = Counter(match.end() for line in lines for match in _BEGINS_AGAIN.finditer(line.text))
    for place, count in starts.most_common(_PLACES_TRIED):
        if count < _FEWEST_LINES or depth == _DEEPEST:
            break
        ordered: list[PageLine] = []
        done = 0
        for first, end in _blocks(lines, place):
            left, right = _parted(lines[first:end], place)
            if not _are_columns(left, right):
                continue
            ordered += [*_in_order(lines[done:first], depth + 1), *_in_order(left, depth + 1)]
            if not _goes_on(left, right):
                ordered.append(PageLine(left[-1].number, ""))
            ordered += [*_in_order(right, depth + 1), PageLine(lines[end - 1].number, "")]
            done = end
        if done:
            return [*ordered, *_in_order(lines[done:], depth + 1)]
    return lines


def _blocks(lines: Sequence[PageLine], place: int) -> list[tuple[int, int]]:
    """The stretches of lines, from the first one up to but not including the last, that leave the band before a
    place blank and have text on both sides of it."""
    blocks: list[tuple[int, int]] = []
    crossing = [-1, *(at for at in range(len(lines)) if _crosses(lines, at, place)), len(lines)]
    for before, after in pairwise(crossing):
        beside = [at for at in range(before + 1, after) if lines[at].text[:place].strip() and lines[at].text[place:]]
        if len(beside) < _FEWEST_LINES:
            continue
        first, end = beside[0], beside[-1] + 1
        while first > before + 1 and _indent(lines[first - 1].text) == place:
            first -= 1  # a column that begins higher than the one to its left
        margin = min(_indent(lines[at].text) for at in beside)
        while end < after and _is_of_a_column(lines[end].text, margin, place):
            end += 1
        blocks.append((first, end))
    return blocks


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip())


def _is_of_a_column(text: str, margin: int, place: int) -> bool:
    """Whether a line under the shorter column is one of the longer, and not set under both in the middle."""
    indent = _indent(text)
    return not text or (not is_page_number(text) and (indent >= place or indent <= margin + _FEWEST_LINES))


def _crosses(lines: Sequence[PageLine], at: int, place: int) -> bool:
    """Whether a line has text in the band before the place; one blank is enough for a long line between others."""
    text = lines[at].text
    band = text[place - 2 : place]
    if len(text) <= place or not band.strip():
        return False
    around = [*lines[max(at - 1, 0) : at], *lines[at + 1 : at + 2]]
    is_between = all(line.text[place:] and not line.text[place - 2 : place].strip() for line in around)
    return not (is_between and band[1] == " " != text[place])


def _parted(lines: Sequence[PageLine], place: int) -> tuple[list[PageLine], list[PageLine]]:
    """The lines of both columns, without what is blank above and below."""
    left = [PageLine(line.number, line.text[:place].rstrip()) for line in lines]
    right = [PageLine(line.number, line.text[place:]) for line in lines]
    return _trimmed(left), _trimmed(right)


def _trimmed(lines: list[PageLine]) -> list[PageLine]:
    filled = [at for at, line in enumerate(lines) if line.text]
    return lines[filled[0] : filled[-1] + 1]


def _are_columns(left: Sequence[PageLine], right: Sequence[PageLine]) -> bool:
    """Whether both sides are wide and what is on the right is read behind all of the left; a table has the heads of
    its rows at the left."""
    widths = [median(len(line.text) for line in side if line.text) for side in (left, right)]
    whole = sum(max(len(line.text) for line in side) for side in (left, right))
    if min(widths) < _SHARE_OF_COLUMN * whole:
        return False
    named, begun = (sum(pattern(line.text) is not None for line in left) for pattern in (_ROUND.search, _ROUND.match))
    if sum(_ROUND.search(line.text) is not None for line in right) > 1:
        return True
    return named > 1 and 2 * begun < sum(bool(line.text) for line in left)


def _goes_on(left: Sequence[PageLine], right: Sequence[PageLine]) -> bool:
    """Whether the last line of a column breaks off and goes on in the first one of the next."""
    first, last = right[0].text.lstrip()[:1], left[-1].text
    return not last.endswith((".", "!", ":", ")")) or not (first.isupper() or _ROUND.match(right[0].text.lstrip()))
