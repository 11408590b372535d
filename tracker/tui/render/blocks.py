"""Blocks of lines one below another, in the room there is: the least needed give way first."""

from __future__ import annotations

from collections.abc import Callable

from tracker.lazy_dataclass import dataclass
from tracker.tui.render.styled_text import Bit, Line, Look, filled, split, text_of, width_of

GOES_ON = "⋯"
"""Where a round as it is written goes on outside of what is shown of it; nothing else is ever cut."""
MARKS_WIDE = 4
"""Cells that it takes before and behind a line, with a blank each."""


@dataclass(frozen=True, slots=True)
class Block:
    """Some lines that belong together. Of two blocks the one with the smaller `rank` is needed more.

    `least` is how many of its lines make sense alone; `spaced` asks for a blank line above it where there is room.
    Where not all of them fit, the line number `sight` is among those that are shown; a block with an `instead` is
    shown whole, or that line in its place. `narrow` gives the same lines broken so that a mark at both ends fits, and
    which of those is to be in sight.
    """

    rank: int
    lines: tuple[Line, ...]
    least: int = 1
    spaced: bool = True
    sight: int = 0
    instead: Line = ()
    narrow: Callable[[], tuple[tuple[Line, ...], int]] | None = None


def stacked(blocks: list[Block], width: int, height: int) -> list[Line]:
    """The blocks in their order, in `height` lines of `width` cells."""
    present = [block for block in blocks if block.lines]
    sizes = _sizes(present, height)
    blocks_shown = [(block, size) for block, size in zip(present, sizes, strict=True) if size]
    spare = height - sum(size for _, size in blocks_shown)
    lines: list[Line] = []
    for block, size in blocks_shown:
        if lines and block.spaced and spare > 0:
            lines.append(())
            spare -= 1
        lines += _part(block, size, width)
    return filled(lines, width, height)


def _sizes(blocks: list[Block], height: int) -> list[int]:
    """How many lines each block gets: first its least, by rank, then the rest, by rank."""
    sizes = [0] * len(blocks)
    by_rank = sorted(range(len(blocks)), key=lambda index: blocks[index].rank)
    for index in by_rank:
        least = min(blocks[index].least, len(blocks[index].lines))
        if least <= height:
            sizes[index] = least
            height -= least
    for index in by_rank:
        if sizes[index]:
            more = min(len(blocks[index].lines) - sizes[index], height)
            if blocks[index].instead and sizes[index] + more < len(blocks[index].lines):
                continue
            sizes[index] += more
            height -= more
    return sizes


def _part(block: Block, size: int, width: int) -> tuple[Line, ...]:
    """As many lines of the block: its beginning, or those around the one that must be in sight."""
    if size >= len(block.lines):
        return block.lines
    if block.instead:
        return (block.instead,)
    lines, first = block.lines, _first_shown(block.sight, size, len(block.lines))
    if first and block.narrow is not None:
        lines, sight = block.narrow()
        first = _first_shown(sight, size, len(lines))
    part_lines = cut(lines[first:], size, width)
    return ((Bit(f"{GOES_ON} ", Look.FAINT), *part_lines[0]), *part_lines[1:]) if first else part_lines


def _first_shown(sight: int, size: int, count: int) -> int:
    return max(0, min(sight - size // 2, count - size))


def cut(lines: tuple[Line, ...], size: int, width: int) -> tuple[Line, ...]:
    """The first lines; if some are left out, the last one shown says so."""
    if size >= len(lines):
        return lines
    first_lines = lines[:size]
    last = first_lines[-1]
    room = width - len(GOES_ON) - 1
    last = last if width_of(last) <= room else split(last, room)[0]
    return (*first_lines[:-1], (*last, Bit(f" {GOES_ON}", Look.FAINT))) if text_of(last) else first_lines
