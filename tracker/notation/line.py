"""One written line as it was read: its heading, what it says to make, its total, and what its words go by.

Values only, so that whoever asks what a line says does not depend on how lines are read.
"""

from __future__ import annotations

from typing import NamedTuple

from tracker.diagnostics import Problem, Severity
from tracker.lazy_dataclass import dataclass
from tracker.notation.ast import Item, Stated, Technique, acts
from tracker.span import Lines, Span


@dataclass(frozen=True, slots=True)
class Heading:
    """`numbers` are the rounds that the line is for, in order; empty for "Next rnd" or no heading.

    `first` to `last` is the range as written, which may run backwards. `end` is where the instructions start.
    `rounds_ahead` is n for "Next n rounds".
    """

    end: int
    numbers: tuple[int, ...] = ()
    first: int | None = None
    last: int | None = None
    is_row: bool = False
    is_next: bool = False
    rounds_ahead: int = 0
    span: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True)
class Reference:
    """ "Rep Rnds 5-6": rounds named again. `last` n is "the last n rounds"; `times` as often as that.

    `rounds` is n for "for n more rounds", `until` is n for "until there are n rounds"; 0 if it is not told.
    """

    numbers: tuple[int, ...] = ()
    last: int = 0
    times: int = 1
    rounds: int = 0
    until: int = 0


@dataclass(frozen=True, slots=True)
class Foundation:
    """A chain that the line makes for itself. `bases` of its chains can be worked into (0 when it is only a ring)."""

    chains: int
    bases: int
    ring: bool = False


class OwnWord(NamedTuple):
    """A phrase of the pattern, folded, and what it stands for: known words, or the places it takes and the stitches
    it leaves."""

    phrase: str
    meaning: str = ""
    takes: int = 1
    leaves: int = 1


@dataclass(frozen=True, slots=True)
class Context:
    """What the rest of the pattern says about its words.

    `chain_counts`: whether turning chains count as a stitch throughout (None: not said).
    `bunches`: named groups that the pattern defines, to what they make. `colours`: its yarn keys, in lower case.
    `size`: which of several sizes in brackets is made, from 0. `words`: what it explains of its own words.
    """

    terms: str = "US"
    chain_counts: bool | None = None
    bunches: tuple[tuple[str, tuple[tuple[str, int], ...]], ...] = ()
    colours: frozenset[str] = frozenset()
    size: int = 0
    words: tuple[OwnWord, ...] = ()


@dataclass(frozen=True)
class Line:
    """What one line says. `body` is empty when the line only refers to other rounds or could not be read."""

    text: str
    heading: Heading
    body: tuple[Item, ...] = ()
    stated: tuple[Stated, ...] = ()
    rounds: int | None = None
    reference: Reference | None = None
    worked_into: int | None = None
    passing: str = ""
    foundation: Foundation | None = None
    remarks: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    words: int = 0

    @property
    def is_readable(self) -> bool:
        return not any(problem.severity is Severity.ERROR for problem in self.problems)

    @property
    def instruction(self) -> Span:
        """Where it says what to do: the row of the text where its heading ends, from there on."""
        start = self.heading.end
        end = self.text.find("\n", start)
        return Lines(self.text).span(start, len(self.text) if end < 0 else end)

    @property
    def turns(self) -> bool:
        return any(act.technique is Technique.TURN for act in acts(self.body))
