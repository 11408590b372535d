"""Rounds of which the words leave open how many stitches they make: "as you like", and what goes along an edge."""

from __future__ import annotations

from tracker.diagnostics import Problem, Span, note
from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.lexer import scan_behind, without_fillers
from tracker.notation.parser.heading import heading_of
from tracker.notation.token_kinds import HEADS, T
from tracker.notation.token_stream import PhrasePattern, Token

_FREE = compile_later(r"(?i)(?:work )?as you like(?: around)?\s*[.]?\s*(?:[(\[]\d[^)\]]*[)\]]\s*)?")


def is_free(text: str) -> bool:
    """Whether a round says that anything may be worked: "Rnds 1-99: as you like", with its total where that is known.

    The maker works it by eye; nothing is read out of it but what it leaves.
    """
    return "like" in text.lower() and _FREE.fullmatch(text[heading_of(text).end :].strip()) is not None


def is_by_eye(text: str, terms: str, *, has_total: bool) -> bool:
    """Whether the words of a round leave open how many stitches it makes, and no total settles that."""
    return is_free(text) or (not has_total and leaves_number_open(text, terms))


_ALONG_EDGE = PhrasePattern(
    "(?<! NUMBER) HEADS EVENLY? [AROUND IN]* [OTHER ORDINAL]* ( (?= WORD) BARE_EDGES | ROUND END )"
    " | (?<! NUMBER) HEADS EVENLY SIDE (?! OF)"
)
""" "sc evenly down the side, 3 sc in corner", "sc along the row ends": as many as lie flat"""

_AS_MANY = PhrasePattern("AS (?= WORD) MANY NUMBER? HEADS (AS | IN [EACH ALL NEXT])")
""" "as many sc as fit in each loop": told by a look"""

_OF_AN_EDGE = compile_later(r"\b(?:sides?|edges?|bottom|ends?|many)\b")
"""A word without which nothing is left open, and most rounds have none."""


def leaves_number_open(text: str, terms: str) -> bool:
    """Whether a round makes as many stitches as fit, or goes along an edge that has no stitches and does not say how
    many it makes there."""
    if _OF_AN_EDGE.search(text) is None:
        return False
    words = _words(text, terms)
    if _AS_MANY.first_in(words, 0) < len(words):
        return True
    if any(word.kind in (T.HOOK, T.BASE) for word in words) or all(word.kind not in HEADS for word in words):
        return False  # along a chain that was just made
    return _ALONG_EDGE.first_in(words, 0) < len(words)


def _words(text: str, terms: str) -> list[Token]:
    folded = fold(text)
    return without_fillers(scan_behind(folded, heading_of(text).end, terms))


def left_open(line_span: Span) -> Problem:
    """What the maker is told of a round that goes along an edge, or makes as many as fit."""
    return note("by-eye", "how many go there is left to you: as many as lie flat", line_span)
