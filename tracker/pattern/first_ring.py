"""The ring of chains that a piece may begin with, in its first round or told on a line of its own before it."""

from __future__ import annotations

import re

from tracker.lazy_pattern import compile_later
from tracker.pattern.model import Piece, Round

_CLOSED = compile_later(
    r"(?:(?P<before>\d{1,3})\s*)?\bch(?:ains?|s)?(?=\b|\d)(?:\s*(?:of\s+)?(?P<behind>\d{1,3}))?[^.;]*"
    r"\b(?:form|into|make|forming|for) (?:an? |the )?(?:ring|circle)\b",
    re.IGNORECASE,
)
_MAGIC = compile_later(r"\b(?:magic|adjustable|sliding|mr|mc)\b", re.IGNORECASE)


def ring_of_chains(piece: Piece, item: Round) -> int | None:
    """Of how many chains the ring is that a first round goes into; 0 if nobody says, None if it is no such ring."""
    texts = (item.text, item.remark, *piece.notes)
    if any(_MAGIC.search(text) for text in texts):
        return None
    closed = next((match for text in texts if (match := _CLOSED.search(text))), None)
    return int(closed["behind"] or closed["before"] or 0) if closed else None
