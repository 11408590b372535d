"""Where things stand on the working screen, by its size.

Two layouts were drawn on paper before this one was chosen.

The ledger: everything below one another at full width. The round's number and the count in big figures, then what to
do now, the round as written on one line, a bar of the round, the next colour, the next rounds. The long lines suit
the instruction, and it works in any width. But all parts are bands of one weight: from two metres one band looks
like another, and at 120 columns the right half stays empty.

The clock: the round as a ring on the left with the count in its middle, and a column of words on the right. A ring
is what the hands hold; how far round it is filled is seen like the hand of a clock, long before a figure can be
read, and the big count has a place of its own where nothing competes with it. The words pay for it: at 80 columns
an instruction takes two or three short lines. Short lines are also easier to find again after a look at the work,
so the clock was chosen wherever a ring has room. Rows that go to and fro are no ring, and small terminals have no
room for one: there the ledger is used, with a bar.
"""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass

LEAST_WIDTH, LEAST_HEIGHT = 40, 20
"""Below this the essential things no longer fit."""

TOO_SMALL = f"too small: {LEAST_WIDTH} columns and {LEAST_HEIGHT} lines are needed; your place is kept"

_LEAST_RING_WIDTH = 72
_LEAST_RING = 14
_MOST_RING = 40
_RING_SHARE = 0.46
_FRAME = 5
"""Lines around the body: heading, shares, talk, two lines of keys."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """`drawing` is the width of the drawing beside the words in the clock, its height above them in the ledger."""

    clock: bool
    drawing: int
    too_small: bool = False


def arrangement(width: int, height: int, flat: bool) -> Arrangement:
    """The layout for a terminal of this size; `flat` work goes to and fro and is never a ring."""
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return Arrangement(False, 0, True)
    body = height - _FRAME
    lines = min(body, int(width * _RING_SHARE / 2), _MOST_RING)
    if not flat and width >= _LEAST_RING_WIDTH and lines >= _LEAST_RING:
        return Arrangement(True, 2 * lines)
    return Arrangement(False, 9 if body >= 30 else 6 if body >= 19 else 5)
