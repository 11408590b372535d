"""The place, as what the events add up to: `advance(pattern, state, event, at)` is all there is to it.

Undo is an event too: nothing in the journal is ever deleted. What was before each of the last events is kept with
the state, so that taking back needs no history.
"""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.normalize import clean
from tracker.pattern.mending import line_of, mended
from tracker.pattern.model import Pattern
from tracker.session.audience import Audience
from tracker.session.correcting import corrected
from tracker.session.counting import asked_when, carried_on, counted, part_counted
from tracker.session.events import (
    HEAVIEST,
    AskChosen,
    AudienceChosen,
    BallWeighed,
    BegunAnew,
    CarryOn,
    CauseConfirmed,
    CauseSupposed,
    Closed,
    Counted,
    Deed,
    Event,
    Frog,
    Making,
    MovesDone,
    Note,
    NoteTicked,
    Opened,
    Part,
    PartCounted,
    PieceChosen,
    RepeatDone,
    RoundCorrected,
    RoundDone,
    RoundLeaves,
    RoundRewritten,
    StepDone,
    Stitch,
    Undo,
)
from tracker.session.mistakes import Mistake
from tracker.session.movement import chosen, frogged, rewritten, ticked, worked
from tracker.session.state import REMEMBERED, BallWeight, Miscount, Refused, Remark, State, Work, next_copy
from tracker.session.worked_rounds import refitted, round_at

__all__ = ["REMEMBERED", "Refused", "State", "Work", "advance", "begin", "round_at"]


LONGEST_NOTE = 4000
"""Characters in one note; more is a paste gone wrong."""


def begin(pattern: Pattern) -> State:
    """Nothing made yet: the first round of the first piece."""
    work = Work()
    first = next_copy(pattern, work)
    return State(work if first is None else work.going_on_with(first))


def advance(pattern: Pattern, state: State, event: Event, at: float) -> State:
    """The state after an event that happened `at` seconds since the epoch.

    Raises `Refused` where the event makes no sense.
    """
    if isinstance(event, Opened | Closed):
        return State(state.work, state.past, at)
    if isinstance(event, Undo):
        if not state.past:
            raise Refused("there is nothing to take back")
        return State(state.past[-1], state.past[:-1], at)
    work = work_after(pattern, state.work, event, at)
    past = state.past if len(state.past) < REMEMBERED else state.past[1 - REMEMBERED :]
    return State(work, (*past, state.work), at)


def work_after(pattern: Pattern, work: Work, event: Deed, at: float) -> Work:
    """The work after an event that is no undo. Raises `Refused` where it makes no sense.

    A change of several rounds answers one count: all of its parts are told of the count that was open before.
    """
    answered = work.unanswered
    if isinstance(event, Part):
        return _after_part(mended(pattern, work.corrections), work, event, at, answered)
    if not event.parts:
        raise Refused("there is nothing to do")
    for part in event.parts:
        work = _after_part(mended(pattern, work.corrections), work, part, at, answered)
    return work


_GOING_ON = (Stitch, RepeatDone, RoundDone, MovesDone, Frog, Counted, CarryOn, RoundRewritten, PieceChosen)


def _after_part(pattern: Pattern, work: Work, event: Part, at: float, answered: Miscount | None) -> Work:
    if isinstance(event, _GOING_ON):
        work = _gone_on(work)
    if isinstance(event, Making):
        return worked(pattern, work, event)
    state = State(work)
    match event:
        case Frog():
            return frogged(pattern, state, event)
        case Counted():
            return _counted(pattern, state, event)
        case PartCounted():
            return refitted(pattern, work, part_counted(pattern, state, event))
        case CarryOn():
            return refitted(pattern, work, carried_on(work, event.fitted))
        case RoundRewritten():
            return rewritten(pattern, state, event, answered)
        case RoundCorrected() | RoundLeaves():
            return corrected(pattern, state, event)
        case CauseConfirmed():
            return _confirmed(work, event)
        case CauseSupposed():
            return replace(work, supposed=(_cause(event.cause),))
        case Note():
            return _noted(work, event, at)
        case AudienceChosen():
            return _for_audience(work, event)
        case BallWeighed():
            return _weighed(work, event, at)
        case StepDone():
            return _step_done(pattern, work, event)
        case BegunAnew():
            return _anew(pattern, work)
        case NoteTicked():
            return ticked(pattern, work, event)
        case PieceChosen():
            return chosen(pattern, state, event)
        case AskChosen():
            return asked_when(work, event)


def _counted(pattern: Pattern, state: State, event: Counted) -> Work:
    """A count. In a round that nobody could read it tells how many stitches that leaves."""
    work = refitted(pattern, state.work, counted(pattern, state, event))
    witness = work.witnesses[-1] if work.witnesses != state.work.witnesses else None
    if witness is None or witness.copy != work.in_hand:
        return work
    copy, index = witness.copy, witness.round_index
    if round_at(pattern, state.work, copy.piece, copy.number, index).leaves is not None:
        return work
    if line_of(pattern.pieces[copy.piece], index) is None:
        return work
    return corrected(pattern, replace(state, work=work), RoundLeaves(copy.piece, index, witness.counted))


def _gone_on(work: Work) -> Work:
    """Whoever goes on answers no more what was asked on the way, and counts no more by parts."""
    return replace(work, supposed=(), part_counts=()) if work.supposed or work.part_counts else work


def _anew(pattern: Pattern, work: Work) -> Work:
    """Nothing made; lines that were corrected are, whoever works them."""
    fresh = begin(pattern).work
    work_begun = replace(fresh, asks=work.asks, causes=work.causes, audience=work.audience, weights=work.weights)
    return replace(work_begun, corrections=work.corrections)


def _confirmed(work: Work, event: CauseConfirmed) -> Work:
    return replace(work, causes=(*work.causes, _cause(event.cause)), supposed=())


def _cause(name: str) -> str:
    if name not in {mistake.value for mistake in Mistake}:
        raise Refused("there is no such cause of a differing count")
    return name


def _noted(work: Work, event: Note, at: float) -> Work:
    text = clean(event.text).strip()
    if not text:
        raise Refused("the note is empty")
    if len(text) > LONGEST_NOTE:
        raise Refused(f"a note can have {LONGEST_NOTE:,} characters, this one has {len(text):,}")
    remark = Remark(work.copy, work.place.round_index, work.place.stitches, text, at)
    return replace(work, notes=(*work.notes, remark))


def _for_audience(work: Work, event: AudienceChosen) -> Work:
    if event.audience not in {audience.value for audience in Audience}:
        raise Refused("nobody knows whom that means")
    return replace(work, audience=event.audience)


def _weighed(work: Work, event: BallWeighed, at: float) -> Work:
    if not 0 < event.grams <= HEAVIEST:
        raise Refused(f"a ball of {event.grams:g} g cannot be: look at the scale again")
    return replace(work, weights=(*work.weights, BallWeight(event.yarn, event.grams, at)))


def _step_done(pattern: Pattern, work: Work, event: StepDone) -> Work:
    if not 0 <= event.step < len(pattern.making_up):
        raise Refused("there is no such making-up step")
    if (event.step in work.steps_done) == event.done:
        raise Refused("that step is ticked already" if event.done else "that step is not ticked")
    others = tuple(step for step in work.steps_done if step != event.step)
    return replace(work, steps_done=tuple(sorted((*others, event.step))) if event.done else others)
