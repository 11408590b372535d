"""Size, yarn and time on the screen: what is told, the ball weighed, pictures, a rest, cautions where they belong."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from support.building import inc, pattern, piece, ring, rnd, sc, toadstool
from support.screens import Clock, app_of, project_of, shipped
from textual.pilot import Pilot

from tracker.measure.safety import CAUTIONS, Concern, cautions_for
from tracker.project.project import Project
from tracker.reports.ball_weights import readings, weighings, weight_in
from tracker.reports.quantities import UnclearFigure
from tracker.session.events import BallWeighed, Frog, Note, RoundDone, Undo
from tracker.session.state import Copy
from tracker.tui.app import RoundsApp
from tracker.tui.controller import Desk
from tracker.tui.pages.estimates import MeasurePage, sum_rows, sums_of
from tracker.tui.pages.making_up import step_cautions
from tracker.tui.pages.page import Page
from tracker.tui.pages.pictures import PicturesPage
from tracker.tui.render.list_view import paint_leaf
from tracker.tui.render.styled_text import text_of
from tracker.tui.rest_reminder import SHOWN, TIME_TO_REST, RestReminder
from tracker.tui.settings import FILE, Settings, load_settings
from tracker.tui.work_screen import WorkScreen

ROOT = Path(__file__).parents[2]


def told(project: Project, copy: Copy | None = None) -> str:
    """All that the page tells, as text."""
    rows = sum_rows(sums_of(project, copy or project.state.work.in_hand), "g")
    return "\n".join(f"{row.text}\n{row.more}" for row in rows)


def leaf_text(page: Page) -> str:
    return "\n".join(text_of(line).rstrip() for line in paint_leaf(page.leaf, *page.size))


async def measured(pilot: Pilot[None], *keys: str) -> MeasurePage:
    """The page, opened from the working screen after some keys."""
    await pilot.pause()
    await pilot.press("space", *keys)
    await pilot.pause()
    await pilot.press("y")
    await pilot.pause()
    assert isinstance(pilot.app.screen, MeasurePage)
    return pilot.app.screen


def test_the_finished_size_is_told_from_the_gauge(tmp_path: Path) -> None:
    """42 stitches at 22 over 10 cm are 19.1 cm around and, by pi, 6.1 cm across."""
    text = told(project_of(shipped("toadstool"), tmp_path))
    assert "Cap, finished: 6.1 cm across" in text
    assert "from the gauge: 22 sc and 24 rounds over 10 cm" in text


def test_without_a_gauge_and_a_weight_no_centimetres_are_made_up(tmp_path: Path) -> None:
    text = told(project_of(toadstool(), tmp_path))
    assert "no gauge" in text and "stitch widths" in text
    assert " cm " not in text


def test_the_round_that_will_ruffle_is_told_while_it_is_made(tmp_path: Path) -> None:
    plan = pattern(piece("Frill", rnd(1, ring(6)), rnd(2, inc(6)), rnd(3, inc(12)), rnd(4, inc(24))))
    project = project_of(plan, tmp_path)
    for _ in range(3):
        project.do(RoundDone())
    assert "Rnd 4, when done:" in told(project) and "ruffles: 24 more" in told(project)


def test_before_there_is_data_no_time_and_no_grams_are_told(tmp_path: Path) -> None:
    text = told(project_of(shipped("toadstool"), tmp_path))
    assert "Time: not known yet" in text
    assert "weigh the ball now" in text
    assert "still needed" not in text and "minutes" not in text


def test_time_is_a_range_from_the_makers_own_taps(tmp_path: Path) -> None:
    """20 rounds of 30 stitches at 2 seconds a stitch; ten rounds are left: 600 seconds, and a range around them."""
    clock = Clock()
    rounds = [rnd(number, sc(30)) for number in range(2, 22)]
    project = project_of(pattern(piece("Tube", rnd(1, ring(30)), *rounds)), tmp_path, clock)
    for _ in range(11):
        clock.now += 60
        project.do(RoundDone())
    assert "Time at your own pace: 9 to 11 minutes for the rest." in told(project)


def tube(folder: Path) -> Project:
    return project_of(pattern(piece("Tube", rnd(1, ring(20)), *(rnd(n, sc(20)) for n in range(2, 11)))), folder)


def test_a_ball_weighed_twice_tells_what_is_still_needed(tmp_path: Path) -> None:
    """5 rounds of 20 took 10 g (give or take a gram), so the other 5 take as much."""
    project = tube(tmp_path)
    project.do(BallWeighed("", 40))
    for _ in range(5):
        project.do(RoundDone())
    assert "the ball weighed 40 g" in told(project)
    project.do(BallWeighed("", 30))
    text = told(project)
    assert "100 of 200 stitches made; 9.0-11.0 g used, 9.0-11.0 g still needed" in text
    assert "yes, it lasts" in text


@pytest.mark.parametrize(
    ("before", "after", "answer"), [(40, 30, "yes"), (20, 10, "close"), (15, 5, "no, it does not")]
)
def test_the_ball_lasts_or_not(before: float, after: float, answer: str, tmp_path: Path) -> None:
    project = tube(tmp_path)
    project.do(BallWeighed("", before))
    for _ in range(5):
        project.do(RoundDone())
    project.do(BallWeighed("", after))
    assert answer in told(project).partition("will this ball last?")[2]


def test_a_weighing_that_was_taken_back_does_not_count(tmp_path: Path) -> None:
    project = tube(tmp_path)
    project.do(BallWeighed("", 40))
    project.do(RoundDone())
    project.do(BallWeighed("", 4))
    project.do(Undo())
    (left,) = readings(project.pattern, project.history(), project.state)
    assert left.grams == 40


def test_a_heavier_ball_is_another_ball_and_ripped_rounds_are_no_work(tmp_path: Path) -> None:
    project = tube(tmp_path)
    for grams in (10, 50):
        project.do(BallWeighed("", grams))
        project.do(RoundDone())
    project.do(RoundDone())
    project.do(BallWeighed("", 46))
    project.do(Frog(0))
    project.do(BallWeighed("", 45))
    found = weighings(readings(project.pattern, project.history(), project.state))
    assert [(one.before, one.after, one.work.stitches) for one in found[""]] == [(50, 46, 40)]


def test_another_note_is_no_weighing(tmp_path: Path) -> None:
    project = tube(tmp_path)
    project.do(Note("the ball weighs a lot"))
    assert readings(project.pattern, project.history(), project.state) == ()


@pytest.mark.parametrize(
    ("typed", "found"),
    [("43", ("R", 43)), (" 43.5 g ", ("R", 43.5)), ("43,5", ("R", 43.5)), ("C 20", ("C", 20)), ("c=20 g", ("C", 20))],
)
def test_grams_are_typed_as_people_type_them(typed: str, found: tuple[str, float]) -> None:
    assert weight_in(typed, "R", ("R", "C")) == found


@pytest.mark.parametrize("typed", ["", "much", "0", "-3", "X 20", "1e9", "99999", "20 kg", "[b]20"])
def test_grams_that_make_no_sense_are_told(typed: str) -> None:
    with pytest.raises(UnclearFigure):
        weight_in(typed, "R", ("R", "C"))


async def test_the_ball_is_weighed_with_keys_and_kept(tmp_path: Path) -> None:
    app = app_of(shipped("toadstool"), tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        page = await measured(pilot)
        await pilot.press("g", "q", "enter")
        assert "type the grams" in leaf_text(page), "what is no weight stays in the line"
        await pilot.press("backspace", "5", "0", "enter")
        assert "the weight is noted" in leaf_text(page) and "the ball weighed 50 g" in leaf_text(page)
        assert app.project is not None
        assert [(w.yarn, w.grams) for w in app.project.state.work.weights] == [("R", 50.0)]
        await pilot.press("g", "escape", "q")
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen)


@pytest.mark.parametrize("size", [(80, 24), (40, 20)])
async def test_every_picture_is_shown_and_can_be_scrolled(size: tuple[int, int], tmp_path: Path) -> None:
    async with app_of(shipped("toadstool"), tmp_path).run_test(size=size) as pilot:
        await measured(pilot, "r", "r", "r")
        await pilot.press("d")
        await pilot.pause()
        page = pilot.app.screen
        assert isinstance(page, PicturesPage)
        titles = []
        for _ in _SHOWN:
            titles.append(page.leaf.title)
            seen = leaf_text(page)
            assert all(len(line) <= size[0] for line in seen.split("\n")) and "q back" in seen
            await pilot.press("end")
            assert "↓ more" not in leaf_text(page)
            await pilot.press("d")
        assert titles == [f"Cap, {what} ({n} of 5)" for n, what in enumerate(_SHOWN, 1)]
        assert page.leaf.title == titles[0]


_SHOWN = ("as it stands", "as it will be", "all pieces together", "Rnd 4", "all rounds")


async def test_the_outline_tells_what_is_to_come_and_the_chart_its_symbols(tmp_path: Path) -> None:
    async with app_of(shipped("toadstool"), tmp_path).run_test(size=(80, 24)) as pilot:
        await measured(pilot, "r", "r", "r")
        await pilot.press("d")
        await pilot.pause()
        page = pilot.app.screen
        assert isinstance(page, PicturesPage)
        assert "3 of 17 rounds made, the dots are to come" in " ".join(leaf_text(page).split())
        await pilot.press("d", "d", "d")
        assert "x   sc - single crochet" in leaf_text(page)
        assert "vv  2 sc in one place (inc)" in leaf_text(page)


async def test_the_page_opens_for_another_piece_from_the_list(tmp_path: Path) -> None:
    async with app_of(shipped("toadstool"), tmp_path).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("space", "p")
        await pilot.pause()
        await pilot.press("down", "y")
        await pilot.pause()
        page = pilot.app.screen
        assert isinstance(page, MeasurePage) and "Stem, finished:" in leaf_text(page)


def test_a_rest_is_told_after_the_time_that_was_set_and_goes_away() -> None:
    rest = RestReminder(600)
    times = [0.0, 599, 600, 600 + SHOWN - 1, 600 + SHOWN, 1000, 1200 + SHOWN]
    assert [rest.word(at, False) for at in times] == ["", "", TIME_TO_REST, TIME_TO_REST, "", "", TIME_TO_REST]


def test_a_pause_is_a_rest_and_a_new_day_begins_anew() -> None:
    rest = RestReminder(600)
    assert [rest.word(at, paused) for at, paused in ((0, False), (500, True), (700, False))] == ["", "", ""]
    assert rest.word(1100, False) == TIME_TO_REST
    assert rest.word(10, False) == ""
    assert RestReminder(0).word(10**6, False) == ""


def test_a_rest_stands_on_the_screen_only_while_nothing_else_is_said(tmp_path: Path) -> None:
    clock = Clock()
    desk = Desk(project_of(toadstool(), tmp_path, clock), Settings(rest_after=300))
    for _ in range(2):
        desk.stitch()
        desk.scene()
        clock.now += 150
    desk.stitch()
    assert desk.scene().message == TIME_TO_REST
    desk.count("x")
    assert desk.scene().message.startswith("type how many")


@pytest.mark.parametrize(
    ("text", "seconds"), [('"45 min"', 2700), ('"5m"', 300), ('"off"', 0), ('"2 min"', None), ("45", None)]
)
def test_the_time_to_a_rest_is_set_in_minutes(text: str, seconds: float | None, tmp_path: Path) -> None:
    (tmp_path / FILE).write_text(f"rest_after = {text}", "utf-8")
    found = load_settings(tmp_path)
    assert found.rest_after == (seconds or 0)
    assert bool(found.problems) is (seconds is None)


def test_an_unmarked_pattern_says_its_cautions_for_the_case_of_a_child() -> None:
    plan = pattern(piece("Bear", rnd(1, ring(6))), making_up=("Sew on the bead eyes.", "Press the seam."))
    cautions = cautions_for(plan)
    small = CAUTIONS[Concern.SMALL_PARTS].text
    assert step_cautions(cautions, 0) == f"if a child will have it: {small}"
    assert step_cautions(cautions, 1) == ""


def test_nobody_waits_for_measures_and_pictures_at_the_working_screen() -> None:
    """What the screen loads before a page is opened, in a fresh interpreter."""
    code = (
        "import sys, tracker.tui.app, tracker.tui.work_screen\n"
        "print([name for name in sys.modules if name.startswith(('tracker.measure', 'tracker.pictures', "
        "'tracker.telling', 'tracker.sheet'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, cwd=ROOT)
    assert (done.stdout.strip(), done.stderr) == ("[]", "")


async def test_the_working_screen_of_work_under_way_opens_without_them(tmp_path: Path) -> None:
    project = project_of(toadstool(), tmp_path)
    project.do(RoundDone())
    before = {name for name in sys.modules if name.startswith(("tracker.measure", "tracker.pictures"))}
    taken = {name: sys.modules.pop(name) for name in before}
    try:
        app = RoundsApp(tmp_path / "data", Settings(), project)
        async with app.run_test() as pilot:
            await pilot.pause()
            await pilot.press("space", "s")
            assert isinstance(app.screen, WorkScreen)
        assert not [name for name in sys.modules if name.startswith(("tracker.measure", "tracker.pictures"))]
    finally:
        sys.modules.update(taken)


@pytest.mark.parametrize(("key", "grams"), [("R", 50.5), ("MC", 7), ("", 1234)])
def test_a_weighing_is_read_back(key: str, grams: float, tmp_path: Path) -> None:
    project = tube(tmp_path)
    project.do(BallWeighed(key, grams))
    (found,) = readings(project.pattern, project.history(), project.state)
    assert (found.key, found.grams) == (key, grams)


def test_a_uk_pattern_is_measured_in_uk_words(tmp_path: Path) -> None:
    """Tension for gauge, and dc, htr, tr for what US patterns call sc, hdc, dc: the published table of terms."""
    project = project_of(shipped("face-cloth"), tmp_path)
    told = " ".join(f"{row.text} {row.more}" for row in sum_rows(sums_of(project, Copy(0, 1)), "g"))
    assert "from the tension: 16 dc and 18 rounds over 10 cm" in told and "gauge" not in told
    assert "height of tr, htr beside dc" in told
