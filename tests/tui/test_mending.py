"""Printed lines mended where the maker works: choices, the line typed, the number of a round that is not read."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.running_app import text
from support.screens import app_of, shown
from textual.pilot import Pilot

from tracker.notation.context import Context
from tracker.pattern.live_reading import Around
from tracker.pattern.loader import loads
from tracker.pattern.model import Pattern
from tracker.tui.app import RoundsApp
from tracker.tui.pages.live_line import live_line, paint_typed
from tracker.tui.pages.mend import MendPage
from tracker.tui.pages.rounds import RoundsPage
from tracker.tui.render.text_field import TextEntry
from tracker.tui.work_screen import WorkScreen

BALL = '''title = "Ball"
for = "adult"
[[piece]]
name = "Ball"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 5 (18)
Rnd 4: (2 sc, inc) x 6 (24)
Rnd 5: work the fancy edge
Rnds 6-7: sc around (24)
Rnd 8: (2 sc, dec) x 6 (16)
Rnd 9: (1 sc, dec) x 6 (12)
"""
'''
"""Rnd 3 has one repeat too few, Rnd 5 cannot be read, and the total of Rnd 8 is not the 18 that it makes."""


def ball() -> Pattern:
    return loads(BALL)


async def at_work(pilot: Pilot[None], *keys: str) -> RoundsApp:
    """At work, after these keys."""
    app = pilot.app
    assert isinstance(app, RoundsApp)
    await pilot.pause()
    await pilot.press("space")
    await pilot.pause()
    for key in keys:
        await pilot.press(key)
    await pilot.pause()
    return app


def rounds(app: RoundsApp) -> list[tuple[int | None, str]]:
    """What each round leaves and whether it comes out."""
    assert app.project is not None
    return [(item.leaves, item.verdict) for item in app.project.pattern.pieces[0].rounds]


async def test_a_misprint_is_mended_with_one_key_and_undo_takes_it_back(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test() as pilot:
        app = await at_work(pilot, "r", "r", "m")
        assert isinstance(app.screen, MendPage)
        assert "(1 sc, inc) x 5 (18)" in text(app) and "1  Rnd 3: (1 sc, inc) x 6 (18)" in text(app)
        await pilot.press("1")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen)
        assert rounds(app)[2:4] == [(18, "ok"), (24, "ok")]
        shown_words = " ".join(text(app).split())
        assert "changed; the pattern has Rnd 3: (1 sc, inc) x 5 (18) Rnd 3: (1 sc, inc) x 6 (18)" in shown_words
        await pilot.press("u")
        await pilot.pause()
        assert rounds(app)[2] == (15, "disagrees")


async def test_what_the_reader_asks_about_is_agreed_to_with_one_key(tmp_path: Path) -> None:
    """18 there less six decreases are 12: by hand."""
    line = "Rnd 4: (1 sc, dec) x 6 (12) * With thin yarn you may want fewer decreases, 4 or 5 will do."
    start = "Rnd 1: 6 sc in magic ring (6)\nRnd 2: inc x 6 (12)\nRnd 3: (1 sc, inc) x 6 (18)\n"
    bowl = loads(f'[[piece]]\nname = "Bowl"\nrounds = """\n{start}{line}\nRnd 5: 12 sc (12)\n"""\n')
    async with app_of(bowl, tmp_path).run_test(size=(110, 30)) as pilot:
        app = await at_work(pilot, "r", "r", "r", "m")
        assert isinstance(app.screen, MendPage)
        told = " ".join(text(app).split())
        assert "1 Rnd 4: (1 sc, dec) x 6 (12)" in told and "leaves 12: right?" in told
        await pilot.press("1")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen) and app.project is not None
        mended = app.project.pattern.pieces[0].rounds[3]
        assert (mended.text, mended.leaves, mended.verdict) == ("Rnd 4: (1 sc, dec) x 6 (12)", 12, "ok")
        await pilot.press("u")
        await pilot.pause()
        assert app.project.pattern.pieces[0].rounds[3].verdict == "warning"


async def test_the_page_reads_what_is_typed_at_every_key(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test(size=(80, 24)) as pilot:
        app = await at_work(pilot, "r", "r", "m", "e", "ctrl+u", *["delete"] * 40)
        for character in "(1 sc, inx":
            await pilot.press({" ": "space", ",": "comma", "(": "left_parenthesis"}.get(character, character))
        await pilot.pause()
        assert "unknown word" in text(app) or "not closed" in text(app)
        await pilot.press("backspace")
        await pilot.pause()
        assert "tab: inc" in text(app)
        await pilot.press("tab", ")", "space", "x", "space", "6")
        await pilot.pause()
        assert "takes 12 of 12, leaves 18; Rnd 4 needs 18" in text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen)
        assert app.project is not None
        assert app.project.pattern.pieces[0].rounds[2].text == "Rnd 3: (1 sc, inc) x 6"
        assert app.project.printed.pieces[0].rounds[2].text == "Rnd 3: (1 sc, inc) x 5 (18)"


async def test_a_line_that_is_not_read_is_refused_in_place_and_nothing_typed_is_lost(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test() as pilot:
        app = await at_work(pilot, "r", "r", "m", "e", "end", "x", "q", "enter")
        assert isinstance(app.screen, MendPage)
        assert "xq" in text(app) and "!" in text(app)
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen) and rounds(app)[2][1] == "disagrees"


async def test_a_round_that_is_not_read_asks_for_one_number(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test() as pilot:
        app = await at_work(pilot, "r", "r", "m", "1", "r", "r", "m")
        assert "how many stitches does it leave?" in text(app)
        await pilot.press("2", "4", "enter")
        await pilot.pause()
        assert rounds(app)[4:7] == [(24, "ok")] * 3
        assert "it leaves 24" in text(app)


async def test_the_number_counted_in_a_round_that_is_not_read_is_what_it_leaves(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test() as pilot:
        app = await at_work(pilot, *["r"] * 5, "2", "4", "enter")
        assert "Rnd 5 leaves 24" in text(app)
        assert rounds(app)[4][0] == 24
        await pilot.press("u")
        assert rounds(app)[4][0] is None


@pytest.mark.parametrize(
    ("counted", "told"),
    [("18", "18 agrees with: Rnd 3: (1 sc, inc) x 6 (18)"), ("15", "15 is what the words of Rnd 3 make")],
)
async def test_a_count_in_a_doubtful_round_is_never_wrong(counted: str, told: str, tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test(size=(120, 30)) as pilot:
        app = await at_work(pilot, "r", "r", "r", *counted, "enter")
        assert told in text(app)
        assert app.project is not None and app.project.view().unanswered is None
        await pilot.press("m")
        await pilot.pause()
        assert f"you counted {counted}" in text(app)
        if counted == "18":
            assert "18 agrees with this, so that is what you made: keep it?" in text(app)
            await pilot.press("space")
            await pilot.pause()
            assert rounds(app)[2] == (18, "ok")
            assert app.project.state.work.witnesses == ()


async def test_as_printed_settles_the_doubt_and_the_place_stays(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test() as pilot:
        app = await at_work(pilot, "r", "r", "s", "s", "s", "m", "p")
        assert app.project is not None
        view = app.project.view()
        assert (view.round_label, view.stitch, view.doubt) == ("Rnd 3", 3, "")
        assert rounds(app)[2] == (15, "ok")


async def test_the_list_of_rounds_walks_through_what_is_in_doubt(tmp_path: Path) -> None:
    async with app_of(ball(), tmp_path).run_test(size=(100, 30)) as pilot:
        app = await at_work(pilot, "i")
        assert isinstance(app.screen, RoundsPage)
        assert "! Rnd 3: (1 sc, inc) x 5 (18)" in text(app)
        await pilot.press("d")
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        await pilot.press("2", "4", "enter")
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        assert isinstance(app.screen, RoundsPage)
        assert {verdict for _, verdict in rounds(app)} == {"ok"}
        assert "as printed: Rnd 3: (1 sc, inc) x 5 (18)" in text(app)


def test_the_mark_stands_under_the_word_that_is_not_known() -> None:
    lines = shown(paint_typed(TextEntry("", "3 sc, glorp in next st", 0), (6, 11), 40)).split("\n")
    assert lines[1] == "      ^^^^^"


def test_a_long_line_is_wrapped_and_the_mark_stays_under_its_word() -> None:
    text = "(1 sc, inc) x 6, " * 4 + "glorp"
    lines = shown(paint_typed(TextEntry("", text, len(text)), (len(text) - 5, len(text)), 30)).split("\n")
    where = next(index for index, part in enumerate(lines) if "glorp" in part)
    assert lines[where + 1].index("^") == lines[where].index("glorp")


def test_control_characters_of_a_paste_never_reach_the_line() -> None:
    typed = live_line(Around(None, Context()), "")
    typed.paste("6 sc\x1b[2J in\nmagic ring")
    assert typed.entry.text == "6 sc[2J in magic ring"
