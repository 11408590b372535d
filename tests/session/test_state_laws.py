"""Laws of the place, for any order of events: undo gives back, replay is the same, frog and rework leave no trace."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from support.event_scripts import PATTERN, events, moves

from tracker.pattern.model import Pattern
from tracker.session.events import (
    AskChosen,
    Closed,
    Counted,
    Event,
    Frog,
    Opened,
    RoundDone,
    Stitch,
    Undo,
)
from tracker.session.reducer import Refused, State, advance, begin
from tracker.session.replay import replayed
from tracker.session.serialization import event_in, event_out, state_in, state_out
from tracker.session.state import Work, is_made, next_copy
from tracker.session.view_builder import look
from tracker.session.worked_rounds import round_at


def taken(state: State, event: Event, at: float = 0.0) -> State | None:
    """The state after an event; None if it is refused."""
    try:
        return advance(PATTERN, state, event, at)
    except Refused as refused:
        assert refused.reason and refused.reason == refused.reason.strip() and not refused.reason.endswith(".")
        return None


def is_possible(pattern: Pattern, work: Work) -> bool:
    """A place that a maker can be at: inside a round, or at the end of a copy when there is nothing else to go to."""
    place = work.place
    if place.round_index == len(pattern.pieces[work.copy.piece].rounds):
        return (place.moves, place.stitches) == (0, 0)
    item = round_at(pattern, work, work.copy.piece, work.copy.number, place.round_index)
    stitches = item.plan.stitches_before(place.moves) if item.plan else 0
    return 0 <= place.moves < max(item.moves, 1) and place.stitches == stitches


class Maker(RuleBasedStateMachine):
    """A maker who does anything at all. Beside the state stands a plain list of what it was before each event."""

    @initialize()
    def begin(self) -> None:
        self.state = begin(PATTERN)
        self.before: list[Work] = []
        self.log: list[tuple[Event, float]] = []
        self.clock = 0.0

    def happened(self, event: Event, state: State) -> None:
        self.log.append((event, self.clock))
        self.state = state

    @rule(event=events)
    def do(self, event: Event) -> None:
        self.clock += 1
        after = taken(self.state, event, self.clock)
        if after is None:
            return
        self.before.append(self.state.work)
        self.happened(event, after)

    @rule()
    def undo(self) -> None:
        self.clock += 1
        after = taken(self.state, Undo(), self.clock)
        assert (after is None) == (not self.before)
        if after is not None:
            self.happened(Undo(), after)
            assert self.state.work == self.before.pop()

    @rule(event=some.sampled_from([Closed(), Opened("x")]))
    def come_and_go(self, event: Event) -> None:
        work = self.state.work
        self.happened(event, advance(PATTERN, self.state, event, self.clock))
        assert self.state.work == work

    @rule()
    def save_and_resume(self) -> None:
        assert state_in(json.loads(json.dumps(state_out(self.state)))) == self.state

    @rule()
    def replay(self) -> None:
        """Written down, read back and gone through at once, all leads to the same, also what can be taken back."""
        log = [(at, event_in(json.loads(json.dumps(event_out(event))))) for event, at in self.log]
        assert replayed(PATTERN, log) == self.state

    @precondition(lambda self: self.state.work.ended is None)
    @rule(data=some.data())
    def frog_and_rework(self, data: some.DataObject) -> None:
        """Ripping back and working up to the same place again leaves the place as if nothing had been ripped."""
        work = self.state.work
        if work.place.round_index >= len(PATTERN.pieces[work.copy.piece].rounds):
            return
        index = data.draw(some.integers(0, work.place.round_index))
        ripped = taken(self.state, Frog(index))
        assert ripped is not None
        if ripped.work.own_rounds != work.own_rounds:
            return  # what a changed round made up for is ripped out, and it is worked as written again
        state = ripped
        while state.work.place.round_index < work.place.round_index:
            state = advance(PATTERN, state, RoundDone(), 0.0)
        if work.place.stitches:
            state = advance(PATTERN, state, Stitch(work.place.stitches), 0.0)
        assert state.work.copy == work.copy
        reached = state.work.place
        assert (reached.round_index, reached.stitches) == (work.place.round_index, work.place.stitches)
        assert reached.moves <= work.place.moves
        assert (state.work.parked, state.work.notes, state.work.steps_done) == (
            work.parked,
            work.notes,
            work.steps_done,
        )

    @invariant()
    def the_place_is_possible(self) -> None:
        work = self.state.work
        assert is_possible(PATTERN, work)
        assert work.copy not in {parked.copy for parked in work.parked}
        if work.ended is not None:
            assert is_made(PATTERN, work, work.ended) and not is_made(PATTERN, work, work.copy)

    @invariant()
    def the_view_can_be_shown(self) -> None:
        view = look(PATTERN, self.state)
        assert 0 <= view.piece_share <= 1 and 0 <= view.whole_share <= 1
        assert view.now
        assert view.all_made == (next_copy(PATTERN, self.state.work) is None)
        assert (view.whole_share > 1 - 1e-9) == view.finished
        if view.finished:
            assert all(done for _, done in view.making_up)


TestMaker = Maker.TestCase
TestMaker.settings = settings(max_examples=60, stateful_step_count=40, deadline=None)


@settings(deadline=None)
@given(some.lists(events, max_size=12), some.integers(1, 9), some.integers(1, 9))
def test_so_many_stitches_and_so_many_more_are_the_sum_of_both(before: list[Event], first: int, second: int) -> None:
    state = begin(PATTERN)
    for event in before:
        state = taken(state, event) or state
    together = taken(state, Stitch(first + second))
    half = taken(state, Stitch(first))
    apart = taken(half, Stitch(second)) if half else None
    if together is not None:
        assert apart is not None
        assert apart.work.place_in(state.work.copy) == together.work.place_in(state.work.copy)


@settings(deadline=None)
@given(some.lists(events, max_size=20))
def test_a_refused_event_changes_nothing(script: list[Event]) -> None:
    state = begin(PATTERN)
    for event in script:
        kept = replace(state)
        state = taken(state, event) or state
        assert state is not kept
        if state == kept:
            assert taken(state, event) is None or isinstance(event, AskChosen | Counted | Frog)


@settings(deadline=None)
@given(some.lists(moves, min_size=1, max_size=40))
def test_working_only_goes_forward(script: list[Event]) -> None:
    state = begin(PATTERN)
    for event in script:
        after = taken(state, event)
        if after is None:
            continue
        assert look(PATTERN, after).whole_share > look(PATTERN, state).whole_share
        state = after


def test_rounds_alone_finish_everything() -> None:
    state = begin(PATTERN)
    count = 0
    while next_copy(PATTERN, state.work) is not None:
        state = advance(PATTERN, state, RoundDone(), 0.0)
        count += 1
    assert count == 3 + 2 + 3 * 2
    with pytest.raises(Refused):
        advance(PATTERN, state, RoundDone(), 0.0)
