"""What the main key does now: the event that it sends, and how far that goes in the round."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass
from tracker.pattern.model import Pattern, Round
from tracker.rounds.plan import Plan
from tracker.session.colour_changes import cue_words
from tracker.session.events import Event, RepeatDone, RoundDone, Stitch
from tracker.session.reducer import Refused, State, advance, round_at
from tracker.session.view import ColourChange
from tracker.tui.commands import MainStep
from tracker.tui.render.progress_ring import Progress


@dataclass(frozen=True, slots=True)
class Onward:
    """How far the main key would go, and the cue for a change of colour on the way, or ""."""

    progress: Progress
    cue: str


def present_round(pattern: Pattern, state: State) -> Round | None:
    """The round being worked; None when the copy in hand is made."""
    copy, index = state.work.copy, state.work.place.round_index
    if copy.piece >= len(pattern.pieces) or index >= len(pattern.pieces[copy.piece].rounds):
        return None
    return round_at(pattern, state, copy.piece, copy.number, index)


def main_event(pattern: Pattern, state: State, step: MainStep) -> Event:
    """What the main key means at this place."""
    if step is MainStep.STITCH:
        return Stitch()
    if step is MainStep.ROUND:
        return RoundDone()
    if step is MainStep.RUN:
        present = present_round(pattern, state)
        if present is not None and present.plan is not None:
            return Stitch(_left_of_run(present.plan, state.work.place.moves))
    return RepeatDone()


def _left_of_run(plan: Plan, move: int) -> int:
    """Stitches to the end of the run of equal stitches; what makes no stitch goes with the next that does."""
    spot = plan.spot(move)
    if spot is None:
        return 1
    end = move - spot.in_act + spot.act.moves * (spot.run_times - spot.in_run)
    return max(1, plan.stitches_before(end) - spot.stitches_done)


def progress(pattern: Pattern, state: State, step: MainStep) -> Progress:
    """Moves of the present round that are done, and how many will be after the main key."""
    work = state.work
    present = present_round(pattern, state)
    if present is None:
        return Progress(1, 1)
    try:
        after = advance(pattern, state, main_event(pattern, state, step), state.at).work
    except Refused:
        return Progress(work.place.moves, work.place.moves)
    same = after.copy == work.copy and after.place.round_index == work.place.round_index
    return Progress(work.place.moves, after.place.moves if same else present.moves)


def onward(pattern: Pattern, state: State, step: MainStep, change: ColourChange | None) -> Onward:
    """What the main key would do; `change` is the next change of colour."""
    ahead = progress(pattern, state, step)
    present = present_round(pattern, state)
    if present is None or present.plan is None:
        return Onward(ahead, "")
    stitches = present.plan.stitches_before(ahead.until) - present.plan.stitches_before(ahead.done)
    return Onward(ahead, cue_words(change, stitches))
