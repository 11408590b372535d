"""Pictures of what is being made: the outline as it stands and as it will be, the chart of the round."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from tracker.pattern.model import Piece
from tracker.reports.pictures import ChartPicture, ObjectPicture, OutlinePicture, Picture
from tracker.session.state import Copy, copy_name
from tracker.session.worked_rounds import round_at
from tracker.tui.controller import Desk
from tracker.tui.pages.page import BACK, Page
from tracker.tui.render.drawn import KEY_LINES, drawn_line
from tracker.tui.render.list_view import Row, room_for
from tracker.tui.render.scene import Choice
from tracker.tui.render.yarn_colours import swatches

NEXT = "d"
KEYS = (Choice(NEXT, "next picture"), BACK, Choice("↑↓", "scroll"))


class PicturesPage(Page):
    """One picture after another with one key; each is drawn to the size of the terminal."""

    def __init__(self, desk: Desk, copy: Copy) -> None:
        super().__init__("", desk.palette, KEYS)
        self._desk, self._copy = desk, copy
        self._in_colour = bool(desk.palette.paper)
        self._colours = swatches(desk.pattern, desk.palette.paper or "#000000")
        self._piece, self._index = _piece_in_hand(desk, copy), desk.project.state.work.place_in(copy).round_index
        self._makers: tuple[tuple[str, Callable[[], Picture | None]], ...] = tuple(self._pictures())
        self._drawn: tuple[int, tuple[int, int], tuple[Row, ...]] | None = None
        self._turn_to(0)

    def _turn_to(self, number: int) -> None:
        self._number = number
        name = copy_name(self._desk.pattern, self._copy)
        title = f"{name}, {self._makers[number][0]} ({number + 1} of {len(self._makers)})"
        self.leaf = replace(self.leaf, title=title, top=0)

    def _pictures(self) -> list[tuple[str, Callable[[], Picture | None]]]:
        """What each shows, and how it is made: only when it is looked at."""
        pattern, piece, index = self._desk.pattern, self._piece, self._index
        pattern_piece = pattern.pieces[self._copy.piece]
        pictures: list[tuple[str, Callable[[], Picture | None]]] = []
        if 0 < index < len(piece.rounds):
            pictures.append(("as it stands", lambda: OutlinePicture.of(pattern, pattern_piece, index - 1)))
        pictures.append(("as it will be", lambda: OutlinePicture.of(pattern, pattern_piece, None)))
        if len(pattern.pieces) > 1 or pattern_piece.make > 1:
            pictures.append(("all pieces together", lambda: ObjectPicture.of(pattern, self._made)))
        if index < len(piece.rounds):
            label = piece.rounds[index].label
            pictures.append((label, lambda: ChartPicture.of(pattern, piece, index, pattern.terms)))
        pictures.append(("all rounds", lambda: ChartPicture.of(pattern, piece, None, pattern.terms)))
        return pictures

    def _made(self, piece: int, number: int) -> int:
        """How many rounds of a copy are made."""
        return self._desk.project.state.work.place_in(Copy(piece, number)).round_index

    def rows(self) -> tuple[Row, ...]:
        size = (self.size.width, self.size.height)
        if self._drawn is None or self._drawn[:2] != (self._number, size):
            self._drawn = (self._number, size, self._draw(*size))
        return self._drawn[2]

    def _draw(self, width: int, height: int) -> tuple[Row, ...]:
        picture = self._makers[self._number][1]()
        if picture is None:
            return (Row("there is no outline: no round could be measured"),)
        lines = picture.text(max(20, width), max(6, room_for(self.leaf, width, height) - KEY_LINES))
        return tuple(Row("", drawn=drawn_line(each, self._colours, in_colour=self._in_colour)) for each in lines[2:])

    def pressed(self, key: str) -> bool:
        if key != NEXT:
            return False
        self._turn_to((self._number + 1) % len(self._makers))
        self.repaint()
        return True


def _piece_in_hand(desk: Desk, copy: Copy) -> Piece:
    """The piece with the rounds as this maker works them."""
    piece = desk.pattern.pieces[copy.piece]
    state = desk.project.state
    indexes = range(len(piece.rounds))
    own = tuple(round_at(desk.pattern, state.work, copy.piece, copy.number, index) for index in indexes)
    return replace(piece, rounds=own)
