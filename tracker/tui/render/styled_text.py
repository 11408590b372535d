"""What a painter gives back: lines of bits, each bit a piece of plain text with a look.

Most lines of a screen are what they were before a tap, so what is made of a line is remembered for a while.

Nothing here knows Textual, so everything that is painted can be tested as text. A bit is content and never
markup: brackets in it are brackets.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum
from functools import lru_cache
from itertools import groupby
from operator import itemgetter
from typing import NamedTuple

from rich.cells import cell_len, set_cell_size


class Look(Enum):
    """How a bit stands out. Each look has an attribute besides its colour, so that none needs colour."""

    PLAIN = "plain"
    STRONG = "strong"
    FAINT = "faint"
    DONE = "done"
    NOW = "now"
    AHEAD = "ahead"
    CUE = "cue"
    WARNING = "warning"
    GOOD = "good"
    KEY = "key"
    TITLE = "title"
    FILLED = "filled"
    """On a ground of the yarn's own colour."""
    HALVES = "halves"
    """A half block in two colours, "#rrggbb#rrggbb", of the upper and the lower half of the cell; "" for none."""

    __hash__ = object.__hash__
    """The usual hash of an enum is that of its name, made anew each time; looks are looked up at every tap."""


class Bit(NamedTuple):
    """Some text with one look; `colour` ("#rrggbb") is a yarn's and comes before the look's own colour."""

    text: str
    look: Look = Look.PLAIN
    colour: str = ""


Line = tuple[Bit, ...]


def clean(text: str) -> str:
    """The text without anything that could steer a terminal; line breaks become spaces."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " if c.isspace() else "" for c in text)


def line(*parts: str | Bit) -> Line:
    """A line of the parts, empty ones left out; a bare string is plain."""
    bits = (Bit(part) if isinstance(part, str) else part for part in parts)
    return tuple(Bit(clean(bit.text), bit.look, bit.colour) for bit in bits if bit.text)


def text_of(a_line: Line) -> str:
    return "".join(bit.text for bit in a_line)


def width_of(a_line: Line) -> int:
    """In terminal cells; wide characters take two."""
    return sum([len(bit.text) if bit.text.isascii() else cell_len(bit.text) for bit in a_line])


@lru_cache(maxsize=512)
def fit(a_line: Line, width: int) -> Line:
    """The line in exactly `width` cells: filled with blanks, or cut with an ellipsis."""
    missing = width - width_of(a_line)
    if missing == 0:
        return a_line
    if missing > 0:
        return (*a_line, Bit(" " * missing))
    return _cut(a_line, width)


def _cut(a_line: Line, width: int) -> Line:
    bits: list[Bit] = []
    room = max(0, width - 1)
    for bit in a_line:
        size = cell_len(bit.text)
        if size > room:
            bits.append(bit._replace(text=set_cell_size(bit.text, room) + ("…" if width > 0 else "")))
            break
        bits.append(bit)
        room -= size
    return tuple(bit for bit in bits if bit.text)


def spread(left: Line, right: Line, width: int) -> Line:
    """One line with its two parts at the two edges; the left one is cut if they do not fit."""
    room = width - width_of(right)
    if room <= 0:
        return fit(left, width)
    return (*fit(left, room - 1 if width_of(left) >= room else room), *_gap(left, room), *right)


def _gap(left: Line, room: int) -> Line:
    return (Bit(" "),) if width_of(left) >= room else ()


@lru_cache(maxsize=128)
def centred(a_line: Line, width: int) -> Line:
    """The line in the middle of `width` cells."""
    before = max(0, (width - width_of(a_line)) // 2)
    return fit((*((Bit(" " * before),) if before else ()), *a_line), width)


def filled(lines: Sequence[Line], width: int, height: int) -> list[Line]:
    """Exactly `height` lines of `width` cells."""
    return [fit(a_line, width) for a_line in (*lines[:height], *[()] * (height - len(lines)))]


def merged(bits: Iterable[Bit]) -> Line:
    """Neighbours of one look made one bit."""
    merged_bits: list[Bit] = []
    for _, alike in groupby(bits, _look_of):
        first, *others = alike
        if others:
            first = first._replace(text="".join((first.text, *(bit.text for bit in others))))
        merged_bits.append(first)
    return tuple(merged_bits)


_look_of = itemgetter(1, 2)
"""What is alike in the bits that are merged."""


def wrap(bits: Iterable[Bit], width: int, indent: str = "") -> list[Line]:
    """The bits broken into lines at spaces; a word longer than a line is cut. Later lines begin with `indent`."""
    return list(_wrapped(tuple(bits), width, indent))


@lru_cache(maxsize=256)
def _wrapped(bits: Line, width: int, indent: str) -> tuple[Line, ...]:
    lines: list[Line] = []
    present: list[Bit] = []
    cells = 0
    for word in _words(bits):
        size = width_of(word)
        if cells + size > width and cells > cell_len(indent):
            lines.append(_trimmed(present))
            present, cells = ([Bit(indent)] if indent else []), cell_len(indent)
            word = _without_leading_space(word)
            size = width_of(word)
        while cells + size > width:
            head, tail = split(word, width - cells)
            if not head and cells <= cell_len(indent):
                break  # not even one character fits beside the indent
            word = tail
            lines.append((*present, *head))
            present, cells = ([Bit(indent)] if indent else []), cell_len(indent)
            size = width_of(word)
        present.extend(word)
        cells += size
    if present:
        lines.append(_trimmed(present))
    return tuple(merged(a_line) for a_line in lines)


def _words(bits: Iterable[Bit]) -> Iterable[Line]:
    """Runs of letters with the spaces before them; a word may hold several looks."""
    word: list[Bit] = []
    ended_in_letter = False
    for bit in bits:
        for piece in _pieces(clean(bit.text)):
            if piece.isspace() and ended_in_letter:
                yield tuple(word)
                word = []
            word.append(bit._replace(text=piece))
            ended_in_letter = not piece.isspace()
    if word:
        yield tuple(word)


def _pieces(text: str) -> Iterable[str]:
    start = 0
    for index in range(1, len(text)):
        if text[index].isspace() != text[index - 1].isspace():
            yield text[start:index]
            start = index
    if text:
        yield text[start:]


def _without_leading_space(word: Line) -> Line:
    bits = list(word)
    while bits and bits[0].text.isspace():
        bits.pop(0)
    return tuple(bits)


def _trimmed(bits: list[Bit]) -> Line:
    kept = list(bits)
    while kept and kept[-1].text.isspace():
        kept.pop()
    return tuple(kept)


def split(a_line: Line, width: int) -> tuple[Line, Line]:
    """The line's first `width` cells, and what is left of it."""
    head: list[Bit] = []
    tail = list(a_line)
    while tail and width > 0:
        bit = tail.pop(0)
        prefix = _prefix(bit.text, width)
        if prefix:
            head.append(bit._replace(text=prefix))
        width -= cell_len(prefix)
        if len(prefix) < len(bit.text):
            tail.insert(0, bit._replace(text=bit.text[len(prefix) :]))
            break
    return tuple(head), tuple(tail)


def _prefix(text: str, width: int) -> str:
    """As many characters as fit into `width` cells."""
    cells = 0
    for index, character in enumerate(text):
        cells += cell_len(character)
        if cells > width:
            return text[:index]
    return text


# Lines laid over other lines.


def overlaid(below: list[Line], above: list[Line], column: int, row: int) -> list[Line]:
    """`below` with `above` on it, its corner at a column and a row. What lies outside is left out."""
    result = list(below)
    for index, over in enumerate(above):
        if 0 <= row + index < len(result):
            result[row + index] = _laid(result[row + index], over, column)
    return result


@lru_cache(maxsize=64)
def _laid(under: Line, over: Line, column: int) -> Line:
    before, tail = split(fit(under, max(width_of(under), column)), column)
    _, after = split(tail, width_of(over))
    return (*fit(before, column), *over, *after)
