"""A pasted text on its way into a draft: what has been found so far, and what became of each line."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from tracker.notation.token_stream import Context
from tracker.pattern.model import Gauge, Yarn


class Fate(Enum):
    """What became of a line."""

    ROUND = "round"
    PLACED = "placed"
    NOTE = "kept as a note"
    EYE = "needs your eye"


@dataclass(frozen=True, slots=True)
class Told:
    """One line of the text: its number from 1, what became of it, and why, where that is worth saying."""

    line: int
    text: str
    fate: Fate
    why: str = ""


@dataclass
class Sorting:
    """The text on its way into the draft."""

    context: Context
    section: str = ""
    title: str = ""
    hook: str = ""
    gauge: Gauge | None = None
    yarns: list[Yarn] = field(default_factory=list)
    notions: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    pieces: list[Part] = field(default_factory=list)
    steps: list[str] = field(default_factory=list)
    waiting: Part | None = None
    """A piece heading whose rounds have not come yet, with the lines under it."""
    following: list[str] = field(default_factory=list)
    """The next few lines below the one that is being sorted."""
    taken: bool = False
    """Whether the line below was read together with the one that is being sorted."""
    set_apart: bool = True
    """Whether a blank line or a ruler stands over the one that is being sorted."""
    told: list[Told] = field(default_factory=list)


@dataclass
class Part:
    name: str
    make: int = 1
    line: int = 0
    text: str = ""
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
    is_worded: bool = False
    """Whether its rounds are called "Rnd 4", and not "4." """
    open_round: str = ""
    """The last round, while nothing stands behind it that is not its own."""
