"""The first screen as the maker's shelf, and the page where a printed page is pasted."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from support.running_app import pressed, text
from support.screens import Clock
from textual import events
from textual.pilot import Pilot

from tracker.journal.pattern_files import own_folder, page_kept, shelf
from tracker.pattern.loader import load
from tracker.project.project import open_project
from tracker.session.events import RoundDone, Undo
from tracker.tui.app import RoundsApp
from tracker.tui.pages.home import HomePage
from tracker.tui.pages.mend import MendPage
from tracker.tui.pages.paste import PastePage
from tracker.tui.render.list_view import Leaf, Row, is_mark_seen, scrolled, turned, with_rows
from tracker.tui.settings import Settings
from tracker.tui.work_screen import WorkScreen

KNOB = '''title = "{title}"
for = "adult"
[[piece]]
name = "Knob"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
"""
'''

PAGE = """Pebble
For an adult. Hook 3 mm. US terms.

Top
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: sc around (12)
"""


ROUND = ["space" if each == " " else each for each in "6 sc in magic ring"]


def begun(folder: Path, title: str, *, rounds: int = 1) -> Path:
    """A project with so many rounds made."""
    path = folder / f"{title.casefold()}.toml"
    path.write_text(KNOB.format(title=title), "utf-8")
    project = open_project(load(path), path, folder / "data", Clock())
    for _ in range(rounds):
        project.do(RoundDone())
    project.close()
    return path


def app_on(folder: Path) -> RoundsApp:
    return RoundsApp(folder / "data", Settings())


async def pasted(pilot: Pilot[None], page: str) -> RoundsApp:
    app = await pressed(pilot)
    app.screen.post_message(events.Paste(page))
    await pilot.pause()
    await pilot.pause()
    return app


def words(app: RoundsApp) -> str:
    """What the screen shows, wherever its lines break."""
    return " ".join(text(app).split())


def title_at_work(app: RoundsApp) -> str:
    assert isinstance(app.screen, WorkScreen) and app.project is not None
    app.project.close()
    return app.project.pattern.title


async def test_the_shelf_tells_what_is_under_way_and_what_is_finished(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    begun(tmp_path, "Bean", rounds=2)
    async with app_on(tmp_path).run_test(size=(100, 30)) as pilot:
        told = text(await pressed(pilot))
        assert told.index("under way") < told.index("Acorn") < told.index("finished") < told.index("Bean")


async def test_going_on_takes_one_key_and_finds_the_place(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "space")
        assert app.project is not None and app.project.view().round_label == "Rnd 2"
        assert title_at_work(app) == "Acorn"


async def test_making_it_again_is_a_new_project_and_the_old_one_stays(tmp_path: Path) -> None:
    path = begun(tmp_path, "Acorn")
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "a")
        assert app.project is not None
        assert app.project.view().round_label == "Rnd 1"
        app.project.close()
        assert app.project.path.parent == own_folder(tmp_path / "data")
    with closing(open_project(load(path), path, tmp_path / "data", Clock(), to_work=False)) as old:
        assert old.view().round_label == "Rnd 2"


async def test_what_rests_is_listed_so_and_the_same_key_takes_it_up_again(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "r")
        assert "resting" in text(app) and "under way" not in text(app)
        assert list(shelf(tmp_path / "data")[0].values()) == ["resting"]
        await pressed(pilot, "r")
        assert "under way" in text(app) and "resting" not in text(app)
        assert shelf(tmp_path / "data") == ({}, "")


async def test_what_is_taken_off_the_list_can_be_seen_and_brought_back(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    begun(tmp_path, "Bean")
    async with app_on(tmp_path).run_test(size=(100, 30)) as pilot:
        app = await pressed(pilot)
        first, other = sorted(("Acorn", "Bean"), key=text(app).index)
        await pressed(pilot, "d")
        assert first not in text(app) and other in text(app)
        await pressed(pilot, "o")
        assert text(app).index("taken off the list") < text(app).index(first)
        await pressed(pilot, "down", "d", "o")
        assert first in text(app) and other in text(app)
        assert shelf(tmp_path / "data") == ({}, "")


async def test_a_damaged_list_or_page_is_told_once_and_kept_aside(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    data = tmp_path / "data"
    (data / "shelf.json").write_text('{"x": "resti')
    (data / "page.json").write_text('{"text": "Hat", "mends": 7}')
    async with app_on(tmp_path).run_test(size=(100, 30)) as pilot:
        app = await pressed(pilot)
        assert "! shelf.json was damaged; what is left of it is kept as shelf-damaged-1.json" in text(app)
        await pressed(pilot, "r")
        assert "resting" in text(app) and "damaged" not in text(app)
        await pressed(pilot, "v")
        assert "! page.json was damaged; what is left of it is kept as page-damaged-1.json" in text(app)
    assert (data / "shelf-damaged-1.json").read_text() == '{"x": "resti'


async def test_finding_by_name_shows_only_what_has_it_and_enter_goes_on(tmp_path: Path) -> None:
    begun(tmp_path, "Acorn")
    begun(tmp_path, "Bean")
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "f", "B", "e")
        assert "Bean" in text(app) and "Acorn" not in text(app)
        await pressed(pilot, "escape")
        assert "Bean" in text(app) and "Acorn" in text(app)
        await pressed(pilot, "f", "a", "c", "enter")
        assert title_at_work(app) == "Acorn"


async def test_a_pattern_that_is_gone_cannot_be_made_again_and_it_is_said_why(tmp_path: Path) -> None:
    path = begun(tmp_path, "Acorn")
    path.unlink()
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pressed(pilot, "a")
        assert isinstance(app.screen, HomePage)
        assert "!" in text(app) and "no such file" in text(app)


async def test_just_counting_takes_two_keys(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "c", "r")
        assert app.project is not None and app.project.view().round_label == "Rnd 2"
        assert title_at_work(app) == "Counting"


async def test_a_pattern_of_one_s_own_is_a_title_and_a_round(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test() as pilot:
        app = await pressed(pilot, "n", *"Bud", "enter", *ROUND, "enter")
        assert app.project is not None
        assert [item.leaves for item in app.project.pattern.pieces[0].rounds] == [6]
        assert title_at_work(app) == "Bud"


async def test_a_page_pasted_on_the_first_screen_is_kept_with_one_key(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, PAGE)
        assert isinstance(app.screen, PastePage)
        told = text(app)
        assert all(line.strip() in told for line in PAGE.splitlines() if line.strip()), "every line is somewhere"
        assert "1 piece, 3 lines of rounds; US terms" in told
        await pressed(pilot, "enter")
        assert app.project is not None
        assert [item.leaves for item in app.project.pattern.pieces[0].rounds] == [6, 12, 12]
        await pressed(pilot, "space", "s")
        assert app.project.view().stitch == 1, "with the paste these are four keys to the first stitch"
        app.project.close()


async def test_a_page_is_put_right_before_it_is_kept_and_a_killed_program_loses_none_of_it(tmp_path: Path) -> None:
    """Twelve and six are 18 by hand; the line in doubt, the name and the title are there again in the next program,
    and undo takes back what was mended on the page."""
    page = PAGE.replace("(12)\nRnd 3: sc around (12)", "(12)\nRnd 3: (1 sc, inc) x 5 (18)")
    async with app_on(tmp_path).run_test(size=(100, 30)) as pilot:
        app = await pasted(pilot, page)
        assert "! Rnd 3 → 15" in text(app) and "Rnd 2 → 12" in text(app) and "d 1 to look at" in text(app)
        await pressed(pilot, "d")
        assert isinstance(app.screen, MendPage)
        await pressed(pilot, "1")
        assert "Rnd 3 → 18, mended: Rnd 3: (1 sc, inc) x 6 (18)" in text(app)
        await pressed(pilot, "down", "down", "h", "ctrl+u", *"Lid", "enter", "t", "ctrl+u", *"Jar", "enter")
    async with app_on(tmp_path).run_test(size=(100, 30)) as pilot:
        app = await pressed(pilot, "v")
        assert "was here when the program ended" in text(app) and "piece 'Lid'" in text(app)
        await pressed(pilot, *["down"] * 3, "n")
        assert "2 lines of rounds" in text(app) and "kept as a note" in text(app)
        await pressed(pilot, "r", "enter")
        assert app.project is not None and app.project.pattern.pieces[0].name == "Lid"
        assert [item.leaves for item in app.project.pattern.pieces[0].rounds] == [6, 12, 18]
        assert app.project.printed.pieces[0].rounds[2].text == "Rnd 3: (1 sc, inc) x 5 (18)"
        assert page_kept(tmp_path / "data") == ({}, "")
        assert app.project.pattern.title == "Jar"
        app.project.do(Undo())
        assert app.project.pattern.pieces[0].rounds[2].leaves == 15
        app.project.close()


async def test_keys_act_only_on_a_marked_line_in_sight_say_what_they_do_and_are_taken_back(tmp_path: Path) -> None:
    """The last line is far below the first screen; the one before may be a round; no yarn is called D."""
    notes = "".join(f"Remark {number} on the weather.\n" for number in range(40))
    page = f"{PAGE}Rnd 4: With D, sc around (12)\nPinch flat and 3 sc across both layers.\n{notes}"
    page = page.replace("US terms.", "US terms.\nYarn A: grey, 50 g\nYarn B: pink, 50 g")
    async with app_on(tmp_path).run_test(size=(100, 24)) as pilot:
        app = await pasted(pilot, page)
        assert "2 to look at" in words(app) and "d next of 2 to look at" in words(app)
        await pressed(pilot, "end")
        assert "▸ Remark 39" in words(app)
        await pressed(pilot, "space")
        assert "▸ Remark 39" in words(app) and "no round yet: r makes it one" in words(app)
        await pressed(pilot, "home", "space")
        assert "▸ Pebble" in words(app) and "this is the title: t changes it" in words(app)
        await pressed(pilot, "pagedown", "pageup")
        assert "▸ Pebble" in words(app)
        await pressed(pilot, "d")
        assert isinstance(app.screen, MendPage)
        assert "'d' is not among the yarns" in words(app) and "e p l take it" in words(app)
        await pressed(pilot, "p")
        assert isinstance(app.screen, PastePage) and "d 1 to look at" in words(app), "the walk went on"
        assert "▸ Pinch flat" in words(app) and "n a note" in words(app)
        await pressed(pilot, "n")
        assert "kept as a note" in words(app) and "to look at" not in words(app)
        await pressed(pilot, "end", "u")
        assert "▸ Pinch flat" in words(app) and "d 1 to look at" in words(app)
        await pressed(pilot, "u")
        assert "▸ Rnd 4" in words(app) and "d next of 2 to look at" in words(app)
        await pressed(pilot, "u")
        assert "nothing was decided here" in words(app)


def test_what_is_scrolled_out_of_sight_is_not_marked() -> None:
    """The rows of a long page, turned by what there is room for, by the wheel, and to both ends."""
    leaf = with_rows(Leaf("a page", ()), tuple(Row(f"row {number}", number) for number in range(60)))
    for by, mark in ((17, 17), (1, 0), (-1, 0), (10**6, 10**6), (-3, 0), (-17, -17), (-(10**6), -(10**6))):
        leaf = turned(leaf, by, 40, 20, mark)
        assert is_mark_seen(leaf, 40, 20), (by, leaf.top, leaf.chosen)
        assert leaf.chosen == {10**6: 59, -(10**6): 0}.get(by, leaf.chosen)
    assert not is_mark_seen(scrolled(leaf, 1, 40, 20), 40, 20)


async def test_a_page_gets_another_title_and_is_left_without_a_trace(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, PAGE)
        await pressed(pilot, "t", "ctrl+u", *"Stone", "enter")
        assert "Stone" in text(app) and isinstance(app.screen, PastePage)
        await pressed(pilot, "q")
        assert isinstance(app.screen, HomePage)
        assert not own_folder(tmp_path / "data").exists()


async def test_the_size_is_chosen_on_the_page_and_holds_in_the_pattern(tmp_path: Path) -> None:
    sized = PAGE.replace("Rnd 3: sc around (12)", "Rnd 3: 2 (3, 4) inc, 10 (9, 8) sc. 14 (15, 16) sts")
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, sized)
        assert "size 1 of 3" in text(app)
        await pressed(pilot, "s")
        assert "size 2 of 3" in text(app)
        await pressed(pilot, "enter")
        assert app.project is not None
        assert app.project.pattern.pieces[0].rounds[-1].leaves == 15
        app.project.close()


async def test_a_page_whose_terms_are_unclear_asks_for_them(tmp_path: Path) -> None:
    """tr is a stitch in both, and nothing else tells which (the Craft Yarn Council's table of both)."""
    page = "Mat\nRow 1: 20 tr (20)\nRow 2: tr across (20)\n"
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, page)
        assert "US from UK terms: which are they?" in text(app)
        await pressed(pilot, "2")
        assert "UK terms" in text(app) and "2 lines of rounds" in text(app)


async def test_a_page_is_read_from_a_file_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "page.txt").write_text(PAGE, "utf-8")
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pressed(pilot, "v")
        app.screen.post_message(events.Paste(str(tmp_path / "nothing.txt")))
        await pressed(pilot, "enter")
        assert "no such file" in text(app)
        await pressed(pilot, *["backspace"] * len("nothing.txt"), *"page.txt", "enter")
        assert "3 lines of rounds" in text(app)


async def test_a_page_without_a_round_is_refused_and_stays(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, "A day by the sea\nin US terms\nand nothing else\n")
        await pressed(pilot, "enter")
        assert isinstance(app.screen, PastePage) and "no round was found in it" in text(app)


async def test_control_characters_of_a_page_never_reach_the_screen(tmp_path: Path) -> None:
    async with app_on(tmp_path).run_test(size=(120, 30)) as pilot:
        app = await pasted(pilot, PAGE.replace("Pebble", "Peb\x1b[2Jble [red]"))
        assert "\x1b" not in text(app) and "[red]" in text(app)
