"""The sheet as Markdown (CommonMark), safe to show: all text from the pattern is escaped."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from tracker.document.model import Document, DocumentLine, PieceOnSheet, StepOnSheet
from tracker.document.text import materials, note, picture_lines, piece_heading, sentence

_SIGNS = re.compile(r"([\\`*_<>&|~#!]|\](?=[(\[:])|\[(?=[^\]]*\][(\[:]))")
"""What CommonMark could take for its own inside a line; a bracket only where a link could come of it."""
_AT_START = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])")
"""What it could take for a list or a heading at the start of a line."""


def escaped(text: str) -> str:
    """Text that is shown as it is, in one line."""
    line = _SIGNS.sub(r"\\\1", " ".join(text.split()))
    return _AT_START.sub(lambda match: f"{match[1]}\\{match[2]}" if match[1] else f"\\{match[3]}", line)


def escaped_round(text: str) -> str:
    """The instructions of a round. Stars stay stars where they cannot be taken for emphasis, which needs one behind a
    word; else all of them become the asterisk operator, which looks alike and is no markup."""
    if re.search(r"\S\*", text):
        return escaped(text.replace("*", "\u2217"))
    return escaped(text).replace("\\*", "*")


def as_markdown(sheet: Document) -> str:
    """The whole sheet, ending with a line end."""
    blocks = [
        [f"# {escaped(sheet.title)}", "", *(f"{_escaped_sentence(words)}  " for words in sheet.preface)],
        _list("## Materials", map(escaped, materials(sheet))),
        _list("## Take care", map(_escaped_sentence, sheet.cautions)),
        _list("## While you work", map(_escaped_sentence, sheet.while_working)),
        _list(f"## {sheet.gauge_word}", [escaped(sheet.gauge)] if sheet.gauge else []),
        _list(
            "## Abbreviations", (f"{escaped(short)} - {escaped(meaning)}" for short, meaning in sheet.abbreviations)
        ),
        _list("## How it went", map(_escaped_sentence, sheet.made)),
        ["## Notes", "", *(f"{_note(words)}  " for words in sheet.notes)] if sheet.notes else [],
        ["## Instructions"],
        *(list(_piece(piece)) for piece in sheet.pieces),
        _steps(sheet.steps),
    ]
    return "\n\n".join("\n".join(lines) for lines in blocks if lines) + "\n"


def _escaped_sentence(words: str) -> str:
    return escaped(sentence(words))


def _note(words: str) -> str:
    return escaped(note(words))


def _list(heading: str, lines: Iterable[str]) -> list[str]:
    """A heading and a list under it; nothing if the list is empty."""
    items = [f"- {line}" for line in lines]
    return [heading, "", *items] if items else []


def _piece(piece: PieceOnSheet) -> Iterator[str]:
    yield f"### {escaped(piece_heading(piece))}"
    yield ""
    yield from (f"{_note(words)}  " for words in (*piece.facts, *piece.made, *piece.notes))
    yield ""
    for line in piece.lines:
        yield from _line(line)
    yield from (f"- {_note(words)}" for words in piece.closing)
    if piece.pictures.left_out:
        yield ""
        yield from (_escaped_sentence(words) for words in piece.pictures.left_out)
    for drawing in piece.pictures:
        yield from ("", "```text", *(line.replace("`", "'") for line in picture_lines(drawing)), "```")


def _line(line: DocumentLine) -> Iterator[str]:
    yield from (f"- {_note(words)}" for words in line.before)
    label, _, colour = line.heading.removesuffix(":").partition(" (")
    more = f" ({escaped(colour)}" if colour else ""
    yield f"- **{escaped(label)}**{more}: {escaped_round(f'{line.words} {line.total}'.strip())}"
    yield from (f"  - {_note(words)}" for words in line.watch)
    yield from (f"  - *{_note(words)}*" for words in line.made)


def _steps(steps: Iterable[StepOnSheet]) -> list[str]:
    lines: list[str] = []
    for number, step in enumerate(steps, 1):
        box = {None: "", True: "[x] ", False: "[ ] "}[step.done]
        lines.append(f"{number}. {box}{_escaped_sentence(step.text)}")
        lines += [f"   - {_escaped_sentence(words)}" for words in step.cautions]
    return ["## Making up", "", *lines] if lines else []
