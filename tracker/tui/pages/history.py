"""What was made, day by day, and the notes that were written on the way."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from tracker.plural import number_of
from tracker.project.project import Project
from tracker.project.work_time import Day
from tracker.session.state import copy_name, rounds_of
from tracker.session.view_words import spell
from tracker.session.worked_rounds import round_at
from tracker.tui.pages.page import Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Look


class HistoryPage(Page):
    """The newest day first, then the notes, the newest first."""

    def __init__(self, project: Project, palette: Palette) -> None:
        super().__init__("what you made", palette)
        self._rows = (*history(project.days()), *changed_rounds(project), *notes(project))

    def rows(self) -> tuple[Row, ...]:
        return self._rows


def history(days: tuple[Day, ...]) -> Iterator[Row]:
    """A row a day: "14 Nov: 6 rounds, 48 minutes"."""
    for day in reversed(days):
        date_words = date.fromisoformat(day.date).strftime("%d %b %Y").lstrip("0")
        yield Row(f"{date_words}: {number_of(day.rounds, 'round')}, {spell(day.seconds)}")
    if not days:
        yield Row("nothing yet")


def changed_rounds(project: Project) -> Iterator[Row]:
    """The rounds that the maker works otherwise than written, with what the pattern has."""
    work = project.state.work
    if work.own_rounds:
        yield Row("")
        yield Row("changed rounds", look=Look.FAINT)
    for own in work.own_rounds:
        pattern_text = project.pattern.pieces[own.copy.piece].rounds[own.round_index].text
        yield Row(own.text, None, f"{copy_name(project.pattern, own.copy)}; the pattern has {pattern_text}")


def notes(project: Project) -> Iterator[Row]:
    """The maker's notes, each with its place."""
    work_notes = project.state.work.notes
    if work_notes:
        yield Row("")
        yield Row("notes", look=Look.FAINT)
    for note in reversed(work_notes):
        copy = note.copy
        label = "at its end"
        if note.round_index < rounds_of(project.pattern, copy):
            label = round_at(project.pattern, project.state.work, copy.piece, copy.number, note.round_index).label
        yield Row(note.text, None, f"{copy_name(project.pattern, copy)}, {label}, stitch {note.stitches}")
