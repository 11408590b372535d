"""The loops of an earlier round, which a line says that another piece is worked into."""

from __future__ import annotations

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold


def loops_of_round(text: str) -> int:
    """Which round the loops are those of that the text names; 0 if it names none."""
    named = _LOOPS_OF.search(fold(text))
    return int(named[1] or named[2]) if named is not None else 0


_LOOPS_OF = compile_later(
    r"\bloops? (?:of|from|in|on) (?:the )?"
    r"(?:(?:rnd|round|row|r) ?(\d{1,4})\b|(\d{1,4})(?:st|nd|rd|th)? (?:rnd|round|row)\b)"
)
""" "Join yarn to a front loop of Rnd 23", "in the front loops of the 23rd row" """
