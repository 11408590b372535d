"""The line of talk above the keys: what cannot wait first, then what was just said.

What is longer than the screen is wide takes the line above as well, where shares stand: they can wait for a moment.
"""

from __future__ import annotations

from tracker.screen.painting.entry import paint_entry
from tracker.screen.painting.lines import Bit, Line, Look, fit, line, wrap
from tracker.screen.painting.scene import Scene, Tone

_LOOKS = {Tone.QUIET: Look.FAINT, Tone.GOOD: Look.GOOD, Tone.REFUSED: Look.STRONG}


MOST_LINES = 2


def talk(scene: Scene, width: int, height: int) -> list[Line]:
    """The last line of it; what is being typed comes before everything else."""
    return [fit(talk_lines(scene, width)[-1], width)]


def talk_above(scene: Scene, width: int) -> Line | None:
    """The line before the last where one is not enough: it goes over the line above. None if one is enough."""
    lines = talk_lines(scene, width)
    return lines[0] if len(lines) > 1 else None


def talk_lines(scene: Scene, width: int) -> list[Line]:
    """What is said, in one line or two; what is longer is cut."""
    if scene.entry is not None:
        return [paint_entry(scene.entry, width)]
    lines = wrap(_said(scene), width)
    if len(lines) <= MOST_LINES:
        return lines or [()]
    first, second, *rest = lines
    return [first, fit((*second, Bit(" "), *(bit for part in rest for bit in part)), width)]


def _said(scene: Scene) -> Line:
    if scene.trouble:
        return line(Bit(f" {scene.trouble} ", Look.WARNING))
    if scene.said:
        return line(Bit(scene.said, _LOOKS[scene.tone]))
    if scene.looking_on:
        return line(Bit("looking on: open in another window, nothing is kept here", Look.CUE))
    return ()
