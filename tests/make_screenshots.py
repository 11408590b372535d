"""Pictures of the running program, for the README and for looking at every state.

    python tests/make_screenshots.py [FOLDER] [--all]

Drives the real app on the shipped patterns and writes SVG files into `screenshots/`. With `--all` every state is
drawn at every size; without it only the pictures that the README and its readers need. Beside them a chart, an
outline and a sheet, as `rounds draw` and `rounds write` make them; the first page of the sheet also as a picture,
where there is a Chromium to print it.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from support.printed_pages import PEBBLE
from textual.events import Paste

from tracker.cli.write import WriteRequest, write_file
from tracker.journal import projects_under_way
from tracker.pattern.loader import load, loads
from tracker.project.project import open_project
from tracker.reports.pictures import ChartPicture, ObjectPicture, OutlinePicture
from tracker.tui.app import RoundsApp
from tracker.tui.settings import Settings

ROOT = Path(__file__).parents[1]
SIZES = ((80, 24), (120, 40), (200, 60), (40, 20))
START = 1_763_150_400.0
"""A fixed time, so that the pictures are the same each time they are made."""


@dataclass(frozen=True, slots=True)
class State:
    """A state of the program: the pattern and the keys that lead there, one after another."""

    name: str
    pattern: str
    keys: str
    seconds: float = 24.0
    """Between two keys."""


NEEDED = (
    State("working", "toadstool", "space r r r r r r r r space space space"),
    State("colour-change", "lighthouse", "space" + " r" * 9),
    State("count-differs", "toadstool", "space r r r 1 7 enter"),
    State("making-up", "toadstool", "space " + "r " * 52 + "space space"),
    State("materials", "toadstool", ""),
    State("pieces", "toadstool", "space r r r r p"),
    State("measure", "toadstool", "space r r r r y g 5 0 enter q r r r r r r y g 4 7 enter", 75.0),
    State("pictures", "toadstool", "space r r r r r r r r r r y d"),
)
STATES = (
    *NEEDED,
    State("counting", "toadstool", "space r r r 1 8"),
    State("looking-ahead", "toadstool", "space r r right right"),
    State("help", "toadstool", "space question_mark"),
    State("explain", "toadstool", "space r r e"),
    State("rows", "face-cloth", "space r r space space"),
    State("shells", "tide-pool-coaster", "space r r r space"),
    State("making-up-page", "toadstool", "space m space space"),
    State("history", "toadstool", "space r r n c o l d enter h"),
    State("finished", "toadstool", "space " + "r " * 52 + "space " * 7),
    State("daylight", "toadstool", "space r r r space v"),
    State("contrast", "toadstool", "space r r r space v v"),
    State("no-colour", "toadstool", "space r r r space"),
)


class Clock:
    def __init__(self, seconds: float) -> None:
        self._now, self._step = START, seconds

    def __call__(self) -> float:
        return self._now

    def tick(self) -> None:
        self._now += self._step


async def picture(state: State, size: tuple[int, int]) -> str:
    """The state as SVG."""
    clock = Clock(state.seconds)
    path = ROOT / "patterns" / f"{state.pattern}.toml"
    with tempfile.TemporaryDirectory() as folder:
        project = open_project(load(path), path, Path(folder), clock)
        app = RoundsApp(Path(folder), Settings(), project)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            for key in state.keys.split():
                clock.tick()
                app.simulate_key(key)
                await pilot.pause()
            await pilot.pause(0.05)
            drawn = app.export_screenshot(title="rounds")
        project.close()
    return drawn


async def first_list(size: tuple[int, int]) -> str:
    """The first screen with two projects under way."""
    clock = Clock(60.0)
    with tempfile.TemporaryDirectory() as folder:
        for name, rounds in (("toadstool", 9), ("lighthouse", 4)):
            path = ROOT / "patterns" / f"{name}.toml"
            project = open_project(load(path), path, Path(folder), clock)
            app = RoundsApp(Path(folder), Settings(), project)
            async with app.run_test() as pilot:
                await pilot.press("space", *["r"] * rounds)
            project.close()
        assert len(projects_under_way(Path(folder))) == 2
        app = RoundsApp(Path(folder), Settings(), shipped=sorted((ROOT / "patterns").glob("*.toml")))
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            return app.export_screenshot(title="rounds")


PASTED = 11
"""So many lines of the page are pasted: two misprints, and all of it in sight on a small screen."""

OWN = {
    "pasting": "",
    "mending": "enter e " + "backspace " * 9 + "space x space 6",
    "writing": "n B u t t o n enter tab enter r space tab enter r space "
    "( 1 space s c , space i n c ) space x space 6",
}
"""Pictures of patterns that the maker brings or writes: the keys on the first screen, a page pasted before most."""


async def own_pattern(name: str, size: tuple[int, int]) -> str:
    """The first screen of somebody who has made nothing yet, a page pasted there, and these keys."""
    with tempfile.TemporaryDirectory() as folder:
        app = RoundsApp(Path(folder), Settings())
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            if name != "writing":
                app.screen.post_message(Paste("\n".join(PEBBLE.splitlines()[:PASTED])))
                await pilot.pause(0.1)
            for key in OWN[name].split():
                await pilot.press({"(": "left_parenthesis", ")": "right_parenthesis", ",": "comma"}.get(key, key))
                await pilot.pause(0.1 if key in ("enter", "space", "r") else None)
            await pilot.pause(0.1)
            shot = app.export_screenshot(title="rounds")
        if app.project is not None:
            app.project.close()
        return shot


def drawn(states: Sequence[State], sizes: Sequence[tuple[int, int]]) -> Iterator[tuple[str, str]]:
    """Each picture with the name of its file; the plain name goes to the first size."""
    for state in states:
        for size in sizes:
            if state.name == "no-colour":
                os.environ["NO_COLOR"] = "1"
            yield _file(state.name, size), asyncio.run(picture(state, size))
            os.environ.pop("NO_COLOR", None)
    for name in OWN:
        for size in sizes:
            yield _file(name, size), asyncio.run(own_pattern(name, size))
    for size in sizes:
        yield _file("first", size), asyncio.run(first_list(size))


def on_paper() -> Iterator[tuple[str, str]]:
    """What the commands write for paper, each with the name of its file."""
    names = ("tide-pool-coaster", "toadstool", "lighthouse", "face-cloth")
    coaster, toadstool, lighthouse, cloth = (load(ROOT / "patterns" / f"{name}.toml") for name in names)
    square, ruffle = loads(SQUARE), loads(RUFFLE)
    yield "chart.svg", ChartPicture.of(coaster, coaster.pieces[0], None, coaster.terms).svg()
    yield "square.svg", ChartPicture.of(square, square.pieces[0], None, square.terms).svg()
    yield "rows.svg", ChartPicture.of(cloth, cloth.pieces[0], None, cloth.terms).svg()
    yield "unrolled.svg", ChartPicture.of(toadstool, toadstool.pieces[0], None, toadstool.terms).svg()
    for name, pattern in (("toadstool", toadstool), ("lighthouse", lighthouse)):
        whole = ObjectPicture.of(pattern)
        assert whole is not None
        yield f"{name}.svg", whole.svg()
    for name, pattern in (
        ("outline", toadstool),
        ("coaster", coaster),
        ("ruffle", ruffle),
        ("square-outline", square),
    ):
        outline = OutlinePicture.of(pattern, pattern.pieces[0], None)
        assert outline is not None
        yield f"{name}.svg", outline.svg()


SQUARE = """
title = "Window square"
[gauge]
stitch = "dc"
stitches = 16
rounds = 9
[yarn.A]
name = "teal"
[yarn.B]
name = "cream"
[[piece]]
name = "Square"
start = "joined"
rounds = \"\"\"
Rnd 1 (A): ch 4, join, ch 3 (counts as dc), 2 dc in ring, ch 2, (3 dc in ring, ch 2) x 3, join (12 dc)
Rnd 2 (B): *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1; rep from * around, join (24 dc, 4 ch-2 sps, 4 ch-1 sps)
Rnd 3 (A): *(3 dc, ch 2, 3 dc) in next ch-2 sp, ch 1, 3 dc in next ch-1 sp, ch 1; rep from * around, join (36 dc)
Rnd 4 (B): *(3 dc, ch 2, 3 dc) in next ch-2 sp, (ch 1, 3 dc in next ch-1 sp) x 2, ch 1; rep from * around (48 dc)
\"\"\"
"""
RUFFLE = """
title = "Frilled coral"
[gauge]
stitch = "sc"
stitches = 20
rounds = 21
[yarn.A]
name = "coral"
[[piece]]
name = "Coral"
rounds = \"\"\"
Rnd 1 (A): 6 sc in magic ring (6)
Rnd 2: inc x 6 (12)
Rnd 3: (1 sc, inc) x 6 (18)
Rnd 4: inc x 18 (36)
Rnd 5: (1 sc, inc) x 18 (54)
Rnd 6: (1 sc, inc) x 27 (81)
Rnd 7: (2 sc, inc) x 27 (108)
\"\"\"
"""
"""What is not among the shipped patterns: a figure with corners, and a piece in waves. Invented."""


def sheet(shot: Path) -> bool:
    """The first page of a sheet as a picture, A4 at 96 dots an inch; False where there is no browser for it."""
    browser = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if browser is None:
        return False
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "sheet.html"
        write_file(str(ROOT / "patterns" / "toadstool.toml"), WriteRequest(output=page), Path(folder))
        how = ("--headless", "--no-sandbox", "--hide-scrollbars", "--window-size=794,1123", f"--screenshot={shot}")
        subprocess.run([browser, *how, page.as_uri()], check=True, capture_output=True, timeout=60)
    return True


def _file(name: str, size: tuple[int, int]) -> str:
    return f"{name}.svg" if size == SIZES[0] else f"{name}-{size[0]}x{size[1]}.svg"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, default=ROOT / "screenshots")
    parser.add_argument("--all", action="store_true", help="every state at every size")
    told = parser.parse_args()
    told.folder.mkdir(parents=True, exist_ok=True)
    for name, svg in drawn(STATES if told.all else NEEDED, SIZES if told.all else SIZES[:1]):
        (told.folder / name).write_text(svg, "utf-8")
        print(told.folder / name)
    for name, text in on_paper():
        (told.folder / name).write_text(text, "utf-8")
        print(told.folder / name)
    shot = told.folder / "sheet.png"
    print(shot if sheet(shot) else "there is no Chromium here: the sheet is not pictured")


if __name__ == "__main__":
    main()
