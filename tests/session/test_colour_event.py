"""A change of colour as it is told: at which loop, what with the old yarn, and when it is a join instead."""

from __future__ import annotations

from itertools import pairwise

from support.screens import shipped

from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.session.reducer import advance, begin
from tracker.session.state import State
from tracker.session.steps import step_now
from tracker.session.view import StepSize, View
from tracker.session.view_builder import look


def made_of(rounds: str, notes: str = "[]") -> Pattern:
    yarns = '[yarn.A]\nname = "ash"\n[yarn.B]\nname = "berry"\n'
    return loads(f'title = "T"\n{yarns}[[piece]]\nname = "P"\nnotes = {notes}\nrounds = """\n{rounds}\n"""\n')


def views(made: Pattern, size: StepSize) -> list[View]:
    """What is shown at each tap."""
    state, found = begin(made), []
    while (step := step_now(made, state, size)) is not None:
        found.append(look(made, state, size=size))
        state = State(advance(made, state, step.event, 0.0).work)
        if state.work.ended is not None:
            break
    return found


TWO = "Rnd 1 (A): 6 sc in magic ring (6)\nRnd 2: 12 sc (12)\nRnd 3 (B): sc around (12)\nRnd 4 (A): sc around (12)"


SIX = "Rnd 1 (A): 6 sc in magic ring (6)\nRnd 2 (B): sc around (6)\nRnd 3: sc around (6)"


def test_the_last_stitch_of_a_colour_stands_alone_at_every_size() -> None:
    for size in StepSize:
        for view in views(
            made_of("Rnd 1 (A): 6 sc in magic ring (6)\nRnd 2 (B): sc around (6)\nRnd 3: sc around (6)"), size
        ):
            if view.colour_event is not None:
                assert view.tap is not None and view.tap.stitches == 1
                assert (view.stitch, view.round_label, view.colour) == (5, "Rnd 1", "ash")
                break
        else:
            raise AssertionError(f"no event with {size}")


def test_right_after_the_change_the_new_colour_is_in_use() -> None:
    for size in StepSize:
        seen = views(made_of(TWO.replace("12 sc (12)", "inc x 6 (12)")), size)
        after = [late for early, late in pairwise(seen) if early.colour_event is not None]
        assert [view.colour for view in after] == ["berry", "ash"]


def test_what_becomes_of_the_old_yarn_is_told_from_the_pattern_or_from_where_it_comes_again() -> None:
    events = [view.colour_event for view in views(made_of(TWO.replace("12 sc (12)", "inc x 6 (12)")), StepSize.ROUND)]
    first, second = [event for event in events if event is not None]
    assert "ash comes again after 12 stitches" in first.old
    assert "berry is not used again in this piece: cut it" in second.old
    said = made_of(TWO.replace("12 sc (12)", "inc x 6 (12)"), '["Carry the resting yarn up the inside."]')
    told = next(view.colour_event for view in views(said, StepSize.ROUND) if view.colour_event)
    assert told.old == "the pattern says: Carry the resting yarn up the inside"


def test_a_fresh_yarn_is_joined_and_not_drawn_through() -> None:
    """The coaster says that each colour is new, and where two of its rounds begin."""
    seen = [view for view in views(shipped("tide-pool-coaster"), StepSize.ROUND) if view.colour_event]
    assert {view.colour_event.title.split()[0] for view in seen if view.colour_event} == {"join"}
    assert all(view.stitch == 0 for view in seen)
    fourth = next(view.colour_event for view in seen if view.round_label == "Rnd 4")
    assert fourth is not None and "in any ch-2 space" in fourth.how


def test_yarn_that_was_cut_is_joined_where_the_next_round_begins() -> None:
    rounds = "Rnd 1 (A): 6 sc in magic ring, fasten off (6)\nRnd 2: join A in any st, inc x 6 (12)"
    events = [view.colour_event for view in views(made_of(rounds), StepSize.REPEAT)]
    assert [event.title for event in events if event] == ["join ash"]


def test_a_yarn_that_is_left_only_for_the_join_does_not_come_again() -> None:
    joined = "Rnd 1 (A): 6 sc in magic ring, sl st to first sc (6)\nRnd 2 (B): sc around (6)"
    (event,) = [each.colour_event for each in views(made_of(joined), StepSize.ROUND) if each.colour_event]
    assert event.old == "ash is not used again in this piece: cut it, with a tail to weave in"
