"""Keys become events, and what is said and heard about them."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import ch, inc, pattern, piece, ring, rnd, sc, times, toadstool
from support.screens import desk_of, shipped, shown

from tracker.session.audience import ANSWERS
from tracker.session.events import AskChosen, CarryOn, Frog, MovesDone, RoundDone, Stitch
from tracker.session.steps import step_now
from tracker.session.view import StepSize
from tracker.tui.commands import COMMANDS, Command
from tracker.tui.render.instructions import words
from tracker.tui.render.scene import Tone
from tracker.tui.settings import Settings, load_settings
from tracker.tui.sounds import Sound


def test_the_main_key_goes_on_by_a_repeat(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    desk.round()
    desk.round()
    desk.main()
    assert (desk.view.round_label, desk.view.stitch, desk.view.repeat) == ("Rnd 3", 3, 2)


@pytest.mark.parametrize(
    ("step", "event"),
    [
        (StepSize.STITCH, Stitch()),
        (StepSize.RUN, MovesDone(3)),
        (StepSize.REPEAT, MovesDone(5)),
        (StepSize.ROUND, RoundDone()),
    ],
)
def test_what_the_main_key_advances_is_chosen(step: StepSize, event: object, tmp_path: Path) -> None:
    desk = desk_of(pattern(piece("Cap", rnd(1, times(4, sc(3), inc())))), tmp_path)
    found = step_now(desk.pattern, desk.project.state, step)
    assert found is not None and found.event == event


def test_a_run_that_makes_no_stitch_goes_with_the_next(tmp_path: Path) -> None:
    desk = desk_of(pattern(piece("Cap", rnd(1, ch(1), sc(6)))), tmp_path)
    found = step_now(desk.pattern, desk.project.state, StepSize.RUN)
    assert found is not None and found.event == RoundDone()


def test_progress_tells_how_far_the_main_key_goes(tmp_path: Path) -> None:
    desk = desk_of(pattern(piece("Cap", rnd(1, times(4, sc(3), inc())))), tmp_path)
    reach = {}
    for step in StepSize:
        desk.main_step = step
        reach[step] = desk.scene().progress.until
    assert reach == {
        StepSize.REPEAT: 5,
        StepSize.RUN: 3,
        StepSize.ROUND: 20,
        StepSize.STITCH: 1,
    }


def test_the_main_step_is_changed_with_a_key_and_named_in_the_footer(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    words = []
    for size in (*list(StepSize)[1:], StepSize.REPEAT):
        words.append(desk.scene().keys[0].words)
        desk.take_step(size)
    assert words == ["repeat", "run", "round", "stitch"]
    assert desk.talk.words == "space now goes on by one repeat"
    desk.take_step(StepSize.RUN)
    assert load_settings(tmp_path / "data").main_step is StepSize.RUN


def test_an_equal_count_is_a_quiet_yes(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    desk.count("6")
    assert (desk.talk.words, desk.talk.tone) == ("Rnd 1: 6, as it should be", Tone.GOOD)
    assert desk.take_sounds() == []


def test_a_differing_count_is_heard(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    desk.count("7")
    assert desk.view.unanswered is not None
    assert desk.take_sounds() == [Sound.WARNING]
    assert desk.take_sounds() == []


@pytest.mark.parametrize("typed", ["", "six", "-3", "6 7"])
def test_a_count_that_is_no_number_changes_nothing(typed: str, tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    before = desk.project.state
    desk.count(typed)
    assert desk.talk.tone is Tone.REFUSED
    assert desk.project.state == before


def test_frogging_goes_to_a_place_and_undo_brings_it_back(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    for _ in range(6):
        desk.round()
    desk.do(Frog(2, 4))
    assert (desk.view.round_label, desk.view.stitch) == ("Rnd 3", 4)
    desk.undo()
    assert (desk.view.round_label, desk.view.stitch) == ("Rnd 7", 0)


def test_a_refusal_is_said_and_changes_nothing(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.undo()
    assert (desk.talk.words, desk.talk.tone) == ("there is nothing to take back", Tone.REFUSED)


def test_notes_stand_at_their_place(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.note("hook 3 mm [bold]here[/]")
    assert desk.view.notes_here == ("hook 3 mm [bold]here[/]",)


def test_the_cue_is_heard_with_the_step_that_changes_colour(tmp_path: Path) -> None:
    desk = desk_of(shipped("lighthouse"), tmp_path)
    desk.main_step = StepSize.STITCH
    desk.do(Frog(9, 11))
    desk.take_sounds()
    desk.stitch()
    assert Sound.COLOUR in desk.take_sounds()
    desk.stitch()
    assert Sound.COLOUR not in desk.take_sounds()


def test_the_last_stitch_of_a_round_is_heard(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    for _ in range(4):
        desk.stitch()
    assert Sound.ROUND not in desk.take_sounds()
    desk.stitch()
    assert Sound.ROUND in desk.take_sounds()


@pytest.mark.parametrize("counted", ["5", "7"])
def test_the_last_stitch_is_heard_and_the_makers_number_shown_after_carrying_on(tmp_path: Path, counted: str) -> None:
    """Six increases do not fit, so the difference of one goes on: 11 or 13. The round ends with its last tap."""
    desk = desk_of(toadstool(), tmp_path)
    desk.round()
    desk.count(counted)
    desk.do(CarryOn())
    desk.take_sounds()
    for _ in range(10):
        desk.stitch()
    assert Sound.ROUND not in desk.take_sounds()
    desk.stitch()
    assert Sound.ROUND in desk.take_sounds()
    assert f"stitch 11 of {int(counted) + 6}" in shown(words(desk.scene(), 42, 19))


def test_every_command_has_a_key_of_its_own() -> None:
    keys = [key for told in COMMANDS.values() for key in told.keys]
    assert len(keys) == len(set(keys))
    assert set(COMMANDS) == set(Command)


def test_problems_with_the_settings_are_said_at_the_start(tmp_path: Path) -> None:
    desk = desk_of(
        toadstool(), tmp_path, Settings(problems=("hand in settings.toml: one of right, left is expected",))
    )
    assert desk.scene().message == "hand in settings.toml: one of right, left is expected"


def test_an_asking_wish_is_heeded(tmp_path: Path) -> None:
    desk = desk_of(pattern(piece("Cap", *(rnd(n, ring(6)) for n in range(1, 7)))), tmp_path)
    desk.do(AskChosen("every", 3))
    asked = []
    for _ in range(5):
        desk.round()
        asked.append(desk.view.asks_count)
    assert asked == [False, False, True, False, False]


def test_for_whom_it_is_made_is_no_note_on_the_round(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.do(ANSWERS[0].event)
    desk.note("tight")
    assert desk.view.notes_here == ("tight",)
