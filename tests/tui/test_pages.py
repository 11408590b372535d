"""The pages over the working screen: pieces, making up, explanations, history, the first list."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some
from support.building import ch, dec, inc, rnd, shell, st, toadstool
from support.screens import SHIPPED, Clock, app_of, desk_of, project_of, shipped, shown

from tracker.journal import UnderWay, projects_under_way
from tracker.pattern.loader import loads
from tracker.project.work_time import Day
from tracker.session.due_notes import due_notes
from tracker.session.events import Note, PieceChosen, RoundDone
from tracker.session.view_words import named_copies
from tracker.tui.app import RoundsApp
from tracker.tui.commands import COMMANDS, Keys
from tracker.tui.pages.help import help_rows
from tracker.tui.pages.history import history, notes
from tracker.tui.pages.home import home_rows, titled
from tracker.tui.pages.materials import materials
from tracker.tui.pages.pieces import piece_row
from tracker.tui.pages.round_details import ExplainPage, explained, other_notes
from tracker.tui.palette import LAMP
from tracker.tui.render.list_view import (
    Leaf,
    Row,
    in_sight,
    lines_of,
    moved,
    paint_leaf,
    room_for,
    scrolled,
    with_rows,
)
from tracker.tui.render.styled_text import text_of
from tracker.tui.settings import Settings
from tracker.tui.work_screen import WorkScreen

leaves = some.lists(some.booleans(), min_size=1, max_size=40).map(
    lambda flags: with_rows(
        Leaf("t", ()), tuple(Row("word " * 9, index if flag else None) for index, flag in enumerate(flags))
    )
)


@given(leaves, some.lists(some.sampled_from([1, -1, 5]), max_size=20), some.integers(20, 80), some.integers(6, 30))
def test_the_chosen_row_is_always_in_sight(leaf: Leaf, steps: list[int], width: int, height: int) -> None:
    leaf = in_sight(leaf, width, height)
    for step in steps:
        leaf = moved(leaf, step, width, height)
    if leaf.chosen is None:
        return
    first = next(index for index, (row, _) in enumerate(lines_of(leaf, width)) if row == leaf.chosen)
    assert leaf.top <= first < leaf.top + room_for(leaf, width, height)


@given(leaves, some.integers(-50, 50), some.integers(1, 80), some.integers(1, 30))
def test_a_page_has_the_size_it_is_given(leaf: Leaf, by: int, width: int, height: int) -> None:
    painted = paint_leaf(scrolled(leaf, by, width, height), width, height)
    assert len(painted) <= height
    assert all(len(row) <= width for row in shown(painted).split("\n"))


def test_what_can_be_chosen_stays_chosen_when_rows_change() -> None:
    leaf = with_rows(Leaf("t", ()), (Row("a"), Row("b", 1), Row("c", 2)))
    assert leaf.chosen == 1
    leaf = in_sight(moved(leaf, 1, 40, 10), 40, 10)
    assert with_rows(leaf, (Row("a", 0), Row("b", 1), Row("c", 2))).chosen == 2
    assert with_rows(leaf, (Row("a", 0),)).chosen == 0
    assert with_rows(leaf, ()).value is None


def test_the_help_names_every_command_on_one_screen() -> None:
    rows = help_rows(Keys())
    painted = paint_leaf(Leaf("keys", rows), 80, 24)
    assert "↓ more" not in shown(painted)
    assert all(told.help in shown(painted) for told in COMMANDS.values())


def test_pieces_tell_how_far_each_copy_is(tmp_path: Path) -> None:
    project = project_of(toadstool(), tmp_path)
    project.do(RoundDone())
    project.do(PieceChosen(1, 2))
    told = [
        piece_row(project.pattern, project.state, copy).text for copy in named_copies(project.pattern, project.state)
    ]
    assert told == [
        "Cap  17%, 1 of 3 rounds done",
        "Stem 1 of 2  not begun",
        "Stem 2 of 2  not begun  ← here",
    ]


async def test_another_piece_is_chosen_and_each_keeps_its_place(tmp_path: Path) -> None:
    app = app_of(toadstool(), tmp_path)
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("space", "r", "p")
        await pilot.pause()
        await pilot.press("down", "down", "space")
        await pilot.pause()
        assert app.project is not None
        view = app.project.view()
        assert (view.piece, view.copy, view.round_label) == ("Stem", 2, "Rnd 1")
        await pilot.press("p", "up", "up", "enter")
        await pilot.pause()
        assert app.project.view().round_label == "Rnd 2"


async def test_making_up_steps_are_ticked_and_unticked(tmp_path: Path) -> None:
    app = app_of(toadstool(), tmp_path)
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("space", "x")
        await pilot.pause()
        await pilot.press("space", "space")
        assert app.project is not None
        assert [done for _, done in app.project.view().making_up] == [True, True]
        await pilot.press("up", "up", "space")
        assert [done for _, done in app.project.view().making_up] == [False, True]


async def test_a_key_writes_what_was_made_as_a_sheet_and_never_over_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page for print is HTML; what the maker did stands in it (a count of theirs, a note)."""
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    desk = desk_of(toadstool(), tmp_path / "data")
    desk.round()
    desk.note("a thinner yarn <b>")
    for name in ("toadstool-as-made.html", "toadstool-as-made-2.html"):
        desk.write_sheet()
        assert desk.talk.words == f"written: {name}"
        page = (tmp_path / "here" / name).read_text("utf-8")
        assert page.startswith("<!DOCTYPE html>") and "a thinner yarn &lt;b&gt;" in page
    monkeypatch.setattr(Path, "cwd", lambda: tmp_path / "gone")
    desk.write_sheet()
    assert desk.talk.words == f"written: {desk.project.folder / 'toadstool-as-made.html'}"


def test_stitches_are_explained_with_both_names_the_present_one_first() -> None:
    a_round = rnd(3, ch(1), st("hdc"), inc(), dec(), shell())
    us = [row.text for row in explained(a_round, 1, "US")]
    assert us[0] == "half double crochet (hdc)"
    assert {"increase (inc)", "decrease (dec)", "single crochet (sc)", "shell"} <= set(us)
    uk = list(explained(a_round, 1, "UK"))
    assert uk[0].text == "half treble (htr)" and "US: half double crochet (hdc)" in uk[0].more
    assert list(explained(None, 0, "US")) == []


@pytest.mark.parametrize("taps", [0, 12])
async def test_one_key_shows_every_note_of_the_piece_once(tmp_path: Path, taps: int) -> None:
    app = app_of(shipped("toadstool"), tmp_path)
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("space", *"r" * taps, "e")
        await pilot.pause()
        assert isinstance(app.screen, ExplainPage) and app.project is not None
        told = "\n".join(row.text for row in app.screen.rows())
        cap = app.project.pattern.pieces[0]
        sentences = [note.text.rstrip(".") for note in due_notes(cap)]
        assert len(sentences) > 2 and [told.count(each) for each in sentences] == [1] * len(sentences)


def test_a_piece_without_other_notes_has_no_heading_for_them() -> None:
    cap = shipped("toadstool").pieces[0]
    everything = ". ".join(note.text.rstrip(".") for note in due_notes(cap))
    assert list(other_notes(cap, everything)) == []


def test_history_is_told_by_days_the_newest_first(tmp_path: Path) -> None:
    days = (Day("2025-11-13", 1, 59.0), Day("2025-11-14", 6, 48 * 60.0))
    assert [row.text for row in history(days)] == [
        "14 Nov 2025: 6 rounds, 48 minutes",
        "13 Nov 2025: 1 round, under a minute",
    ]
    assert [row.text for row in history(())] == ["nothing yet"]


def test_notes_are_told_with_their_places(tmp_path: Path) -> None:
    project = project_of(toadstool(), tmp_path)
    project.do(Note("loose"))
    project.do(RoundDone())
    project.do(Note("[tight]"))
    told = [(row.text, row.more) for row in notes(project)][2:]
    assert told == [("[tight]", "Cap, Rnd 2, stitch 0"), ("loose", "Cap, Rnd 1, stitch 0")]


def test_five_rows_tell_what_matters_before_the_first_stitch() -> None:
    rows = list(materials(shipped("toadstool"), LAMP))
    assert [text_of(row.bits) or row.text for row in rows[:5]] == [
        "to make: Cap, Stem, 3 times Large spot, 5 times Small spot",
        "yarn: ▐█▌brick red (R), ▐█▌cream (C), ▐█▌moss green (G)",
        "hook 3.5 mm (US E-4, old UK 9); gauge: 22 sc and 24 rounds over 10 cm",
        "also: stuffing, about 25 g; disc of stiff card, 4 cm across; yarn needle; stitch marker",
        "! fine needles sink in and come out elsewhere: a firm filling, a stiff base, and out of children's reach",
    ]
    assert not any(row.more for row in rows)
    assert "brick red (R), weight 3, 50 g, 120 m" in [row.text for row in rows]


def test_a_caution_stands_below_the_thing_that_it_is_about_its_source_behind_a_key() -> None:
    """The source, 16 CFR 1501.4, is a published rule."""
    bear = loads('title = "Bear"\nfor = "child under 3"\nnotions = ["yarn needle", "two 8 mm safety eyes"]\n' + PIECE)
    told = list(materials(bear, LAMP, with_sources=True))
    eyes = [row.text for row in told].index("also: two 8 mm safety eyes")
    assert told[eyes + 1].text.startswith("! no eyes, beads, buttons")
    assert told[eyes + 1].more.startswith("16 CFR 1501.4")


PIECE = '[[piece]]\nname = "Bear"\nrounds = "Rnd 1: 6 sc in magic ring (6)"\n'


def test_the_first_list_has_what_is_under_way_and_what_could_be_begun(tmp_path: Path) -> None:
    project = project_of(toadstool(), tmp_path, Clock())
    project.do(RoundDone())
    under_way = projects_under_way(tmp_path / "data")
    rows = list(home_rows(under_way, titled(sorted(SHIPPED.glob("*.toml")))))
    told = [row.text for row in rows]
    assert told[0] == "under way"
    assert told[1].startswith("Toadstool  8%, next: Cap, Rnd 2: 6 increases")
    assert "Toadstool pincushion" in told and "Striped lighthouse paperweight" in told


def test_a_pattern_under_way_is_not_offered_again(tmp_path: Path) -> None:
    path = SHIPPED / "toadstool.toml"
    known = UnderWay("Toadstool pincushion", path, 0.5, "Cap, Rnd 9", False, 0.0, "")
    told = [row.text for row in home_rows([known], titled([path]))]
    assert len([part for part in told if part.startswith("Toadstool pincushion")]) == 1


def test_a_finished_project_says_so() -> None:
    known = UnderWay("Hat", Path("hat.toml"), 1.0, "", True, 0.0, "")
    assert list(home_rows([known], []))[1].text == "Hat  finished"


def test_a_file_that_is_no_pattern_goes_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    path.write_text("title = 3", "utf-8")
    assert titled([path]) == [("odd", path)]


async def test_a_pattern_is_chosen_from_the_list_and_worked(tmp_path: Path) -> None:
    app = RoundsApp(tmp_path, Settings(), shipped=sorted(SHIPPED.glob("*.toml")))
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press("space")
        await pilot.pause()
        await pilot.press("space")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen)
        assert app.project is not None
    app.project.close()


@pytest.mark.parametrize("key", ["q", "escape"])
async def test_leaving_the_first_list_leaves_the_program(key: str, tmp_path: Path) -> None:
    app = RoundsApp(tmp_path, Settings(), shipped=[])
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press(key)
        await pilot.pause()
        assert not app.is_running or app.return_code == 0
