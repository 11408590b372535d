"""The sheet of a pattern as it was made, to print or share; and the pictures that go onto a sheet."""

from __future__ import annotations

from collections.abc import Iterator

from tracker.document.as_made import WorkHistory
from tracker.document.builder import Wish, compose
from tracker.document.model import Pictures
from tracker.drawing.chart import is_drawn_whole
from tracker.drawing.chart_svg import bounds
from tracker.journal.paths import day_of
from tracker.pattern.model import Pattern, Piece
from tracker.project.project import Project
from tracker.reports.pictures import ChartPicture, OutlinePicture


def sheet_as_made(project: Project) -> str:
    """One page for print (HTML) with what was really made: counts, notes, times, mended rounds."""
    from tracker.document.html import as_page

    pattern = project.pattern
    pictures = pictures_of(pattern, pattern.terms, True)
    return as_page(compose(pattern, Wish(pattern.terms, False, history_of(project), pictures)))


def history_of(project: Project) -> WorkHistory:
    """All that was done in a project. Raises `JournalTrouble`."""
    changed = tuple(project.changed) if project.changed else ()
    happened = tuple(project.history())
    return WorkHistory(project.state, happened, project.days(history=happened), day_of, changed)


# The outline of each piece, and its chart where that stays readable.

MOST_PIECES = 24
"""Pieces that are drawn; of a pattern with more, only the first."""
SHORTEST = 4
"""Rounds that a piece has at least if its outline is drawn; with fewer there is no shape to see."""
WIDEST = 60.0
"""Stitch widths of a chart that fit a printed page: at 180 mm across a stitch is 3 mm wide then."""

_NOT_DRAWN = Pictures(left_out=("there are too many pieces to draw them all here: see rounds draw with --piece",))


def pictures_of(pattern: Pattern, terms: str, on_paper: bool) -> dict[int, Pictures]:
    """The pictures of each piece, by its number from 0. `on_paper`: printed, not set in letters."""
    drawn = enumerate(pattern.pieces[:MOST_PIECES])
    pictures = {index: _of_piece(pattern, piece, terms, on_paper) for index, piece in drawn}
    return pictures | dict.fromkeys(range(MOST_PIECES, len(pattern.pieces)), _NOT_DRAWN)


def _of_piece(pattern: Pattern, piece: Piece, terms: str, on_paper: bool) -> Pictures:
    outline = OutlinePicture.of(pattern, piece, None)
    chart = ChartPicture.of(pattern, piece, None, terms) if is_drawn_whole(piece) else None
    reasons = tuple(_unreadable(chart, on_paper))
    return Pictures(
        outline=outline if len(piece.rounds) >= SHORTEST else None,
        chart=chart if piece.rounds and not reasons else None,
        size=outline.notes if outline else (),
        left_out=reasons,
    )


def _unreadable(picture: ChartPicture | None, on_paper: bool) -> Iterator[str]:
    """Why the chart of a piece is left off the sheet; nothing if it is not. Of one that is not drawn whole there is
    none."""
    if picture is None:
        yield "the whole chart would be too large to read: draw it round by round with rounds draw"
        return
    left, bottom, right, top = bounds(picture.chart)
    if on_paper and max(right - left, (top - bottom) * 0.75) > WIDEST:
        yield "the whole chart would be too small to read on a page: draw it round by round with rounds draw"
