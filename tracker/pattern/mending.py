"""A pattern as the maker mends it: the printed lines stay what they are, the maker's own stand beside them.

A correction is for one written line, and so for all of its rounds; every round behind it is checked anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from tracker.identity_cache import ByIdentity
from tracker.lazy_dataclass import replace
from tracker.pattern.model import Correction, Entry, Pattern, Piece


def as_printed(pattern: Pattern) -> Pattern:
    """The pattern as its file has it."""
    return pattern.printed or pattern


def mended(pattern: Pattern, corrections: tuple[Correction, ...]) -> Pattern:
    """The pattern with these corrections; of one that is mended already, what it was mended from is taken.

    The same corrections give the same object. One for a line that is not there changes nothing.
    """
    printed = as_printed(pattern)
    return _mended(ByIdentity(printed), corrections) if corrections else printed


KEPT = 64
"""Mended patterns that are kept: undo goes back through them one by one."""


@lru_cache(maxsize=KEPT)
def _mended(key: ByIdentity[Pattern], corrections: tuple[Correction, ...]) -> Pattern:
    from tracker.pattern.round_below import piece_below  # a pattern as printed needs nothing of what reads

    printed = key.part
    pieces = list(printed.pieces)
    for index, piece in enumerate(printed.pieces):
        own = [correction for correction in corrections if correction.piece == index]
        before = index - 1
        if piece.below is not None and pieces[before] is not printed.pieces[before]:
            pieces[index] = replace(piece, below=piece_below(pieces[before]))
        if own or pieces[index] is not piece:
            pieces[index] = _mended_piece(printed, pieces[index], own)
    return replace(printed, pieces=tuple(pieces), printed=printed)


def _mended_piece(pattern: Pattern, piece: Piece, corrections: Sequence[Correction]) -> Piece:
    """One piece of a pattern with these corrections, each round checked anew."""
    from tracker.pattern.checker import check_rounds

    entries = list(piece.entries)
    for correction in corrections:
        line = line_of(piece, correction.round_index)
        if line is not None:
            entries[line] = _corrected(entries[line], correction)
    rounds, lines = check_rounds(tuple(entries), piece.context, pattern.yarns, piece.main, piece.at, piece.below)
    return replace(piece, rounds=tuple(rounds), lines=tuple(lines), entries=tuple(entries))


def _corrected(entry: Entry, correction: Correction) -> Entry:
    if correction.text:
        return replace(entry, text=correction.text, printed=entry.text)
    if correction.leaves is not None:
        return replace(entry, text=as_free(entry, correction.leaves), printed=entry.text)
    return replace(entry, is_settled=True)


def as_free(entry: Entry, leaves: int) -> str:
    """A written line as one that is worked by eye and leaves so many stitches."""
    from tracker.notation.parser.heading import heading_of

    heading = entry.text[: heading_of(entry.text).end].strip()
    return f"{heading} as you like ({leaves})".lstrip()


def line_of(piece: Piece, round_index: int) -> int | None:
    """The number of the written line, from 0, that a round of a piece comes from; None if there is no such round."""
    if not 0 <= round_index < len(piece.rounds):
        return None
    places = {(entry.line, entry.column): number for number, entry in enumerate(piece.entries)}
    item, (line, column) = piece.rounds[round_index], piece.at
    row = item.line - line
    return places.get((row, item.column - (0 if row else column)))


def rounds_of_line(piece: Piece, round_index: int) -> tuple[int, ...]:
    """The rounds, by their index, that the written line of this one is for; at least this one itself.

    They need not stand side by side: "Rnds 2, 4: ..." is one line.
    """
    item = piece.rounds[round_index]
    same = (
        index for index, other in enumerate(piece.rounds) if (other.line, other.column) == (item.line, item.column)
    )
    return tuple(same) if piece.entries else (round_index,)
