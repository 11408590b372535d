"""A pattern that was written anew for another size or gauge, as a pattern file."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from tracker.measure.resize import PatternFit, PieceFit
from tracker.pattern.model import Gauge, Pattern, Piece
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml


def fitted_file(pattern: Pattern, fit: PatternFit, gauge: Gauge | None) -> str:
    """The pattern file. A piece that could not be written anew stands as it was, and a note says so.

    Remarks on a piece name rounds of the first size, so they become notes that say this.
    """
    pairs = list(zip(pattern.pieces, fit.pieces, strict=True))
    notes = [*pattern.notes, *(note for piece, new in pairs for note in _notes(piece, new))]
    return as_toml(
        Draft(
            title=f"{pattern.title}, {fit.factor:.2f} times the size",
            terms=pattern.terms,
            hook=pattern.hook,
            intended_for=pattern.intended_for,
            notions=pattern.notions,
            notes=tuple(notes),
            gauge=gauge,
            yarns=pattern.yarns,
            pieces=tuple(DraftPiece(p.name, _text(p, new), p.make, p.start) for p, new in pairs),
            making_up=tuple(part.step for part in pattern.making_up),
        )
    )


def _text(piece: Piece, new: PieceFit) -> str:
    if new.lines:
        return "\n".join(new.lines)
    return "\n".join(text for text, _ in groupby(line.text for line in piece.lines))


def _notes(piece: Piece, new: PieceFit) -> Iterator[str]:
    if new.refused:
        yield f"{piece.name} is as it was, not in the new size: {new.refused}"
        yield from (f"{piece.name}: {note}" for note in piece.notes)
        return
    yield from (f"{piece.name}: {remark}" for remark in new.remarks)
    yield from (f"{piece.name}, in the rounds of the first size: {note}" for note in piece.notes)
