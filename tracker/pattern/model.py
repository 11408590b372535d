"""What a pattern is, once it has been read: pieces, rounds, yarns, gauge, making-up."""

from __future__ import annotations

from enum import Enum
from functools import cached_property

from tracker.diagnostics import Problem, Severity, verdict_of
from tracker.lazy_dataclass import dataclass, field
from tracker.notation.ast import Line, Stated
from tracker.notation.context import Context
from tracker.rounds.bases import Base
from tracker.rounds.plan import Plan

__all__ = [
    "Gauge",
    "MakingUp",
    "Pattern",
    "Piece",
    "PieceBelow",
    "Round",
    "Seat",
    "Side",
    "Stands",
    "Start",
    "Stated",
    "Yarn",
]


class Start(Enum):
    """How a piece goes from one round to the next."""

    SPIRAL = "spiral"
    JOINED = "joined"
    ROWS = "rows"


class Stands(Enum):
    """Which end of a piece is below when the thing stands: its first round, or its last one."""

    FOOT = "foot"
    OPENING = "opening"


class Side(Enum):
    """Where around another piece the copies of one are sewn."""

    FRONT = "front"
    BACK = "back"
    SIDES = "sides"
    ALL_ROUND = "all round"


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a piece is sewn: `on` the piece of that name; on top of it, or at its `rounds`, from first to last."""

    on: str
    rounds: tuple[int, int] | None = None
    side: Side | None = None


@dataclass(frozen=True, slots=True)
class Yarn:
    """One yarn of the pattern. `key` is what the rounds call it; `weight` is the yarn weight category 0 to 7."""

    key: str
    name: str
    colour: str = ""
    weight: int | None = None
    ball_grams: float | None = None
    ball_metres: float | None = None


@dataclass(frozen=True, slots=True)
class Gauge:
    """Counted on a swatch: `stitches` of `stitch` across and `rounds` up, over `over_cm` centimetres."""

    stitch: str
    stitches: float
    rounds: float
    over_cm: float = 10.0


@dataclass(frozen=True, slots=True)
class Round:
    """One round as it is worked; a range such as "Rnds 4-5" gives one of these for each of its rounds.

    `text` is the round as written, heading and total included; the spans of the plan's acts are places in it
    (line 0 is its first line). `line` and `column` are where it starts in the file, counted from 0.
    `plan` is None when the round could not be read. `before` is the number of bases there are, None if unknown.
    `colour` is the yarn key in use at its first stitch, "" if the pattern names none. `worked_into` is the number of
    the earlier round whose stitches it goes into, None for the one before it; `passing` is "behind" or "in front of"
    where it says on which side of what lies between.
    """

    number: int
    label: str
    text: str
    plan: Plan | None
    before: int | None = None
    stated: Stated | None = None
    colour: str = ""
    line: int = 0
    column: int = 0
    remark: str = ""
    worked_into: int | None = None
    passing: str = ""
    problems: tuple[Problem, ...] = ()
    printed: str = ""
    """The round as it is printed, where `text` is how the maker mended it; "" where that is the same."""
    is_by_eye: bool = False
    """The maker works it by eye, and said how many stitches it leaves."""

    @property
    def leaves(self) -> int | None:
        """Stitches it must leave, by the instruction; by the stated total where the instruction is unreadable."""
        if self.plan is not None:
            return self.plan.leaves
        return self.stated.stitches if self.stated else None

    @property
    def moves(self) -> int:
        """Moves to make it; an unreadable round is one move, done by eye."""
        return self.plan.moves if self.plan else 1

    @property
    def verdict(self) -> str:
        """ "ok", "warning", "disagrees" or "error": the worst of its problems."""
        return verdict_of(self.problems)

    @property
    def is_in_doubt(self) -> bool:
        """Whether what it should leave is not known, or its witnesses do not agree: its count decides then."""
        if self.is_by_eye:
            return False
        doubts = (Severity.ERROR, Severity.DISAGREES)
        return self.leaves is None or any(problem.severity in doubts for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Entry:
    """One written round. `line` and `column` are where its text begins in the piece's text, from 0.

    `colour` is the key of a colour line that stood before it, as typed; `remarks` are sentences around it.
    Where the maker mended it, `printed` is what stands there; `is_settled` tells that it is to be worked as printed,
    whatever the sums say.
    """

    text: str
    line: int
    column: int = 0
    colour: str = ""
    remarks: tuple[str, ...] = ()
    printed: str = ""
    is_settled: bool = False


@dataclass(frozen=True, slots=True)
class PieceBelow:
    """What a piece leaves to be gone on from: its name, its last round's number, what that round left, and how many
    stitches each of its rounds has, by number."""

    name: str
    last_number: int
    base: Base
    counts: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Piece:
    """One part of the work, made `make` times. `rounds` are in the order they are worked."""

    name: str
    rounds: tuple[Round, ...]
    make: int = 1
    start: Start = Start.SPIRAL
    notes: tuple[str, ...] = ()
    lines: tuple[Line, ...] = field(default=(), repr=False)
    """The written line of each round, for those who want to read it again."""
    context: Context = field(default_factory=Context)
    entries: tuple[Entry, ...] = field(default=(), repr=False)
    """What is written, one for each round or range, for those who want to try it with a change."""
    main: str = "sc"
    """The stitch that "inc" means where no round has named one yet."""
    at: tuple[int, int] = (0, 0)
    """The line and column of the file where the text of the rounds begins, from 0."""
    below: PieceBelow | None = None
    """The piece before it, if its first round may go on from there."""
    stands: Stands | None = None
    """None where the file does not say."""
    yarn: str = ""
    """What the file calls the yarn that it begins with; "" where the rounds say it, or nothing does."""
    seat: Seat | None = None
    closing: int = 0
    """How many of the notes, the last ones, stand behind the last round."""


@dataclass(frozen=True, slots=True)
class MakingUp:
    """One step of the making-up checklist."""

    step: str


@dataclass(frozen=True)
class Pattern:
    """A whole pattern."""

    title: str
    pieces: tuple[Piece, ...]
    terms: str = "US"
    hook: str = ""
    notions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    gauge: Gauge | None = None
    yarns: tuple[Yarn, ...] = ()
    making_up: tuple[MakingUp, ...] = ()
    intended_for: str = ""
    intended_by_maker: bool = False
    """Whether the maker said who it is for; what the file says is outweighed by how the thing will be used."""
    is_draft: bool = False
    """Whether the maker still writes it: what is changed of it is changed in its file."""
    problems: tuple[Problem, ...] = ()
    source: str = field(default="", repr=False)
    printed: Pattern | None = field(default=None, repr=False)
    """The pattern as its file has it, where this is how the maker mended it; None where it is the file's own."""

    @cached_property
    def digest(self) -> str:
        """The name of this very text, so that a later change can be noticed."""
        from hashlib import sha256  # whoever only checks a pattern does not wait for it

        return sha256(self.source.encode()).hexdigest()

    def yarn(self, key: str) -> Yarn | None:
        """The yarn that the rounds call `key`."""
        return next((yarn for yarn in self.yarns if yarn.key == key), None)

    def yarn_name(self, key: str) -> str:
        """How to call a yarn in a sentence."""
        yarn = self.yarn(key)
        return yarn.name if yarn else key

    def yarn_colour(self, key: str) -> str:
        """The colour to show a yarn in, as "#rrggbb": as the file gives it, else as its name tells; "" for none."""
        from tracker.pattern.colour_names import colour_of_name, plain_colour

        yarn = self.yarn(key)
        own = yarn.colour.strip() if yarn else ""
        return (
            plain_colour(own) if own.startswith("#") else colour_of_name(own) or colour_of_name(self.yarn_name(key))
        )


@dataclass(frozen=True, slots=True)
class Correction:
    """What the maker makes of a printed line of piece number `piece`; `round_index` is the line's first round.

    `text` is the line as it should read, heading and total included. Without a text the round is worked by eye and
    `leaves` so many stitches; without both it is worked as printed, whatever the sums say.
    """

    piece: int
    round_index: int
    text: str = ""
    leaves: int | None = None

    @property
    def is_for(self) -> tuple[int, int]:
        """Which line it is for."""
        return self.piece, self.round_index
