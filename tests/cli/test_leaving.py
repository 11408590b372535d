"""Leaving while the disk refuses: what would be lost is told, and nothing is lost without a yes."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from support.building import toadstool

from tracker.cli.exit_codes import ExitCode
from tracker.cli.work_plain import work_plainly
from tracker.project.project import Project, open_project
from tracker.session.events import RoundDone, Stitch
from tracker.tui.app import RoundsApp
from tracker.tui.pages.page import AskingPage
from tracker.tui.settings import Settings
from tracker.tui.work_screen import WorkScreen


@pytest.fixture
def blocked(tmp_path: Path) -> Path:
    """A data folder that is a file: nothing can be written there."""
    (tmp_path / "data").touch()
    return tmp_path


def opened(folder: Path) -> Project:
    ticks: Iterator[float] = iter(float(second) for second in range(1_750_000_000, 1_750_001_000))
    return open_project(toadstool(), folder / "p.toml", folder / "data", lambda: next(ticks))


def work(folder: Path, *lines: str) -> tuple[int, list[str]]:
    out = io.StringIO()
    code = work_plainly(opened(folder), [f"{line}\n" for line in lines], out)
    return code, out.getvalue().splitlines()


LOST = "The last 2 things that you did are not written down (the data folder cannot be used (File exists)); the disk"
REFUSED = "The data folder cannot be used (File exists): what you do is kept in memory and written down as soon as"


def test_the_first_quit_tells_what_is_lost_and_the_second_leaves(blocked: Path) -> None:
    code, told = work(blocked, "stitch", "note precious", "quit", "quit", "round")
    assert code == ExitCode.REFUSED
    assert f"{LOST} has you at the beginning." in told
    assert told[-2:] == [
        "Make room for it and say quit, or say quit once more to leave and lose that.",
        f"{LOST} has you at the beginning.",
    ]


def test_whoever_goes_on_is_asked_anew(blocked: Path) -> None:
    _, told = work(blocked, "stitch", "note precious", "quit", "place", "quit", "quit")
    assert len([line for line in told if line.startswith("Make room")]) == 2


def test_the_end_of_the_input_tells_it_too(blocked: Path) -> None:
    code, told = work(blocked, "stitch", "note precious")
    assert (code, told[-1]) == (ExitCode.REFUSED, f"{LOST} has you at the beginning.")


@pytest.mark.parametrize("line", ["note precious", "ask never", "weigh 43", "step 1 done", "notes", "stitch"])
def test_every_answer_tells_that_it_is_only_in_memory(line: str, blocked: Path) -> None:
    _, told = work(blocked, line)
    assert told[-2].startswith(REFUSED) or told[-1].startswith(REFUSED)


def test_what_can_be_written_when_leaving_is(blocked: Path) -> None:
    project = opened(blocked)
    project.do(RoundDone())
    (blocked / "data").unlink()
    out = io.StringIO()
    assert work_plainly(project, ["quit\n"], out) == ExitCode.DONE
    assert "not written down" not in out.getvalue()
    again = opened(blocked)
    assert again.view().round_number == 2
    again.close()


def test_nothing_done_is_nothing_lost(blocked: Path) -> None:
    code, told = work(blocked, "place", "quit")
    assert code == ExitCode.DONE
    assert not any("not written down" in line for line in told)


async def test_the_screen_asks_before_anything_is_lost(blocked: Path) -> None:
    project = opened(blocked)
    project.do(Stitch())
    project.do(Stitch())
    app = RoundsApp(blocked / "data", Settings(), project)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, WorkScreen)
        await pilot.press("q")
        assert isinstance(app.screen, AskingPage)
        await pilot.press("q")
        assert isinstance(app.screen, WorkScreen) and app.is_running
        await pilot.press("q", "y")
        await pilot.pause()
        assert not app.is_running
    assert project.loss.startswith("the last 2 things that you did are not written down")
    project.close()
