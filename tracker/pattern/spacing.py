"""Changes spread evenly over a round: where increases and decreases go."""

from __future__ import annotations


def spread(changes: int, stitches: int, shift: int = 0) -> tuple[int, ...]:
    """The places, counted from 0 and ascending, of `changes` changes among `stitches` stitches.

    Change number i (from 0) ends at stitch floor((i + 1) * stitches / changes), so that the gaps between
    changes differ by at most one: J. E. Bresenham, "Algorithm for computer control of a digital plotter",
    IBM Systems Journal 4(1), 1965. `shift` turns the whole round on by that many stitches.

    >>> spread(3, 8)
    (1, 4, 7)

    Raises ValueError where there are fewer stitches than changes, or a negative number of either.
    """
    if changes < 0 or stitches < changes:
        raise ValueError(f"{changes} changes do not fit over {stitches} stitches")
    places = ((number * stitches // changes - 1 + shift) % stitches for number in range(1, changes + 1))
    return tuple(sorted(places))
