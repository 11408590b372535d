"""The program with a screen: what is asked before work, the working screen, and leaving.

Pages that most starts do not need are imported where they are opened: everybody waits for the start.
"""

from __future__ import annotations

import asyncio
import gc
import os
import select
import signal
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from rich.console import COLOR_SYSTEMS
from textual import work
from textual.app import App
from textual.driver import Driver
from textual.filter import ANSIToTruecolor
from textual.screen import Screen

if TYPE_CHECKING:
    from tracker.tui.pages.home import Begun

from tracker.journal import JournalTrouble, data_folder
from tracker.pattern.pattern_file import UnreadableFile
from tracker.project.project import Project, open_project, projects_under_way
from tracker.tui.controller import Desk
from tracker.tui.palette import PALETTES, TERMINAL, themes
from tracker.tui.pen import CellPatch, shortening, write_patches
from tracker.tui.render.scene import Choice
from tracker.tui.settings import Settings, load_settings
from tracker.tui.work_screen import STYLES, WorkScreen

MANY = 20_000
"""New objects after which Python looks for those that nobody needs, once the screen is there: to go through many more
would be felt at a key."""

SIGNALLED = 128
"""Added to the number of a signal for the exit code, as shells do."""


LOST = 2
"""Something could not be written down until the end."""

HUNG_UP = SIGNALLED + 1
"""As if the signal for it (1, in POSIX) had come."""


class RoundsApp(App[None]):
    """One maker, one terminal. Without a project it begins with the list of them."""

    TITLE = "rounds"
    ENABLE_COMMAND_PALETTE = False
    CSS = "Screen { background: $background; }" + STYLES
    _has_theme = False

    def __init__(
        self,
        folder: Path,
        settings: Settings,
        project: Project | None = None,
        shipped: Sequence[Path] = (),
        first: str = "",
    ) -> None:
        no_colour = bool(os.environ.get("NO_COLOR"))
        super().__init__(ansi_color=True if no_colour else None)
        self._folder = folder
        self._settings = settings
        self._shipped = shipped
        self.project = project
        self._begun: Begun | None = None
        self.fault: BaseException | None = None
        """What went wrong and ended it."""
        self._first = first
        self._to_terminal: Callable[[str], None] | None = None
        self._frame_marks = "", ""
        self.palette = TERMINAL if no_colour else PALETTES[settings.palette]
        for theme in themes(PALETTES.values()):
            self.register_theme(theme)
        self._begin_with(self.palette.name)

    def _begin_with(self, name: str) -> None:
        """Take a theme to begin with. Textual lays everything out a second time for one that is set, which one that
        differs in colours alone from that it was made with does not need."""
        first, theme = self.current_theme, self.available_themes[name]
        if (theme.dark, theme.ansi) != (first.dark, first.ansi):
            self.theme = name
        else:
            self.set_reactive(RoundsApp.theme, name)
        self._has_theme = True
        self.stylesheet.set_variables(self.get_css_variables())

    def get_css_variables(self) -> dict[str, str]:
        """None before a theme is taken: to work out the colours of one that is never seen is a hundredth of the
        start."""
        return super().get_css_variables() if self._has_theme else {}

    def get_driver_class(self) -> type[Driver]:
        return shortening(super().get_driver_class(), self._take_terminal)

    def _take_terminal(self, write: Callable[[str], None]) -> None:
        self._to_terminal = write

    def on_terminal_supports_synchronized_output(self) -> None:
        self._frame_marks = "\x1b[?2026h", "\x1b[?2026l"

    def put(self, patches: Iterable[CellPatch]) -> bool:
        """Put these on the terminal now, without a frame of Textual, which takes as long as all the rest of a key.

        Whether that was done: not without a terminal, or with one whose colours Textual has to translate.
        """
        is_translated = any(not isinstance(each, ANSIToTruecolor) for each in self.get_line_filters())
        if self._to_terminal is None or is_translated:
            return False
        codes = write_patches(patches, COLOR_SYSTEMS.get(self.console.color_system or ""))
        if codes:
            self._to_terminal(codes.join(self._frame_marks))
        return True

    def get_default_screen(self) -> Screen[None]:
        """The work itself where nothing has to be asked before, so that nothing is painted before it."""
        if self.project is None or _has_to_ask(self.project):
            return super().get_default_screen()
        return self._work_screen(self.project)

    def _work_screen(self, project: Project) -> WorkScreen:
        return WorkScreen(Desk(project, self._settings, self.palette), self.put)

    def on_mount(self) -> None:
        self._heed_signals()
        self.begin()

    def on_ready(self) -> None:
        """The first paint is there: look for what nobody needs any more, but not in what the start made."""
        if not gc.isenabled():
            gc.freeze()
            gc.set_threshold(MANY)
            gc.enable()

    def _heed_signals(self) -> None:
        """Leave in order when told to, so that the terminal is itself again, and when there is none any more."""
        if not self.is_headless:
            when_gone(partial(_from_elsewhere, asyncio.get_running_loop(), self._hung_up))
        for name in ("SIGTERM", "SIGHUP"):
            number = getattr(signal, name, None)
            if number is not None:
                with suppress(NotImplementedError, RuntimeError, ValueError):
                    asyncio.get_running_loop().add_signal_handler(number, self.exit, None, SIGNALLED + number)

    def _fatal_error(self) -> None:
        """End. What went wrong is told in plain words by whoever started the program, and not as pages of code.

        One of the two names of Textual's own that are overridden: it calls this for whatever a message raises, and
        there is no public way to be told of that, or to keep it from printing all it knows, patterns included.
        """
        self.fault = self.fault or sys.exception()
        self.exit()

    def on_resize(self) -> None:
        """Paint everything, also where the size is what it was: what a terminal makes of a paint meant for the width
        that it had in between is anybody's guess."""
        self.screen.refresh()

    def _hung_up(self) -> None:
        self.exit(return_code=HUNG_UP)

    @work
    async def begin(self) -> None:
        """Ask what has to be asked, then work; leaving any of the questions leaves the program."""
        try:
            self.project = self.project or await self._choose()
        except (JournalTrouble, UnreadableFile) as trouble:
            self.exit(return_code=2, message=f"rounds: {trouble}")
            return
        if self.project is None or not await self._is_ready(self.project):
            self.exit()
            return
        if not isinstance(self.screen, WorkScreen):
            await self.push_screen(self._work_screen(self.project))
        if self._begun is not None and self._begun.is_own:
            return
        is_pasted = self._begun is not None and self._begun.is_pasted
        if is_pasted:
            await self._walk_through_doubts()
        if (is_pasted or not self.project.state.past) and not self.project.looking_on:
            self._show_materials(self.project)

    async def _walk_through_doubts(self) -> None:
        """What does not come out in a page that was pasted, one line after the other, before the work begins."""
        from tracker.pattern.misprints.finder import doubtful_lines
        from tracker.tui.pages.rounds import RoundsPage

        under = self.screen
        if isinstance(under, WorkScreen) and doubtful_lines(under.desk.pattern):
            await self.push_screen_wait(RoundsPage(under.desk, walks=True))

    async def _choose(self) -> Project | None:
        from tracker.pattern.loader import load
        from tracker.tui.pages.home import Begun, HomePage, titled

        under_way = projects_under_way(self._folder)
        page = HomePage(self._folder, under_way, titled(self._shipped), self.palette, self._first)
        begun = await self.push_screen_wait(page)
        if not isinstance(begun, Begun):
            return None
        self._begun = begun
        project = open_project(load(begun.path), begun.path, self._folder, time.time)
        if begun.is_pasted:
            from tracker.tui.pages.paste import take_over

            take_over(project, begun.corrections)
        return project

    async def _is_ready(self, project: Project) -> bool:
        """One page after another that has something to tell; whether the maker wants to go on."""
        if project.looking_on:
            return True
        if project.moved_from is not None and not await self._ask_moved(project):
            return False
        return project.changed is None or await self._ask_changed(project)  # what was moved may be changed as well

    def _show_materials(self, project: Project) -> None:
        """What is needed, over the working screen: keys typed on after the first one find it there already."""
        from tracker.tui.pages.materials import MaterialsPage

        under = self.screen
        desk = under.desk if isinstance(under, WorkScreen) else Desk(project, self._settings, self.palette)
        page = MaterialsPage(desk, begins=True)
        self.push_screen(page, lambda begin: self.exit() if begin is None else desk.ask_as_set())

    async def _ask_moved(self, project: Project) -> bool:
        from tracker.tui.pages.page import AskingPage

        sentences = (f"this pattern was worked as {project.moved_from}, and that file is gone",)
        answers = (Choice("y", "go on from there"), Choice("n", "begin anew"))
        answer = await self.push_screen_wait(AskingPage("is this the same work?", sentences, answers, self.palette))
        if answer == "y":
            project.take_up_moved()
        return answer is not None

    async def _ask_changed(self, project: Project) -> bool:
        from tracker.tui.pages.page import AskingPage

        answers = (Choice("y", "go on with it as it is now"),)
        title = "the pattern file was changed"
        page = AskingPage(title, project.changed or (), answers, self.palette)
        if await self.push_screen_wait(page) is None:
            return False
        project.agree_to_change()
        return True


def _from_elsewhere(loop: asyncio.AbstractEventLoop, do: Callable[[], None]) -> None:
    """Have this done by the loop, from another thread; not if the program is ending anyway."""
    with suppress(RuntimeError):
        loop.call_soon_threadsafe(do)


def _has_to_ask(project: Project) -> bool:
    return not project.looking_on and (project.moved_from is not None or project.changed is not None)


def work_on_screen(project: Project, data: Path | None, mouse: bool = True) -> int:
    """Work a pattern on the full screen, until the maker leaves; the exit code."""
    folder = data_folder(data)
    return _run(RoundsApp(folder, load_settings(folder), project), mouse)


def choose_on_screen(data: Path | None, shipped: Sequence[Path], mouse: bool = True) -> int:
    """The list of what is under way and what could be begun, then work; the exit code."""
    folder = data_folder(data)
    return _run(RoundsApp(folder, load_settings(folder), shipped=shipped), mouse)


def begin_on_screen(data: Path | None, first: str) -> int:
    """A new pattern: "write" asks for its title and rounds, "paste" for a page; the exit code."""
    folder = data_folder(data)
    return _run(RoundsApp(folder, load_settings(folder), first=first), True)


def _run(app: RoundsApp, mouse: bool) -> int:
    for size in ("COLUMNS", "LINES"):
        os.environ.pop(size, None)  # where a shell gives its own they come first, and stay as they were at a resize
    try:
        app.run(mouse=mouse)
    finally:
        if app.project is not None:
            app.project.close()
            if app.project.loss:
                print(f"rounds: {app.project.loss}", file=sys.stderr)
    if app.fault is not None:
        raise app.fault
    if app.project is not None and app.project.loss:
        return app.return_code or LOST
    return app.return_code or 0


# Notice that the terminal is gone: its window was closed, or the line to it broke.

STANDARD = (0, 1, 2)
"""Input, output, errors."""


def when_gone(then: Callable[[], None]) -> None:
    """Call `then`, once and from another thread, when the terminal is gone. What is written to it then is dropped."""
    terminal = [number for number in STANDARD if _is_terminal(number)]
    if terminal and hasattr(select, "poll"):
        Thread(target=_wait, args=(terminal, then), name="hanging-up", daemon=True).start()


def _is_terminal(number: int) -> bool:
    try:
        return os.isatty(number)
    except OSError:
        return False


def _wait(terminal: list[int], then: Callable[[], None]) -> None:
    waiting = select.poll()
    waiting.register(terminal[0], 0)  # that it is gone is told without being asked for
    while not waiting.poll():
        pass
    nowhere = os.open(os.devnull, os.O_RDWR)
    for number in terminal:
        os.dup2(nowhere, number)
    os.close(nowhere)
    then()
