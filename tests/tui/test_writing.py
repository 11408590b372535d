"""Patterns written as they are made: told with yarn and gauge, begun from a shape, grown out of mere counting."""

from __future__ import annotations

from pathlib import Path

from support.running_app import pressed, text
from textual import events
from textual.pilot import Pilot

from tracker.pattern.loader import all_problems, load
from tracker.tui.app import RoundsApp
from tracker.tui.pages.new import NewPage
from tracker.tui.pages.write import WritePage
from tracker.tui.settings import Settings
from tracker.tui.work_screen import WorkScreen


async def written(pilot: Pilot[None], words: str, *keys: str) -> RoundsApp:
    """Words put into the line that is open, and keys behind them."""
    app = await pressed(pilot)
    app.screen.post_message(events.Paste(words))
    return await pressed(pilot, *keys)


def leaves(app: RoundsApp) -> list[int | None]:
    assert app.project is not None
    return [item.leaves for item in app.project.pattern.pieces[0].rounds]


async def test_a_pattern_with_yarn_and_gauge_grows_by_proven_rounds(
    tmp_path: Path,
) -> None:
    """22 stitches over 10 cm: a round of 12 is 12 x 10 / 22 / pi = 1.7 cm across (geometry). Six increases over the
    12 that they left do not come out again; six more stitches do."""
    app = RoundsApp(tmp_path, Settings())
    async with app.run_test(size=(100, 30)) as pilot:
        await pressed(pilot, "n")
        await written(pilot, "Bud", "down")
        await written(pilot, "brick red, weight 3", "down")
        await written(pilot, "22 sc by 24 rounds", "enter")
        assert isinstance(app.screen, WritePage)
        await written(pilot, "6 sc in magic ring", "enter")
        assert app.project is not None
        yarn, gauge = app.project.pattern.yarns[0], app.project.pattern.gauge
        assert (yarn.name, yarn.weight, gauge and (gauge.stitches, gauge.rounds)) == ("brick red", 3, (22, 24))
        await pressed(pilot, "r", "j")
        await written(pilot, "inc x 6")
        assert "takes 6 of 6, leaves 12" in text(app) and "flat, about 1.7 cm across" in text(app)
        await pressed(pilot, "enter", "r", "j")
        await written(pilot, "same again")
        assert "(1 sc, inc) x 6" in text(app) and "unknown word" not in text(app)
        await pressed(pilot, "enter", "r", "j")
        await written(pilot, "as round 9")
        assert "tab: a whole round" not in text(app)
        await pressed(pilot, "escape")
        assert leaves(app) == [6, 12, 18]
        await pressed(pilot, "up", "up", "i", "home")
        await pressed(pilot, "up", "up", "up", "space", "e", "ctrl+u")
        await written(pilot, "8 sc in magic ring")
        assert "Rnd 2" in text(app) and "! Rnd 2 needs 6" in text(app)
        await pressed(pilot, "enter", "escape", "q")
        app.project.close()


async def test_mere_counting_takes_counts_a_rhythm_and_rounds(tmp_path: Path) -> None:
    """Four stitches more in each 3rd round, over the 24 that were counted: 28 in round 3."""
    app = RoundsApp(tmp_path, Settings())
    async with app.run_test(size=(100, 30)) as pilot:
        await pressed(pilot, "c", "r", "2", "4", "enter")
        assert "24 written down for Rnd 1" in text(app)
        await pressed(pilot, "j")
        await written(pilot, "every 3rd round increase by 4")
        assert "Rnd 3: (5 sc, inc) x 4 (28)" in text(app)
        await pressed(pilot, "enter")
        assert isinstance(app.screen, WorkScreen) and leaves(app)[:4] == [24, 24, 28, 28]
        assert app.project is not None and app.project.view().round_label == "Rnd 2"
        path = app.project.path
        app.project.close()
    assert all_problems(load(path)) == []


async def test_a_shape_is_begun_on_the_screen_and_what_makes_no_sense_is_said(tmp_path: Path) -> None:
    app = RoundsApp(tmp_path, Settings())
    async with app.run_test(size=(80, 24)) as pilot:
        await pressed(pilot, "n", "up", "up")
        await written(pilot, "bal", "enter")
        assert isinstance(app.screen, NewPage) and "a shape is one of ball, disk" in text(app)
        await pressed(pilot, "l", "down", "4")
        assert "cm the other way" in text(app) and "neither gauge nor yarn weight was given" in text(app)
        await pressed(pilot, "enter")
        assert app.project is not None and app.project.pattern.title == "Ball of 4 cm"
        app.project.close()
