"""What is chosen from lists: where to frog to, what the main key takes, when to be asked, and the end of it all."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import toadstool
from support.screens import app_of, desk_of, shipped

from tracker.pattern.loader import loads
from tracker.session.events import AskChosen, Frog
from tracker.session.state import Place
from tracker.session.view import StepSize
from tracker.tui.commands import Command
from tracker.tui.pages.choices import ASKING, AskPage, StepPage
from tracker.tui.pages.frog import frog_rows
from tracker.tui.pages.registry import page_for
from tracker.tui.render.scene import Tone
from tracker.tui.work_screen import WorkScreen


def test_the_frog_page_tells_what_stays_and_what_goes_and_does_exactly_that(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    for _ in range(4):
        desk.round()
    desk.main()
    desk.main()
    before = desk.project.state.work.place
    rows = [row for row in frog_rows(desk) if isinstance(row.value, Frog)]
    assert rows[0].text.startswith("Rnd 5, stitch ") and rows[-1].text == "Rnd 1, its start"
    for row in rows:
        assert desk.do(row.value)
        place = desk.project.state.work.place
        assert place < before
        assert f"stitch {place.stitches}" in row.text or (place.moves == 0 and "its start" in row.text)
        desk.undo()


def test_nothing_can_be_frogged_before_anything_is_made(tmp_path: Path) -> None:
    (row,) = frog_rows(desk_of(toadstool(), tmp_path))
    assert row.value is None and "nothing" in row.text


def test_frog_while_looking_ahead_sets_the_place_there(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    desk.look(1)
    desk.look(1)
    desk.set_place()
    assert desk.project.state.work.place == Place(2) and "undo" in desk.talk.words


def test_the_lists_have_every_choice_and_begin_at_the_present_one(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    assert [row.value for row in StepPage(desk).rows()] == list(StepSize)
    assert [row.value for row in AskPage(desk).rows()] == list(ASKING)
    assert "← now" in AskPage(desk).rows()[ASKING.index(AskChosen("change"))].text
    for command in (Command.FROG, Command.MAIN_STEP, Command.ASK):
        assert page_for(command, desk).leaf.title


async def test_a_step_and_an_asking_are_chosen_with_keys(tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        await pilot.pause()
        await pilot.press("space", "o", "down", "down", "space")
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, WorkScreen) and screen.desk.main_step is StepSize.ROUND
        await pilot.press("a", "up", "space")
        await pilot.pause()
        assert screen.desk.project.state.work.asks == AskChosen("each")


def test_the_end_of_a_piece_tells_what_was_made_and_what_comes(tmp_path: Path) -> None:
    desk = desk_of(shipped("toadstool"), tmp_path)
    while not desk.view.just_made:
        desk.main()
    made, following = desk.scene().just_made
    assert made.startswith("Cap is made: 17 rounds, ") and " cm across" in made
    assert following == "next: Stem"
    desk.main()
    assert desk.scene().just_made == ()


def test_the_end_of_a_piece_tells_what_is_written_behind_its_last_round(tmp_path: Path) -> None:
    rounds = "Rnd 1: 5 sc in MR (5)\nRnd 2: sc around (5)\nLeave it empty and fold it flat."
    desk = desk_of(loads(f'[[piece]]\nname = "Arm"\nmake = 2\nrounds = """\n{rounds}\n"""'), tmp_path)
    while not desk.view.just_made:
        desk.main()
    _, *closing, following = desk.scene().just_made
    assert (closing, following) == (["Leave it empty and fold it flat."], "next: Arm 2 of 2")


def test_the_end_of_everything_can_be_begun_anew_and_that_taken_back(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    desk.begin_another()
    assert desk.talk.tone is Tone.REFUSED
    for _ in range(60):
        desk.main()
    assert desk.view.finished and desk.view.whole_share == pytest.approx(1)
    assert any("stitches" in told for told in desk.scene().just_made)
    desk.begin_another()
    assert (desk.view.round_label, desk.view.stitch, desk.view.whole_share) == ("Rnd 1", 0, 0)
    desk.undo()
    assert desk.view.finished


def test_everything_is_not_all_before_the_sewing_is_done(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    while not desk.view.all_made:
        desk.main()
    assert desk.view.whole_share < 0.9


def test_no_warning_outlives_its_cause(tmp_path: Path) -> None:
    """A count that is right again answers what is open and takes what was carried along from the screen; so does
    ripping it out."""
    desk = desk_of(shipped("toadstool"), tmp_path)
    for _ in range(3):
        desk.round()
    desk.count("17")
    assert desk.view.unanswered is not None
    desk.carry_on()
    assert desk.view.unanswered is None and len(desk.view.differences) == 1
    desk.round()
    desk.round()
    desk.count("30")
    assert desk.view.differences == ()
    desk.undo()
    assert len(desk.view.differences) == 1
    desk.do(Frog(1))
    assert desk.view.differences == () and desk.view.unanswered is None
