"""The written lines of a pattern that the maker should look at before working them."""

from __future__ import annotations

from functools import lru_cache

from tracker.diagnostics import Severity
from tracker.identity_cache import ByIdentity
from tracker.pattern.mending import line_of, rounds_of_line
from tracker.pattern.misprints.finder import Finding, find_in
from tracker.pattern.misprints.recheck import COUNTING
from tracker.pattern.model import Pattern, Piece, Round


def doubtful_lines(pattern: Pattern) -> tuple[tuple[int, int], ...]:
    """The piece and the first round of each written line that is in doubt, in the order of working.

    Those are in doubt that do not come out, and those in which the search for misprints sees what is probably meant,
    although they could be worked as they stand. What the maker settled is not.
    """
    return tuple((number, first) for number in range(len(pattern.pieces)) for first in _in_piece(pattern, number))


def _in_piece(pattern: Pattern, number: int) -> list[int]:
    piece = pattern.pieces[number]
    found = {index for index, item in enumerate(piece.rounds) if item.is_in_doubt}
    if any(_is_odd(item) and index not in found for index, item in enumerate(piece.rounds)):
        found |= {finding.seen_at for finding in findings_in(pattern, number) if finding.offers}
    firsts = {rounds_of_line(piece, index)[0] for index in found}
    return sorted(first for first in firsts if not _is_settled(piece, first))


def _is_odd(item: Round) -> bool:
    """Whether something is told of its numbers."""
    return any(problem.code in COUNTING and problem.severity is not Severity.NOTE for problem in item.problems)


def findings_in(pattern: Pattern, number: int) -> tuple[Finding, ...]:
    """What the search for misprints finds in one piece; remembered, because whoever is called to a line is shown next
    what could be meant there."""
    return _findings(ByIdentity(pattern), number)


@lru_cache(maxsize=8)
def _findings(key: ByIdentity[Pattern], number: int) -> tuple[Finding, ...]:
    return tuple(find_in(key.part, number))


def _is_settled(piece: Piece, index: int) -> bool:
    line = line_of(piece, index)
    return piece.rounds[index].is_by_eye or (line is not None and piece.entries[line].is_settled)
