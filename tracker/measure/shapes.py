"""Patterns from a shape and a size: the line of a solid is walked up round by round, and tells how long each one is.

A round of height h ends where the line from the middle has gone on by h; it has 2 pi r / w stitches of width w, r
being how far the line is from the axis there (geometry). For a ball of R rounds that is C sin(pi k / R) with
C = 2 R h / w, the published form of which takes the middle of each round (E. Wald's page on the mathematics of the
sphere). A disk comes to 2 pi h / w more stitches a round, with usual gauges the trade's 6 for single crochet.
Increases are spread evenly and staggered (see `resize_writer`).
"""

from __future__ import annotations

import math
from enum import Enum
from itertools import pairwise

from tracker.lazy_dataclass import dataclass
from tracker.measure.resize_writer import EvenRound, write_rounds
from tracker.measure.stitch_sizes import BY_NUMBER, USUAL_RISE
from tracker.pattern.model import Gauge, Start, Yarn
from tracker.pattern.toml_writer import Draft, DraftPiece


class Shape(Enum):
    """What can be begun from. The value is what a maker calls it."""

    BALL = "ball"
    DISK = "disk"
    BOWL = "bowl"
    EGG = "egg"
    CONE = "cone"
    TUBE = "tube"
    OVAL = "oval"
    SQUARE = "square"


USUAL_WEIGHT = 4
"""The yarn weight whose published middle is taken where neither gauge nor weight is given."""

FEWEST = 4
"""Stitches of the smallest round that is still round: common practice, no source."""

EGG_LENGTH = 1.3
"""Length of an egg over its width: common practice, no source."""

TUBE_LENGTH = 2.0
"""Length of a tube with round ends over its width: common practice, no source."""

OVAL_LENGTH = 1.5
"""Length of an oval over its width: common practice, no source."""

CONE_HALF_ANGLE = math.pi / 6
"""Half the angle at the tip: with half of the flat growth a round, sin of it is 1/2 (geometry)."""

# Larger than anything that is made in one piece by hand, and so is the next.
MOST_ROUNDS = 400
MOST_STITCHES = 5_000
"""Larger than anything that is made in one piece by hand; a slip of the keyboard."""

FINEST = 400
"""Points of the line of a solid between which it is taken for straight."""


class CannotShape(ValueError):
    """A shape of that size cannot be made with these stitches; the message says why."""


@dataclass(frozen=True, slots=True)
class Stitches:
    """Width and height of a single crochet in centimetres, and where they come from, as a sentence."""

    width: float
    height: float
    source: str
    gauge: Gauge | None = None
    weight: int | None = None


def stitches_of(gauge: Gauge | None, weight: int | None) -> Stitches:
    """From the gauge if one is given, else from the middle of the published range of a yarn weight.

    The ranges are the yarn standards' (see `stitch_sizes`); without a weight it is number 4, and that is said.
    """
    if gauge is not None:
        basis = f"{gauge.stitches:g} {gauge.stitch} and {gauge.rounds:g} rounds over {gauge.over_cm:g} cm"
        return Stitches(
            gauge.over_cm / gauge.stitches, gauge.over_cm / gauge.rounds, f"for a gauge of {basis}", gauge
        )
    number = USUAL_WEIGHT if weight is None else weight
    yarn_weight = BY_NUMBER.get(number)
    if yarn_weight is None or yarn_weight.stitch != "sc" or not yarn_weight.stitches.low:
        raise CannotShape(f"for yarn weight {number} no gauge of single crochet is published: count one on a swatch")
    across = (yarn_weight.stitches.low + yarn_weight.stitches.high) / 2
    rounds = across / USUAL_RISE
    assumed = Gauge("sc", round(across, 1), round(rounds, 1))
    chosen = "" if weight is not None else "neither gauge nor yarn weight was given: "
    basis = (
        f"{chosen}for yarn weight {number} ({yarn_weight.name}), the middle of its published range; swatch to be sure"
    )
    return Stitches(10.0 / assumed.stitches, 10.0 / assumed.rounds, basis, assumed, number)


@dataclass(frozen=True, slots=True)
class Shaped:
    """The pattern, and the size in centimetres that its rounds come to."""

    draft: Draft
    across: float
    tall: float
    source: str


def shaped(shape: Shape, across: float, stitches: Stitches) -> Shaped:
    """The pattern of a shape `across` centimetres at its widest. Raises `CannotShape`."""
    # Centimetres: from a bead to the largest blanket.
    if not 0.5 <= across <= 300:
        raise CannotShape("a size from 0.5 to 300 cm is needed")
    if shape is Shape.SQUARE:
        lines, size, start = *_square(across, stitches), Start.ROWS
    elif shape is Shape.OVAL:
        lines, size, start = *_oval(across, stitches), Start.SPIRAL
    else:
        lines, size, start = *_turned(shape, across, stitches), Start.SPIRAL
    title = f"{shape.value.capitalize()} of {across:g} cm"
    notes = [f"Written {stitches.source}."]
    if shape in (Shape.BALL, Shape.EGG, Shape.TUBE):
        notes.append("Stuff it before the last rounds, then close it with the tail through the front loops.")
    yarn = () if stitches.weight is None else (Yarn("A", "yarn A", weight=stitches.weight),)
    draft = Draft(
        title=title,
        gauge=stitches.gauge,
        notes=tuple(notes),
        yarns=yarn,
        pieces=(DraftPiece(shape.value.capitalize(), "\n".join(lines), start=start),),
    )
    return Shaped(draft, *size, stitches.source)


# Solids of one axis: a line from the first round to the last, as radius and height for a share of its length.


def _line_of(shape: Shape, radius: float) -> tuple[list[tuple[float, float]], bool]:
    """Points of the line up the side of a solid, as (radius, height), and whether it closes again."""
    turns = [math.pi * step / FINEST for step in range(FINEST + 1)]
    match shape:
        case Shape.BALL:
            return [(radius * math.sin(t), radius * (1 - math.cos(t))) for t in turns], True
        case Shape.BOWL:
            return [(radius * math.sin(t / 2), radius * (1 - math.cos(t / 2))) for t in turns], False
        case Shape.EGG:
            tip = 2 * radius * EGG_LENGTH - radius
            points = [
                (radius * math.sin(t), radius - (radius if t < math.pi / 2 else tip) * math.cos(t)) for t in turns
            ]
            return points, True
        case Shape.TUBE:
            straight = 2 * radius * (TUBE_LENGTH - 1)
            points = [
                (radius * math.sin(t), radius * (1 - math.cos(t)) + (straight if t > math.pi / 2 else 0.0))
                for t in turns
            ]
            return points, True
        case Shape.CONE:
            side = radius / math.sin(CONE_HALF_ANGLE)
            return [(0.0, 0.0), (radius, side * math.cos(CONE_HALF_ANGLE))], False
        case _:
            return [(0.0, 0.0), (radius, 0.0)], False


def _turned(shape: Shape, across: float, stitches: Stitches) -> tuple[tuple[str, ...], tuple[float, float]]:
    points, closes = _line_of(shape, across / 2)
    lengths = [0.0]
    for one, other in pairwise(points):
        lengths.append(lengths[-1] + math.dist(one, other))
    count = round(lengths[-1] / stitches.height)
    if not 2 <= count <= MOST_ROUNDS:
        raise CannotShape(
            f"{across:g} cm would be {count} rounds of these stitches, and 2 to {MOST_ROUNDS} can be made"
        )
    step = lengths[-1] / count
    tops = [_at(points, lengths, step * number)[0] for number in range(1, count + (0 if closes else 1))]
    counts = [max(FEWEST, round(2 * math.pi * top / stitches.width)) for top in tops]
    counts = _held_back(counts)
    if max(counts) > MOST_STITCHES:
        raise CannotShape(f"a round would have {max(counts):,} stitches, and {MOST_STITCHES:,} is the most")
    befores = [0, *counts[:-1]]
    rounds = [
        EvenRound(number, before, after, staggered=number % 2 == 1, last=number == len(counts))
        for number, (before, after) in enumerate(zip(befores, counts, strict=True), 1)
    ]
    wide = max(counts) * stitches.width / math.pi
    return write_rounds(rounds), (wide, _tall(points, count * stitches.height / lengths[-1]))


def _too_many(across: float, count: int) -> str:
    return f"{across:g} cm would be {count} rounds of these stitches, and 2 to {MOST_ROUNDS} can be made"


def _held_back(counts: list[int]) -> list[int]:
    """No round with more than twice, or less than half, the stitches of the one before: no plain change does more."""
    new_counts: list[int] = []
    for count in counts:
        new_counts.append(min(max(count, -(-new_counts[-1] // 2)), 2 * new_counts[-1]) if new_counts else count)
    return new_counts


def _at(points: list[tuple[float, float]], lengths: list[float], length: float) -> tuple[float, float]:
    """The point of a line so far along it."""
    place = next((index for index, end in enumerate(lengths) if end >= length - 1e-9 and index), len(points) - 1)
    share = (length - lengths[place - 1]) / ((lengths[place] - lengths[place - 1]) or 1.0)
    (r1, z1), (r2, z2) = points[place - 1], points[place]
    return r1 + share * (r2 - r1), z1 + share * (z2 - z1)


def _tall(points: list[tuple[float, float]], scale: float) -> float:
    return max(height for _, height in points) * scale


# Shapes that are no solids of one axis.


def _square(across: float, stitches: Stitches) -> tuple[tuple[str, ...], tuple[float, float]]:
    """Rows of single crochet, to and fro."""
    wide, rows = round(across / stitches.width), round(across / stitches.height)
    if not (2 <= wide <= MOST_STITCHES and 2 <= rows <= MOST_ROUNDS):
        raise CannotShape(f"{across:g} cm would be {rows} rows of {wide} stitches")
    first = f"Row 1: ch {wide + 1}, sc in 2nd ch from hook and in each ch across, turn ({wide})"
    # Of three rows one lies between the first and the last.
    between = "Row 2" if rows == 3 else f"Rows 2-{rows - 1}"
    middle = () if rows == 2 else (f"{between}: ch 1, sc across, turn ({wide})",)
    last = f"Row {rows}: ch 1, sc across, fasten off ({wide})"
    return (first, *middle, last), (wide * stitches.width, rows * stitches.height)


def _oval(across: float, stitches: Stitches) -> tuple[tuple[str, ...], tuple[float, float]]:
    """Both sides of a chain, the ends increased as half a disk each: 6 more stitches a round (geometry and trade)."""
    rounds = round(across / 2 / stitches.height)
    straight = max(1, round((OVAL_LENGTH - 1) * across / stitches.width))
    if not 2 <= rounds <= MOST_ROUNDS:
        raise CannotShape(
            f"{across:g} cm would be {rounds} rounds of these stitches, and 2 to {MOST_ROUNDS} can be made"
        )
    chain = straight + 3
    side = f"sc in next {straight} ch"
    lines = [
        f"Rnd 1: ch {chain}, sc in 2nd ch from hook, {side}, 3 sc in last ch; along the other side, {side}, "
        f"2 sc in last ch ({2 * chain})"
    ]
    for number in range(2, rounds + 1):
        plain, end = number - 2, ", fasten off" if number == rounds else ""
        before = plain // 2 if number % 2 == 0 else plain
        unit = ", ".join(part for part in (_sc(before), "inc", _sc(plain - before)) if part)
        thrice, twice = (f"({unit}) x {times}" if plain else f"inc x {times}" for times in (3, 2))
        total = 2 * chain + 6 * (number - 1)
        body = f"{unit}, {straight} sc, {thrice}, {straight} sc, {twice}"
        lines.append(f"Rnd {number}: {body}{end} ({total})")
    long = straight * stitches.width + 2 * rounds * stitches.height
    return tuple(lines), (2 * rounds * stitches.height, long)


def _sc(count: int) -> str:
    return f"{count} sc" if count else ""
