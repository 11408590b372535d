"""The round at a glance: the main number as big as there is room for, in a ring where one fits, else above a bar."""

from __future__ import annotations

from rich.cells import cell_len

from tracker.tui.render import big_text as figures
from tracker.tui.render.progress_ring import SMALLEST, bar, fits_inside, ring
from tracker.tui.render.round_shape import Sketch
from tracker.tui.render.scene import Scene
from tracker.tui.render.styled_text import Bit, Line, Look, centred, filled, line, overlaid, width_of


def drawing(scene: Scene, width: int, height: int) -> list[Line]:
    """The drawing in all the room there is; blank where no round is being worked."""
    if scene.sketch is None:
        return _with_nothing_to_work(scene, width, height)
    if height >= SMALLEST and width >= 2 * SMALLEST:
        return _with_ring(scene, scene.sketch, width, height)
    return _with_bar(scene, scene.sketch, width, height)


LEAST_FOR_PICTURE = 12
"""Lines below which an outline is a blot."""


def _with_nothing_to_work(scene: Scene, width: int, height: int) -> list[Line]:
    """The piece is made: how many making-up steps are done, where it is time for them."""
    if scene.view.finished and height >= LEAST_FOR_PICTURE:
        from tracker.tui.render.drawn import whole_picture

        picture = whole_picture(scene.pattern, width, height, scene.ink, in_colour=scene.is_in_colour)
        if picture:
            return filled(picture, width, height)
    steps = scene.view.making_up
    counted = scene.view.all_made and steps and not scene.view.finished
    text = f"{sum(done for _, done in steps)}/{len(steps)}" if counted else "made"
    size = figures.largest(text, width, height - 2)
    rows = figures.big(text, size) if size else [text]
    title = "making up" if counted else scene.view.title if scene.view.finished else scene.view.piece
    lines = [line(Bit(title, Look.TITLE)), (), *(line(Bit(row, Look.STRONG)) for row in rows)]
    above: list[Line] = [()] * max(0, (height - len(lines)) // 2)
    return filled([*above, *(centred(part, width) for part in lines)], width, height)


def _with_ring(scene: Scene, a_sketch: Sketch, width: int, height: int) -> list[Line]:
    lines = min(height, width // 2)
    drawn = ring(a_sketch, scene.progress, lines, scene.ink, scene.left_handed)
    middle = _in_the_middle(scene, lines)
    wide = max(width_of(part) for part in middle)
    drawn = overlaid(drawn, middle, lines - wide // 2, (lines - len(middle)) // 2)
    above: list[Line] = [()] * ((height - lines) // 2)
    below: list[Line] = [()] * (height - lines - len(above))
    # A ring that has all the room is as wide as it should be; to ask that of each line would take as long again.
    return [*above, *(drawn if width == 2 * lines else (centred(part, width) for part in drawn)), *below]


def _with_bar(scene: Scene, a_sketch: Sketch, width: int, height: int) -> list[Line]:
    drawn = bar(a_sketch, scene.progress, width, scene.ink, scene.backwards)
    above = _beside(scene, width, height - len(drawn))
    return filled([*above, *drawn][-height:], width, height)


def _in_the_middle(scene: Scene, lines: int) -> list[Line]:
    """The round above, the number as big as fits into the ring, the expected total below."""
    above, number, below = scene.view.round_label, str(scene.view.stitch), _of(scene)
    for size in (size for size in _SIZES if size < scene.now_size):
        widths = [cell_len(above), *[figures.width(number, size)] * figures.height(size), cell_len(below)]
        if fits_inside(widths, lines):
            return _centred_block([above, *figures.big(number, size), below])
    return _centred_block([above, f"{scene.view.stitch:,}", below])


_SIZES = (6, 4, 2, 1)
"""Largest first; what is done never stands out more than what to do."""


def _centred_block(rows: list[str]) -> list[Line]:
    wide = max(cell_len(row) for row in rows)
    return [centred(line(Bit(row, Look.STRONG)), wide) for row in rows]


def _of(scene: Scene) -> str:
    return f"of {scene.view.expected:,}" if scene.view.expected is not None else ""


def _beside(scene: Scene, width: int, rows: int) -> list[Line]:
    """The round and the number side by side, big only where NOW is bigger still."""
    view = scene.view
    count = f"{view.stitch:,}" + (f" of {view.expected:,}" if view.expected is not None else "")
    size = figures.largest(
        f"{view.stitch}", width // 2, rows, tuple(size for size in _SIZES if size < scene.now_size)
    )
    label = Bit(f"{view.round_label}  ", Look.TITLE)
    if not size:
        return [line(label, Bit(count, Look.STRONG))][:rows]
    first, *rows_below = figures.big(f"{view.stitch}", size)
    indent = " " * cell_len(label.text)
    beside = f"  of {view.expected:,}" if view.expected is not None else ""
    return [
        line(label, Bit(first, Look.STRONG)),
        *(line(indent, Bit(row, Look.STRONG)) for row in rows_below[:-1]),
        line(indent, Bit(rows_below[-1], Look.STRONG), beside),
    ]
