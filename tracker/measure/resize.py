"""The same pattern for another gauge or another size: new rounds in the same notation that keep its outlines.

The line up the side is stretched to the new size, cut into rounds of the new height, and each round gets the whole
number of stitches nearest to its circle. Stripes and stitch kinds keep their share of the height. The counts are
checked by reading the new rounds back.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import dropwhile, takewhile

import tomli_w

from tracker.lazy_dataclass import dataclass, field, replace
from tracker.measure.piece_start import Begins, Opening, foundation_chain, opening_of
from tracker.measure.profile import RoundEdge, edges_of
from tracker.measure.resize_counts import (
    KEPT,
    NewRound,
    PlainRound,
    Target,
    difference,
    height,
    outline_of,
    plain_round,
    plan_rounds,
    target_of,
    unchanged,
)
from tracker.measure.resize_notes import round_numbers
from tracker.measure.resize_writer import EvenRound, write_rounds
from tracker.measure.size import PieceSize, SolidKind, measure_piece
from tracker.measure.stitch_counts import is_chain_only
from tracker.measure.stitch_sizes import StitchSize, from_gauge, stitch_size
from tracker.notation.ast import Technique
from tracker.pattern.loader import loads
from tracker.pattern.model import Gauge, Pattern, Piece, Yarn

MOST_REASONS = 3
"""The most reasons that are told for one piece."""


@dataclass(frozen=True, slots=True)
class PieceFit:
    """One piece worked anew.

    `lines` are the rounds as written, `counts` what each round leaves. `wanted_dimensions` and `dimensions` are
    (across, tall) in cm, asked for and reached. `off` is the largest difference between the outlines, as a share of
    the largest dimension. `refused` tells why there are no new rounds, else "".
    """

    name: str
    make: int
    lines: tuple[str, ...] = ()
    counts: tuple[int, ...] = ()
    wanted_dimensions: tuple[float, float] = (0.0, 0.0)
    dimensions: tuple[float, float] = (0.0, 0.0)
    off: float = 0.0
    remarks: tuple[str, ...] = ()
    refused: str = ""
    numbers: Mapping[int, int] = field(default_factory=dict)
    """The new number of each round of the pattern."""
    in_repeats: bool = True
    """Whether the counts divide by what the pattern's own divide by."""

    @property
    def is_kept(self) -> bool:
        return not self.refused and self.off <= KEPT


@dataclass(frozen=True, slots=True)
class PatternFit:
    """All pieces at `factor` times their size in stitches of the size `stitch`, or why nothing could be done.

    `nearest` are widths in cm of the widest piece, below and above what was asked for, at which every piece comes out
    in whole repeats; empty where it does at the size asked for, or nowhere near.
    """

    factor: float
    stitch: StitchSize | None
    pieces: tuple[PieceFit, ...] = ()
    refused: str = ""
    nearest: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """From stitches of one size to another, with the whole piece `factor` times its size."""

    old: StitchSize
    new: StitchSize
    factor: float = 1.0

    @property
    def scale(self) -> float:
        """New stitch widths to an old one."""
        return self.old.width.middle * self.factor / self.new.width.middle

    @property
    def is_none(self) -> bool:
        return math.isclose(self.scale, 1) and math.isclose(self.new.rise, self.old.rise)


def fit_pattern(
    pattern: Pattern, gauge: Gauge | None = None, across_cm: float | None = None, swatch: Gauge | None = None
) -> PatternFit:
    """The pattern for another `gauge`, or with its widest piece `across_cm` wide, or both.

    `swatch` is the gauge of the pattern as written, where the pattern does not tell it.
    """
    old = stitch_size(pattern, swatch)
    if not old.is_measured:
        return PatternFit(1.0, None, refused="no gauge to start from: give the one that the pattern was made for")
    sizes = [measure_piece(piece, old) for piece in pattern.pieces]
    ruffled = [size.name for size in sizes if size.shape is SolidKind.RUFFLE]
    if ruffled:
        return PatternFit(1.0, None, refused=f"{', '.join(ruffled)} ruffles: it has no width to fit, only an edge")
    factor = 1.0
    widest = max((size.across.middle for size in sizes), default=0.0)
    if across_cm is not None:
        if widest <= 0 or across_cm <= 0:
            return PatternFit(1.0, None, refused="there is no width to fit")
        factor = across_cm / widest
    new = from_gauge(gauge, pattern.terms) if gauge else old
    change = Change(old, new, factor)
    if not 1 / MOST_TIMES <= change.scale <= MOST_TIMES or not 1 / MOST_TIMES <= factor <= MOST_TIMES:
        return PatternFit(1.0, None, refused=f"that is over {MOST_TIMES} times as large or as small: {ANOTHER_THING}")
    pieces = _fit_pieces(pattern, change)
    if across_cm is None or any(piece.refused for piece in pieces) or all(map(_comes_out, pieces)):
        return PatternFit(factor, new, pieces)
    return PatternFit(factor, new, pieces, nearest=_nearest(pattern, change, widest))


MOST_TIMES = 50
"""A toy of a hand's breadth becomes four metres tall: nobody makes more, and it is still worked out in seconds."""

ANOTHER_THING = "write a pattern for it anew"


def _fit_pieces(pattern: Pattern, change: Change) -> tuple[PieceFit, ...]:
    return tuple(fit_piece(piece, change, pattern.terms, pattern.yarns) for piece in pattern.pieces)


def _comes_out(piece: PieceFit) -> bool:
    return piece.is_kept and piece.in_repeats


SIZE_STEP = 0.04
"""Neighbouring sizes are tried in steps of this share: twice what an outline may be off and still count as kept."""

SIZES_TRIED = 20
"""So many steps to either side, to nearly half and twice the size: beyond that it is another thing to make."""


def _nearest(pattern: Pattern, change: Change, widest: float) -> tuple[float, ...]:
    """The widths next below and above at which all pieces keep their outline."""
    widths = []
    for direction in (-1, 1):
        factors = (change.factor * (1 + direction * SIZE_STEP * step) for step in range(1, SIZES_TRIED + 1))
        tried = ((factor, _fit_pieces(pattern, replace(change, factor=factor))) for factor in factors)
        repeat_factor = next((factor for factor, pieces in tried if all(map(_comes_out, pieces))), None)
        if repeat_factor is not None:
            widths.append(repeat_factor * widest)
    return tuple(widths)


def fit_piece(piece: Piece, change: Change, terms: str = "US", yarns: tuple[Yarn, ...] = ()) -> PieceFit:
    """One piece for another size of stitch, another size of piece, or both; stitches of measured sizes."""
    main_part, remarks = _main_part(piece, edges_of(piece, change.old))
    edges = edges_of(main_part, change.old)
    opening = opening_of(main_part, edges)
    refused = _refusal(main_part, edges, opening, change)
    if refused:
        return PieceFit(piece.name, piece.make, refused=refused)
    chains = sum(1 for _ in takewhile(is_chain_only, main_part.rounds))
    main_part, edges = replace(main_part, rounds=main_part.rounds[chains:]), edges[chains:]
    target = target_of(opening.first_edge, edges, change.scale)
    made_of = [plain for plain in map(plain_round, main_part.rounds) if isinstance(plain, PlainRound)]
    planned = unchanged(target, edges, made_of) if change.is_none else plan_rounds(target, made_of, change.new)
    try:
        lines = write_rounds(_written(planned, opening, main_part), main_part.start, terms)
    except ValueError as wrong:
        return PieceFit(piece.name, piece.make, refused=str(wrong))
    counts = tuple(new.after for new in planned)
    if not _read_back(lines, counts, terms, yarns):
        return PieceFit(piece.name, piece.make, refused="the new rounds did not read back to their counts")
    numbers = round_numbers([edge.rise for edge in edges], [new.rise for new in planned])
    new_numbers = dict(zip((round_.number for round_ in main_part.rounds), numbers.values(), strict=True))
    in_repeats = all(count % target.division == 0 for count in counts)
    fitted = PieceFit(
        piece.name, piece.make, lines, counts, remarks=remarks, numbers=new_numbers, in_repeats=in_repeats
    )
    return _compared(fitted, measure_piece(main_part, change.old), change, target, planned)


def _main_part(piece: Piece, edges: Sequence[RoundEdge]) -> tuple[Piece, tuple[str, ...]]:
    """The piece up to where it starts again from an earlier round."""
    branch = next((index for index, edge in enumerate(edges) if edge.based_on != index - 1), None)
    if branch is None:
        return piece, ()
    label = piece.rounds[branch].label
    remark = f"from {label} on it is worked into an earlier round: fit that by hand, over the stitches there"
    return replace(piece, rounds=piece.rounds[:branch]), (remark,)


def _refusal(piece: Piece, edges: Sequence[RoundEdge], opening: Opening, change: Change) -> str:
    """Why a piece cannot be worked anew, "" if it can."""
    if opening.begins is Begins.FLAT:
        return _flat_refusal(edges, change)
    if opening.begins is Begins.OVAL:
        chain = foundation_chain(piece.rounds)
        longer = round(chain + opening.core * (change.scale - 1))
        return f"an oval keeps its increases at the ends: chain about {longer} instead of {chain}, ends as written"
    if opening.begins is Begins.STITCHES:
        return "it is worked on from stitches of another piece"
    rounds = list(dropwhile(is_chain_only, piece.rounds))
    if not rounds:
        chains = foundation_chain(piece.rounds) * change.scale
        return f"it is only a chain: make about {chains:.0f} ch" if chains else "it has no rounds"
    reasons = [reason for reason in map(plain_round, rounds) if isinstance(reason, str)]
    more = f", and {len(reasons) - MOST_REASONS} more rounds" if len(reasons) > MOST_REASONS else ""
    return "; ".join(reasons[:MOST_REASONS]) + more


def _flat_refusal(edges: Sequence[RoundEdge], change: Change) -> str:
    """What to aim for in a piece of rows or of chain, which is not written anew."""
    wide = max((edge.around for edge in edges), default=0.0) * change.scale
    rows = sum(edge.rise for edge in edges) * change.scale / change.new.rise
    aim = f"aim for about {wide:.0f} stitches" + (f" and {rows:.0f} rows of sc" if rows >= 1 else "")
    return f"only rounds are written anew, not rows; {aim}"


def _written(planned: Sequence[NewRound], opening: Opening, piece: Piece) -> list[EvenRound]:
    """The planned rounds with what the notation wants to know; changes are staggered in turn."""
    even_rounds: list[EvenRound] = []
    colour = ""
    changes = 0
    for number, new in enumerate(planned, 1):
        changes += new.before != new.after
        plain = new.made_of
        even_rounds.append(
            EvenRound(
                number=number,
                before=new.before,
                after=new.after,
                kind=plain.kind,
                loop=plain.loop,
                colour=plain.colour if plain.colour != colour else "",
                chain=number == 1 and opening.begins is Begins.TUBE,
                staggered=changes % 2 == 0,
                counted=plain.counted,
                last=number == len(planned) and _is_fastened_off(piece),
            )
        )
        colour = plain.colour
    return even_rounds


def _is_fastened_off(piece: Piece) -> bool:
    plan = piece.rounds[-1].plan
    return plan is not None and any(act.technique is Technique.FASTEN_OFF for act in plan.acts())


def _read_back(lines: Sequence[str], counts: Sequence[int], terms: str, yarns: tuple[Yarn, ...]) -> bool:
    """Whether our own reader gets the planned counts from the new lines, and finds nothing wrong with them."""
    piece = {"name": "Anew", "rounds": "\n".join(lines)}
    listed = {yarn.key: {"name": yarn.name} for yarn in yarns}
    text = tomli_w.dumps({"title": "Anew", "terms": terms, "yarn": listed, "piece": [piece]})
    read = loads(text).pieces[0].rounds
    return [round_.leaves for round_ in read] == list(counts) and all(round_.verdict == "ok" for round_ in read)


def _compared(
    fitted: PieceFit, size: PieceSize, change: Change, target: Target, planned: Sequence[NewRound]
) -> PieceFit:
    """The fit with its dimensions beside those wanted, and what to say where they differ."""
    width = change.new.width.middle
    wanted_dimensions = (size.across.middle * change.factor, size.tall.middle * change.factor)
    points = outline_of(planned)
    dimensions = (2 * max(point.radius for point in points) * width, height(points) * width)
    off = 0.0 if change.is_none else difference(target, planned) * width / max(wanted_dimensions)
    fitted = replace(fitted, wanted_dimensions=wanted_dimensions, dimensions=dimensions, off=off)
    if fitted.is_kept:
        return fitted
    stitch = 1 / max(fitted.counts)
    rise = max(new.rise for new in planned) * width / max(wanted_dimensions)
    steps = f"one stitch is {stitch:.0%} of the widest round, one round {rise:.0%} of the largest dimension"
    return replace(fitted, remarks=(*fitted.remarks, f"whole stitches and rounds come no closer: {steps}"))
