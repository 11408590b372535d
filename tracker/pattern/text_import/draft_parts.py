"""What a page comes to on its way into a draft: its pieces so far, and what became of each unit."""

from __future__ import annotations

from enum import Enum
from itertools import accumulate

from tracker.lazy_dataclass import dataclass, field


class Fate(Enum):
    """What became of a line."""

    ROUND = "round"
    PLACED = "placed"
    NOTE = "kept as a note"
    EYE = "needs your eye"


@dataclass(frozen=True, slots=True)
class Told:
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
    lines: list[str] = field(default_factory=list)
    placed: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    """Of each line with a round on it, which of the `lines` it is and the numbers of its rounds."""
    rests: set[int] = field(default_factory=set)
    """Which of the `lines` go on with the round above them."""
    last_number: int = 0
    turns: int = 0
    joins: int = 0
    rows: int = 0
    rounds: int = 0
    open_round: str = ""
    """The last round, while nothing stands behind it that is not its own."""
    open_units: list[int] = field(default_factory=list)
    """The units that the last round stands in."""

    def starts_of_lines(self) -> list[int]:
        """On which line of the piece's text each of the `lines` begins, those with breaks in them being several."""
        return list(accumulate((line.count("\n") + 1 for line in self.lines), initial=0))
