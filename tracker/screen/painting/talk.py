"""The line of talk above the keys: what cannot wait first, then what was just said."""

from __future__ import annotations

from tracker.screen.painting.entry import paint_entry
from tracker.screen.painting.lines import Bit, Line, Look, fit, line
from tracker.screen.painting.scene import Scene, Tone

_LOOKS = {Tone.QUIET: Look.FAINT, Tone.GOOD: Look.GOOD, Tone.REFUSED: Look.STRONG}


def talk(scene: Scene, width: int, height: int) -> list[Line]:
    """One line; what is being typed comes before everything else."""
    if scene.entry is not None:
        return [paint_entry(scene.entry, width)]
    return [fit(_said(scene), width)]


def _said(scene: Scene) -> Line:
    if scene.trouble:
        return line(Bit(f" {scene.trouble} ", Look.WARNING))
    if scene.said:
        return line(Bit(scene.said, _LOOKS[scene.tone]))
    if scene.looking_on:
        return line(Bit("looking on: open in another window, nothing is kept here", Look.CUE))
    return ()
