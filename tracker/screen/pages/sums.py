"""Size, yarn and time as rows to read: of one copy of a piece, the round it is at, and all that is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from tracker.measure.pace import Pace, learn, time_for
from tracker.measure.size import PatternSize, PieceSize, RoundSize, measure_pattern
from tracker.measure.stitch_counts import NO_WORK, ByYarn, Work, work_of_pattern
from tracker.measure.stitch_sizes import Unit
from tracker.measure.yarn import Weighing, YarnRate, grams_for, metres_of, will_it_last
from tracker.pattern.model import Pattern
from tracker.project.project import Project
from tracker.reports.ball_weights import Reading, rate_of, readings, weighings
from tracker.reports.measure_words import ball_words, lie_words, piece_words, time_words
from tracker.reports.progress import rest_of, samples_of
from tracker.reports.quantities import amount
from tracker.screen.painting.leaf import Row
from tracker.screen.painting.lines import Look
from tracker.session.state import Copy, copy_name

_UNITS = {Unit.CM: "cm", Unit.WIDTHS: "stitch widths"}


@dataclass(frozen=True)
class Sums:
    """Everything that the page tells, worked out once each time something is done."""

    pattern: Pattern
    copy: Copy
    round_index: int
    size: PatternSize
    rest: ByYarn
    weighed: Mapping[str, tuple[Weighing, ...]]
    last: Mapping[str, Reading]
    """The newest reading of each yarn."""
    pace: Pace
    is_begun: bool


def sums_of(project: Project, copy: Copy) -> Sums:
    """The sums of a project as it stands, for the piece of this copy."""
    pattern, state, history = project.pattern, project.state, project.history()
    found = readings(pattern, history, state)
    return Sums(
        pattern=pattern,
        copy=copy,
        round_index=state.work.place_in(copy).round_index,
        size=measure_pattern(pattern),
        rest=rest_of(pattern, state.work),
        weighed=weighings(found),
        last={reading.key: reading for reading in found},
        pace=learn(samples_of(pattern, history)),
        is_begun=bool(history),
    )


def sum_rows(sums: Sums, weigh_key: str) -> Iterator[Row]:
    """How big, how much yarn, how long: in the order in which a maker asks."""
    yield from _size_rows(sums)
    yield Row("")
    yield from _yarn_rows(sums, weigh_key)
    yield Row("")
    left = time_for(sum(sums.rest.values(), NO_WORK), sums.pace)
    yield Row(time_words(left, sums.pace, sums.is_begun))


def _size_rows(sums: Sums) -> Iterator[Row]:
    piece, unit = sums.size.pieces[sums.copy.piece], _UNITS[sums.size.unit]
    name = copy_name(sums.pattern, sums.copy)
    if not piece.rounds and not piece.across.high:
        yield Row(f"{name}: no size can be told", None, "; ".join(piece.remarks), Look.STRONG)
        return
    yield Row(f"{name}, finished: {piece_words(piece, unit)}", None, sums.size.stitch.source, Look.STRONG)
    present = _present(piece, sums)
    if present is not None:
        yield Row(_round_words(present, unit), None, _lie_advice(present))
    yield from (Row(remark, look=Look.STRONG) for remark in piece.remarks)


def _present(piece: PieceSize, sums: Sums) -> RoundSize | None:
    """The size of the round that is being made; None when the piece is made or its rounds have no sizes."""
    rounds = sums.pattern.pieces[sums.copy.piece].rounds
    if len(piece.rounds) != len(rounds) or sums.round_index >= len(rounds):
        return None
    return piece.rounds[sums.round_index]


def _round_words(present: RoundSize, unit: str) -> str:
    if present.across is None:
        return f"{present.label}, when done: {amount(present.around, unit)} wide"
    around, across = amount(present.around, unit), amount(present.across, unit)
    lies = f"; {lie_words(present.growth)}" if present.growth else ""
    return f"{present.label}, when done: {around} around, {across} across{lies}"


def _lie_advice(present: RoundSize) -> str:
    """What is to be done about a round that waves: nothing, if it is meant to."""
    waves = present.growth is not None and lie_words(present.growth).startswith(("ruffles", "gathers"))
    return "fine if it is meant to; otherwise count the round before" if waves else ""


def _yarn_rows(sums: Sums, weigh_key: str) -> Iterator[Row]:
    whole = work_of_pattern(sums.pattern)
    all_units = sum(work.units for work in whole.values())
    for key, work in whole.items():
        yield _yarn_row(sums, key, work, work.units / all_units if all_units else 0.0)
        if key in sums.last and (rate := rate_of(key, sums.weighed)) is not None:
            yield Row(_will_last(sums.last[key], sums.rest.get(key, NO_WORK), rate), look=Look.STRONG)
    if not sums.weighed:
        yield Row(_how_to_weigh(sums.last, weigh_key), look=Look.FAINT)


def _how_to_weigh(last: Mapping[str, Reading], weigh_key: str) -> str:
    if last:
        return f"work on, then weigh the same ball again ({weigh_key}): the difference tells the grams"
    return f"for grams weigh the ball now and after a round or more ({weigh_key}); both are kept as notes"


def _yarn_row(sums: Sums, key: str, whole: Work, share: float) -> Row:
    rest = sums.rest.get(key, NO_WORK)
    done = max(0, whole.stitches - rest.stitches)
    name = sums.pattern.yarn_name(key) or "the yarn"
    told = f"{name}: {done:,} of {whole.stitches:,} stitches made"
    rate = rate_of(key, sums.weighed)
    if rate is None:
        return Row(f"{told}; {share:.0%} of all the yarn", None, _weighed_once(sums, key))
    guess = "" if key in sums.last else "reckoned as the ball that was weighed; weigh this one to know"
    return Row(f"{told}; {_grams(sums, key, whole, rest, rate)}", None, guess)


def _grams(sums: Sums, key: str, whole: Work, rest: Work, rate: YarnRate) -> str:
    used = max(0.0, 1 - rest.units / whole.units) if whole.units else 0.0
    need = grams_for(rest, rate)
    metres = metres_of(need, sums.pattern.yarn(key))
    told = f"{amount(grams_for(whole, rate) * used, 'g')} used, " if used else ""
    told += f"{amount(need, 'g')} still needed"
    return told + (f" ({amount(metres, 'm', 0)})" if metres else "")


def _weighed_once(sums: Sums, key: str) -> str:
    reading = sums.last.get(key)
    return f"the ball weighed {reading.grams:g} g" if reading else ""


def _will_last(reading: Reading, rest: Work, rate: YarnRate) -> str:
    """Whether the ball lasts. What was used since it was weighed last is the same on both sides of the question."""
    when = "will this ball last?" if reading.rest == rest else "will this ball last? when last weighed"
    return ball_words(when, will_it_last(reading.rest, reading.grams, rate)).replace("?:", "?", 1)


def yarns_of(pattern: Pattern) -> Sequence[str]:
    """The keys of all yarns that are worked with."""
    return tuple(work_of_pattern(pattern))
