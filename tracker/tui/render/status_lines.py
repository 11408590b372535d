"""The first line: what is being made, which piece and copy of it, and how long today."""

from __future__ import annotations

from functools import lru_cache

from tracker.session.view import View
from tracker.session.view_words import percent
from tracker.tui.render.scene import Choice, Scene, Tone
from tracker.tui.render.styled_text import Bit, Line, Look, fit, line, spread, width_of, wrap
from tracker.tui.render.text_field import paint_entry

_GAP = "  "


def heading(scene: Scene, width: int, height: int) -> list[Line]:
    """The line; where it is narrow the title gives way to the piece, and then the time."""
    view = scene.view
    piece = line(Bit(piece_name(view), Look.TITLE))
    title = line(Bit(view.title, Look.FAINT))
    if view.piece_finished and view.all_made:
        piece, title = line(Bit(view.title, Look.TITLE)), ()  # making up is about no piece
    right = line(Bit(scene.today, Look.FAINT))
    for left, end in (((*piece, *((Bit(_GAP), *title) if title else ())), right), (piece, right)):
        if width_of(left) + width_of(end) + len(_GAP) <= width:
            return [spread(left, end, width)]
    return [spread(piece, (), width)]


def piece_name(view: View) -> str:
    """The piece and copy in hand: "Spot 2 of 5"."""
    return view.piece if view.copies <= 1 else f"{view.piece} {view.copy} of {view.copies}"


# The line that tells how far the piece and the whole are.

FULL, EMPTY = "━", "┄"


def shares(scene: Scene, width: int, height: int) -> list[Line]:
    """Two short bars with their names; without the bars where it is narrow. A long talk goes before them."""
    above = talk_above(scene, width)
    if above is not None:
        return [fit(above, width)]
    view = scene.view
    room = (width - len("this piece 100%    everything 100%")) // 2
    named_shares = (("this piece", view.piece_share), ("everything", view.whole_share))
    parts: list[Bit] = []
    for name, share in named_shares:
        parts += _share_bar(name, share, min(room - 1, 24))
        parts.append(Bit("   "))
    return [fit(line(*parts[:-1]), width)]


def _share_bar(name: str, share: float, length: int) -> list[Bit]:
    # A shorter bar shows nothing.
    if length < 4:
        return [Bit(f"{name} {percent(share)}", Look.FAINT)]
    full = min(length, int(share * length))
    bar = [Bit(FULL * full, Look.DONE), Bit(EMPTY * (length - full), Look.AHEAD)]
    return [Bit(f"{name} ", Look.FAINT), *bar, Bit(f" {percent(share)}", Look.FAINT)]


# The line of talk above the keys: what cannot wait first, then what was just said.

_LOOKS = {Tone.QUIET: Look.FAINT, Tone.GOOD: Look.GOOD, Tone.REFUSED: Look.STRONG}


MOST_LINES = 2


def talk(scene: Scene, width: int, height: int) -> list[Line]:
    """The last line of it; what is being typed comes before everything else."""
    return [fit(talk_lines(scene, width)[-1], width)]


def talk_above(scene: Scene, width: int) -> Line | None:
    """The line before the last where one is not enough: it goes over the line above. None if one is enough."""
    lines = talk_lines(scene, width)
    return lines[0] if len(lines) > 1 else None


def talk_lines(scene: Scene, width: int, most: int = MOST_LINES) -> list[Line]:
    """What is said, in `most` lines; what is longer is cut."""
    if scene.entry is not None:
        return [paint_entry(scene.entry, width)]
    lines = wrap(_talk(scene), width)
    if len(lines) <= most:
        return lines or [()]
    whole_lines, last, overflow = lines[: most - 1], lines[most - 1], lines[most:]
    return [*whole_lines, fit((*last, Bit(" "), *(bit for part in overflow for bit in part)), width)]


def _talk(scene: Scene) -> Line:
    if scene.trouble:
        return line(Bit(f" {scene.trouble} ", Look.WARNING))
    if scene.message:
        return line(Bit(scene.message, _LOOKS[scene.tone]))
    if scene.looking_on:
        return line(Bit("looking on: open in another window, nothing is kept here", Look.CUE))
    return ()


# The keys named at the foot of the screen, as many as there is room for.

_GAP_too = 2


def keyline(scene: Scene, width: int, height: int) -> list[Line]:
    """The keys in `height` lines, the most needed first."""
    return list(keys_in(scene.keys, width, height))


@lru_cache(maxsize=8)
def keys_in(keys: tuple[Choice, ...], width: int, height: int) -> tuple[Line, ...]:
    """Keys and their words packed into lines; those that do not fit are left out."""
    lines: list[list[Bit]] = [[] for _ in range(height)]
    widths = [0] * height
    for choice in keys:
        key_bits = (Bit(choice.key, Look.KEY), Bit(f" {choice.words}"))
        size = width_of(key_bits)
        for index in range(height):
            gap = _GAP_too if widths[index] else 0
            if widths[index] + gap + size <= width:
                lines[index] += [Bit(" " * gap), *key_bits] if gap else key_bits
                widths[index] += gap + size
                break
    return tuple(fit(tuple(bits), width) for bits in lines)
