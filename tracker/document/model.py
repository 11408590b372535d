"""What stands on a sheet, as values: whoever prints it decides only how it looks.

All text is plain text from the pattern or from us; nothing of it is markup.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from tracker.drawing.styled_text import PictureLine
from tracker.lazy_dataclass import dataclass


class Drawing(Protocol):
    """A picture that can be shown in a text and on a page."""

    def text(self, columns: int, rows: int) -> Sequence[PictureLine]:
        """For lines of so many characters."""
        ...

    def svg(self) -> str:
        """The text of an SVG file."""
        ...


@dataclass(frozen=True, slots=True)
class Pictures:
    """The pictures of one piece, what they show of its size in words, and what could not be drawn."""

    outline: Drawing | None = None
    chart: Drawing | None = None
    size: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    def __iter__(self) -> Iterator[Drawing]:
        """Those that there are."""
        yield from (drawing for drawing in (self.outline, self.chart) if drawing is not None)


NO_PICTURES = Pictures()


@dataclass(frozen=True, slots=True)
class YarnOnSheet:
    """One yarn: what the rounds call it, its name, its facts in words, and its colour as "#rrggbb" or ""."""

    key: str
    name: str
    facts: str
    colour: str


@dataclass(frozen=True, slots=True)
class DocumentLine:
    """One round, or several worked alike.

    `heading` and `words` together are the line as a reader of patterns takes it; `total` stands at its end. In a
    spoken sheet `words` is a sentence and `total` is "". `yarn` is the name of the yarn it begins with if that is
    told here. `made` is what the maker did and noted there. `numbers` are those of its rounds, each to be ticked off.
    """

    heading: str
    words: str
    total: str = ""
    yarn: str = ""
    colour: str = ""
    before: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    made: tuple[str, ...] = ()
    numbers: tuple[int, ...] = ()

    @property
    def text(self) -> str:
        """The line in one."""
        return " ".join(part for part in (self.heading, self.words, self.total) if part)


@dataclass(frozen=True, slots=True)
class PieceOnSheet:
    """One piece to be made `make` times; `facts` are sentences on how it is worked, `made` on how it was."""

    name: str
    make: int
    facts: tuple[str, ...]
    notes: tuple[str, ...]
    lines: tuple[DocumentLine, ...]
    pictures: Pictures = NO_PICTURES
    made: tuple[str, ...] = ()
    closing: tuple[str, ...] = ()
    """Notes behind the last round."""


@dataclass(frozen=True, slots=True)
class StepOnSheet:
    """One making-up step with what to mind at it. `done` is None unless the sheet tells what was made."""

    text: str
    cautions: tuple[str, ...] = ()
    done: bool | None = None


@dataclass(frozen=True, slots=True)
class Document:
    """The whole sheet, from top to bottom."""

    title: str
    terms: str
    preface: tuple[str, ...]
    """On the whole sheet: its terms, that it tells what was made, that something was found in the pattern."""
    made: tuple[str, ...]
    """How the work went: days, time, what was not kept."""
    hook: str
    yarns: tuple[YarnOnSheet, ...]
    notions: tuple[str, ...]
    cautions: tuple[str, ...]
    while_working: tuple[str, ...]
    gauge_word: str
    gauge: str
    abbreviations: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    pieces: tuple[PieceOnSheet, ...]
    steps: tuple[StepOnSheet, ...]
