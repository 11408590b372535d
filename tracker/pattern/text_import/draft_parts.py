"""What a page comes to on its way into a draft: its pieces so far, and what became of each unit."""

from __future__ import annotations

import re
from enum import Enum
from itertools import accumulate

from tracker.lazy_dataclass import dataclass, field
from tracker.normalize import fold
from tracker.notation.ast import Line, Technique, acts
from tracker.pattern.model import Start

FIRST_PIECE = "Piece 1"
"""What the first piece is called where the page names none."""


class Fate(Enum):
    """What became of a line."""

    ROUND = "round"
    PLACED = "placed"
    NOTE = "kept as a note"
    EYE = "needs your eye"


@dataclass(frozen=True, slots=True)
class Outcome:
    """One line of the text, or a part of one: its number from 1, what became of it, and why, where that is worth
    saying."""

    line: int
    text: str
    fate: Fate
    why: str = ""
    unit: int = -1
    """Which unit of the page it is, from 0."""
    piece: int = -1
    """The piece whose rounds it is among, or that it names; -1 if none."""
    at: int = -1
    """The line of that piece's text on which it stands; -1 for the name."""


@dataclass
class DraftPart:
    """A piece as it is put together."""

    name: str
    make: int = 1
    unit: int = -1
    """The unit that names it; -1 if none does."""
    text: str = ""
    """How it is named on the page."""
    title: str = ""
    """The title of the page, if no other name stands over the first piece."""
    lines: list[str] = field(default_factory=list)
    placed: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    """Of each line with a round on it, which of the `lines` it is and the numbers of its rounds."""
    rests: set[int] = field(default_factory=set)
    """Which of the `lines` go on with the round above them."""
    last_number: int = 0
    turns: int = 0
    joins: int = 0
    rows: int = 0
    on_chain: bool = False
    """Whether its first round goes along a chain that is not closed."""
    part_of: str = ""
    """The piece above it that is made several times, of which it is taken for a part."""
    both_sides: bool = False
    """Whether a round goes along both sides of that chain, and so around."""
    rounds: int = 0
    open_round: str = ""
    """The last round, while nothing stands behind it that is not its own."""
    open_units: list[int] = field(default_factory=list)
    """The units that the last round stands in."""

    def count(self, read: Line) -> None:
        """Take a round, as it is read, into what is known of the piece."""
        techniques = [act.technique for act in acts(read.body)]
        is_chain = not read.heading.end and techniques == [Technique.FOUNDATION]
        made = 0 if is_chain else max(len(read.heading.numbers), 1)
        if self.rounds == 0:
            self.on_chain |= is_chain or any(act.from_hook for act in acts(read.body))
        self.both_sides |= Technique.OTHER_SIDE in techniques
        self.rounds += made
        self.rows += made * read.heading.is_row
        if read.heading.end and (read.heading.numbers or not read.heading.fills):
            self.last_number = read.heading.numbers[-1] if read.heading.numbers else self.last_number + 1
        self.turns += made * (Technique.TURN in techniques)
        self.joins += made * (Technique.JOIN in techniques)

    def start(self) -> Start:
        """How the piece goes on, by what most of its rounds say; "Row" alone is also what some call a round, but not
        along a chain that nothing closes and that has stitches on one side alone."""
        is_flat = self.on_chain and not self.joins and not self.both_sides
        all_rows = 0 < self.rows == self.rounds and is_flat
        if all_rows or self.turns * 2 > self.rounds or (self.turns and self.rows * 2 > self.rounds):
            return Start.ROWS
        return Start.JOINED if self.joins * 2 > self.rounds else Start.SPIRAL

    def starts_of_lines(self) -> list[int]:
        """On which line of the piece's text each of the `lines` begins, those with breaks in them being several."""
        return list(accumulate((line.count("\n") + 1 for line in self.lines), initial=0))


def numbers_go_on(before: DraftPart, named: DraftPart, numbers: tuple[int, ...], line: str) -> bool:
    """ "Sides" over "Rnd 6" behind a base of five rounds names a part of the piece, and no other one.

    A round that joins the copies made so far ("12 sc on the first leg") begins a piece, whatever its number.
    """
    if (
        (named.make != 1 and not named.part_of)
        or named.unit < 0
        or before.last_number == 0
        or numbers[:1] != (before.last_number + 1,)
    ):
        return False
    # "LEGS", of which the page says only in a sentence that there are two, is one of several too
    several = before.make > 1 or before.name.lower().split(" (")[0].endswith("s")
    return not several or not _joins_copies(before.name, line)


def _joins_copies(name: str, line: str) -> bool:
    """Whether the line speaks of one copy or several of a piece of this name: "first leg", "both legs", "leg 2"."""
    words = {word.removesuffix("s") for word in re.findall(r"[a-z]{3,}", fold(name))}
    named = re.findall(r"\b(?:first|1st|second|2nd|other|both|each|two)\s+([a-z]{3,})", fold(line))
    named += re.findall(r"\b([a-z]{3,}) (?:[12]|one|two)\b", fold(line))
    return any(word.removesuffix("s") in words for word in named)
