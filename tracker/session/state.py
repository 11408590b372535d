"""What the events add up to: a place in every copy of every piece, and what the maker said on the way.

Values only, and the few questions that everything else asks of them. All are small, frozen and hold no text of the
pattern (rounds of the maker's own excepted), so that they can be written down beside the events.
"""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Correction, Pattern
from tracker.session.events import AskChosen


class Refused(Exception):
    """An event that makes no sense where the maker is. `reason` is a plain sentence; nothing has changed."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


@dataclass(frozen=True, slots=True, order=True)
class Copy:
    """One copy of one piece: `piece` from 0, `number` from 1 ("spot 2 of 5")."""

    piece: int
    number: int


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """How far one copy is: rounds done, then moves done of the round being worked.

    A copy that is made has as many rounds done as there are. `stitches` are those that the moves made, kept so that
    the place can be found again when the text of the round changes.
    """

    round_index: int = 0
    moves: int = 0
    stitches: int = 0


BEGINNING = Place()

ASKS_AT_FIRST = AskChosen("change")
"""Rounds that change are where miscounts happen; asking never holds up the work."""


@dataclass(frozen=True, slots=True)
class Parked:
    """A copy that was begun and is not the one being worked."""

    copy: Copy
    place: Place


@dataclass(frozen=True, slots=True)
class Miscount:
    """A count that differed. `moves` tells how much of the round was made when it was counted.

    `times` is how often the same number was counted one time after the other, `parts` what stood over each part of
    the round, if it was counted by parts. `fitted` is whether the rounds after it follow the counted number; those of
    older journals do not.
    """

    copy: Copy
    round_index: int
    moves: int
    expected: int
    counted: int
    times: int = 1
    parts: tuple[int, ...] = ()
    fitted: bool = False


@dataclass(frozen=True, slots=True)
class Witness:
    """What the maker counted in a round whose printed line is in doubt. It decides between readings, and is not
    wrong because the line is."""

    copy: Copy
    round_index: int
    counted: int


@dataclass(frozen=True, slots=True)
class Remark:
    """A note of the maker's. `stitches` are those of the round that were made then, `at` seconds since the epoch."""

    copy: Copy
    round_index: int
    stitches: int
    text: str
    at: float


@dataclass(frozen=True, slots=True)
class BallWeight:
    """What the ball of a yarn weighed in grams, `at` seconds since the epoch."""

    yarn: str
    grams: float
    at: float


@dataclass(frozen=True, slots=True)
class OwnRound:
    """A round that the maker works instead of the pattern's: this text over `before` stitches.

    It was chosen for what had been made up to `since` (rounds, then moves): whoever rips back beyond that works the
    pattern's round again.
    """

    copy: Copy
    round_index: int
    text: str
    before: int
    since: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Ticked:
    """A note of the pattern that was done in this copy; `note` is its number among those of the piece."""

    copy: Copy
    note: int


@dataclass(frozen=True, slots=True)
class Work:
    """Everything that undo takes back.

    `ended` is the copy whose last round was just made, until something else is worked or chosen: a count or a frog
    that is given then is about that copy. `count_due` says that the round just ended should be counted. Of several
    `own_rounds` in one place the last one counts. `causes` are the names of those that the maker confirmed, in order;
    `supposed` is the one, at most, that was acted on last and is asked about. `part_counts` are the parts counted so
    far of the round that is being counted by parts. `audience` is the value of the `Audience` that was chosen, ""
    before any.
    `corrections` are what the maker makes of printed lines, at most one for each, by piece and round, and
    `witnesses` the counts in rounds that are in doubt still, the last one last.
    """

    copy: Copy = Copy(0, 1)
    place: Place = BEGINNING
    parked: tuple[Parked, ...] = ()
    ended: Copy | None = None
    count_due: bool = False
    unanswered: Miscount | None = None
    miscounts: tuple[Miscount, ...] = ()
    notes: tuple[Remark, ...] = ()
    steps_done: tuple[int, ...] = ()
    asks: AskChosen = ASKS_AT_FIRST
    own_rounds: tuple[OwnRound, ...] = ()
    causes: tuple[str, ...] = ()
    audience: str = ""
    weights: tuple[BallWeight, ...] = ()
    corrections: tuple[Correction, ...] = ()
    witnesses: tuple[Witness, ...] = ()
    ticked: tuple[Ticked, ...] = ()
    supposed: tuple[str, ...] = ()
    part_counts: tuple[int, ...] = ()

    @property
    def in_hand(self) -> Copy:
        """The copy that a count or a frog given now is about."""
        return self.ended or self.copy

    def moved_to(self, place: Place, count_due: bool = False) -> Work:
        """The same at another place of the same copy, at which no copy has ended."""
        return Work(self.copy, place, self.parked, None, count_due, *_LEFT_ALONE(self))

    def place_in(self, copy: Copy) -> Place:
        """How far this copy is."""
        if copy == self.copy:
            return self.place
        return next((parked.place for parked in self.parked if parked.copy == copy), BEGINNING)

    def own_round(self, copy: Copy, index: int) -> OwnRound | None:
        """The round that is worked there instead of the pattern's; None if it is worked as written."""
        own_rounds = (own for own in reversed(self.own_rounds) if own.round_index == index and own.copy == copy)
        return next(own_rounds, None)

    def witness(self, copy: Copy, index: int) -> Witness | None:
        """The last count in a round that is in doubt; None if there is none."""
        witnesses = (each for each in reversed(self.witnesses) if each.round_index == index and each.copy == copy)
        return next(witnesses, None)

    def going_on_with(self, copy: Copy) -> Work:
        """The same, with another copy taken up; each keeps its place."""
        if copy == self.copy:
            return self
        others = [parked for parked in self.parked if parked.copy != copy]
        if self.place != BEGINNING:
            others.append(Parked(self.copy, self.place))
        others.sort(key=lambda parked: parked.copy)
        return replace(self, copy=copy, place=self.place_in(copy), parked=tuple(others))


_LEFT_ALONE = attrgetter(*Work.__match_args__[5:])
"""All fields of the work that a tap leaves alone. To copy one by one what each tap keeps is most of a long replay."""


@dataclass(frozen=True, slots=True)
class State:
    """The work, what it was before each of the last events (newest last), and when the last event was."""

    work: Work
    past: tuple[Work, ...] = ()
    at: float = 0.0


def rounds_of(pattern: Pattern, copy: Copy) -> int:
    """How many rounds a copy has; 0 for a piece that is not there."""
    return len(pattern.pieces[copy.piece].rounds) if copy.piece < len(pattern.pieces) else 0


def is_made(pattern: Pattern, work: Work, copy: Copy) -> bool:
    """Whether every round of a copy is done."""
    return work.place_in(copy).round_index >= rounds_of(pattern, copy)


def next_copy(pattern: Pattern, work: Work) -> Copy | None:
    """The copy to go on with: the first that is not made, from the present one on and round; None if all are made."""
    return next((copy for copy in _copies_from(pattern, work.copy) if not is_made(pattern, work, copy)), None)


def _copies_from(pattern: Pattern, start: Copy) -> Iterator[Copy]:
    """Every copy once in the order of working, beginning at `start` and coming round to it."""
    pieces = pattern.pieces
    if not pieces:
        return
    yield from (Copy(start.piece, n) for n in range(start.number, pieces[start.piece].make + 1))
    yield from (Copy(p, n) for p in range(start.piece + 1, len(pieces)) for n in range(1, pieces[p].make + 1))
    yield from (Copy(p, n) for p in range(start.piece) for n in range(1, pieces[p].make + 1))
    yield from (Copy(start.piece, n) for n in range(1, start.number))


def copy_name(pattern: Pattern, copy: Copy) -> str:
    """How to call a copy in a sentence: "Cap", "Spot 2 of 5"."""
    if copy.piece >= len(pattern.pieces):
        return pattern.title
    piece = pattern.pieces[copy.piece]
    return piece.name if piece.make == 1 else f"{piece.name} {copy.number} of {piece.make}"


REMEMBERED = 1000
"""How many events can be taken back, one after another."""
