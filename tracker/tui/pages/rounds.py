"""Every written line of a piece with what it leaves, to look through and to mend."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.lazy_dataclass import dataclass
from tracker.pattern.mending import rounds_of_line
from tracker.pattern.misprints.finder import doubtful_lines
from tracker.pattern.model import Pattern, Round
from tracker.tui.controller import Desk
from tracker.tui.pages.mend import AtDesk, MendPage
from tracker.tui.pages.page import BACK, Page
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice
from tracker.tui.render.styled_text import Look

IN_DOUBT = "d"


@dataclass(frozen=True, slots=True)
class RoundRow:
    """A round by its piece and its place in it."""

    piece: int
    index: int


class RoundsPage(Page):
    """The rounds of all pieces, the one being worked chosen first. A line that is taken is mended.

    With `walks` the lines in doubt are mended one after the other as soon as it opens.
    """

    def __init__(self, desk: Desk, walks: bool = False) -> None:
        keys = (Choice("↑↓", "choose"), Choice("space", "mend it"), Choice(IN_DOUBT, "mend what is in doubt"), BACK)
        super().__init__("rounds", desk.palette, keys)
        self._desk = desk
        self._walks = walks

    def rows(self) -> tuple[Row, ...]:
        return tuple(rounds_rows(self._desk.pattern, self._own_row))

    @property
    def _own_row(self) -> RoundRow:
        work = self._desk.project.state.work
        return RoundRow(work.copy.piece, work.place.round_index)

    def on_mount(self) -> None:
        super().on_mount()
        values = [row.value for row in self.leaf.rows]
        own_row = self._own_row
        rounds = self._desk.pattern.pieces[own_row.piece].rounds if self._desk.pattern.pieces else ()
        if own_row.index < len(rounds):
            first = rounds_of_line(self._desk.pattern.pieces[own_row.piece], own_row.index)[0]
            if RoundRow(own_row.piece, first) in values:
                self.choose(values.index(RoundRow(own_row.piece, first)))
        if self._walks:
            self._walk()

    def pressed(self, key: str) -> bool:
        if key != IN_DOUBT:
            return False
        self._walk()
        return True

    def taken(self, value: object) -> None:
        if isinstance(value, RoundRow):
            self.app.push_screen(MendPage(AtDesk(self._desk), value.piece, value.index), lambda _: self.repaint())

    def _walk(self, *passed_spots: tuple[int, int]) -> None:
        """To the next line in doubt that is none of `passed_spots`; ends where one is put away, or there is none."""
        self.repaint()
        spot = next((each for each in doubtful_lines(self._desk.pattern) if each not in passed_spots), None)
        if spot is not None:
            page = MendPage(AtDesk(self._desk), *spot)
            self.app.push_screen(page, lambda done: self._walk(*passed_spots, spot) if done else self.repaint())
        elif self._walks and passed_spots:
            self.call_later(self._end)  # the page of the last line is still going

    def _end(self) -> None:
        self.dismiss(None)


def rounds_rows(pattern: Pattern, worked: RoundRow) -> Iterator[Row]:
    """A row for each written line: the words, what each of its rounds leaves, and what is the matter with it."""
    for number, piece in enumerate(pattern.pieces):
        if number:
            yield Row("")
        yield Row(piece.name, look=Look.FAINT)
        for index, item in enumerate(piece.rounds):
            numbers = rounds_of_line(piece, index)
            if numbers[0] == index:
                yield _row(RoundRow(number, index), item, worked.piece == number and worked.index in numbers)


def _row(spot: RoundRow, item: Round, is_here: bool) -> Row:
    leaves = "→ ?" if item.leaves is None else f"→ {item.leaves:,}"
    mark = "! " if item.is_in_doubt else "✎ " if item.printed or item.is_by_eye else "  "
    words = " ".join(item.text.split())
    pointer = "  ← here" if is_here else ""
    more = f"as printed: {' '.join(item.printed.split())}" if item.printed else _doubt(item)
    look = Look.WARNING if item.is_in_doubt else Look.PLAIN
    return Row(f"{mark}{words}  {leaves}{pointer}", spot, more, look, hang=4)


def _doubt(item: Round) -> str:
    if item.is_by_eye:
        return "you work it by eye"
    return next((problem.message for problem in item.problems), "") if item.is_in_doubt else ""
