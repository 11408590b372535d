"""The page that a command of the working screen opens."""

from __future__ import annotations

from tracker.session.correcting import round_to_mend
from tracker.session.state import Copy
from tracker.tui.commands import Command
from tracker.tui.controller import Desk
from tracker.tui.main_key_preview import present_round
from tracker.tui.pages.help import HelpPage
from tracker.tui.pages.history import HistoryPage
from tracker.tui.pages.making_up import MakingUpPage
from tracker.tui.pages.materials import MaterialsPage
from tracker.tui.pages.page import Page
from tracker.tui.pages.pieces import PiecesPage
from tracker.tui.pages.round_details import ExplainPage


def page_for(command: Command, desk: Desk) -> Page:
    """A fresh page for one of the commands that open one."""
    project, palette = desk.project, desk.palette
    match command:
        case Command.PIECES:
            keys = desk.keys.of(Command.MEASURE)
            return PiecesPage(project.pattern, project.state, palette, keys, lambda copy: measure_page(desk, copy))
        case Command.MEND:
            from tracker.pattern.growing import opens_at

            spot = round_to_mend(project.pattern, project.state, desk.looking)
            opened = opens_at(project.pattern.pieces[spot[0]])
            if desk.can_write and opened is not None and spot[1] >= opened:
                from tracker.tui.pages.write import WritePage

                return WritePage(project.folder, palette, desk, spot[1])
            from tracker.tui.pages.mend import AtDesk, MendPage

            return MendPage(AtDesk(desk), *spot)
        case Command.WRITE:
            from tracker.tui.pages.write import WritePage

            return WritePage(project.folder, palette, desk)
        case Command.ROUNDS:
            from tracker.tui.pages.rounds import RoundsPage

            return RoundsPage(desk)
        case Command.FROG:
            from tracker.tui.pages.frog import FrogPage

            return FrogPage(desk)
        case Command.MAIN_STEP | Command.ASK:
            from tracker.tui.pages.choices import AskPage, StepPage

            return StepPage(desk) if command is Command.MAIN_STEP else AskPage(desk)
        case Command.MAKING_UP:
            return MakingUpPage(desk)
        case Command.MATERIALS:
            return MaterialsPage(desk, begins=False)
        case Command.EXPLAIN:
            present = present_round(project.pattern, project.state)
            return ExplainPage(desk.view, project.pattern, present, project.state.work.place.moves, palette)
        case Command.LOOK_INTO:
            from tracker.tui.pages.suspects import WherePage

            return WherePage(desk)
        case Command.SETTINGS:
            from tracker.tui.pages.preferences import PreferencesPage

            return PreferencesPage(desk)
        case Command.WHEREABOUTS:
            from tracker.tui.pages.whereabouts import WhereaboutsPage

            return WhereaboutsPage(desk)
        case Command.HISTORY:
            return HistoryPage(project, palette)
        case Command.MEASURE:
            return measure_page(desk)
        case _:
            return HelpPage(desk.keys, palette)


def measure_page(desk: Desk, copy: Copy | None = None) -> Page:
    """Size, yarn and time of a copy, or of the one in hand."""
    # Imported here: the other pages should not wait for what only this one needs.
    from tracker.tui.pages.estimates import MeasurePage

    return MeasurePage(desk, copy)
