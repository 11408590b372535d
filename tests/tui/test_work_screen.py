"""The working screen in Textual: every way to advance, typing, sizes, hostile text."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.building import inc, pattern, piece, ring, rnd, toadstool
from support.running_app import text
from support.screens import app_of, shipped
from textual.geometry import Region
from textual.pilot import Pilot
from textual.strip import Strip

from tracker.pattern.model import Pattern
from tracker.project.project import Project
from tracker.session.events import Stitch
from tracker.session.view import StepSize
from tracker.tui import work_screen
from tracker.tui.app import RoundsApp
from tracker.tui.palette import PALETTES
from tracker.tui.panel import Panel
from tracker.tui.settings import Settings
from tracker.tui.sounds import Sound
from tracker.tui.work_screen import WorkScreen


async def begun(pilot: Pilot[None]) -> RoundsApp:
    """Past the materials, at work."""
    app = pilot.app
    assert isinstance(app, RoundsApp)
    await pilot.pause()
    await pilot.press("space")
    await pilot.pause()
    assert isinstance(app.screen, WorkScreen)
    return app


@pytest.mark.parametrize("key", ["space", "enter", "pagedown"])
async def test_several_keys_are_the_main_key(key: str, tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press(key)
        assert app.project is not None and app.project.view().round_label == "Rnd 2"


@pytest.mark.parametrize(
    ("where", "at", "label"),
    [
        ("#drawing", None, "Rnd 2"),
        ("#words", (3, 1), "Rnd 2"),
        ("#words", (3, 16), "Rnd 1"),
        ("#heading", None, "Rnd 1"),
        ("#shares", None, "Rnd 1"),
        ("#keys", (2, 0), "Rnd 2"),
    ],
)
async def test_a_click_goes_on_at_the_ring_and_at_now_and_on_a_key_that_is_named(
    where: str, at: tuple[int, int] | None, label: str, tmp_path: Path
) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.click(where, offset=at) if at else await pilot.click(where)
        assert app.project is not None and app.project.view().round_label == label


async def test_a_key_that_is_named_is_a_button(tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        keys = text(app, "keys").split("\n")[0]
        await pilot.click("#keys", offset=(keys.index("s stitch") + 3, 0))
        assert app.project is not None and app.project.view().stitch == 1
        await pilot.click("#keys", offset=(keys.index("u undo"), 0))
        assert app.project.view().stitch == 0


async def test_the_ticks_of_one_turn_of_the_wheel_advance_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work_screen, "WHEEL_REST", 3600.0)  # however slow the machine is
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        drawn = app.screen.query_one("#drawing")
        for _ in range(3):
            await pilot._post_mouse_events(_scrolls(), drawn)  # three ticks at once, as a free wheel sends them
        assert app.project is not None and app.project.view().round_label == "Rnd 2"


def _scrolls() -> list[type]:
    from textual.events import MouseScrollDown

    return [MouseScrollDown]


async def test_typing_a_number_is_a_count(tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("r", "7", "enter")
        await pilot.pause()
        assert app.project is not None
        found = app.project.view().unanswered
        assert found is not None and (found.counted, found.expected) == (7, 6)
        assert "1 stitch too many" in text(app, "words")
        await pilot.press("k")
        assert app.project.view().unanswered is None


async def test_keys_that_are_typed_do_not_work_the_pattern(tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("n", *"spur q", "space", "x")
        await pilot.click("#drawing")
        assert app.project is not None and app.project.view().stitch == 0
        await pilot.press("enter")
        assert app.project.view().notes_here == ("spur q x",)


@pytest.mark.parametrize("way_out", [("escape",), ("backspace",), ("enter",), ("5", "backspace", "backspace")])
async def test_there_is_a_way_out_of_typing(way_out: tuple[str, ...], tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("c", *way_out)
        await pilot.pause()
        await pilot.press("s")
        assert app.project is not None and app.project.view().stitch == 1


async def test_a_count_can_be_pasted(tmp_path: Path) -> None:
    from textual.events import Paste

    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("r", "c")
        await pilot.pause()
        app.post_message(Paste("6 sts\n"))
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert "Rnd 1: 6, as it should be" in text(app, "talk")


HOSTILE = "[bold]x[/x] [@click=app.quit]y[/] [red"


async def test_hostile_text_is_text_everywhere(tmp_path: Path) -> None:
    rounds = [rnd(1, ring(6), text=f"Rnd 1: {HOSTILE} (6)"), rnd(2, inc(6), text=f"Rnd 2: {HOSTILE}")]
    made = pattern(piece(HOSTILE, *rounds, make=2), making_up=(HOSTILE,), title=HOSTILE)
    async with app_of(made, tmp_path).run_test(size=(120, 40), notifications=True, tooltips=True) as pilot:
        app = await begun(pilot)
        assert HOSTILE in text(app, "words") and HOSTILE in text(app, "heading")
        await pilot.press("n", *"[/x] [bold", "enter")
        await pilot.pause()
        assert "note: [/x] [bold" in text(app, "words")
        for key in ("p", "m", "i", "x", "t", "e", "h", "question_mark"):
            await pilot.press(key)
            await pilot.pause()
            assert not isinstance(app.screen, WorkScreen)
            assert HOSTILE in text(app) or key in ("e", "question_mark")
            await pilot.press("q")
            await pilot.pause()
        assert isinstance(app.screen, WorkScreen)


@pytest.mark.parametrize("size", [(200, 60), (120, 40), (80, 24), (40, 20)])
@pytest.mark.parametrize("name", ["toadstool", "face-cloth"])
async def test_the_essential_things_show_in_every_size(size: tuple[int, int], name: str, tmp_path: Path) -> None:
    async with app_of(shipped(name), tmp_path).run_test(size=size) as pilot:
        app = await begun(pilot)
        await pilot.press("r", "s")
        await pilot.pause()
        view = app.project.view() if app.project else None
        assert view is not None
        told = " ".join(text(app).split())
        for part in (view.piece, f"stitch {view.stitch} of {view.expected}", "space repeat", "? help", "q leave"):
            assert part in told


async def test_below_the_least_size_one_line_says_so_and_work_goes_on_after_growing(tmp_path: Path) -> None:
    async with app_of(shipped("toadstool"), tmp_path).run_test(size=(80, 24)) as pilot:
        app = await begun(pilot)
        await pilot.press("r")
        await pilot.resize_terminal(29, 7)
        await pilot.pause()
        visible = [panel.id for panel in app.screen.query(Panel) if panel.size.height and panel.display]
        assert visible == ["small"]
        assert text(app, "small").startswith("too small: 30 by 8")
        await pilot.press("s")
        await pilot.resize_terminal(100, 30)
        await pilot.pause()
        assert "stitch 1 of 12" in text(app, "words")


def _strips(panel: Panel) -> list[Strip]:
    """The lines as Textual takes them."""
    return panel.render_lines(Region(0, 0, *panel.size))


async def test_a_tap_sends_only_what_changed(tmp_path: Path) -> None:
    """Lines that stay the same keep their strips, and no panel is laid out anew."""
    async with app_of(shipped("toadstool"), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("r", "r", "r", "r", "r", "s", "s")
        await pilot.pause()
        strips = {panel.id: _strips(panel) for panel in app.screen.query(Panel)}
        await pilot.press("s")
        await pilot.pause()
        changed = {
            panel.id: sum(one is not other for one, other in zip(_strips(panel), strips[panel.id], strict=True))
            for panel in app.screen.query(Panel)
        }
        assert changed["heading"] == changed["keys"] == changed["talk"] == 0
        assert 0 < changed["drawing"] < 10 and 0 < changed["words"] < 10


async def test_a_double_tap_counts_once_if_the_maker_wants_it(tmp_path: Path) -> None:
    settings = Settings(double_tap=5.0, main_step=StepSize.STITCH)
    async with app_of(toadstool(), tmp_path, settings).run_test() as pilot:
        app = await begun(pilot)
        await pilot.press("space", "space")
        assert app.project is not None and app.project.view().stitch == 1
        await pilot.press("s", "s")
        assert app.project.view().stitch == 3


@pytest.mark.parametrize(("bell", "rings"), [(frozenset({Sound.WARNING}), 1), (frozenset(), 0)])
async def test_the_bell_rings_for_what_the_maker_chose(
    bell: frozenset[Sound], rings: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with app_of(toadstool(), tmp_path, Settings(bell=bell)).run_test() as pilot:
        app = await begun(pilot)
        rung: list[int] = []
        monkeypatch.setattr(app, "bell", lambda: rung.append(1))
        await pilot.press("r", "9", "enter")
        await pilot.pause()
        assert len(rung) == rings


async def test_the_palettes_are_gone_through_with_a_key(tmp_path: Path) -> None:
    async with app_of(toadstool(), tmp_path).run_test() as pilot:
        app = await begun(pilot)
        named = []
        for _ in PALETTES:
            named.append(app.theme)
            await pilot.press("v")
        assert named == list(PALETTES)
        assert text(app, "talk") == "colours: lamp, dark, for the evening"


async def test_looking_on_shows_the_place_and_refuses_to_move_it(tmp_path: Path) -> None:
    first = app_of(shipped("toadstool"), tmp_path)
    assert first.project is not None
    second = app_of(shipped("toadstool"), tmp_path)
    async with second.run_test() as pilot:
        await pilot.pause()
        assert "open in another window" in text(second, "talk")
        await pilot.press("space")
        await pilot.pause()
        assert "another window" in text(second, "talk")
        assert first.project.view().stitch == 0
        first.project.do(Stitch(2))
        assert isinstance(second.screen, WorkScreen)
        second.screen.check()
        assert "stitch 2 of 6" in text(second, "words")


def changed_pattern() -> tuple[Pattern, Pattern]:
    before = pattern(piece("Cap", rnd(1, ring(6)), rnd(2, inc(6))))
    after = pattern(piece("Cap", rnd(1, ring(7), text="Rnd 1: 7 stitches"), rnd(2, inc(7))))
    return before, after


@pytest.mark.parametrize(("key", "goes_on"), [("y", True), ("q", False)])
async def test_a_changed_pattern_is_shown_and_needs_a_yes(key: str, goes_on: bool, tmp_path: Path) -> None:
    before, after = changed_pattern()
    app = app_of(before, tmp_path)
    async with app.run_test() as pilot:
        await begun(pilot)
        await pilot.press("s")
    assert app.project is not None
    app.project.close()
    again = app_of(after, tmp_path)
    async with again.run_test() as pilot:
        await pilot.pause()
        told = text(again)
        assert "- Rnd 1: 6 stitches" in told and "+ Rnd 1: 7 stitches" in told
        await pilot.press(key)
        await pilot.pause()
        assert isinstance(again.screen, WorkScreen) is goes_on


async def test_work_goes_on_without_the_materials_once_it_was_begun(tmp_path: Path) -> None:
    app = app_of(toadstool(), tmp_path)
    async with app.run_test() as pilot:
        await begun(pilot)
        await pilot.press("s", "s")
    assert app.project is not None
    app.project.close()
    again = app_of(toadstool(), tmp_path)
    async with again.run_test() as pilot:
        await pilot.pause()
        assert isinstance(again.screen, WorkScreen)
        assert "stitch 2 of 6" in text(again, "words")


async def test_who_an_unmarked_pattern_is_for_is_one_key_before_beginning(tmp_path: Path) -> None:
    async with app_of(shipped("face-cloth"), tmp_path).run_test(size=(100, 40)) as pilot:
        app = pilot.app
        assert isinstance(app, RoundsApp)
        await pilot.pause()
        assert "is this for a child under 3" in text(app) and "! a cord, tie or loop" in text(app)
        await pilot.press("3")
        await pilot.pause()
        assert "you said: a grown-up" in text(app) and "! a cord, tie or loop" not in text(app)
        await pilot.press("space", "u")
        await pilot.pause()
        assert app.project is not None and not app.project.state.work.notes


async def test_a_fault_ends_the_screen_and_is_kept_for_who_tells_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every fault that we know of is mended, so one is made here. Textual would print the code and all its values."""

    def broken(*_: object) -> None:
        raise LookupError("words of the pattern")

    app = app_of(shipped("toadstool"), tmp_path)
    with pytest.raises(LookupError):
        async with app.run_test() as pilot:
            await begun(pilot)
            monkeypatch.setattr(Project, "do", broken)
            await pilot.press("r")
            await pilot.pause()
    assert isinstance(app.fault, LookupError)
    assert "words of the pattern" not in "".join(capsys.readouterr())
