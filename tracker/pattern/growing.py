"""A pattern file that grows while it is made: rounds put in behind the others or in an open end, and lines changed.

An open end is a last line that leaves many rounds to the maker, "Rnds 1-999: as you like": whatever is written
of them is put into the middle of it. All functions are from a file's text to the new text; what else stands in it
stays.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from typing import Any

import tomli_w

from tracker.lazy_dataclass import dataclass
from tracker.notation.by_eye import is_free
from tracker.notation.parser.heading import heading_of
from tracker.pattern.mending import as_free, line_of
from tracker.pattern.model import Correction, Entry, Pattern, Piece


@dataclass(frozen=True, slots=True)
class Grown:
    """The text of the file, and how many written lines of the piece it should be read as."""

    source: str
    entries: int


def opens_at(piece: Piece) -> int | None:
    """The first round, by its index, of the open end of a piece; None if it has none."""
    if not piece.entries or not is_free(piece.entries[-1].text):
        return None
    numbers = heading_of(piece.entries[-1].text).numbers
    return len(piece.rounds) - len(numbers) if len(numbers) > 1 else None


def grown(
    pattern: Pattern,
    index: int,
    lines: Sequence[str],
    at: int | None = None,
    corrections: Iterable[Correction] = (),
) -> Grown:
    """The file of a pattern with these lines at the end of piece `index`, or in the place of its round number `at`
    (from 0) of an open end, which goes on behind them. The `corrections` are written over their lines.

    Raises ValueError where there is no such piece, or a line is not found in the file as it was read.
    """
    if not 0 <= index < len(pattern.pieces):
        raise ValueError("there is no such piece")
    table = tomllib.loads(pattern.source)
    count = len(pattern.pieces[index].entries) + len(lines)
    for number, piece in enumerate(pattern.pieces):
        changes = {
            line: as_free(piece.entries[line], own.leaves) if own.leaves is not None else own.text
            for own in corrections
            if own.piece == number and (line := line_of(piece, own.round_index)) is not None
        }
        new_lines = {line: [text] for line, text in changes.items() if text}
        if number == index and at is not None:
            new_lines[len(piece.entries) - 1] = around = _around_lines(piece, at, lines)
            count = len(piece.entries) - 1 + len(around)
        _put(table, number, piece, new_lines, lines if number == index and at is None else ())
    return Grown(tomli_w.dumps(table, multiline_strings=True), count)


def _around_lines(piece: Piece, at: int, lines: Sequence[str]) -> list[str]:
    """The open end with these lines from round `at` on: what is made of it before them, and the rest behind."""
    opened = opens_at(piece)
    if opened is None or not opened <= at < len(piece.rounds):
        raise ValueError("this round is not one of an open end")
    head = heading_of(piece.entries[-1].text)
    until = max((number for line in lines for number in heading_of(line).numbers), default=head.numbers[-1])
    word = "Row" if head.is_row else "Rnd"
    before, behind = (piece.rounds[opened].number, piece.rounds[at].number - 1), (until + 1, head.numbers[-1])
    return [*_free(word, *before), *lines, *_free(word, *behind)]


def _free(word: str, first: int, last: int) -> list[str]:
    """The line that leaves these rounds to the maker; none if there are none."""
    if first > last:
        return []
    return [f"{word} {first}: as you like" if first == last else f"{word}s {first}-{last}: as you like"]


def _put(
    table: dict[str, Any], index: int, piece: Piece, new_lines: dict[int, list[str]], more: Sequence[str]
) -> None:
    """Write lines over those of a piece, by their numbers, and `more` behind all of it."""
    if not new_lines and not more:
        return
    piece_table = table["piece"][index]
    text = str(piece_table["rounds"])
    for number in sorted(new_lines, reverse=True):
        start = _start_of(text, piece.entries[number])
        text = text[:start] + "\n".join(new_lines[number]) + text[start + len(piece.entries[number].text) :]
    piece_table["rounds"] = "\n".join((text.rstrip("\n"), *more)).lstrip("\n") + "\n"


def _start_of(text: str, entry: Entry) -> int:
    lines = text.split("\n")
    start = sum(len(line) + 1 for line in lines[: entry.line]) + entry.column
    if text[start : start + len(entry.text)] != entry.text:
        raise ValueError("the file does not have this line as it was read")
    return start


RHYTHM = "Every "
"""How a note of a piece begins that says what is done in each so manieth round."""


def with_rhythm(source: str, index: int, note: str) -> str:
    """The file with a note of a piece that begins with `RHYTHM`, in the place of one that it has."""
    table = tomllib.loads(source)
    piece_table = table["piece"][index]
    notes = piece_table.get("notes", [])
    others = [each for each in ([notes] if isinstance(notes, str) else notes) if not each.startswith(RHYTHM)]
    piece_table["notes"] = [*others, note]
    return tomli_w.dumps(table, multiline_strings=True)
