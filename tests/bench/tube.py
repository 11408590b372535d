"""A maker with a pencil: the place in a plain tube by sums alone, to hold the program's place against.

Nothing of the program is used here. The tube has 6, 12, 18 stitches in its first rounds and 18 in each further one,
one stitch a tap, so the place is what the taps add up to.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate
from random import Random

PATTERN = '''
title = "Tube"

[[piece]]
name = "Tube"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc in each st around (12)
Rnd 3: (sc, inc) x 6 (18)
Rnds 4-400: sc around (18)
"""
'''
ROUNDS = 400
STARTS = (0, *accumulate((6, 12, *(18 for _ in range(ROUNDS - 2)))))
"""How many stitches lie before each round."""

HIGHEST = STARTS[300]
"""From here on the maker frogs, so that the tube never ends."""


@dataclass(frozen=True, slots=True)
class Place:
    """The number of the round, and how many of its stitches are made."""

    round: int
    stitch: int


@dataclass(frozen=True, slots=True)
class Tap:
    """Something that a maker does: the line that is typed for it, the key that is pressed for it ("" for none), and
    what it makes of the number of stitches; None takes the last tap back."""

    line: str
    key: str
    after: Callable[[int], int] | None


UNDO = Tap("undo", "u", None)
STITCH = Tap("stitch", "s", lambda made: made + 1)
ROUND = Tap("round", "r", lambda made: STARTS[bisect_right(STARTS, made)])
NEVER_ASK = Tap("ask never", "", lambda made: made)


def stitches(count: int) -> Tap:
    return Tap(f"stitch {count}", "", lambda made: made + count)


def note(number: int, length: int) -> Tap:
    return Tap(f"note {number} {'x' * length}", "", lambda made: made)


def frog(number: int) -> Tap:
    return Tap(f"frog {number}", "", lambda _: STARTS[number - 1])


class Tube:
    """What is made, and what was made before each tap that can be taken back."""

    def __init__(self) -> None:
        self.made = 0
        self._before: list[int] = []
        self.taps = 0
        """Taps so far, those that took something back included."""

    @property
    def place(self) -> Place:
        number = bisect_right(STARTS, self.made)
        return Place(number, self.made - STARTS[number - 1])

    def do(self, tap: Tap) -> Place:
        """The place after a tap."""
        self.taps += 1
        if tap.after is None:
            self.made = self._before.pop()
        else:
            self._before.append(self.made)
            self.made = tap.after(self.made)
        return self.place

    def settle(self) -> None:
        """From here on nothing before is taken back."""
        self._before.clear()

    def copy(self) -> Tube:
        other = Tube()
        other.made, other.taps, other._before = self.made, self.taps, self._before.copy()
        return other

    def any_tap(self, dice: Random) -> Tap:
        """A tap that makes sense now."""
        if self.made > HIGHEST:
            return frog(dice.randint(1, 30))
        choices = [STITCH, STITCH, ROUND, stitches(dice.randint(2, 40)), note(self.taps, dice.choice((3, 400, 3000)))]
        if self._before:
            choices += [UNDO, UNDO, frog(dice.randint(1, self.place.round))]
        return dice.choice(choices)

    def any_key(self, dice: Random) -> Tap:
        """A tap that is one key."""
        if self._before and (self.made > HIGHEST or dice.random() < 0.2):
            return UNDO
        return dice.choice((STITCH, STITCH, ROUND))

    @staticmethod
    def forward(dice: Random) -> Tap:
        """A tap that is one key and leads to a place of its own, so that several in flight can be told apart."""
        return dice.choice((STITCH, STITCH, ROUND))
