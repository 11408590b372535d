"""A page of rows as a value: which row is chosen, what is scrolled away, and how it is painted."""

from __future__ import annotations

from functools import lru_cache

from tracker.identity_cache import ByIdentity
from tracker.lazy_dataclass import dataclass, replace
from tracker.tui.render.scene import Choice
from tracker.tui.render.status_lines import keys_in
from tracker.tui.render.styled_text import Bit, Line, Look, fit, line, width_of, wrap

UNMARKED, MARKED = "  ", "▸ "
FRAME = 2
"""Lines that a page needs above its rows: title, blank."""

_MORE = "  ↓ more"

LONGEST_PAGE = 20_000
"""Rows that are remembered as they are laid out: more than a pasted book of patterns has lines."""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to read, or with a `value` to choose. `more` stands below it, less strong."""

    text: str
    value: object | None = None
    more: str = ""
    look: Look = Look.PLAIN
    swatch: str = ""
    """A colour to show before the text, "#rrggbb"."""
    hang: int = 0
    """Columns by which the further lines of the text are set in."""
    drawn: Line = ()
    """One line of a picture, shown as it is in place of the text."""
    bits: Line = ()
    """A text of several looks in place of the plain one."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """What a page shows at one moment. `top` is the first line shown, `chosen` the number of a row."""

    title: str
    rows: tuple[Row, ...]
    keys: tuple[Choice, ...] = ()
    chosen: int | None = None
    top: int = 0

    @property
    def value(self) -> object | None:
        """What is chosen now."""
        return self.rows[self.chosen].value if self.chosen is not None and self.chosen < len(self.rows) else None

    def choosable(self) -> list[int]:
        return [number for number, row in enumerate(self.rows) if row.value is not None]


def with_rows(leaf: Leaf, rows: tuple[Row, ...]) -> Leaf:
    """The page with other rows, the same one chosen where that makes sense."""
    changed = replace(leaf, rows=rows)
    can = changed.choosable()
    if leaf.chosen in can:
        return changed
    return replace(changed, chosen=can[0] if can else None)


def room_for(leaf: Leaf, width: int, height: int) -> int:
    """Lines there are for the rows; where the keys do not fit into one line they take two."""
    return max(0, height - FRAME - _foot_lines(leaf, width, height))


def _foot_lines(leaf: Leaf, width: int, height: int) -> int:
    keys_width = sum(width_of(line(key.key, " ", key.words, "  ")) for key in leaf.keys) - 2
    goes_on = keys_width <= width and len(lines_of(leaf, width)) > height - FRAME - 1
    return 1 if keys_width + (len(_MORE) if goes_on else 0) <= width else 2


def moved(leaf: Leaf, by: int, width: int, height: int) -> Leaf:
    """The next or an earlier row chosen; where nothing can be chosen the page is scrolled."""
    can = leaf.choosable()
    if leaf.chosen is None or not can:
        return scrolled(leaf, by, width, height)
    place = min(max(can.index(leaf.chosen) + by, 0), len(can) - 1)
    return in_sight(replace(leaf, chosen=can[place]), width, height)


def scrolled(leaf: Leaf, by: int, width: int, height: int) -> Leaf:
    return replace(leaf, top=min(max(leaf.top + by, 0), _last_top(leaf, width, height)))


def turned(leaf: Leaf, by: int, width: int, height: int, mark: int = 0) -> Leaf:
    """The page scrolled, and the mark so many lines further; it stays among the rows in sight, or next to them where
    none of them can be chosen."""
    scrolled_leaf = scrolled(leaf, by, width, height)
    begins = _beginnings(scrolled_leaf, width)
    end = scrolled_leaf.top + max(1, room_for(scrolled_leaf, width, height))
    if scrolled_leaf.value is None or scrolled_leaf.chosen is None:
        return scrolled_leaf
    goal = min(max(begins[scrolled_leaf.chosen] + mark, scrolled_leaf.top), end - 1)
    choosable = scrolled_leaf.choosable()
    numbers_in_sight = [number for number in choosable if scrolled_leaf.top <= begins[number] < end]
    chosen = min(numbers_in_sight or choosable, key=lambda number: abs(begins[number] - goal))
    return replace(scrolled_leaf, chosen=chosen)


def is_mark_seen(leaf: Leaf, width: int, height: int) -> bool:
    """Whether the chosen row begins in sight."""
    if leaf.value is None or leaf.chosen is None:
        return False
    return leaf.top <= _beginnings(leaf, width)[leaf.chosen] < leaf.top + max(1, room_for(leaf, width, height))


def _beginnings(leaf: Leaf, width: int) -> dict[int, int]:
    """The line on which each row begins, by the number of the row."""
    return {number: index for index, (number, _) in reversed(list(enumerate(lines_of(leaf, width))))}


def _last_top(leaf: Leaf, width: int, height: int) -> int:
    """Scrolled further there would be nothing but room below the last row."""
    return max(0, len(lines_of(leaf, width)) - room_for(leaf, width, height))


def in_sight(leaf: Leaf, width: int, height: int) -> Leaf:
    """The page scrolled as little as needed to show the chosen row, and not past its end where it grew."""
    lines = [index for index, (number, _) in enumerate(lines_of(leaf, width)) if number == leaf.chosen]
    room = max(1, room_for(leaf, width, height))
    top = min(leaf.top, _last_top(leaf, width, height))
    if not lines:
        return replace(leaf, top=top)
    top = min(top, lines[0])
    if lines[-1] >= top + room:
        top = min(lines[0], lines[-1] - room + 1)
    return replace(leaf, top=top)


def lines_of(leaf: Leaf, width: int) -> list[tuple[int, Line]]:
    """All lines of the rows, each with the number of its row."""
    return [
        (number, part)
        for number, row in enumerate(leaf.rows)
        for part in _laid_out(ByIdentity(row), number == leaf.chosen, width)
    ]


@lru_cache(maxsize=LONGEST_PAGE)
def _laid_out(key: ByIdentity[Row], chosen: bool, width: int) -> list[Line]:
    """Remembered, because at each key all rows are laid out to know what is in sight."""
    return _row_lines(key.part, chosen, width)


def _row_lines(row: Row, chosen: bool, width: int) -> list[Line]:
    if row.drawn:
        return [row.drawn]
    before = _before(row, chosen)
    indent = width_of(before)
    room = max(8, width - indent)
    bits = row.bits or (Bit(row.text, Look.NOW if chosen else row.look),)
    text = wrap(bits, room, " " * row.hang) or [()]
    below = wrap([Bit(row.more, Look.FAINT)], room) if row.more else []
    return [line(*(before if index == 0 else (" " * indent,)), *part) for index, part in enumerate((*text, *below))]


def _before(row: Row, chosen: bool) -> Line:
    """What stands before the text: a mark on rows that can be chosen, a piece of yarn."""
    mark = "" if row.value is None else MARKED if chosen else UNMARKED
    return line(mark, Bit("██" if row.swatch else "", Look.PLAIN, row.swatch), " " if row.swatch else "")


def paint_leaf(leaf: Leaf, width: int, height: int) -> list[Line]:
    """The title, the rows from the top one on, and the keys at the foot."""
    lines = [part for _, part in lines_of(leaf, width)]
    room = room_for(leaf, width, height)
    row_lines = (*lines[leaf.top : leaf.top + room], *[()] * room)[:room]
    painted = [line(Bit(leaf.title, Look.TITLE)), (), *row_lines, *_foot(leaf, width, height, len(lines))]
    return [fit(part, width) for part in painted[:height]]


def _foot(leaf: Leaf, width: int, height: int, rows: int) -> list[Line]:
    room = room_for(leaf, width, height)
    more = _MORE if leaf.top + room < rows else ""
    beside = len(_MORE) if rows > room else 0
    *above, last = keys_in(leaf.keys, width - beside, _foot_lines(leaf, width, height))
    return [*above, (*fit(last, width - len(more)), Bit(more, Look.STRONG))]
