"""What the times of the taps say: a repeat tapped much faster than its neighbours is likelier to lack a stitch.

The time from one tap to the next is taken to be the maker's pace times the effort of the work between, spread
log-normally, or that and a pause. A supposed mistake changes the effort; how much better or worse the time then
fits is the evidence. All numbers are in `weights`.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import median

from tracker.rounds.plan import Act, Plan, Role
from tracker.rounds.slicing import Ledger
from tracker.session.miscount import priors as weights
from tracker.session.miscount.question import Tap

MOST_BEATS = 160
"""More taps than this in one round are taken together, so that the search stays quick."""


@dataclass(frozen=True, slots=True)
class Beat:
    """The work between two taps. `seconds` is None when nobody knows when it was begun."""

    start: int
    until: int
    seconds: float | None
    effort: float
    """In single crochets."""
    stitches: int
    """What it leaves, as the line says."""


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a maker goes: the logarithm of seconds for a single crochet, and how uneven, 1 being usual."""

    log_seconds: float
    unevenness: float


def tap_effort(act: Act) -> float:
    """How long an act takes beside a single crochet."""
    if act.role is Role.SKIP:
        return weights.EFFORT["sk"].value * max(act.takes, 1)
    if not act.makes:
        return weights.EFFORT["step"].value
    other = weights.OTHER_EFFORT
    making = sum(weights.EFFORT.get(made.kind, other).value * made.count for made in act.makes)
    return making + weights.EFFORT["together"].value * max(0, act.takes - 1)


def effort_before(ledger: Ledger[str], move: int) -> float:
    """The effort of the first `move` moves; a half-made act counts by its moves."""
    so_far = ledger.before(move)
    effort = so_far.sums.get("effort", 0.0)
    if so_far.partial is not None:
        effort += tap_effort(so_far.partial) * so_far.inside / so_far.partial.moves
    return effort


def beats_of(plan: Plan, taps: Sequence[Tap], begun: float | None = None) -> tuple[Beat, ...]:
    """The work between taps, in order. `begun` is when the round was begun (the last tap of the one before).

    Taps that were taken back must have been left out; one that does not go forward is passed over.
    """
    ledger = Ledger(plan.body, lambda act: {"effort": tap_effort(act)})
    beats: list[Beat] = []
    last, work_by_move = begun, dict[int, tuple[float, int]]()

    def done_at(move: int) -> tuple[float, int]:
        """Effort and stitches up to a move; most taps begin where the one before ended."""
        if move not in work_by_move:
            work_by_move[move] = effort_before(ledger, move), plan.stitches_before(move)
        return work_by_move[move]

    for tap in _joined(taps):
        seconds = None if last is None else max(tap.at - last, 0.01)
        (effort, stitches), (more, further) = done_at(tap.before), done_at(tap.after)
        beats.append(Beat(tap.before, tap.after, seconds, more - effort, further - stitches))
        last = tap.at
    return tuple(beats)


def _joined(taps: Sequence[Tap]) -> list[Tap]:
    """The taps that go forward; in a very long round, several taken as one."""
    forward = [tap for tap in taps if tap.after > tap.before]
    together = -(-len(forward) // MOST_BEATS)
    if together <= 1:
        return forward
    chunks = [forward[i : i + together] for i in range(0, len(forward), together)]
    return [Tap(chunk[-1].at, chunk[0].before, chunk[-1].after) for chunk in chunks]


class Rhythm:
    """The taps of one round, held against the maker's pace. With too few taps every ratio is 1."""

    def __init__(self, beats: Sequence[Beat], earlier: Sequence[Beat] = ()) -> None:
        self.beats = tuple(beats)
        self._starts = [beat.start for beat in self.beats]
        self.pace = _pace(self.beats, earlier)

    def beat_at(self, move: int) -> int | None:
        """Which beat holds this move."""
        index = bisect_right(self._starts, move) - 1
        return index if index >= 0 and move < self.beats[index].until else None

    def ratio(self, index: int | None, extra: float) -> float:
        """How much likelier the time of a beat is if `extra` effort more (or less) than the line says was made."""
        if index is None or self.pace is None:
            return 1.0
        beat = self.beats[index]
        if beat.seconds is None:
            return 1.0
        return _believed(self._density(beat, beat.effort + extra) / self._density(beat, beat.effort))

    def doubled(self, index: int) -> float:
        """How much likelier the time of a beat is if nothing was worked in it."""
        return self.ratio(index, -self.beats[index].effort)

    def drawn_by_pause(self, index: int | None) -> float:
        """How much likelier a mistake is here because the work was laid down here or just before."""
        if index is None or self.pace is None:
            return 1.0
        near = (index - 1, index) if index else (index,)
        return weights.AFTER_PAUSE.value if any(self.is_pause(i) for i in near) else 1.0

    def is_pause(self, index: int) -> bool:
        """Whether the beat took many times its due."""
        beat = self.beats[index]
        if self.pace is None or beat.seconds is None:
            return False
        return beat.seconds > weights.LONG_PAUSE.value * beat.effort * exp(self.pace.log_seconds)

    def _density(self, beat: Beat, effort: float) -> float:
        """The density of the logarithm of the beat's time, had it held this much effort."""
        assert self.pace is not None and beat.seconds is not None
        return _beat_density(log(beat.seconds), effort, self.pace)


def _beat_density(log_time: float, effort: float, pace: Pace) -> float:
    # Beside a plain stitch: what takes less is a tap and no work of the hands.
    if effort < 0.35:
        return _normal(log_time, log(weights.BARE_TAP.value), weights.BARE_TAP_SPREAD.value)
    due = log(effort) + pace.log_seconds
    working = _normal(log_time, due, _spread(effort) * pace.unevenness)
    paused = _normal(log_time, log(exp(due) + weights.PAUSE_LENGTH.value), weights.PAUSE_SPREAD.value)
    return (1 - weights.PAUSES.value) * working + weights.PAUSES.value * paused


def _normal(value: float, middle: float, spread: float) -> float:
    """The normal density but for a factor that all have alike: only ratios are asked for."""
    return exp(-0.5 * ((value - middle) / spread) ** 2) / spread + 1e-12


def _spread(effort: float) -> float:
    """Spread of the logarithm of a beat's time: stitches even out, the tap itself does not."""
    return sqrt(weights.STITCH_SPREAD.value**2 / max(effort, 0.5) + weights.TAP_SPREAD.value**2)


def _believed(ratio: float) -> float:
    return float(ratio**weights.CAUTION.value)


def _pace(beats: Sequence[Beat], earlier: Sequence[Beat]) -> Pace | None:
    """The maker's pace in this round, with the rounds before while it has few taps. None when there are too few."""
    timed = [beat for beat in beats if beat.seconds is not None and beat.effort > 0]
    if len(timed) < 2 * weights.FEWEST_TAPS.value:
        timed += [beat for beat in earlier if beat.seconds is not None and beat.effort > 0]
    if len(timed) < weights.FEWEST_TAPS.value:
        return None
    logs = [(log(beat.seconds or 1.0) - log(beat.effort), _spread(beat.effort)) for beat in timed]
    middle = median(value for value, _ in logs)
    off = [abs(value - middle) / spread for value, spread in logs]
    # 1.4826 makes the median distance of a normal distribution its standard deviation.
    deviation, trust = 1.4826 * median(off), weights.SPREAD_TRUST.value
    unevenness = (deviation * len(off) + trust) / (len(off) + trust)
    return Pace(middle, min(max(unevenness, 0.6), 1.8))
