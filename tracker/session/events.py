"""What a maker can do. Everything that happens is one of these, kept in order; nothing is ever deleted."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Stitch:
    """`count` more stitches made, with the chains and skips that come before each."""

    count: int = 1


@dataclass(frozen=True, slots=True)
class RepeatDone:
    """To the end of the group being worked; outside a group to the end of the run of equal stitches."""


@dataclass(frozen=True, slots=True)
class RoundDone:
    """To the end of the round."""


@dataclass(frozen=True, slots=True)
class MovesDone:
    """`moves` more moves of the round made: what a tap takes that ends between two stitches."""

    moves: int


@dataclass(frozen=True, slots=True)
class Undo:
    """Take back the last thing that was done."""


@dataclass(frozen=True, slots=True)
class Frog:
    """Rip back (or set the place) to the start of a round, plus `stitch` of its stitches.

    Like a count it is about the piece in hand: see `View.in_hand`.
    """

    round_index: int
    stitch: int = 0


@dataclass(frozen=True, slots=True)
class Counted:
    """The maker counted `stitches` stitches in round `round_index` of the piece in hand; `View.counted` makes one."""

    stitches: int
    round_index: int


@dataclass(frozen=True, slots=True)
class PartCounted:
    """One more part of a round was counted, in order; with the last part the whole round is."""

    stitches: int
    round_index: int


@dataclass(frozen=True, slots=True)
class CarryOn:
    """The maker goes on, knowing that the last count differs. `fitted` is whether later rounds are worked over the
    counted number: in journals of version 4 and before they are not."""

    fitted: bool = True


@dataclass(frozen=True, slots=True)
class Note:
    """A remark of the maker's, kept with the place where it was made."""

    text: str


@dataclass(frozen=True, slots=True)
class AudienceChosen:
    """Who it is for, where the pattern does not say: the value of an `Audience`. A later choice stands instead."""

    audience: str


HEAVIEST = 10_000.0
"""Grams; nobody's ball weighs more, it is a slip of the fingers."""


@dataclass(frozen=True, slots=True)
class BallWeighed:
    """The ball of yarn `yarn` ("" where the pattern names none) weighs so many grams now."""

    yarn: str
    grams: float


@dataclass(frozen=True, slots=True)
class StepDone:
    """A making-up step was done, or (`done` false) turned out not to be."""

    step: int
    done: bool = True


@dataclass(frozen=True, slots=True)
class NoteTicked:
    """What a note of the pattern asks for at this place was done; `note` is its number among those of the piece."""

    note: int


@dataclass(frozen=True, slots=True)
class PieceChosen:
    """The maker goes on with another piece or another copy of it; each keeps its place."""

    piece: int
    copy: int


@dataclass(frozen=True, slots=True)
class AskChosen:
    """When to ask for a count: "each" round, "change" (where it increases or decreases), "never", or "every" k-th."""

    when: str
    every: int = 1


@dataclass(frozen=True, slots=True)
class RoundRewritten:
    """From now on this round of the piece in hand is worked by `text`, over `before` stitches, and not as written.

    `text` is a whole line in the pattern's terms, with heading and total.
    """

    round_index: int
    text: str
    before: int


@dataclass(frozen=True, slots=True)
class RoundCorrected:
    """The maker's own reading of a printed line: from now on all of its rounds read `text`, in every copy.

    `text` is a whole line in the pattern's terms, with heading and total; "" is "as printed, whatever the sums say".
    """

    piece: int
    round_index: int
    text: str


@dataclass(frozen=True, slots=True)
class RoundLeaves:
    """The maker works the rounds of this printed line by eye, and each leaves `stitches`, in every copy."""

    piece: int
    round_index: int
    stitches: int


@dataclass(frozen=True, slots=True)
class CauseConfirmed:
    """What the last differing count came from, as the maker found: the value of a `Mistake`."""

    cause: str


@dataclass(frozen=True, slots=True)
class CauseSupposed:
    """The maker acted on this cause of a differing count, and is asked whether it was there."""

    cause: str


@dataclass(frozen=True, slots=True)
class Together:
    """Several things that the maker did with one key: all of them happen or none, and undo takes all of them back."""

    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class BegunAnew:
    """All of it once more from the beginning; what was learned and wished for stays."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A session began, with the pattern text of this digest."""

    digest: str


@dataclass(frozen=True, slots=True)
class Closed:
    """A session ended."""


Making = Stitch | RepeatDone | RoundDone | MovesDone
"""What moves the work on by a tap."""

Part = (
    Stitch
    | RepeatDone
    | RoundDone
    | MovesDone
    | Frog
    | Counted
    | PartCounted
    | CarryOn
    | Note
    | AudienceChosen
    | BallWeighed
    | StepDone
    | NoteTicked
    | BegunAnew
    | PieceChosen
    | AskChosen
    | RoundRewritten
    | CauseConfirmed
    | RoundCorrected
    | RoundLeaves
    | CauseSupposed
)
"""What can happen together with others, and be taken back."""

Deed = Part | Together
"""What changes the work, and can be taken back."""

Event = Deed | Undo | Opened | Closed


LONGEST_ROUND = 20_000
"""Characters of one round; no maker writes more."""
