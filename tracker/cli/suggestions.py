"""What a pattern's misprints look like, told in sentences with the corrected lines, or as plain values for JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tracker.pattern.misprints.finder import Finding, MisprintOffer, find
from tracker.pattern.model import Pattern

FIRST_LINE = "looks like:"


def suggestion_lines(pattern: Pattern) -> Iterator[str]:
    """The suggestions line by line, under a heading; nothing if there are none."""
    findings = find(pattern)
    if findings:
        yield FIRST_LINE
    for finding in findings:
        where = f"{pattern.pieces[finding.piece_index].name}, " if len(pattern.pieces) > 1 else ""
        yield f"  {where}{finding.sentence}"
        for offer in finding.offers[:1]:
            yield from _lines(offer)
        for offer in finding.rivals:
            yield f"  or {where}{offer.sentence}"
            yield from _lines(offer)


def _lines(offer: MisprintOffer) -> Iterator[str]:
    for line in offer.corrected_lines:
        for row in line.split("\n"):
            yield f"      {row.strip()}"


def as_values(pattern: Pattern) -> list[dict[str, Any]]:
    """The suggestions as plain values; a swap of two rounds has a second round and line."""
    return [_values(pattern, finding) for finding in find(pattern)]


def _values(pattern: Pattern, finding: Finding) -> dict[str, Any]:
    piece = pattern.pieces[finding.piece_index]
    values: dict[str, Any] = {
        "piece": piece.name,
        "round": piece.rounds[finding.round_index].number,
        "sentence": finding.sentence,
        "corrected_line": finding.corrected_line or None,
    }
    if finding.offers and finding.offers[0].partner_index is not None:
        values["second_round"] = piece.rounds[finding.offers[0].partner_index].number
        values["second_corrected_line"] = finding.offers[0].partner_line
    values["or"] = [{"sentence": offer.sentence, "corrected_line": offer.corrected_line} for offer in finding.rivals]
    return values
