"""The page that a command of the working screen opens."""

from __future__ import annotations

from tracker.screen.commands import Command
from tracker.screen.desk import Desk
from tracker.screen.pages.explain import ExplainPage
from tracker.screen.pages.help import HelpPage
from tracker.screen.pages.history import HistoryPage
from tracker.screen.pages.making_up import MakingUpPage
from tracker.screen.pages.materials import MaterialsPage
from tracker.screen.pages.page import Page
from tracker.screen.pages.pieces import PiecesPage
from tracker.screen.settings import FILE
from tracker.screen.steps import present_round
from tracker.session.state import Copy


def page_for(command: Command, desk: Desk) -> Page:
    """A fresh page for one of the commands that open one."""
    project, palette = desk.project, desk.palette
    match command:
        case Command.PIECES:
            keys = desk.keys.of(Command.MEASURE)
            return PiecesPage(project.pattern, project.state, palette, keys, lambda copy: measure_page(desk, copy))
        case Command.MAKING_UP:
            return MakingUpPage(desk)
        case Command.MATERIALS:
            return MaterialsPage(desk, begins=False)
        case Command.EXPLAIN:
            present = present_round(project.pattern, project.state)
            return ExplainPage(desk.view, present, project.state.work.place.moves, project.pattern.terms, palette)
        case Command.LOOK_INTO:
            from tracker.screen.pages.where import WherePage

            return WherePage(desk)
        case Command.HISTORY:
            return HistoryPage(project, palette)
        case Command.MEASURE:
            return measure_page(desk)
        case _:
            return HelpPage(desk.keys, project.folder / FILE, palette)


def measure_page(desk: Desk, copy: Copy | None = None) -> Page:
    """Size, yarn and time of a copy, or of the one in hand."""
    # Imported here: the other pages should not wait for what only this one needs.
    from tracker.screen.pages.measure import MeasurePage

    return MeasurePage(desk, copy)
