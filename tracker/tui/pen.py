"""The pen of the terminal: how it writes, of which only what differs is sent.

Textual puts the whole style before each run of text and takes it back behind it, some thirty bytes for a word or a
blank. Most runs differ from the last one in a colour or not at all, so a third of that says the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from rich.color import ColorSystem
    from rich.style import Style
    from textual.driver import Driver

_PART = re.compile(
    r"\x1b\[(?P<style>[\d;]*)m|\x1b\[(?P<row>\d+);\d+H|(?P<feed>\n)(?=\x1b\[\d+;\d+H)|(?P<text>[^\x1b\n]+)|\x1b|\n"
)
"""A style, a place, a line feed just before a place, text (ECMA-48, 5th edition, 8.3.117 and 8.3.21), or else the
beginning of what is left alone."""

_ROW = re.compile(r"\x1b\[(\d+);\d+H")

_ENDED_BY = {"1": "22", "2": "22", "3": "23", "4": "24", "5": "25", "7": "27", "9": "29"}
"""The number that ends bold, faint, italic, underlined, blinking, reversed and crossed out (ECMA-48, 8.3.117)."""


class Pen(NamedTuple):
    """Attributes by their numbers, and the two colours as the terminal takes them; "" for its own."""

    attributes: frozenset[str] = frozenset()
    ink: str = ""
    paper: str = ""


@lru_cache(maxsize=1024)
def change(before: Pen, after: Pen) -> str:
    """The shortest sequence that makes one pen into the other; "" where they are the same."""
    if before == after:
        return ""
    ended = {_ENDED_BY[each] for each in before.attributes - after.attributes}
    begun = {each for each in after.attributes if each not in before.attributes or _ENDED_BY[each] in ended}
    ink = (after.ink or "39") if after.ink != before.ink else ""
    paper = (after.paper or "49") if after.paper != before.paper else ""
    parts = ";".join(part for part in (*sorted(ended), *sorted(begun), ink, paper) if part)
    anew = ";".join(part for part in ("0", *sorted(after.attributes), after.ink, after.paper) if part)
    return f"\x1b[{min(parts, anew, key=len)}m"


_PUT_DOWN = Pen()


@lru_cache(maxsize=1024)
def with_numbers(pen: Pen, numbers: str) -> Pen | None:
    """The pen after such a change; None where it has a number that is not understood."""
    attributes, ink, paper = set(pen.attributes), pen.ink, pen.paper
    numbers_left = iter(numbers.split(";"))
    for number in numbers_left:
        if number in ("", "0"):
            attributes, ink, paper = set(), "", ""
        elif number in _ENDED_BY:
            attributes.add(number)
        elif number in ("38", "48"):
            colour = _colour(number, numbers_left)
            if not colour:
                return None
            ink, paper = (colour, paper) if number == "38" else (ink, colour)
        elif re.fullmatch(r"(?:3|9)[0-7]", number):
            ink = number
        elif re.fullmatch(r"(?:4|10)[0-7]", number):
            paper = number
        elif number in ("39", "49"):
            ink, paper = ("", paper) if number == "39" else (ink, "")
        else:
            return None
    return Pen(frozenset(attributes), ink, paper)


def _colour(number: str, numbers_left: Iterator[str]) -> str:
    kind = next(numbers_left, "")
    count = {"5": 1, "2": 3}.get(kind, 0)
    values = [next(numbers_left, "") for _ in range(count)]
    return ";".join((number, kind, *values)) if values and all(values) else ""


def shortened(data: str) -> str:
    """What is sent to a terminal, in fewer bytes: it shows the same, and its pen ends as it would have ended.

    The pen is taken to be down before. Whatever is no style, place or text is sent as it is, in the pen that it came
    in; a style with a number that is not understood leaves the whole as it was.
    """
    wanted_pen = real_pen = _PUT_DOWN
    row, lowest = 0, max((int(number) for number in _ROW.findall(data)), default=0)
    sent: list[str] = []
    for part in _PART.finditer(data):
        style, place, feed, text = part.groups()
        if style is not None:
            changed = with_numbers(wanted_pen, style)
            if changed is None:
                return data
            wanted_pen = changed
            continue
        if place:
            row = int(place)
        elif feed and 0 < row < lowest:
            continue  # a place follows in any case; there is a line below, so that nothing would have scrolled
        elif not (text and _leaves_no_mark(text, real_pen, wanted_pen)):
            sent.append(change(real_pen, wanted_pen))
            real_pen = wanted_pen
        sent.append(part[0])
    return "".join((*sent, change(real_pen, wanted_pen)))


_SEEN_ON_BLANKS = frozenset(("4", "5", "7", "9"))


def _leaves_no_mark(text: str, one: Pen, other: Pen) -> bool:
    """Whether it cannot be seen which of the two pens writes it: blanks on the same paper."""
    return (
        one.paper == other.paper
        and not text.strip(" ")
        and _SEEN_ON_BLANKS.isdisjoint(one.attributes)
        and _SEEN_ON_BLANKS.isdisjoint(other.attributes)
    )


# What is put on the screen at once, and not with the next frame.


class CellPatch(NamedTuple):
    """Texts in their styles from a place on, `column` and `row` from 0."""

    column: int
    row: int
    runs: Sequence[tuple[str, Style]]


def write_patches(patches: Iterable[CellPatch], system: ColorSystem | None) -> str:
    """What puts these patches on a terminal that has such colours. Its pen is down before and afterwards."""
    pen = _PUT_DOWN
    sent: list[str] = []
    for column, row, runs in patches:
        sent.append(f"\x1b[{row + 1};{column + 1}H")
        for text, style in runs:
            wanted_pen = _pen_for(style, system)
            if wanted_pen is not pen and not _leaves_no_mark(text, pen, wanted_pen):
                sent.append(change(pen, wanted_pen))
                pen = wanted_pen
            sent.append(text)
    return "".join((*sent, change(pen, _PUT_DOWN), "\x1b[H")) if sent else ""


@lru_cache(maxsize=1024)
def _pen_for(style: Style, system: ColorSystem | None) -> Pen:
    begun = _PART.match(style.render("x", color_system=system))
    numbers = begun["style"] if begun is not None else None
    return (with_numbers(_PUT_DOWN, numbers) or _PUT_DOWN) if numbers else _PUT_DOWN


def shortening(driver: type[Driver], opened: Callable[[Callable[[str], None]], None]) -> type[Driver]:
    """The driver of this platform, with what it writes shortened; `opened` is given what writes past that."""

    class Shortening(driver):  # type: ignore[misc, valid-type]
        def __init__(self, *arguments: Any, **options: Any) -> None:
            super().__init__(*arguments, **options)
            opened(super().write)

        def write(self, data: str) -> None:
            super().write(shortened(data))

    return Shortening
