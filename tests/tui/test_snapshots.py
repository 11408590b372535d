"""Every state of the screen as text, at an ordinary size, a large and a narrow one, and as a strip.

The screens lie under `snapshots/`, to be read as they are seen. After a change that is meant, write them anew and
look at each one that differs:

    SNAPSHOTS=write .venv/bin/python -m pytest tests/tui/test_snapshots.py
"""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from difflib import unified_diff
from itertools import pairwise
from pathlib import Path

import pytest
from support import screens as desks
from support.screens import SHIPPED, Clock

from tracker.pattern.loader import load
from tracker.project.project import Project, open_project
from tracker.tui.app import RoundsApp
from tracker.tui.settings import Settings

SNAPSHOTS = Path(__file__).parent / "snapshots"
Size = tuple[int, int]
SIZES: tuple[Size, ...] = ((80, 24), (40, 20), (30, 8), (120, 40))
BETWEEN_KEYS = 24.0
"""Seconds."""


@dataclass(frozen=True, slots=True)
class State:
    """A state of the program: a shipped pattern, and the keys that lead there from its materials list."""

    pattern: str
    keys: str = ""

    def follows(self, other: State) -> bool:
        """Whether the way here leads through the other state."""
        return self.pattern == other.pattern and self.keys.split()[: len(other.keys.split())] == other.keys.split()


ALL_ROUNDS = "space " + "r " * 52
STATES = {
    "materials": State("toadstool"),
    "who is it for": State("soap-dish"),
    "an older child is chosen": State("soap-dish", "2"),
    "beginning": State("toadstool", "space"),
    "working": State("toadstool", "space r r r r r r r r space space space"),
    "a stitch at a time": State("lighthouse", "space r r s s"),
    "a colour is drawn through": State("lighthouse", "space" + " r" * 9),
    "after the change": State("lighthouse", "space" + " r" * 9 + " space"),
    "a fresh yarn is joined": State("tide-pool-coaster", "space r r r r r"),
    "one stitch before a colour": State("lighthouse", "space r r r r r r r r r space space space"),
    "joining": State("lighthouse", "space r r space space space space space space"),
    "fastening off": State("toadstool", "space" + " r" * 18),
    "the next piece begins": State("toadstool", "space" + " r" * 19),
    "shells": State("tide-pool-coaster", "space r r r space"),
    "turning chain": State("face-cloth", "space r r"),
    "oval": State("soap-dish", "space r space"),
    "counting": State("toadstool", "space r r r 1 8"),
    "count agrees": State("toadstool", "space r r r 1 8 enter"),
    "count differs": State("toadstool", "space r r r 1 7 enter"),
    "carried on with a difference": State("toadstool", "space r r r 1 7 enter k"),
    "frogging": State("toadstool", "space r r r r f"),
    "where am i": State("toadstool", "space r r r r r r r r r W 4 2 enter"),
    "a place is found": State("toadstool", "space r r r r r r r r r W 4 2 enter down space"),
    "undone": State("toadstool", "space r r r u"),
    "looking ahead": State("toadstool", "space r r right right"),
    "help": State("toadstool", "space question_mark"),
    "settings": State("toadstool", "space r r comma"),
    "a stitch explained": State("toadstool", "space r r e"),
    "pieces": State("toadstool", "space r r r r p"),
    "a note": State("toadstool", "space r r n c o l d"),
    "history": State("toadstool", "space r r n c o l d enter h"),
    "measure": State("toadstool", "space r r r r y"),
    "drawing": State("toadstool", "space r r r r y d"),
    "a piece that is made": State("toadstool", "space " + "r " * 19 + "p up space"),
    "time to make up": State("toadstool", ALL_ROUNDS),
    "making up": State("toadstool", ALL_ROUNDS + "space space"),
    "finished": State("toadstool", ALL_ROUNDS + "space " * 12),
}


async def _screens(app: RoundsApp, states: Mapping[str, list[str]], clock: Clock) -> dict[str, dict[Size, str]]:
    """What is on the screen at every size in each state: its name, and the keys from the one before it."""
    seen = {}
    async with app.run_test(size=SIZES[0]) as pilot:
        await pilot.pause()
        for name, keys in states.items():
            for key in keys:
                clock.now += BETWEEN_KEYS
                app.simulate_key(key)
                await pilot.pause()
            seen[name] = {}
            for size in (*SIZES[1:], SIZES[0]):
                await pilot.resize_terminal(*size)
                await pilot.pause()
                seen[name][size] = _text(app, size)
    return seen


def _text(app: RoundsApp, size: Size) -> str:
    rows = [strip.text.rstrip() for strip in app.screen._compositor.render_strips()]
    assert len(rows) == size[1]
    assert all(len(row) <= size[0] for row in rows)
    return "\n".join(rows).rstrip("\n") + "\n"


def agrees_with_snapshot(name: str, size: Size, text: str) -> None:
    path = SNAPSHOTS / f"{name.replace(' ', '-')}-{size[0]}x{size[1]}.txt"
    if os.environ.get("SNAPSHOTS") == "write":
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    known = path.read_text("utf-8")
    changes = unified_diff(known.split("\n"), text.split("\n"), "as it was", "as it is", lineterm="")
    assert known == text, "\n".join(changes)


def opened(pattern: str, folder: Path, clock: Clock) -> Project:
    path = SHIPPED / f"{pattern}.toml"
    return open_project(load(path), path, folder, clock)


def hold(screens: Mapping[str, Mapping[Size, str]]) -> None:
    for name, seen in screens.items():
        for size, text in seen.items():
            agrees_with_snapshot(name, size, text)


def ways() -> Iterator[list[str]]:
    """States that one maker comes through, each on the way to the next."""
    left = sorted(STATES, key=lambda name: len(STATES[name].keys.split()))
    while left:
        way = [left.pop(0)]
        for name in list(left):
            if STATES[name].follows(STATES[way[-1]]):
                way.append(name)
                left.remove(name)
        yield way


@pytest.mark.parametrize("way", ways(), ids=", ".join)
def test_a_state_looks_as_it_did(way: list[str]) -> None:
    """Begun at one size and made larger and smaller: what is painted then is what a start at that size paints."""
    clock, keys = Clock(), {way[0]: STATES[way[0]].keys.split()}
    for before, name in pairwise(way):
        keys[name] = STATES[name].keys.split()[len(STATES[before].keys.split()) :]
    project = opened(STATES[way[0]].pattern, FOLDER, clock)
    screens = asyncio.run(_screens(RoundsApp(FOLDER, Settings(), project), keys, clock))
    project.close()
    hold(screens)


async def _worked(app: RoundsApp, keys: str, clock: Clock) -> None:
    await _screens(app, {"worked": keys.split()}, clock)


def first_screen(folder: Path, clock: Clock) -> Project | None:
    """With two projects under way and the shipped patterns to begin."""
    for pattern, rounds in (("toadstool", 9), ("lighthouse", 4)):
        project = opened(pattern, folder, clock)
        asyncio.run(_worked(RoundsApp(folder, Settings(), project), "space " + "r " * rounds, clock))
        project.close()
    return None


def looked_on(folder: Path, clock: Clock) -> Project:
    """A second window on work that is going on in a first one."""
    desks.OPENED.append(opened("toadstool", folder, clock))
    asyncio.run(_worked(RoundsApp(folder, Settings(), desks.OPENED[-1]), "space r r space", clock))
    return opened("toadstool", folder, clock)


def with_another_pattern(folder: Path, clock: Clock) -> Project:
    """The pattern file was changed since the work on it."""
    path = folder / "stone.toml"
    path.write_text(STONE, "utf-8")
    project = open_project(load(path), path, folder, clock)
    asyncio.run(_worked(RoundsApp(folder, Settings(), project), "space r r", clock))
    project.close()
    path.write_text(STONE.replace("(18)", "(18) stuff lightly").replace("Rnd 4: sc around", "Rnd 4: BLO sc around"))
    return open_project(load(path), path, folder, clock)


STONE = '''title = "Stone"
[[piece]]
name = "Stone"
rounds = """
Rnd 1: 6 sc in magic ring (6)
Rnd 2: inc around (12)
Rnd 3: (sc, inc) x 6 (18)
Rnd 4: sc around (18)
"""
'''

FOLDER = Path("maker")
"""Of the project's data, so that a path on the screen is the same everywhere."""


@pytest.fixture(autouse=True)
def in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.chdir(tmp_path)
    FOLDER.mkdir()
    yield
    while desks.OPENED:  # while the folder is still where they think it is
        desks.OPENED.pop().close()


@pytest.mark.parametrize("path", sorted(SNAPSHOTS.glob("*.txt")), ids=lambda path: path.stem)
def test_no_state_cuts_a_sentence(path: Path) -> None:
    """What there is no room for is left out whole. Only the round as the pattern writes it is shown around the words
    that are worked now, with a mark (⋯) where it goes on."""
    for row in path.read_text("utf-8").split("\n"):
        assert "…" not in row, row


SCENES: dict[str, Callable[[Path, Clock], Project | None]] = {
    "first screen": first_screen,
    "looking on": looked_on,
    "pattern changed": with_another_pattern,
}


@pytest.mark.parametrize("name", SCENES)
def test_a_scene_looks_as_it_did(name: str) -> None:
    clock = Clock()
    project = SCENES[name](FOLDER, clock)
    app = RoundsApp(FOLDER, Settings(), project, shipped=sorted(SHIPPED.glob("*.toml")))
    screens = asyncio.run(_screens(app, {name: []}, clock))
    if project is not None:
        project.close()
    hold(screens)
