"""The sheet as plain text: one line for each thing, so that it can be pasted, heard, and read by `rounds read`.

Pictures stand behind a bar, so that nobody takes a line of them for a round.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from tracker.document.model import (
    Document,
    DocumentLine,
    Drawing,
    PieceOnSheet,
    StepOnSheet,
    YarnOnSheet,
)
from tracker.normalize import fold
from tracker.notation.parser.heading import heading

COLUMNS, ROWS = 64, 22
"""The most that a picture takes: a third of a page."""


def as_text(sheet: Document) -> str:
    """The whole sheet, ending with a line end."""
    parts = [
        [sheet.title, *map(sentence, sheet.preface)],
        _section("Materials", materials(sheet)),
        _section("Take care", map(sentence, sheet.cautions)),
        _section("While you work", map(sentence, sheet.while_working)),
        _section(sheet.gauge_word, [sheet.gauge] if sheet.gauge else []),
        _section("Abbreviations", (f"{short} - {meaning}" for short, meaning in sheet.abbreviations)),
        _section("How it went", map(sentence, sheet.made)),
        _section("Notes", map(note, sheet.notes)),
        ["Instructions"],
        *(list(_piece(piece)) for piece in sheet.pieces),
        ["Making up", *_steps(sheet.steps)] if sheet.steps else [],
    ]
    return "\n\n".join("\n".join(lines) for lines in parts if lines) + "\n"


def sentence(words: str) -> str:
    """With a capital at its start and a stop at its end."""
    words = " ".join(words.split())
    return words[:1].upper() + words[1:] + ("" if words.endswith((".", "!", "?", '"')) else ".")


def note(words: str) -> str:
    """A sentence beside the rounds; in quotes where it begins like a round, so that no reader takes it for one."""
    remark = sentence(words)
    return f"\u201c{remark}\u201d" if heading(fold(remark)).end else remark


def _section(title: str, lines: Iterable[str]) -> list[str]:
    """A heading and what stands under it; nothing if nothing does."""
    under = [f"  {' '.join(line.split())}" for line in lines]
    return [title, *under] if under else []


def materials(sheet: Document) -> list[str]:
    """Hook, yarns and the rest, each in a line."""
    hook = [f"hook: {sheet.hook}"] if sheet.hook else []
    return [*hook, *map(_yarn, sheet.yarns), *sheet.notions]


def _yarn(yarn: YarnOnSheet) -> str:
    return f"{yarn.key}: {yarn.name}" + (f" ({yarn.facts})" if yarn.facts else "")


def piece_heading(piece: PieceOnSheet) -> str:
    """ "Cap", "Large spot (make 3)"."""
    name = " ".join(piece.name.split())
    return f"{name} (make {piece.make})" if piece.make > 1 else name


def _piece(piece: PieceOnSheet) -> Iterator[str]:
    yield piece_heading(piece)
    for words in (*piece.facts, *piece.made, *piece.notes):
        yield f"  {note(words)}"
    for line in piece.lines:
        yield from _line(line)
    yield from (f"  {note(words)}" for words in piece.closing)
    for words in piece.pictures.left_out:
        yield f"  {sentence(words)}"
    for drawing in piece.pictures:
        yield ""
        yield from picture_lines(drawing)


def _line(line: DocumentLine) -> Iterator[str]:
    yield from (f"  {note(words)}" for words in line.before)
    yield f"  {line.text}"
    yield from (f"    - {note(words)}" for words in line.watch)
    yield from (f"    - {note(words)}" for words in line.made)


def picture_lines(drawing: Drawing) -> Iterator[str]:
    """A picture in characters, behind a bar."""
    for line in drawing.text(COLUMNS, ROWS):
        yield f"| {line.text}".rstrip()


def _steps(steps: Iterable[StepOnSheet]) -> Iterator[str]:
    for number, step in enumerate(steps, 1):
        done = {None: "", True: " (done)", False: " (not done)"}[step.done]
        yield f"  {number}. {sentence(step.text)}{done}"
        yield from (f"     - {sentence(words)}" for words in step.cautions)
