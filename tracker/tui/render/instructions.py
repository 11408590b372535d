"""The words beside the drawing: what to do now, the round as written, what it must come to, and what comes next."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from tracker.diagnostics import Span
from tracker.plural import number_of
from tracker.session.view import View
from tracker.session.view_words import off_by
from tracker.tui.render.blocks import MARKS_WIDE, Block, stacked
from tracker.tui.render.now import (
    colour_panel,
    due_lines,
    least_height,
    now_letters,
    now_size,
    read_on,
    whole_sentences,
)
from tracker.tui.render.scene import Choice, Scene
from tracker.tui.render.styled_text import Bit, Line, Look, line, wrap


def words(scene: Scene, width: int, height: int) -> list[Line]:
    """The whole column."""
    if scene.looked_at is not None:
        return stacked(_looked_at(scene, width), width, height)
    return stacked(_blocks(scene, width, height), width, height)


def _blocks(scene: Scene, width: int, height: int) -> list[Block]:
    view = scene.view
    if view.piece_finished and view.stop is None:
        return _made(scene, width, height)
    warning = _warning(scene, width, height)
    panel = colour_panel(scene, width)
    made = _just_made(scene, width)
    large = now_letters(scene, width, height - len(warning.lines) - len(panel) - len(made))
    due = due_lines(scene, width, height)
    marks = view.tap.spans if view.tap else ()
    instruction_lines = tuple(instruction(view.text, marks, width))
    return [
        warning,
        _whole(made),
        _whole(panel),
        _whole(large),
        Block(1, now, least=len(now)) if large and (now := _now(scene, width)) else _whole(_now(scene, width)),
        Block(3, _count_question(view, width)),
        Block(2, _doubt(view, width)),
        Block(2, due, instead=read_on(scene, width)),
        Block(1, changed, least=len(changed)) if (changed := _changed(view, width)) else Block(1, ()),
        Block(
            1,
            instruction_lines,
            least=LEAST_WRITTEN,
            spaced=not view.changed,
            sight=_present(instruction_lines),
            narrow=partial(_narrow, view.text, marks, width),
        ),
        Block(1, _where(view, width)),
        Block(3, _marker(view, width), spaced=False),
        Block(2, yarn, least=len(yarn)) if (yarn := _yarn(scene, width)) else Block(2, ()),
        Block(3, coming, least=len(coming), spaced=False) if (coming := _coming_yarn(view, width)) else Block(3, ()),
        Block(2, notes, least=len(notes)) if (notes := _notes(view, width)) else Block(2, ()),
        Block(2, _differences(view, width)),
        *(
            Block(4 + index, part, least=len(part), spaced=not index)
            for index, part in enumerate(_ahead(view, width))
        ),
    ]


def _narrow(text: str, marks: tuple[Span, ...], width: int) -> tuple[tuple[Line, ...], int]:
    """A round with room for marks at both ends of its lines, and which line has what is being worked now."""
    narrow = tuple(instruction(text, marks, width - MARKS_WIDE))
    return narrow, _present(narrow)


LEAST_WRITTEN = 2
"""Lines of the round as written that make sense alone."""


def _count_question(view: View, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(f"count {view.count_of}: type the number", Look.KEY)], width)) if view.asks_count else ()


def _just_made(scene: Scene, width: int) -> tuple[Line, ...]:
    """The copy whose last round was just made: while nothing of the next is."""
    return tuple(part for sentence in scene.just_made for part in wrap([Bit(sentence, Look.GOOD)], width))


def _made(scene: Scene, width: int, height: int) -> list[Block]:
    """What is left when a piece is made: the question about its last round, or the steps of making up."""
    view = scene.view
    asks = wrap([Bit(f"count {view.count_of}: type the number", Look.KEY)], width) if view.asks_count else []
    blocks = [
        _warning(scene, width, height),
        _whole(tuple(wrap([Bit(view.now, Look.STRONG)], width))),
        Block(1, _just_made(scene, width)),
        Block(2, tuple(asks)),
        Block(3, _differences(view, width)),
    ]
    room = height - sum(len(block.lines) for block in blocks)
    return [*blocks, Block(4, _steps(view, width, room), spaced=False)] if view.all_made else blocks


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


def size_of_now(scene: Scene, width: int, height: int) -> int:
    """The size of the letters of NOW in this column."""
    if scene.looked_at is not None or (scene.view.piece_finished and scene.view.stop is None):
        return 0
    above = _warning(scene, width, height).lines, colour_panel(scene, width), _just_made(scene, width)
    return now_size(scene, width, height - sum(map(len, above)))


def _warning(scene: Scene, width: int, height: int) -> Block:
    lines = warning_lines(scene, width, height)
    return Block(0, lines, least=min(len(lines), height))


def warning_lines(scene: Scene, width: int, height: int, has_letters: bool = True) -> tuple[Line, ...]:
    """The count that differs: it stays until it is answered or comes right. What there is no room for is left out
    whole, and the key that tells all of it is named. Below it stand the letters of NOW, if the place has them."""
    difference = scene.view.unanswered
    if difference is None:
        return ()
    bar = line(Bit(f" {off_by(difference)} ".ljust(width), Look.WARNING))
    # Whoever only wants to go on reads what to do now, as large as ever if that takes no more than half.
    now = len(_now(scene, width)) + (least_height(scene, width) if has_letters else 0)
    room = max(height - now, height // 2)
    choices = [_choice(choice, width) for choice in scene.choices]
    # What it means and what to do first come before large letters and other choices, which the named key tells too.
    first = len(choices[0]) if choices else 0
    needed = 1 + len(wrap([Bit(scene.question, Look.STRONG)], width)) + first
    room = max(room, min(needed, height - len(_now(scene, width)) - 1))
    question_lines = tuple(whole_sentences(scene.question, width, max(1, room - 1 - first), "", Look.STRONG))
    lines = [bar, *question_lines]
    for choice in choices:
        if len(lines) + len(choice) <= room:
            lines += choice
    return tuple(lines)


def _choice(choice: Choice, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(f" {choice.key} ", Look.KEY), Bit(f" {choice.words}")], width, "    "))


def _now_alone(scene: Scene) -> str:
    """What to do now without the cue, which is told by itself."""
    return scene.view.now.removesuffix(f"; {scene.cue}") if scene.cue else scene.view.now


def _now(scene: Scene, width: int) -> tuple[Line, ...]:
    return tuple(wrap([Bit(_now_alone(scene), Look.STRONG)], width))


def _doubt(view: View, width: int) -> tuple[Line, ...]:
    """A misprint is told where it is met."""
    return tuple(wrap([Bit(f"! as written: {view.doubt}", Look.STRONG)], width, "  ")) if view.doubt else ()


def _present(lines: tuple[Line, ...]) -> int:
    """The line that has what is being worked now, 0 if none has."""
    marked = (number for number, a_line in enumerate(lines) if any(bit.look is Look.NOW for bit in a_line))
    return next(marked, 0)


def _changed(view: View, width: int) -> tuple[Line, ...]:
    """That the round is not worked as the pattern has it, and what the pattern has."""
    if not view.changed:
        return ()
    pattern_words = f"; the pattern has {' '.join(view.pattern_text.split())}"
    return tuple(wrap([Bit("changed", Look.KEY), Bit(pattern_words, Look.FAINT)], width))


def _where(view: View, width: int) -> tuple[Line, ...]:
    parts = [f"stitch {view.stitch:,}" + (f" of {view.expected:,}" if view.expected is not None else "")]
    if view.repeat is not None and view.repeats is not None:
        parts.append(f"repeat {view.repeat:,} of {view.repeats:,}")
    where = line(Bit(" · ".join(parts), Look.STRONG))
    return (where,)


def _marker(view: View, width: int) -> tuple[Line, ...]:
    """What is to be done with the work before a round begins."""
    marker = wrap([Bit("move the marker to the first stitch", Look.FAINT)], width) if view.moves_marker else []
    turned = wrap([Bit(f"turned: {view.side} faces you", Look.PLAIN)], width) if view.side else []
    return (*turned, *marker)


def _yarn(scene: Scene, width: int) -> tuple[Line, ...]:
    """The yarn in use, with a piece of it."""
    view = scene.view
    if not view.colour:
        return ()
    colour = scene.ink.get(view.colour_key, "")
    piece = [Bit("██ ", Look.PLAIN, colour)] if colour else []
    return tuple(wrap([Bit("yarn: "), *piece, Bit(called(view.colour, view.colour_key))], width))


def _coming_yarn(view: View, width: int) -> tuple[Line, ...]:
    change = view.next_colour
    if change is None or change.in_stitches == 0 or view.colour_event:
        return ()
    stitches = number_of(change.in_stitches, "stitch")
    return tuple(wrap([Bit(f"in {stitches}: {called(change.name, change.key)}")], width))


def called(name: str, key: str) -> str:
    """A yarn by its name and the letter that the rounds call it by."""
    return name if not key or name == key else f"{name} ({key})"


def _notes(view: View, width: int) -> tuple[Line, ...]:
    return tuple(part for note in view.notes_here for part in wrap([Bit(f"note: {note}", Look.FAINT)], width, "  "))


def _differences(view: View, width: int) -> tuple[Line, ...]:
    return tuple(
        part
        for difference in view.differences
        if (difference.piece, difference.copy) == (view.piece, view.copy)
        for part in wrap([Bit(f"! {difference.piece}, {difference.round_label}: {off_by(difference)}")], width, "  ")
    )


def _ahead(view: View, width: int) -> Iterator[tuple[Line, ...]]:
    """The next rounds as written; one that takes many lines only by its number and what it leaves."""
    for index, coming in enumerate(view.ahead[:2]):
        head = "next  " if index == 0 else "then  "
        changed = Bit("changed: " if coming.changed else "", Look.KEY)
        text = " ".join(coming.text.split())
        round_bit = Bit(_as_written(coming.label, text), Look.AHEAD)
        lines = tuple(wrap([Bit(head, Look.FAINT), changed, round_bit], width, " " * len(head)))
        if len(lines) > MOST_AHEAD:
            leaves = f", {coming.leaves:,} stitches" if coming.leaves is not None else ""
            lines = tuple(wrap([Bit(head, Look.FAINT), changed, Bit(f"{coming.label}{leaves}", Look.AHEAD)], width))
        yield lines


MOST_AHEAD = 3
"""Lines of a coming round."""


def _as_written(label: str, text: str) -> str:
    """The text of a round, with its own number where it is written together with others, or like an earlier one."""
    if text.startswith(f"{label}:"):
        return text
    from tracker.notation.parser.heading import heading_of  # a start waits for it only where the label does not tell

    numbers = [str(number) for number in heading_of(text).numbers]
    if len(numbers) > 1:
        return f"{label} of {text}"
    return f"{label} as {text}" if numbers and numbers[0] != label.split()[-1] else text


def _looked_at(scene: Scene, width: int) -> list[Block]:
    looked_at = scene.looked_at
    assert looked_at is not None
    place = scene.view.round_label or scene.view.piece
    changed = ", changed" if scene.looked_at_is_changed else ""
    head = f"looking at {looked_at.label}{changed}; your place stays at {place}"
    blocks = [
        Block(0, tuple(wrap([Bit(head, Look.KEY)], width))),
        Block(0, tuple(instruction(looked_at.text, (), width)), least=2),
        Block(3, tuple(wrap([Bit(looked_at.remark, Look.FAINT)], width)) if looked_at.remark else ()),
    ]
    if looked_at.leaves is not None:
        blocks.insert(2, Block(1, (line(Bit(f"{looked_at.leaves:,} stitches when it is done", Look.STRONG)),)))
    return blocks


# The round as written, with the part being worked now marked: behind it is done, after it is still to come.


def instruction(text: str, marks: tuple[Span, ...], width: int) -> list[Line]:
    """The text wrapped to a width, the marked words being worked now. Line breaks of the pattern are kept."""
    lines: list[Line] = []
    for number, text_line in enumerate(text.split("\n")):
        lines += wrap(_marked(text_line, number, marks), width)
    return lines


def _marked(text_line: str, number: int, marks: tuple[Span, ...]) -> list[Bit]:
    line_marks = [mark for mark in marks if mark.line == number and mark.end > mark.start]
    if not line_marks:
        is_done = bool(marks) and number < min(mark.line for mark in marks)
        return [Bit(text_line, Look.DONE if is_done else Look.AHEAD)]
    parts: list[Bit] = []
    done = 0
    for mark in line_marks:
        parts += [
            Bit(text_line[done : mark.start], Look.AHEAD if parts else Look.DONE),
            Bit(text_line[mark.start : mark.end], Look.NOW),
        ]
        done = mark.end
    return [part for part in (*parts, Bit(text_line[done:], Look.AHEAD)) if part.text]
