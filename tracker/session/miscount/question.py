"""What is asked when a count differs: the round, what was expected, what was counted, and how it was tapped."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.rounds.plan import Plan


@dataclass(frozen=True, slots=True)
class Worked:
    """A round made before: its taps tell the pace, and if nobody counted it, it may hold the mistake."""

    plan: Plan
    taps: tuple[Tap, ...] = ()
    begun: float | None = None
    counted: bool = True
    label: str = ""


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A round near the one that was counted: `steps` rounds after it, negative for before. `leaves` is what it leaves
    as it is worked by the maker."""

    steps: int
    label: str
    leaves: int


@dataclass(frozen=True, slots=True)
class Question:
    """A count that may differ.

    `expected` is how many stitches there should be at the place where the maker counts, `done` the moves of `plan`
    that the tracker has. `taps` are those of this round that still stand (not undone, not frogged); `begun` is
    the time of the last tap before them. `earlier` are the rounds before this one, nearest first, `near` those on
    both sides whose numbers may be the one that was counted. `times` is how often this very number was counted,
    `parts` what was counted over each part of the round. `form` is "spiral", "joined" or "rows".
    """

    plan: Plan
    expected: int
    counted: int
    done: int
    taps: tuple[Tap, ...] = ()
    begun: float | None = None
    earlier: tuple[Worked, ...] = ()
    near: tuple[Neighbour, ...] = ()
    times: int = 1
    parts: tuple[int, ...] = ()
    form: str = ""
    label: str = ""
    again: int | None = None
    """What the line leaves when it is worked as written over what it left; None where it cannot be."""

    @property
    def by(self) -> int:
        """Stitches more (+) or fewer (-) than expected."""
        return self.counted - self.expected

    @property
    def finished(self) -> bool:
        """Whether a whole round was counted, not a part of one: a join and fastening off may still come."""
        return self.done >= self.plan.moves or 0 < self.plan.leaves <= self.plan.stitches_before(self.done)

    @property
    def is_confirmed(self) -> bool:
        """Whether two counts agree."""
        return self.times > 1


# Taps in a round, as they were made.


@dataclass(frozen=True, slots=True)
class Tap:
    """One keypress: `at` in seconds from any fixed moment, and the moves of the round done before and after."""

    at: float
    before: int
    after: int
