"""The first line: what is being made, which piece and copy of it, and how long today."""

from __future__ import annotations

from tracker.screen.painting.lines import Bit, Line, Look, line, spread, width_of
from tracker.screen.painting.scene import Scene
from tracker.session.view import View

_GAP = "  "


def heading(scene: Scene, width: int, height: int) -> list[Line]:
    """The line; where it is narrow the title gives way to the piece, and then the time."""
    view = scene.view
    piece = line(Bit(piece_name(view), Look.TITLE))
    title = line(Bit(view.title, Look.FAINT))
    if view.piece_finished and view.whole_share >= 1:
        piece, title = line(Bit(view.title, Look.TITLE)), ()  # making up is about no piece
    right = line(Bit(scene.today, Look.FAINT))
    for left, end in (((*piece, *((Bit(_GAP), *title) if title else ())), right), (piece, right)):
        if width_of(left) + width_of(end) + len(_GAP) <= width:
            return [spread(left, end, width)]
    return [spread(piece, (), width)]


def piece_name(view: View) -> str:
    """The piece and copy in hand: "Spot 2 of 5"."""
    return view.piece if view.copies <= 1 else f"{view.piece} {view.copy} of {view.copies}"
