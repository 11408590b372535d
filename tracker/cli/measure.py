"""`rounds measure`: sizes, yarn and time of a pattern, and the same pattern for another gauge or size.

Standard output is the answer; what could not be understood goes to standard error.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from tracker.cli.exit_codes import ExitCode
from tracker.cli.open_project import load_or_tell
from tracker.cli.output import Unwritable, write_new
from tracker.measure.pace import learn, time_for
from tracker.measure.resize import PatternFit, PieceFit, fit_pattern
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
from tracker.pattern.model import Gauge, Pattern, Piece
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml
from tracker.reports.ball_weights import Reading, rate_of, readings, weighings
from tracker.reports.measures import Measured
from tracker.reports.progress import Underway, underway
from tracker.reports.quantities import NotUnderstood, gauge_of, length_cm, round_numbers


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for on the command line, as typed.

    `weighed` holds (grams before, grams after, piece, rounds), `left` yarn keys with grams, "R=23".
    """

    as_json: bool = False
    gauge: str = ""
    swatch_grams: float | None = None
    swatch_stitches: int | None = None
    swatch_kind: str = "sc"
    scale_step: float = SCALE_STEP
    weighed: Sequence[Sequence[str]] = ()
    left: Sequence[str] = ()
    fit_diameter: str = ""
    fit_gauge: str = ""
    output: Path | None = None
    replace_file: bool = False


def measure_file(name: str, asked: Asked, data: Path | None = None) -> int:
    """Print the measures of a pattern; 0, or 1 where a fit that was asked for is not kept, or 2 if unreadable."""
    found = load_or_tell(name)
    if found is None:
        return ExitCode.REFUSED
    path, pattern = found
    try:
        measured = measure(pattern, asked, underway(pattern, path, data))
        _write_fit(pattern, asked, measured.fit)
    except (NotUnderstood, Unwritable) as wrong:
        print(f"rounds: {wrong}", file=sys.stderr)
        return ExitCode.REFUSED
    if asked.as_json:
        from tracker.cli.measure_json import as_json

        print(json.dumps(as_json(measured), ensure_ascii=False, indent=2))
    else:
        from tracker.reports.measure_words import print_measured

        print_measured(measured)
    return ExitCode.DONE if measured.fit is None or _is_kept(measured.fit) else ExitCode.FINDINGS


def measure(pattern: Pattern, asked: Asked, done: Underway | None = None) -> Measured:
    """Everything that was asked. Raises `NotUnderstood` for a figure that makes no sense."""
    gauge = _gauge(asked.gauge, pattern)
    found = readings(pattern, done.history, done.state) if done else ()
    weighed = weighings(found)
    rate = _rate(pattern, asked) or rate_from_weighings([one for each in weighed.values() for one in each])
    rests = done.rest if done else work_of_pattern(pattern)
    pace = learn(done.samples if done else ())
    whole = sum(rests.values(), NO_WORK)
    given = [_lasting(pattern, text, rests, rate, asked.scale_step) for text in asked.left]
    return Measured(
        pattern=pattern,
        size=measure_pattern(pattern, gauge),
        rate=rate,
        needs=yarn_needs(pattern, rate, stitch_size(pattern, gauge)),
        lasting=(*given, *_of_last_weights(pattern, found, weighed, {name for name, _ in given})),
        pace=pace,
        time=time_for(whole, pace),
        is_begun=done is not None,
        fit=_fit(pattern, asked, gauge),
    )


def _gauge(text: str, pattern: Pattern) -> Gauge | None:
    """A gauge given is counted in the stitch of the pattern's own."""
    if not text:
        return None
    stitch = pattern.gauge.stitch if pattern.gauge else ("dc" if pattern.terms == "UK" else "sc")
    return gauge_of(text, stitch)


def _rate(pattern: Pattern, asked: Asked) -> YarnRate | None:
    if asked.weighed:
        weighings = [_weighing(pattern, given) for given in asked.weighed]
        rate = rate_from_weighings(weighings, asked.scale_step)
        if rate is None:
            raise NotUnderstood("the ball did not get lighter between the weighings")
        return rate
    if asked.swatch_grams is None and asked.swatch_stitches is None:
        return None
    try:
        kind = asked.swatch_kind
        return rate_from_swatch(asked.swatch_grams or 0.0, asked.swatch_stitches or 0, kind, asked.scale_step)
    except ValueError as wrong:
        raise NotUnderstood(f"{wrong}: give both --swatch-grams and --swatch-stitches") from None


def _weighing(pattern: Pattern, given: Sequence[str]) -> Weighing:
    before, after, name, rounds = given
    piece = next((piece for piece in pattern.pieces if piece.name.lower() == name.strip().lower()), None)
    if piece is None:
        names = ", ".join(piece.name for piece in pattern.pieces)
        raise NotUnderstood(f"there is no piece '{name}'; there are: {names}")
    first, last = round_numbers(rounds)
    works = together(work_of_round(round_) for round_ in piece.rounds if first <= round_.number <= last)
    work = sum(works.values(), NO_WORK)
    if not work.units:
        raise NotUnderstood(f"'{piece.name}' has no rounds {rounds}")
    return Weighing(_grams(before), _grams(after), work)


def _lasting(pattern: Pattern, text: str, rests: ByYarn, rate: YarnRate | None, step: float) -> tuple[str, Lasting]:
    key, _, grams = text.partition("=")
    keys = {known.lower(): known for known in (*rests, *(yarn.key for yarn in pattern.yarns))}
    known = keys.get(key.strip().lower())
    if known is None or not grams:
        names = ", ".join(sorted(filter(None, keys.values())))
        raise NotUnderstood(f"'{text}' tells no ball: write a yarn and grams, R=23; yarns are: {names}")
    return pattern.yarn_name(known) or "the yarn", will_it_last(rests.get(known, NO_WORK), _grams(grams), rate, step)


def _of_last_weights(
    pattern: Pattern, found: Sequence[Reading], weighed: Mapping[str, tuple[Weighing, ...]], given: set[str]
) -> Iterator[tuple[str, Lasting]]:
    """Whether the balls last that were weighed on the way, but for those that were given by hand."""
    for key, reading in {reading.key: reading for reading in found}.items():
        name = pattern.yarn_name(key) or "the yarn"
        rate = rate_of(key, weighed)
        if name not in given and rate is not None:
            yield f"{name}, when last weighed", will_it_last(reading.rest, reading.grams, rate)


def _write_fit(pattern: Pattern, asked: Asked, fit: PatternFit | None) -> None:
    """The pattern written anew into the file that was asked for. Raises `NotUnderstood` or `Unwritable`."""
    if asked.output is None:
        return
    if fit is None:
        raise NotUnderstood("-o writes the pattern anew: say also --fit 8cm or --fit-gauge 20x22")
    if fit.refused or all(piece.refused for piece in fit.pieces):
        raise NotUnderstood(f"nothing was written: {fit.refused or fit.pieces[0].refused}")
    gauge = _gauge(asked.fit_gauge, pattern) or _gauge(asked.gauge, pattern) or pattern.gauge
    write_new(fitted_file(pattern, fit, gauge), asked.output, replace=asked.replace_file)
    print(f"written: {asked.output}", file=sys.stderr)


def _grams(text: str) -> float:
    try:
        grams = float(text.strip().lower().removesuffix("g").replace(",", "."))
    except ValueError:
        grams = -1.0
    if not 0 <= grams < 1e6:
        raise NotUnderstood(f"'{text}' is no weight in grams")
    return grams


def _fit(pattern: Pattern, asked: Asked, own: Gauge | None) -> PatternFit | None:
    if not asked.fit_diameter and not asked.fit_gauge:
        return None
    across = length_cm(asked.fit_diameter) if asked.fit_diameter else None
    return fit_pattern(pattern, _gauge(asked.fit_gauge, pattern), across, own)


def _is_kept(fit: PatternFit) -> bool:
    return not fit.refused and all(piece.is_kept for piece in fit.pieces)


# A pattern that was written anew for another size or gauge, as a pattern file.


def fitted_file(pattern: Pattern, fit: PatternFit, gauge: Gauge | None) -> str:
    """The pattern file. A piece that could not be written anew stands as it was, and a note says so.

    Remarks on a piece name rounds of the first size, so they become notes that say this.
    """
    pairs = list(zip(pattern.pieces, fit.pieces, strict=True))
    notes = [*pattern.notes, *(note for piece, new in pairs for note in _notes(piece, new))]
    return as_toml(
        Draft(
            title=f"{pattern.title}, {fit.factor:.2f} times the size",
            terms=pattern.terms,
            hook=pattern.hook,
            intended_for=pattern.intended_for,
            notions=pattern.notions,
            notes=tuple(notes),
            gauge=gauge,
            yarns=pattern.yarns,
            pieces=tuple(DraftPiece(p.name, _text(p, new), p.make, p.start) for p, new in pairs),
            making_up=tuple(part.step for part in pattern.making_up),
        )
    )


def _text(piece: Piece, new: PieceFit) -> str:
    if new.lines:
        return "\n".join(new.lines)
    return "\n".join(text for text, _ in groupby(line.text for line in piece.lines))


def _notes(piece: Piece, new: PieceFit) -> Iterator[str]:
    if new.refused:
        yield f"{piece.name} is as it was, not in the new size: {new.refused}"
        yield from (f"{piece.name}: {note}" for note in piece.notes)
        return
    yield from (f"{piece.name}: {remark}" for remark in new.remarks)
    yield from (f"{piece.name}, in the rounds of the first size: {note}" for note in piece.notes)
