"""The measures of a pattern as plain tables: sizes, yarn, time, and rounds written anew."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from tracker.measure.figure import FIGURES, width_across
from tracker.measure.pace import TimeLeft, WorkingPace
from tracker.measure.ranges import Range
from tracker.measure.resize import PatternFit, PieceFit
from tracker.measure.size import Growth, Lie, PieceSize, RoundSize, SolidKind
from tracker.measure.stitch_sizes import Unit
from tracker.measure.yarn import MARGIN, TAIL_METRES, Lasting, Lasts, YarnNeed, YarnRate
from tracker.pattern.model import Pattern
from tracker.phrasing.printable_text import sentence
from tracker.reports.measures import Measured
from tracker.reports.quantities import amount, span_of_time

_OTHER = {Unit.CM: "cm", Unit.WIDTHS: "st"}


def print_measured(measured: Measured) -> None:
    """Everything, in the order that a maker asks: how big, how much yarn, how long."""
    # In a terminal sentences break between words; what goes into a file or a pipe stays one line each.
    console = Console(markup=False, highlight=False, emoji=False, soft_wrap=not sys.stdout.isatty())
    console.print(Text(measured.pattern.title))
    console.print(Text(in_terms_of(measured.pattern, _sizes_from(measured.size.stitch.source))))
    for piece in measured.size.pieces:
        _print_piece(console, piece, measured)
    _print_yarn(console, measured.needs, measured.rate)
    for name, lasting in measured.lasting:
        console.print(Text(ball_words(name, lasting)))
    console.print(Text(time_words(measured.time, measured.pace, measured.is_begun)))
    if measured.fit is not None:
        _print_fit(console, measured.fit)


def _sizes_from(source: str) -> str:
    """ "Sizes from the gauge: ...", "No gauge and no yarn weight: ..."."""
    return sentence(f"sizes {source}" if source.startswith("from ") else source)


def in_terms_of(pattern: Pattern, words: str) -> str:
    """A sentence on measures: UK patterns have a tension; stitches are told in their own terms already."""
    return words.replace("gauge", "tension") if pattern.terms == "UK" else words


def _print_piece(console: Console, piece: PieceSize, measured: Measured) -> None:
    unit = _OTHER[measured.size.unit]
    copies = f", made {piece.make} times" if piece.make > 1 else ""
    console.print()
    console.print(Text(f"{piece.name}{copies}: {piece_words(piece, unit)}"))
    if piece.rounds:
        console.print(_rounds_table(piece, unit))
    for remark in piece.remarks:
        console.print(Text(f"  {in_terms_of(measured.pattern, remark)}"))


def piece_words(piece: PieceSize, unit: str) -> str:
    """The finished dimensions in a sentence."""
    across, tall = amount(piece.across, unit), amount(piece.tall, unit)
    if piece.shape is SolidKind.CORD:
        return f"{across} of chain"
    if piece.shape is SolidKind.ROWS:
        return f"{across} wide, {tall} tall"
    if piece.shape is SolidKind.DISK:
        return f"flat, {across} across"
    if piece.shape is SolidKind.FIGURE:
        return f"{FIGURES[piece.corners]}, {across} each side{_between_sides(piece, unit)}"
    if piece.shape is SolidKind.RUFFLE:
        return f"ruffled, {amount(piece.edge, unit)} along its edge, {amount(piece.fabric, unit + '²')} of fabric"
    if piece.along is not None:
        return f"oval, {amount(piece.along, unit)} by {across}, {tall} tall"
    stuffed = f"; stuffed it can bow out to {amount(piece.stuffed, unit)}" if piece.stuffed else ""
    return f"{across} across, {tall} tall{stuffed}"


def _between_sides(piece: PieceSize, unit: str) -> str:
    if piece.corners == 4:  # the side of a square says it all
        return ""
    across = Range(*(width_across(piece.corners, side) for side in (piece.across.low, piece.across.high)))
    return f", {amount(across, unit)} across"


def _rounds_table(piece: PieceSize, unit: str) -> Table:
    is_flat = piece.shape is SolidKind.ROWS
    table = Table(box=None, pad_edge=False)
    table.add_column("row" if is_flat else "round", no_wrap=True)
    for heading in ("stitches", f"wide {unit}" if is_flat else f"around {unit}", f"across {unit}", f"height {unit}"):
        if not (is_flat and heading.startswith("across")):
            table.add_column(heading, justify="right", no_wrap=True)
    if not is_flat:
        table.add_column("lies", overflow="fold")
    for label, round_ in _merged(piece.rounds):
        cells = [label, "-" if round_.stitches is None else str(round_.stitches), amount(round_.around)]
        cells += [] if round_.across is None else [amount(round_.across)]
        cells += [amount(round_.level)]
        cells += [] if round_.growth is None else [lie_words(round_.growth)]
        table.add_row(*(Text(cell) for cell in cells))
    return table


def _merged(rounds: Sequence[RoundSize]) -> Iterator[tuple[str, RoundSize]]:
    """Neighbouring rounds that are alike but for their height in one row, with the height of the last."""
    start = 0
    for index, round_ in enumerate(rounds):
        following = rounds[index + 1] if index + 1 < len(rounds) else None
        if following is not None and _alike(round_, following):
            continue
        label = rounds[start].label if start == index else f"{rounds[start].label}-{round_.number}"
        yield label, round_
        start = index + 1


def _alike(one: RoundSize, other: RoundSize) -> bool:
    return (one.stitches, one.around, one.growth) == (other.stitches, other.around, other.growth)


def lie_words(growth: Growth) -> str:
    """How a round lies; where it waves or puckers also by how much, in whole stitches."""
    if growth.lie is Lie.RUFFLES:
        return f"ruffles: {growth.stitches:.0f} more, about {growth.flat:.0f} lie flat"
    if growth.lie is Lie.GATHERS:
        return f"gathers: {-growth.stitches:.0f} fewer, about {growth.flat:.0f} lie flat"
    return str(growth.lie.value)


def _print_yarn(console: Console, needs: Sequence[YarnNeed], rate: YarnRate | None) -> None:
    console.print()
    if rate is None:
        console.print(
            Text(
                "Yarn, roughly (nothing was weighed: weigh the ball twice on the way, "
                "or give --swatch-grams and --swatch-stitches):"
            )
        )
    else:
        console.print(Text(f"Yarn {rate.source}; 'buy' has a margin of {MARGIN:.0%} on top:"))
    table = Table(box=None, pad_edge=False)
    table.add_column("yarn", overflow="fold", min_width=8)
    is_long = rate is None and any(need.metres for need in needs)
    weighed = ("stitches", "share", "grams", "metres", "buy", "balls")
    headings = weighed if rate else ("stitches", "share", "metres") if is_long else ("stitches", "share")
    for heading in (*headings, "tails"):
        table.add_column(heading, justify="right", no_wrap=True)
    for need in needs:
        table.add_row(*(Text(cell) for cell in _yarn_cells(need)))
    console.print(table)
    console.print(Text(f"Tails are the least there will be; each takes about {TAIL_METRES * 100:.0f} cm more."))
    if rate is None or any(need.work.share_of_others(rate.kind) for need in needs):
        console.print(Text("How much one kind of stitch takes beside another is rough."))


def _yarn_cells(need: YarnNeed) -> list[str]:
    cells = [need.name, f"{need.work.stitches}", f"{need.share:.0%}"]
    if need.grams is not None:
        metres = amount(need.metres, digits=0) if need.metres else "-"
        cells += [amount(need.grams), metres, f"{need.buy_grams:.0f} g", str(need.balls or "-")]
    elif need.metres is not None:
        cells.append(amount(need.metres, digits=0))
    return [*cells, str(need.tails)]


def ball_words(name: str, lasting: Lasting) -> str:
    """Whether a ball is enough, with the range that the answer rests on."""
    grams_left = amount(lasting.left, "g")
    if lasting.need is None:
        return f"{name}: {grams_left} left; nothing was measured, so nobody can tell whether it lasts."
    need = amount(lasting.need, "g")
    answer = {
        Lasts.YES: "yes, it lasts",
        Lasts.JUST: "it will be close",
        Lasts.NO: "no, it does not last",
    }.get(lasting.verdict, lasting.verdict.value)
    short = lasting.short
    missing = f"; {amount(short, 'g')} may be missing" if short is not None and short.high > 0 else ""
    return f"{name}: {answer}: the rest takes {need}, {grams_left} are left{missing}."


def time_words(time_left: TimeLeft, pace: WorkingPace, is_begun: bool) -> str:
    """How long the rest takes, or why nobody can tell."""
    if time_left.seconds is None:
        return "Time: not known yet; it is learned from your own taps while you work."
    if time_left.seconds.high == 0:
        return "Time: nothing is left to work."
    extent = "the rest" if is_begun else "all of it"
    without = f"; without {', '.join(time_left.without)}, whose pace is not known yet" if time_left.without else ""
    return f"Time at your own pace: {span_of_time(time_left.seconds)} for {extent}{without}."


def _print_fit(console: Console, fit: PatternFit) -> None:
    console.print()
    if fit.refused:
        console.print(Text(f"Written anew: {fit.refused}"))
        return
    assert fit.stitch is not None
    console.print(Text(f"Written anew, {fit.factor:.2f} times the size, {fit.stitch.source}."))
    console.print(Text("All counts were checked by reading the rounds back."))
    if fit.nearest:
        widths = " and ".join(f"{width:.1f} cm" for width in fit.nearest)
        console.print(Text(f"In whole repeats the outline is not kept at this size; it is at {widths} across."))
    for piece in fit.pieces:
        _print_piece_fit(console, piece)


def _print_piece_fit(console: Console, piece: PieceFit) -> None:
    console.print()
    copies = f", make {piece.make}" if piece.make > 1 else ""
    if piece.refused:
        console.print(Text(f"{piece.name}{copies}: cannot be written anew: {piece.refused}"))
        return
    across, tall = piece.dimensions
    outline = "outline kept" if piece.is_kept else "outline not kept"
    console.print(
        Text(f"{piece.name}{copies}: {across:.1f} cm across, {tall:.1f} cm tall; {outline}, off by {piece.off:.1%}")
    )
    for line in piece.lines:
        console.print(Text(f"  {line}"))
    for remark in piece.remarks:
        console.print(Text(f"  note: {remark}"))
