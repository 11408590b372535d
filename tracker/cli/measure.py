"""`rounds measure`: sizes, yarn and time of a pattern, and the same pattern for another gauge or size.

Standard output is the answer; what could not be understood goes to standard error.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.open_project import load_or_tell
from tracker.cli.output import Unwritable, write_new
from tracker.journal import JournalTrouble, data_folder
from tracker.journal.records import Happened
from tracker.lazy_dataclass import dataclass, replace
from tracker.measure.pace import Sample, learn, time_for
from tracker.measure.resize import PatternFit, fit_pattern
from tracker.measure.resize_notes import rewrite_sentences
from tracker.measure.size import measure_pattern
from tracker.measure.stitch_counts import NO_WORK, ByYarn, together, work_of_pattern, work_of_round
from tracker.measure.stitch_sizes import stitch_size
from tracker.measure.yarn import (
    SCALE_STEP,
    Lasting,
    Weighing,
    YarnRate,
    rate_from_swatch,
    rate_from_weighings,
    will_it_last,
    yarn_needs,
)
from tracker.pattern.model import Gauge, Pattern, Seat
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml
from tracker.project.project import open_project
from tracker.reports.ball_weights import BallReading, rate_of, readings, weighings
from tracker.reports.measures import Measured
from tracker.reports.quantities import UnclearFigure, gauge_of, length_cm, round_numbers
from tracker.reports.work_so_far import rest_of, samples_of
from tracker.rounds.plan import MAX_STITCHES
from tracker.session.events import HEAVIEST
from tracker.session.reducer import State


@dataclass(frozen=True, slots=True)
class MeasureRequest:
    """What was asked for on the command line, as typed.

    `weighed` holds (grams before, grams after, piece, rounds), `balls_left` yarn keys with grams, "R=23".
    """

    as_json: bool = False
    gauge: str = ""
    swatch_grams: float | None = None
    swatch_stitches: int | None = None
    swatch_kind: str = "sc"
    scale_step: float = SCALE_STEP
    weighed: Sequence[Sequence[str]] = ()
    balls_left: Sequence[str] = ()
    fit_diameter: str = ""
    fit_gauge: str = ""
    output: Path | None = None
    replace_file: bool = False


def measure_file(name: str, request: MeasureRequest, data: Path | None = None) -> int:
    """Print the measures of a pattern; 0, or 1 where a fit that was asked for is not kept, or 2 if unreadable."""
    pattern_file = load_or_tell(name)
    if pattern_file is None:
        return ExitCode.REFUSED
    path, pattern = pattern_file
    try:
        measured = measure(pattern, request, underway(pattern, path, data))
        _write_fit(pattern, request, measured.fit)
    except (UnclearFigure, Unwritable) as wrong:
        print(f"rounds: {wrong}", file=sys.stderr)
        return ExitCode.REFUSED
    if request.as_json:
        from tracker.cli.measure_json import as_json

        print(json.dumps(as_json(measured), ensure_ascii=False, indent=2))
    else:
        from tracker.reports.measure_words import print_measured

        print_measured(measured)
    return ExitCode.DONE if measured.fit is None or _is_kept(measured.fit) else ExitCode.FINDINGS


def measure(pattern: Pattern, request: MeasureRequest, done: Underway | None = None) -> Measured:
    """Everything that was asked. Raises `UnclearFigure` for a figure that makes no sense."""
    if not 0 < request.scale_step <= HEAVIEST:
        raise UnclearFigure("--scale-step is what the scale tells apart, in grams above 0: 1 for a kitchen scale")
    gauge = _gauge(request.gauge, pattern)
    ball_readings = readings(pattern, done.history, done.state) if done else ()
    weighed = weighings(ball_readings)
    rate = _rate(pattern, request) or rate_from_weighings([one for each in weighed.values() for one in each])
    rests = done.work_left if done else work_of_pattern(pattern)
    pace = learn(done.samples if done else ())
    whole = sum(rests.values(), NO_WORK)
    typed_balls = [_lasting(pattern, text, rests, rate, request.scale_step) for text in request.balls_left]
    return Measured(
        pattern=pattern,
        size=measure_pattern(pattern, gauge),
        rate=rate,
        needs=yarn_needs(pattern, rate, stitch_size(pattern, gauge)),
        lasting=(*typed_balls, *_of_last_weights(pattern, ball_readings, weighed, {name for name, _ in typed_balls})),
        pace=pace,
        time=time_for(whole, pace),
        is_begun=done is not None,
        fit=_fit(pattern, request, gauge),
    )


def _gauge(text: str, pattern: Pattern) -> Gauge | None:
    """A gauge given is counted in the stitch of the pattern's own."""
    if not text:
        return None
    stitch = pattern.gauge.stitch if pattern.gauge else ("dc" if pattern.terms == "UK" else "sc")
    return gauge_of(text, stitch)


def _rate(pattern: Pattern, request: MeasureRequest) -> YarnRate | None:
    if request.weighed:
        weighings = [_weighing(pattern, weighing) for weighing in request.weighed]
        rate = rate_from_weighings(weighings, request.scale_step)
        if rate is None:
            raise UnclearFigure("the ball did not get lighter between the weighings")
        return rate
    if request.swatch_grams is None and request.swatch_stitches is None:
        return None
    if (request.swatch_grams or 0.0) > HEAVIEST or (request.swatch_stitches or 0) > MAX_STITCHES:
        raise UnclearFigure(f"a swatch weighs {HEAVIEST:,.0f} g and has {MAX_STITCHES:,} stitches at most")
    try:
        kind = request.swatch_kind
        return rate_from_swatch(request.swatch_grams or 0.0, request.swatch_stitches or 0, kind, request.scale_step)
    except ValueError as wrong:
        raise UnclearFigure(f"{wrong}: give both --swatch-grams and --swatch-stitches") from None


def _weighing(pattern: Pattern, words: Sequence[str]) -> Weighing:
    before, after, name, rounds = words
    piece = next((piece for piece in pattern.pieces if piece.name.lower() == name.strip().lower()), None)
    if piece is None:
        names = ", ".join(piece.name for piece in pattern.pieces)
        raise UnclearFigure(f"there is no piece '{name}'; there are: {names}")
    first, last = round_numbers(rounds)
    works = together(work_of_round(round_) for round_ in piece.rounds if first <= round_.number <= last)
    work = sum(works.values(), NO_WORK)
    if not work.units:
        raise UnclearFigure(f"'{piece.name}' has no rounds {rounds}")
    return Weighing(_grams(before), _grams(after), work)


def _lasting(pattern: Pattern, text: str, rests: ByYarn, rate: YarnRate | None, step: float) -> tuple[str, Lasting]:
    key, _, grams = text.partition("=")
    keys = {yarn_key.lower(): yarn_key for yarn_key in (*rests, *(yarn.key for yarn in pattern.yarns))}
    yarn_key = keys.get(key.strip().lower())
    if yarn_key is None or not grams:
        names = ", ".join(sorted(filter(None, keys.values())))
        raise UnclearFigure(f"'{text}' tells no ball: write a yarn and grams, R=23; yarns are: {names}")
    lasting = will_it_last(rests.get(yarn_key, NO_WORK), _grams(grams), rate, step)
    return pattern.yarn_name(yarn_key) or "the yarn", lasting


def _of_last_weights(
    pattern: Pattern, balls: Sequence[BallReading], weighed: Mapping[str, tuple[Weighing, ...]], words: set[str]
) -> Iterator[tuple[str, Lasting]]:
    """Whether the balls last that were weighed on the way, but for those that were given by hand."""
    for key, reading in {reading.key: reading for reading in balls}.items():
        name = pattern.yarn_name(key) or "the yarn"
        rate = rate_of(key, weighed)
        if name not in words and rate is not None:
            yield f"{name}, when last weighed", will_it_last(reading.work_left, reading.grams, rate)


def _write_fit(pattern: Pattern, request: MeasureRequest, fit: PatternFit | None) -> None:
    """The pattern written anew into the file that was asked for. Raises `UnclearFigure` or `Unwritable`."""
    if request.output is None:
        return
    if fit is None:
        raise UnclearFigure("-o writes the pattern anew: say also --fit 8cm or --fit-gauge 20x22")
    if fit.refused:
        raise UnclearFigure(f"nothing was written: {fit.refused}")
    refused = [f"{piece.name}: {piece.refused}" for piece in fit.pieces if piece.refused]
    if refused:
        # Pieces of two sizes do not fit together.
        raise UnclearFigure(f"nothing was written, since not every piece can be: {'; '.join(refused)}")
    gauge = _gauge(request.fit_gauge, pattern) or _gauge(request.gauge, pattern) or pattern.gauge
    write_new(fitted_file(pattern, fit, gauge), request.output, replace=request.replace_file)
    print(f"written: {request.output}", file=sys.stderr)


def _grams(text: str) -> float:
    try:
        grams = float(text.strip().lower().removesuffix("g").replace(",", "."))
    except ValueError:
        grams = -1.0
    # A ton of yarn is a slip of the fingers.
    if not 0 <= grams < 1e6:
        raise UnclearFigure(f"'{text}' is no weight in grams")
    return grams


def _fit(pattern: Pattern, request: MeasureRequest, swatch: Gauge | None) -> PatternFit | None:
    if not request.fit_diameter and not request.fit_gauge:
        return None
    across = length_cm(request.fit_diameter) if request.fit_diameter else None
    return fit_pattern(pattern, _gauge(request.fit_gauge, pattern), across, swatch)


def _is_kept(fit: PatternFit) -> bool:
    return not fit.refused and all(piece.is_kept for piece in fit.pieces)


# A pattern that was written anew for another size or gauge, as a pattern file.


def _seat_anew(seat: Seat | None, pattern: Pattern, fit: PatternFit) -> Seat | None:
    """The same place at the new numbers of the rounds; on top where a round of it is no longer there."""
    if seat is None or seat.rounds is None:
        return seat
    hosts = {piece.name.casefold(): new.numbers for piece, new in zip(pattern.pieces, fit.pieces, strict=True)}
    numbers = hosts.get(seat.on.casefold(), {})
    first, last = (numbers.get(number) for number in seat.rounds)
    return replace(seat, rounds=(first, last) if first and last else None)


def fitted_file(pattern: Pattern, fit: PatternFit, gauge: Gauge | None) -> str:
    """The pattern file of a fit in which no piece is refused.

    What the pattern says of sizes, yarn and rounds is reckoned anew; what cannot be is marked to be checked.
    """
    factor = fit.factor
    alone = fit.pieces[0].numbers if len(fit.pieces) == 1 else None
    notes = [rewrite_sentences(note, factor, alone) for note in pattern.notes]
    notes += [f"{piece.name}: {remark}" for piece in fit.pieces for remark in piece.remarks]
    pieces = []
    for piece, new in zip(pattern.pieces, fit.pieces, strict=True):
        own = tuple(rewrite_sentences(note, factor, new.numbers) for note in piece.notes)
        seat = _seat_anew(piece.seat, pattern, fit)
        pieces.append(
            DraftPiece(piece.name, "\n".join(new.lines), piece.make, piece.start, own, piece.stands, seat, piece.yarn)
        )
    return as_toml(
        Draft(
            title=f"{rewrite_sentences(pattern.title, factor, None)}, {factor:.2f} times the size",
            terms=pattern.terms,
            hook=pattern.hook,
            intended_for=pattern.intended_for,
            notions=tuple(rewrite_sentences(notion, factor, None) for notion in pattern.notions),
            notes=tuple(notes),
            gauge=gauge,
            yarns=pattern.yarns,
            pieces=tuple(pieces),
            making_up=tuple(rewrite_sentences(part.step, factor, alone) for part in pattern.making_up),
        )
    )


@dataclass(frozen=True)
class Underway:
    """`work_left` is what is left of all copies, by yarn; `samples` what was made between taps and how long it took.

    `history` and `state` are what both come from.
    """

    work_left: ByYarn
    samples: tuple[Sample, ...]
    history: tuple[Happened, ...]
    state: State


def underway(pattern: Pattern, path: Path, data: Path | None) -> Underway | None:
    """How far the maker is; None if nothing was made yet, or if nobody can tell."""
    try:
        project = open_project(pattern, path, data_folder(data), time.time, to_work=False)
    except JournalTrouble:
        return None
    try:
        history = project.history() if project.changed is None else []
        state = project.state
    finally:
        project.close()
    if not history:
        return None
    return Underway(rest_of(pattern, state.work), samples_of(pattern, history), tuple(history), state)
