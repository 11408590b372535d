"""Words of the trade with a slip of the keyboard in them: "arrund", "magc ring"."""

from __future__ import annotations

from functools import lru_cache

from tracker.notation.token_kinds import HEADS, T
from tracker.notation.vocabulary import leading_to

_OFTEN_MISTYPED = ("repeat", "around", "stitch", "stitches", "increase", "decrease", "each", "remaining", "times")


@lru_cache(maxsize=4_096)
def forgive(word: str) -> str:
    """The everyday word that a mistyped one must be; stitch names are never guessed."""
    # Shorter words are alike to too many others.
    if len(word) < 4:
        return ""
    near = [known for known in _OFTEN_MISTYPED if _is_slip(word, known)]
    return near[0] if len(near) == 1 else ""


@lru_cache(maxsize=4_096)
def forgive_phrase(word: str, after: str) -> str:
    """The phrase of two words, no stitch, that a mistyped word begins with this one behind it: "magc ring"."""
    # Shorter words are alike to too many others.
    if len(word) < 4:
        return ""
    firsts = (known for known in leading_to(after) if known[0] == word[0])
    near = [known for known in firsts if _is_slip(word, known, shortest=5, alike=_ALIKE_IN_PHRASE)]
    return f"{near[0]} {after}" if len(near) == 1 else ""


def forgive_small(before: T, word: str, after: T) -> str:
    """The little word that a mistyped one of two letters must be by what stands around it: "each if next 3 sts",
    "sc ib next st"; "" if it need not be any."""
    known = "of" if before is T.EACH else "in" if before in HEADS else ""
    if not known or len(word) != len(known) or after not in _BEHIND_SMALL:
        return ""
    return known if word == known[::-1] or word[0] == known[0] or word[1] == known[1] else ""


_BEHIND_SMALL = frozenset((T.NEXT, T.EACH, T.LAST, T.SAME))


_ALIKE = 0.83
"""One letter of six lost, "arrund", is a slip; two are another word."""


_ALIKE_IN_PHRASE = 0.8
"""One letter of five changed, "majic ring": the word behind it vouches for the phrase."""


def _is_slip(word: str, known: str, shortest: int = 6, alike: float = _ALIKE) -> bool:
    """Two neighbouring letters swapped, one lost, one doubled or one changed in a longer word."""
    if sorted(word) == sorted(known):
        return word[0] == known[0]
    # A slip in a long word leaves its first letter, as a rule; short words are told apart by one letter.
    if len(known) < shortest or word[0] != known[0]:
        return False
    if abs(len(word) - len(known)) > 1:
        return False
    from difflib import SequenceMatcher  # a line without a slip does not wait for it

    return SequenceMatcher(None, word, known).ratio() >= alike
