"""The line that tells how far the piece and the whole are."""

from __future__ import annotations

from tracker.screen.painting.lines import Bit, Line, Look, fit, line
from tracker.screen.painting.scene import Scene
from tracker.screen.painting.talk import talk_above
from tracker.session.phrases import percent

FULL, EMPTY = "━", "┄"


def shares(scene: Scene, width: int, height: int) -> list[Line]:
    """Two short bars with their names; without the bars where it is narrow. A long talk goes before them."""
    above = talk_above(scene, width)
    if above is not None:
        return [fit(above, width)]
    view = scene.view
    room = (width - len("this piece 100%    everything 100%")) // 2
    told = (("this piece", view.piece_share), ("everything", view.whole_share))
    parts: list[Bit] = []
    for name, share in told:
        parts += _told(name, share, min(room - 1, 24))
        parts.append(Bit("   "))
    return [fit(line(*parts[:-1]), width)]


def _told(name: str, share: float, length: int) -> list[Bit]:
    if length < 4:
        return [Bit(f"{name} {percent(share)}", Look.FAINT)]
    full = min(length, int(share * length))
    bar = [Bit(FULL * full, Look.DONE), Bit(EMPTY * (length - full), Look.AHEAD)]
    return [Bit(f"{name} ", Look.FAINT), *bar, Bit(f" {percent(share)}", Look.FAINT)]
