"""Patterns and mistakes that the search for a miscount was not tuned on: `recount_simulation.py --held-out`.

Nothing in the program was changed for what is found here; whoever tunes on them has to invent others.
"""

from __future__ import annotations

import random

from recount_makers import (
    GROUPS,
    KINDS,
    PLAIN,
    Case,
    Kind,
    L,
    Made,
    Style,
    _grow,
    _one_slip,
    _right,
    _shrink,
    _wrong_number,
    left,
    taken,
)

PATTERNS = (
    Made(
        "Bowl",
        Style("spiral"),
        8,
        (
            L(("all", "i")),
            _grow(1, 8),
            L(("s", 1), ("i", 1), ("rep", 7, [("s", 2), ("i", 1)]), ("s", 1)),
            _grow(3, 8),
            _grow(4, 8),
            L(("s", 3), ("i", 1), ("rep", 7, [("s", 5), ("i", 1)]), ("s", 2)),
            _grow(6, 8),
            _grow(7, 8),
            *[PLAIN] * 6,
        ),
    ),
    Made(
        "Pear",
        Style("spiral", "hdc"),
        6,
        (
            L(("all", "i")),
            _grow(1, 6),
            _grow(2, 6),
            PLAIN,
            L(("s", 6), ("i", 3), ("s", 6), ("i", 3), ("s", 6)),
            PLAIN,
            PLAIN,
            _shrink(3, 6),
            L(("s", 24)),
            _shrink(4, 4),
            _shrink(3, 4),
            PLAIN,
        ),
    ),
    Made(
        "Beret",
        Style("joined", "dc"),
        10,
        (
            L(("all", "i")),
            _grow(1, 10),
            L(("around", [("s", 2), ("i", 1)])),
            L(("around", [("s", 3), ("i", 1)])),
            PLAIN,
            PLAIN,
            L(("around", [("s", 3), ("d", 1)])),
            L(("around", [("s", 2), ("d", 1)])),
            PLAIN,
        ),
    ),
    Made(
        "Collar",
        Style("rows", "hdc"),
        30,
        (
            PLAIN,
            L(("rep", 5, [("s", 5), ("i", 1)])),
            PLAIN,
            L(("s", 1), ("d", 1), ("to last", 3), ("d", 1), ("s", 1)),
            PLAIN,
            L(("rep", 3, [("s", 9), ("d", 1)])),
            PLAIN,
            L(("i", 1), ("to last", 1), ("i", 1)),
            PLAIN,
        ),
    ),
)


def _keep(name: str, kind: Kind) -> None:
    KINDS[name] = kind
    GROUPS.setdefault("held out", []).append(name)


def _two_skipped_together(made: Made, rng: random.Random) -> Case | None:
    at = rng.randrange(1, len(made.lines) + 1)
    fabric = _right(made, at)
    acts = fabric[at]
    sites = [i for i in range(1, len(acts) - 2) if acts[i] == acts[i + 1] == "s"]
    if not sites:
        return None
    i = rng.choice(sites)
    fabric[at] = [*acts[:i], "-", "-", *acts[i + 2 :]]
    return Case(
        made,
        "",
        at,
        fabric,
        left(fabric[at]),
        ("stitch skipped",),
        act=i,
        base=taken(acts[:i]),
        second=taken(acts[:i]) + 1,
    )


def _left_unworked_at_the_end(made: Made, rng: random.Random) -> Case | None:
    """A joined round or a row that is closed two stitches early."""
    if made.style.form == "spiral":
        return None
    at = rng.randrange(1, len(made.lines) + 1)
    fabric = _right(made, at)
    fabric[at] = fabric[at][:-2]
    causes = ("stitch skipped", "repeat missed", "place")
    return Case(made, "", at, fabric, left(fabric[at]), causes, edge="last")


def _half_way_in_another_round(made: Made, rng: random.Random) -> Case | None:
    """The tracker is in the middle of a round that is not begun."""
    counts = made.counts()
    fit = [i for i in range(2, len(counts)) if counts[i] != counts[i - 1] and counts[i] > 14]
    if not fit:
        return None
    at = rng.choice(fit)
    acts = _right(made, at)[at]
    tapped = rng.randrange(3, max(4, len(acts) // 3))
    fabric = _right(made, at - 1)
    return Case(made, "", at, fabric, counts[at - 1], ("round not made",), place=(at, 0), tapped=tapped)


def _first_repeat_again(made: Made, rng: random.Random) -> Case | None:
    """A decrease where the line has a plain stitch and the next one, in the last quarter."""
    at = rng.randrange(1, len(made.lines) + 1)
    fabric = _right(made, at)
    acts = fabric[at]
    sites = [i for i in range(3 * len(acts) // 4, len(acts) - 2) if acts[i] == acts[i + 1] == "s"]
    if not sites:
        return None
    i = rng.choice(sites)
    fabric[at] = [*acts[:i], "d", *acts[i + 2 :]]
    return Case(made, "", at, fabric, left(fabric[at]), ("stitch skipped",), act=i, base=taken(acts[:i]))


_keep("two stitches skipped side by side", _two_skipped_together)
_keep("closed two stitches early", _left_unworked_at_the_end)
_keep("half-way: round not begun", _half_way_in_another_round)
_keep("a decrease too many near the end", _first_repeat_again)
_keep("missed decrease, 2 back", _one_slip("missed decrease", back=2))
_keep("extra increase, 3 back", _one_slip("extra increase", back=3))
_keep("counted 3 too few", _wrong_number(-3))
_keep("counted 5 too many", _wrong_number(5))
