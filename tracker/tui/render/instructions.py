"""The words beside the drawing: what to do now, the round as written, what it must come to, and what comes next."""

from __future__ import annotations

from functools import lru_cache

from tracker.diagnostics import Span
from tracker.pattern.round_splitter import heading_of
from tracker.session.phrases import off_by
from tracker.session.view import View
from tracker.tui.render import big_text as figures
from tracker.tui.render.blocks import Block, cut, stacked
from tracker.tui.render.scene import Choice, Scene
from tracker.tui.render.styled_text import Bit, Line, Look, line, wrap

_LEAST_FOR_BIG = 15
"""Lines that the words must have before what to do now is written big as well."""


def words(scene: Scene, width: int, height: int) -> list[Line]:
    """The whole column."""
    if scene.looked_at is not None:
        return stacked(_looked_at(scene, width), width, height)
    return stacked(_blocks(scene, width, height), width, height)


def _blocks(scene: Scene, width: int, height: int) -> list[Block]:
    view = scene.view
    if view.piece_finished:
        return _made(scene, width, height)
    warning = _warning(scene, width, height)
    big = _big(scene, width, height - len(warning.lines))
    written = (*_changed(view, width), *instruction(view.text, view.now_span, width))
    return [
        warning,
        _whole(_cue(scene, width)),
        Block(1, big, least=len(big)),
        _whole(_now(scene, width)),
        Block(2, _doubt(view, width)),
        Block(3, _remark(view, width), instead=_read_on(scene)),
        Block(2, written, least=max(2, height // 2), sight=_present(written)),
        Block(1, _where(view, width)),
        Block(3, _colours(view, width)),
        Block(7, _notes(view, width)),
        Block(5, _differences(view, width)),
        Block(4, _ahead(view, width), least=2),
    ]


def _made(scene: Scene, width: int, height: int) -> list[Block]:
    """What is left when a piece is made: the question about its last round, or the steps of making up."""
    view = scene.view
    asks = wrap([Bit(f"count {view.count_of}: type the number", Look.KEY)], width) if view.asks_count else []
    told = [
        _warning(scene, width, height),
        _whole(tuple(wrap([Bit(view.now, Look.STRONG)], width))),
        Block(2, tuple(asks)),
        Block(3, _differences(view, width)),
    ]
    room = height - sum(len(block.lines) for block in told)
    return [*told, Block(4, _steps(view, width, room), spaced=False)] if view.whole_share >= 1 else told


def _whole(lines: tuple[Line, ...]) -> Block:
    """What the hands do now: never cut where there is any room for it."""
    return Block(0, lines, least=max(1, len(lines)))


def _steps(view: View, width: int, room: int) -> tuple[Line, ...]:
    """As many whole making-up steps as fit: those after the one that is told already, then those that are done."""
    steps = list(enumerate(view.making_up, 1))
    still_open = [(str(number), step, Look.PLAIN) for number, (step, done) in steps if not done][1:]
    lines: list[Line] = []
    for head, step, look in (*still_open, *(("done", step, Look.DONE) for _, (step, done) in steps if done)):
        more = wrap([Bit(f"{head:>4}  ", look), Bit(step, look)], width, " " * 6)
        if len(lines) + len(more) > room:
            break
        lines += more
    return tuple(lines)


def _warning(scene: Scene, width: int, height: int) -> Block:
    """The count that differs: it stays until it is answered. Where there is little room each choice has one line."""
    found = scene.view.unanswered
    if found is None:
        return Block(0, ())
    bar = line(Bit(f" {off_by(found)} ".ljust(width), Look.WARNING))
    told = tuple(wrap([Bit(scene.told, Look.STRONG)], width))
    choices = [_choice(choice, width) for choice in scene.choices]
    room = max(height - len(_now(scene, width)), height // 2)  # whoever only wants to go on reads what to do now
    for most in (3, 2, 1):
        if 1 + len(told) + sum(map(len, choices)) > room:
            choices = [cut(choice, most) for choice in choices]
    if 1 + len(told) + len(choices) > room:
        told = cut(tuple(wrap([Bit(scene.told, Look.STRONG)], width - 2)), max(1, room - 1 - len(choices)))
    lines = (bar, *told, *(part for choice in choices for part in choice))
    return Block(0, lines, least=min(len(lines), height))


def _choice(choice: Choice, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(f" {choice.key} ", Look.KEY), Bit(f" {choice.words}")], width - 2, "    "))


def _cue(scene: Scene, width: int) -> tuple[Line, ...]:
    """One stitch early: the new yarn is drawn through with the last loop of the old one."""
    if not scene.cue:
        return ()
    return tuple(line(Bit(f" {part} ".ljust(width), Look.CUE)) for part in _plain_wrap(scene.cue, width - 2))


def _plain_wrap(text: str, width: int) -> list[str]:
    return ["".join(bit.text for bit in a_line) for a_line in wrap([Bit(text)], width)]


def _big(scene: Scene, width: int, height: int) -> tuple[Line, ...]:
    """What to do now in big letters: in full where there is much room, else in short words, else nothing."""
    if height < _LEAST_FOR_BIG:
        return ()
    told = _now_alone(scene)
    return _large(told, width, height // 3, (2, 1)) or _large(scene.short, width, height // 4, (2, 1))


def _now_alone(scene: Scene) -> str:
    """What to do now without the cue, which is told by itself."""
    return scene.view.now.removesuffix(f"; {scene.cue}") if scene.cue else scene.view.now


def _now(scene: Scene, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(_now_alone(scene), Look.STRONG)], width))


@lru_cache(maxsize=64)
def _large(text: str, width: int, height: int, sizes: tuple[int, ...]) -> tuple[Line, ...]:
    """The text in the largest of the sizes in which it fits, broken at spaces; nothing if it fits in none."""
    if not text or not figures.can_show(text):
        return ()
    for size in sizes:
        parts = _broken(text, width, size)
        rows = len(parts) * (figures.height(size) + 1) - 1
        if parts and rows <= height:
            return tuple(row for part in parts for row in ((), *_big_rows(part, size)))[1:]
    return ()


def _big_rows(text: str, size: int) -> list[Line]:
    return [line(Bit(row, Look.STRONG)) for row in figures.big(text, size)]


def _broken(text: str, width: int, size: int) -> list[str]:
    """The text in lines that fit when they are written big; none if a word alone does not."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and figures.width(longer, size) <= width:
            lines[-1] = longer
        elif figures.width(word, size) <= width:
            lines.append(word)
        else:
            return []
    return lines


def _doubt(view: View, width: int) -> tuple[Line, ...]:
    """A misprint is told where it is met."""
    return tuple(wrap([Bit(f"! as written: {view.doubt}", Look.STRONG)], width, "  ")) if view.doubt else ()


def _present(written: tuple[Line, ...]) -> int:
    """The line that has what is being worked now, 0 if none has."""
    marked = (number for number, a_line in enumerate(written) if any(bit.look is Look.NOW for bit in a_line))
    return next(marked, 0)


def _read_on(scene: Scene) -> Line:
    """Where there is no room for what the pattern says here: the key that shows it."""
    return line(Bit(f"the pattern says more: {scene.reads_on}", Look.KEY)) if scene.reads_on else ()


def _remark(view: View, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(view.remark, Look.FAINT)], width)) if view.remark else ()


def _changed(view: View, width: int) -> tuple[Line, ...]:
    """That the round is not worked as the pattern has it, and what the pattern has."""
    if not view.changed:
        return ()
    written = f"; the pattern has {' '.join(view.pattern_text.split())}"
    return tuple(wrap([Bit("changed", Look.KEY), Bit(written, Look.FAINT)], width))


def _where(view: View, width: int) -> tuple[Line, ...]:
    if view.asks_count:
        asked = wrap([Bit(f"count {view.count_of}: type the number", Look.KEY)], width)
        return (*asked, *_marker(view, width))
    parts = [f"stitch {view.stitch:,}" + (f" of {view.expected:,}" if view.expected is not None else "")]
    if view.repeat is not None and view.repeats is not None:
        parts.append(f"repeat {view.repeat:,} of {view.repeats:,}")
    where = line(Bit(" · ".join(parts), Look.STRONG))
    return (where, *_marker(view, width))


def _marker(view: View, width: int) -> tuple[Line, ...]:
    """What is to be done with the work before a round begins."""
    marker = wrap([Bit("move the marker to the first stitch", Look.FAINT)], width) if view.moves_marker else []
    turned = wrap([Bit(f"turned: {view.side} faces you", Look.PLAIN)], width) if view.side else []
    return (*turned, *marker)


def _colours(view: View, width: int) -> tuple[Line, ...]:
    lines: list[Line] = []
    if view.colour:
        lines += wrap([Bit(f"yarn: {called(view.colour, view.colour_key)}")], width)
    change = view.next_colour
    if change is not None and change.in_stitches > 0:
        stitches = "1 stitch" if change.in_stitches == 1 else f"{change.in_stitches:,} stitches"
        lines += wrap([Bit(f"in {stitches}: {called(change.name, change.key)}")], width)
    return tuple(lines)


def called(name: str, key: str) -> str:
    """A yarn by its name and the letter that the rounds call it by."""
    return name if not key or name == key else f"{name} ({key})"


def _notes(view: View, width: int) -> tuple[Line, ...]:
    return tuple(part for note in view.notes_here for part in wrap([Bit(f"note: {note}", Look.FAINT)], width, "  "))


def _differences(view: View, width: int) -> tuple[Line, ...]:
    return tuple(
        part
        for found in view.differences
        if (found.piece, found.copy) == (view.piece, view.copy)
        for part in wrap([Bit(f"! {found.piece}, {found.round_label}: {off_by(found)}")], width, "  ")
    )


def _ahead(view: View, width: int) -> tuple[Line, ...]:
    """The next rounds, as written."""
    lines: list[Line] = []
    for index, coming in enumerate(view.ahead[:2]):
        head = "next  " if index == 0 else "then  "
        changed = Bit("changed: " if coming.changed else "", Look.KEY)
        text = " ".join(coming.text.split())
        written = Bit(_as_written(coming.label, text), Look.AHEAD)
        lines += cut(tuple(wrap([Bit(head, Look.FAINT), changed, written], width, " " * len(head))), 3)
    return tuple(lines)


def _as_written(label: str, text: str) -> str:
    """The text of a round, with its own number where it is written together with others, or like an earlier one."""
    numbers = [str(number) for number in heading_of(text).numbers]
    if len(numbers) > 1:
        return f"{label} of {text}"
    return f"{label} as {text}" if numbers and numbers[0] != label.split()[-1] else text


def _looked_at(scene: Scene, width: int) -> list[Block]:
    seen = scene.looked_at
    assert seen is not None
    place = scene.view.round_label or scene.view.piece
    changed = ", changed" if scene.looked_at_is_changed else ""
    head = f"looking at {seen.label}{changed}; your place stays at {place}"
    blocks = [
        Block(0, tuple(wrap([Bit(head, Look.KEY)], width))),
        Block(0, tuple(instruction(seen.text, None, width)), least=2),
        Block(3, tuple(wrap([Bit(seen.remark, Look.FAINT)], width)) if seen.remark else ()),
    ]
    if seen.leaves is not None:
        blocks.insert(2, Block(1, (line(Bit(f"{seen.leaves:,} stitches when it is done", Look.STRONG)),)))
    return blocks


# The round as written, with the part being worked now marked: behind it is done, after it is still to come.


def instruction(text: str, now: Span | None, width: int) -> list[Line]:
    """The text wrapped to a width. Line breaks of the pattern are kept."""
    lines: list[Line] = []
    for number, written in enumerate(text.split("\n")):
        lines += wrap(_marked(written, number, now), width)
    return lines


def _marked(written: str, number: int, now: Span | None) -> list[Bit]:
    if now is None:
        return [Bit(written, Look.AHEAD)]
    if number != now.line:
        return [Bit(written, Look.DONE if number < now.line else Look.AHEAD)]
    parts = (
        Bit(written[: now.start], Look.DONE),
        Bit(written[now.start : now.end], Look.NOW),
        Bit(written[now.end :], Look.AHEAD),
    )
    return [part for part in parts if part.text]
