"""NOW: what the next tap takes, as large as there is room for, with the change of colour that comes with it."""

from __future__ import annotations

import re
from functools import lru_cache

from rich.cells import cell_len

from tracker.tui.render import big_text as figures
from tracker.tui.render.scene import Scene
from tracker.tui.render.styled_text import Bit, Line, Look, line, wrap

LARGEST_SHARE = 0.6
"""Of the lines of the column: the rest says where in the round, and which yarn."""

MOST_ROWS = 3
"""Rows of big letters: more are read letter by letter."""


def now_size(scene: Scene, width: int, height: int, share: float = LARGEST_SHARE) -> int:
    """The size of the letters of NOW; 0 where only small text fits."""
    room = max(int(height * share), min(height, figures.height(1)))
    return _largest(scene.view.letters.upper(), width, room, scene.most_letters)


@lru_cache(maxsize=64)
def _largest(text: str, width: int, room: int, most: int) -> int:
    return next((size for size in SIZES if size <= most and _fits(text, width, room, size)), 0)


SIZES = (6, 4, 2, 1)


def least_height(scene: Scene, width: int) -> int:
    """Lines that the smallest of the big letters of NOW take; 0 where it cannot be shown big."""
    text = scene.view.letters.upper()
    can_be = text and figures.can_show(text) and scene.most_letters >= SIZES[-1]
    rows = _broken(text, width, SIZES[-1]) if can_be else []
    return len(rows) * figures.height(SIZES[-1]) if len(rows) <= MOST_ROWS else 0


def _fits(text: str, width: int, height: int, size: int) -> bool:
    if not text or not figures.can_show(text):
        return False
    rows = _broken(text, width, size)
    lines = len(rows) * figures.height(size) + (len(rows) - 1) * _between_rows(size)
    return 0 < len(rows) <= MOST_ROWS and lines <= height


def _between_rows(size: int) -> int:
    """Blank lines; the smallest letters leave half a line below them as it is."""
    return int(size > 1)


def now_letters(scene: Scene, width: int, height: int, share: float = LARGEST_SHARE) -> tuple[Line, ...]:
    """NOW in big letters of the yarn in use; small and strong where not even the smallest fit."""
    size = now_size(scene, width, height, share)
    text = scene.view.letters.upper()
    if not size:
        return tuple(wrap([Bit(text, Look.STRONG)], width)) if text and scene.view.tap else ()
    return _large(text, width, size, scene.ink.get(scene.view.colour_key, ""))


@lru_cache(maxsize=64)
def _large(text: str, width: int, size: int, colour: str) -> tuple[Line, ...]:
    parts = _broken(text, width, size)
    gap: list[Line] = [()] * _between_rows(size)
    return tuple(row for part in parts for row in (*gap, *_big_rows(part, size, colour)))[len(gap) :]


def _big_rows(text: str, size: int, colour: str) -> list[Line]:
    return [line(Bit(row, Look.STRONG, colour)) for row in figures.big(text, size)]


def _broken(text: str, width: int, size: int) -> list[str]:
    """The text in lines that fit when they are written big; none if a word alone does not. It is broken after a comma
    where that is possible."""
    for breaks in (_after_commas(text), text.split()):
        lines = _packed(breaks, width, size)
        if lines:
            return lines
    return []


def _after_commas(text: str) -> list[str]:
    parts = text.split(", ")
    return [*(f"{part}," for part in parts[:-1]), parts[-1]]


def _packed(words: list[str], width: int, size: int) -> list[str]:
    lines: list[str] = []
    for word in words:
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and figures.width(longer, size) <= width:
            lines[-1] = longer
        elif figures.width(word, size) <= width:
            lines.append(word)
        else:
            return []
    return lines


# A change of colour, in the new colour.


def colour_panel(scene: Scene, width: int) -> tuple[Line, ...]:
    """What happens with this tap: framed, on the new yarn's own colour, with its letter."""
    event = scene.view.colour_event
    if event is None:
        return _cue(scene, width)
    colour = scene.yarns.get(event.key, "")
    room = width - 4
    head = f"━ {event.key} ━ {event.title} " if event.key else f"━ {event.title} "
    head = head if len(head) <= width - 2 else f"━ {event.title} "
    texts = [part for text in (event.how, event.old) if text for part in _plain_wrap(text, room)]
    if len(head) > width - 2:
        head, texts = "", [*_plain_wrap(event.title, room), *texts]
    rows = (
        f"┏{head:━<{width - 2}}┓",
        *(f"┃ {part}{' ' * (room - cell_len(part))} ┃" for part in texts),
        f"┗{'━' * (width - 2)}┛",
    )
    return tuple(line(Bit(row, Look.FILLED, colour)) for row in rows)


# What the pattern says here.

_LONGEST_DUE = 0.25
"""Share of the column that notes may take; what is longer is one key away, so that the next round stays in sight."""


def due_lines(scene: Scene, width: int, height: int) -> tuple[Line, ...]:
    """The notes that are due, whole sentences only."""
    if not scene.view.remark:
        return ()
    return tuple(whole_sentences(scene.view.remark, width, max(3, int(height * _LONGEST_DUE)), scene.reads_on))


def read_on(scene: Scene, width: int) -> Line:
    """The key that shows what the pattern says, where there is no room for it."""
    words = f"{scene.reads_on} reads what the pattern says"
    return line(Bit(words, Look.KEY)) if scene.reads_on and len(words) <= width else ()


def whole_sentences(text: str, width: int, most: int, key: str, look: Look = Look.FAINT) -> list[Line]:
    """As many whole sentences as fit into `most` lines; if some are left out, the key that shows them."""
    sentences = re.split(r"(?<=[.!?;])\s+", text)
    for count in range(len(sentences), -1, -1):
        text_shown = " ".join(sentences[:count])
        text_shown = text_shown.removesuffix(";") if count < len(sentences) else text_shown
        bits = [Bit(f"{text_shown} " if text_shown else "", look)]
        if count < len(sentences) and key:
            more = "reads what the pattern says here" if not count else "reads on"
            bits.append(Bit(f"{key} {more}", Look.KEY))
        lines = wrap([bit for bit in bits if bit.text], width)
        if len(lines) <= most:
            return lines
    return []


def _cue(scene: Scene, width: int) -> tuple[Line, ...]:
    """One stitch early: the new yarn is drawn through with the last loop of the old one."""
    if not scene.cue:
        return ()
    return tuple(line(Bit(f" {part} ".ljust(width), Look.CUE)) for part in _plain_wrap(scene.cue, width - 2))


def _plain_wrap(text: str, width: int) -> list[str]:
    return ["".join(bit.text for bit in a_line) for a_line in wrap([Bit(text)], width)]
