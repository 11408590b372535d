"""Patterns to be written out, and their written rounds taken for a pattern again."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from pathlib import Path
from random import Random

from tracker.document.builder import written_lines
from tracker.pattern.loader import load, loads
from tracker.pattern.model import Pattern, Round
from tracker.pattern.toml_writer import Draft, DraftPiece, as_toml
from tracker.phrasing.terms import prose_in_terms

SHIPPED = sorted((Path(__file__).parents[2] / "patterns").glob("*.toml"))
BENCH = Path(__file__).parents[1] / "bench"


def shipped(name: str) -> Pattern:
    return load(next(path for path in SHIPPED if path.stem == name))


def generated(count: int, seed: int) -> Iterator[Pattern]:
    """Clean pieces of many shapes, in the hands of many writers."""
    if str(BENCH) not in sys.path:
        sys.path.append(str(BENCH))
    from clean_pieces import pieces
    from hands import as_file, hand_for

    chance = Random(seed)
    for piece in islice(pieces(seed), count):
        yield loads(as_file(piece, hand_for(piece, chance)))


def rewritten(pattern: Pattern, terms: str) -> Pattern:
    """The pattern that its own written rounds make, in these terms: nothing else of it is used but its notes."""
    pieces = []
    for piece in pattern.pieces:
        lines = written_lines(pattern, piece, piece.rounds, terms)
        words = [said for line in lines for said in (*line.before, line.text)]
        pieces.append(DraftPiece(piece.name, "\n".join(words), piece.make, piece.start))
    notes = tuple(prose_in_terms(note, pattern.terms, terms) for note in pattern.notes)
    gauge = pattern.gauge and replace(
        pattern.gauge, stitch=prose_in_terms(pattern.gauge.stitch, pattern.terms, terms)
    )
    draft = Draft(pattern.title, terms, notes=notes, gauge=gauge, yarns=pattern.yarns, pieces=tuple(pieces))
    return loads(as_toml(draft))


def counts(round_: Round) -> tuple[object, ...]:
    """Everything about a round that a maker could count, and its yarn."""
    plan = round_.plan
    if plan is None:
        return (round_.label, None)
    tally = plan.tally
    numbers = (tally.takes, tally.stitches, tally.spaces, tally.chains, sorted(tally.kinds))
    return (round_.label, round_.before, yarns(round_), numbers)


def yarns(round_: Round) -> list[str]:
    """The yarns in hand from its first stitch to behind its last one."""
    found = [round_.colour]
    ends = [round_.plan.ends_with] if round_.plan else []
    for colour in [*(act.colour for act in round_.plan.acts()), *ends] if round_.plan else []:
        if colour and colour != found[-1]:
            found.append(colour)
    return found


def all_counts(pattern: Pattern) -> list[tuple[object, ...]]:
    return [(piece.name, *counts(round_)) for piece in pattern.pieces for round_ in piece.rounds]
