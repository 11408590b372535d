"""A round being typed, with what it comes to under it at every key: the same line wherever a round can be typed."""

from __future__ import annotations

from collections.abc import Iterator

from rich.cells import cell_len

from tracker.lazy_dataclass import dataclass
from tracker.pattern.live_reading import (
    Around,
    Behind,
    LiveReading,
    completed,
    completions,
    read_live,
    with_heading,
)
from tracker.tui.render.list_view import Row
from tracker.tui.render.styled_text import Bit, Line, Look, clean, line
from tracker.tui.render.text_field import TextEntry, fresh_entry, inserted, typed

# Cells in which a word and what is said of it fit.
LEAST_WIDTH = 20


@dataclass
class LiveLine:
    """`printed` is the line that stands there, for its heading; `entry` what is typed."""

    around: Around
    entry: TextEntry
    printed: str = ""
    _read: tuple[str, LiveReading] | None = None

    @property
    def whole(self) -> str:
        """The line with its heading, also where that was not typed."""
        return with_heading(self.entry.text, self.printed)

    @property
    def reading(self) -> LiveReading:
        """What the line comes to now; its columns are those of the line with its heading."""
        if self._read is None or self._read[0] != self.whole:
            self._read = self.whole, read_live(self.whole, self.around)
        return self._read[1]

    @property
    def offered(self) -> tuple[str, ...]:
        """The words that the one before the cursor could become."""
        return completions(self.entry.text, self.entry.cursor, self.around.context)

    def type(self, key: str, character: str | None) -> str | None:
        """A key: the text once it is taken, "" where it is put away, None while it is still typed."""
        if key == "tab":
            if words := self.offered:
                text, cursor = completed(self.entry.text, self.entry.cursor, words[0])
                self.entry = TextEntry(self.entry.question, text, cursor)
            return None
        after = typed(self.entry, key, character)
        if isinstance(after, TextEntry):
            self.entry = after
            return None
        return after or ""

    def paste(self, text: str) -> None:
        self.entry = inserted(self.entry, text.strip())

    def rows(self, width: int, *, reads: bool = True) -> tuple[Row, ...]:
        """The line with its cursor and a mark under what is not known, then what it comes to; where it `reads` as no
        round, the line alone.
        """
        if not reads:
            return tuple(Row("", drawn=part) for part in paint_typed(self.entry, None, max(width, LEAST_WIDTH)))
        reading, offset = self.reading, len(self.whole) - len(self.entry.text)
        caret = reading.caret
        spot = (caret.start - offset, caret.end - offset) if caret and not caret.line else None
        painted = tuple(Row("", drawn=part) for part in paint_typed(self.entry, spot, max(width, LEAST_WIDTH)))
        return (*painted, *(Row(part, look=look) for part, look in reading_lines(reading, self.offered)))


def live_line(around: Around, text: str, printed: str = "", cursor: int | None = None) -> LiveLine:
    """A fresh line with this text in it, the cursor behind it or where it is asked for."""
    entry = fresh_entry("", clean(text))
    return LiveLine(around, entry if cursor is None else TextEntry("", entry.text, cursor), printed)


def reading_lines(reading: LiveReading, offered: tuple[str, ...] = ()) -> Iterator[tuple[str, Look]]:
    """What a line comes to, each sentence with its look: the numbers, what the next line needs, what is wrong."""
    if reading.leaves is not None:
        yield _numbers(reading), Look.GOOD if reading.is_clean else Look.PLAIN
    if reading.need is not None and reading.next_works is False:
        needs = f" needs {reading.need.uses:,}" if reading.need.uses is not None else " does not come out over that"
        yield f"! {reading.need.label}{needs}", Look.WARNING
    if reading.behind is not None:
        stuck_label = reading.need.label if reading.need is not None and reading.next_works is False else ""
        yield from _behind_lines(reading.behind, stuck_label)
    for problem in reading.problems[:2]:
        yield f"! {problem.message}" + (f"; {problem.help}" if problem.help else ""), Look.WARNING
    if offered:
        yield f"tab: {', '.join(offered)}", Look.FAINT


def _behind_lines(behind: Behind, words: str) -> Iterator[tuple[str, Look]]:
    """What a changed line does to the rounds behind it, but of the one that the `words` tell already."""
    others = behind.others
    if others:
        labels = others[0] if len(others) == 1 else f"{others[0]} to {others[-1]}"
        yield f"changes what {labels} {'leaves' if len(others) == 1 else 'leave'}", Look.PLAIN
    if behind.stuck and behind.stuck != words:
        yield f"! {behind.stuck} does not come out any more", Look.WARNING


def _numbers(reading: LiveReading) -> str:
    takes = ""
    if reading.takes is not None and reading.bases is not None:
        takes = f"takes {reading.takes:,} of {reading.bases:,}, "
    elif reading.takes:
        takes = f"takes {reading.takes:,}, "
    following = ""
    if reading.need is not None and reading.next_works:
        needs = f"needs {reading.need.uses:,}" if reading.need.uses is not None else "takes all of them"
        following = f"; {reading.need.label} {needs}"
    return f"{takes}leaves {reading.leaves:,}{following}"


def paint_typed(entry: TextEntry, spot: tuple[int, int] | None, width: int) -> list[Line]:
    """The text over as many lines as it takes, the cursor in it, and a line of marks under a spot of it."""
    lines: list[Line] = []
    text, start = entry.text + " ", 0
    while start < len(text):
        end = _fitting(text, start, width)
        lines.append(_with_cursor(text[start:end], entry.cursor - start))
        if spot is not None and start <= max(spot[0], 0) < end:
            first, last = max(spot[0], 0), min(max(spot[1], spot[0] + 1), end)
            before = cell_len(text[start:first])
            lines.append(line(" " * before, Bit("^" * max(1, cell_len(text[first:last])), Look.WARNING)))
        start = end
    return lines


def _fitting(text: str, start: int, width: int) -> int:
    """Where a line of so many cells ends that begins there; behind a blank if there is one."""
    end, cells = start, 0
    while end < len(text) and cells + cell_len(text[end]) <= width:
        cells += cell_len(text[end])
        end += 1
    blank = text.rfind(" ", start, end)
    return end if end == len(text) or blank < start else blank + 1


def _with_cursor(part: str, cursor: int) -> Line:
    if not 0 <= cursor < len(part):
        return line(part)
    return line(part[:cursor], Bit(part[cursor], Look.NOW), part[cursor + 1 :])
