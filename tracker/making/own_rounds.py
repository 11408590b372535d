"""Rounds of the maker's own, read once and then remembered: they are asked for at every tap."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from tracker.lazy_dataclass import dataclass
from tracker.making.identity import remembered
from tracker.making.rewritten import rewritten_round
from tracker.pattern.model import Pattern, Round

MOST_REMEMBERED = 512
"""Own rounds of one pattern that are kept read."""


@dataclass(frozen=True)
class Instead:
    """A round as the maker works it. One that does not read to its end without a fault has no plan: it is worked
    by eye."""

    round: Round
    reads: bool


def worked_instead(pattern: Pattern, piece: int, index: int, text: str, before: int) -> Instead:
    """The round of this piece by another text, over so many stitches. The same words give the same object."""
    return _own_rounds(pattern).read(piece, index, text, before)


class _OwnRounds:
    """Those of one pattern."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self.read = lru_cache(maxsize=MOST_REMEMBERED)(self._read)

    def _read(self, piece: int, index: int, text: str, before: int) -> Instead:
        the_piece = self._pattern.pieces[piece]
        written = the_piece.rounds[index]
        found = rewritten_round(self._pattern, the_piece, written, text, before)
        by_eye = replace(written, text=text, plan=None, before=before, stated=None, problems=())
        return Instead(found or by_eye, found is not None)


_own_rounds = remembered(_OwnRounds)
