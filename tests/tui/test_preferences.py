"""The page of settings: what is changed there holds at once, and at the next start."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from support.building import toadstool
from support.screens import app_of, desk_of

from tracker.session.events import AskChosen
from tracker.session.steps import StepSize
from tracker.tui.commands import Command, Keys
from tracker.tui.pages.preferences import FIELDS, MAIN_KEY, VALUES, VOICE, PreferencesPage, hint_of, words_of, written
from tracker.tui.settings import Settings, load_settings
from tracker.tui.settings_writer import keep
from tracker.tui.work_screen import WorkScreen

EACH = [(name, value) for name, values in VALUES.items() for value in values]


@pytest.mark.parametrize(("name", "value"), EACH, ids=[f"{name}-{number}" for number, (name, _) in enumerate(EACH)])
def test_each_value_is_read_again_as_it_was_chosen(name: str, value: object, tmp_path: Path) -> None:
    chosen = replace(Settings(), **{FIELDS.get(name, name): value})  # type: ignore[arg-type]
    assert keep(tmp_path, name, written(name, chosen))
    assert load_settings(tmp_path) == chosen


def test_a_key_and_a_voice_are_read_again(tmp_path: Path) -> None:
    chosen = Settings(keys=Keys({Command.MAIN: ("f5", "space")}), speak=("espeak-ng", "-v", "en gb"))
    keep(tmp_path, MAIN_KEY, written(MAIN_KEY, chosen), "keys")
    keep(tmp_path, VOICE, written(VOICE, chosen))
    assert load_settings(tmp_path) == chosen


def test_every_setting_has_words_of_its_own(tmp_path: Path) -> None:
    desk = desk_of(toadstool(), tmp_path)
    assert len({words_of(name, desk) for name in VALUES}) == len(VALUES)
    assert all(hint_of(name, desk) for name in VALUES)


async def test_what_is_changed_holds_at_once_and_is_kept(tmp_path: Path) -> None:
    app = app_of(toadstool(), tmp_path)
    async with app.run_test() as pilot:
        await pilot.press("space", "comma")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, PreferencesPage)
        await pilot.press("right", "down", "right", "down", "space", "l", "l")
        assert "l is a main key: it works" in [row.more for row in page.rows()]
        await pilot.press("down", "right", "right", "space", "space")
        assert any(row.more.startswith("2 tapped, ") for row in page.rows())
        await pilot.press(*["down", "right"] * 4)
        await pilot.press("down", "right", "down", "space", "/", "n", "o", "enter")
        assert any("cannot speak" in row.more for row in page.rows())
        await pilot.press("q")
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, WorkScreen)
        desk = screen.desk
        assert (desk.main_step, desk.project.state.work.asks) == (StepSize.RUN, AskChosen("every", 2))
        await pilot.press("l")
        assert desk.view.round_index == 1 and desk.keys.of(Command.AHEAD) == ("right",)
    found = load_settings(tmp_path / "data")
    assert found.problems == ()
    assert replace(found, keys=Keys(), speak=()) == replace(desk.settings, keys=Keys(), speak=())
    assert found.keys.command("l") is Command.MAIN
    assert (found.double_tap, found.palette, found.left_handed, found.rest_after) == (0.3, "daylight", True, 1200)
    assert (found.letters, found.speak) == ("large", ("/no",))


async def test_new_work_asks_for_counts_as_it_was_set(tmp_path: Path) -> None:
    app = app_of(toadstool(), tmp_path, Settings(asks=AskChosen("never")))
    async with app.run_test() as pilot:
        await pilot.press("space")
        await pilot.pause()
        assert app.project is not None and app.project.state.work.asks == AskChosen("never")
