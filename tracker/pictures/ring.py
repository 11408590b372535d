"""The round being worked as a grid of cells: a ring where there is room, a bar where not.

Each cell has a character that tells what it is without any colour: filled is done, hollow is ahead, a triangle that
stands on its tip is an increase and one on its foot a decrease, a diamond is the move to make now.
The cost depends on the size of the grid, never on the number of stitches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from tracker.pattern.plan import Act, Plan, Role
from tracker.pictures.cells import around
from tracker.pictures.unroll import colour_at, repeat_moves, worked

MOST_MOVES = 400
"""A round of more moves is drawn as a bar of the whole and a strip around the present place."""


LEAST_RING = 7
"""Rows below which a ring is a blot."""
_INWARDS = 0.22
"""How far from the ring towards its middle the letter of a yarn stands."""


class Sign(Enum):
    """What a cell shows. `MARKER` is where the round begins, `LETTER` names the yarn that begins there."""

    DONE = "done"
    NOW = "now"
    AHEAD = "ahead"
    INCREASE = "increase"
    DECREASE = "decrease"
    MARKER = "marker"
    LETTER = "letter"


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell. `colour` is the key of its yarn, "" if the pattern names none."""

    character: str
    sign: Sign
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Glyphs:
    """The characters of a drawing; `done` and `ahead` by what a move is."""

    done: dict[str, str]
    ahead: dict[str, str]
    now: str
    marker: str
    bar_done: str
    bar_ahead: str


ROUNDED = Glyphs(
    done={"even": "●", "more": "▼", "fewer": "▲", "chain": "▬", "none": "•"},
    ahead={"even": "○", "more": "▽", "fewer": "△", "chain": "▭", "none": "·"},
    now="◆",
    marker="┃",
    bar_done="█",
    bar_ahead="░",
)
PLAIN = Glyphs(
    done={"even": "#", "more": "V", "fewer": "A", "chain": "=", "none": ":"},
    ahead={"even": "o", "more": "v", "fewer": "a", "chain": "-", "none": "."},
    now="@",
    marker="|",
    bar_done="#",
    bar_ahead=".",
)
"""For terminals and fonts that have ASCII only."""

Row = tuple[Cell | None, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Rows of cells, None where nothing is drawn. `is_ring` says that the middle is free for a number."""

    rows: tuple[Row, ...]
    is_ring: bool = False


@dataclass(frozen=True, slots=True)
class _Move:
    """One move: what sort it is ("even", "more", "fewer", "chain", "none") and its yarn."""

    sort: str
    colour: str


def ring(plan: Plan, done: int, columns: int, rows: int, colour: str = "", glyphs: Glyphs = ROUNDED) -> Drawing:
    """The round with `done` of its moves made, in a grid of this size; `colour` is in use at its first stitch."""
    if columns < 1 or rows < 1 or not plan.moves:
        return Drawing(())
    done = max(0, min(done, plan.moves))
    if plan.moves > MOST_MOVES:
        return _long(plan, done, columns, rows, colour, glyphs)
    moves = list(_moves(plan, colour))
    cells = [_cell(move, number - done, glyphs) for number, move in enumerate(moves)]
    return _ring(moves, cells, columns, rows, glyphs) or _bar(plan, done, cells, columns, rows, glyphs)


def _moves(plan: Plan, colour: str) -> Iterator[_Move]:
    for each in worked(plan, colour, MOST_MOVES):
        move = _Move(_sort(each.act), each.colour)
        for _ in range(each.act.moves):
            yield move


def _sort(act: Act) -> str:
    if act.is_increase:
        return "more"
    if act.is_decrease:
        return "fewer"
    if act.role is Role.CHAIN:
        return "chain"
    return "even" if act.role is Role.WORK else "none"


_AHEAD = {"more": Sign.INCREASE, "fewer": Sign.DECREASE}


def _cell(move: _Move, away: int, glyphs: Glyphs) -> Cell:
    """The cell of a move that is `away` moves from the one to make now."""
    if away < 0:
        return Cell(glyphs.done[move.sort], Sign.DONE, move.colour)
    if away == 0:
        return Cell(glyphs.now, Sign.NOW, move.colour)
    return Cell(glyphs.ahead[move.sort], _AHEAD.get(move.sort, Sign.AHEAD), move.colour)


def _ring(moves: Sequence[_Move], cells: Sequence[Cell], columns: int, rows: int, glyphs: Glyphs) -> Drawing | None:
    """A ring that begins at the right and runs counter-clockwise, as charts do; None where there is no room."""
    places = around(len(cells), columns, rows)
    if places is None or rows < LEAST_RING:
        return None
    grid: list[list[Cell | None]] = [[None] * columns for _ in range(rows)]
    seam = grid[(rows - 1) // 2 if rows % 2 else rows // 2]
    for (x, y), cell in zip(places, cells, strict=True):
        grid[y][x] = cell
    right = max(x for x, _ in places)
    if seam[right] is None:
        seam[right] = Cell(glyphs.marker, Sign.MARKER)
    _letters(grid, moves, places)
    return Drawing(tuple(tuple(row) for row in grid), is_ring=True)


def _letters(grid: list[list[Cell | None]], moves: Sequence[_Move], places: Sequence[tuple[int, int]]) -> None:
    """The letter of each yarn inside the ring, beside its first stitch."""
    middle = (len(grid[0]) - 1) / 2, (len(grid) - 1) / 2
    before = ""
    for move, (x, y) in zip(moves, places, strict=True):
        if move.colour and move.colour != before:
            inner = round(x + (middle[0] - x) * _INWARDS), round(y + (middle[1] - y) * _INWARDS)
            if grid[inner[1]][inner[0]] is None:
                grid[inner[1]][inner[0]] = Cell(move.colour[0], Sign.LETTER, move.colour)
        before = move.colour


def _bar(plan: Plan, done: int, cells: Sequence[Cell], columns: int, rows: int, glyphs: Glyphs) -> Drawing:
    """The moves in lines, broken where a repeat begins anew if that fits, so that increases stand in columns."""
    once = repeat_moves(plan)
    width = columns // once * once if 0 < once <= columns and len(cells) > columns else columns
    lines = [tuple(cells[start : start + width]) for start in range(0, len(cells), width)]
    if len(lines) <= rows:
        return Drawing(tuple(_padded(line, columns) for line in lines))
    return _long(plan, done, columns, rows, cells[0].colour, glyphs)


def _padded(line: Sequence[Cell | None], columns: int) -> Row:
    return (*line, *(None for _ in range(columns - len(line))))


def _long(plan: Plan, done: int, columns: int, rows: int, colour: str, glyphs: Glyphs) -> Drawing:
    """The whole as a bar, and below it the moves around the present place one by one."""
    reached = done * columns // plan.moves
    whole = [
        Cell(glyphs.bar_done if each < reached else glyphs.bar_ahead, Sign.DONE if each < reached else Sign.AHEAD)
        for each in range(columns)
    ]
    if done < plan.moves:
        whole[min(reached, columns - 1)] = Cell(glyphs.now, Sign.NOW)
    if rows < 2:
        return Drawing((tuple(whole),))
    start = max(0, min(done - columns // 3, plan.moves - columns))
    strip = [
        _cell(move, start + number - done, glyphs) for number, move in enumerate(_strip(plan, start, columns, colour))
    ]
    return Drawing((tuple(whole), _padded(strip, columns)))


def _strip(plan: Plan, start: int, count: int, colour: str) -> Iterator[_Move]:
    colour = colour_at(plan, start, colour)
    for number in range(start, min(start + count, plan.moves)):
        spot = plan.spot(number)
        assert spot is not None
        colour = spot.act.colour or colour
        yield _Move(_sort(spot.act), colour)
