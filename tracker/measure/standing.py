"""Which way up a piece stands: by the file, else by what the notes and the making-up say of it."""

from __future__ import annotations

import re

from tracker.pattern.model import Pattern, Piece, Stands

_FROM = r"\b(?:from|beginning at|starting at) [^.;,]{0,40}\b"
_UP = re.compile(_FROM + r"up(?:wards?)?\b|\b(?:bottom|toe|foot|base)[- ]up\b")
_DOWN = re.compile(_FROM + r"down(?:wards?)?\b|\b(?:top|head|crown)[- ]down\b")
_SET = (
    r"\b(?:set|sew|put|place|fit|stand|attach|join)s?\b[^.;]*\b{name}\b[^.;]*"
    r"\b(?:on|onto|upon|on top of|to the top of)\b"
)
"""A step that puts this piece on another: its open end, the last one, is what is sewn down."""


def stands_of(pattern: Pattern, piece: Piece) -> Stands:
    """Which end of the piece is below; its first round where nothing is said."""
    if piece.stands is not None:
        return piece.stands
    own = " ".join(piece.notes).lower()
    shared = " ".join(pattern.notes).lower() if len(pattern.pieces) == 1 else ""
    for words in (own, shared):
        if _DOWN.search(words):
            return Stands.OPENING
        if _UP.search(words):
            return Stands.FOOT
    steps = " ".join(part.step for part in pattern.making_up).lower()
    is_set_on = re.search(_SET.format(name=re.escape(piece.name.lower())), steps) is not None
    return Stands.OPENING if is_set_on else Stands.FOOT
