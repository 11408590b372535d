"""Words of the trade with a slip of the keyboard in them: "arrund", "magc ring"."""

from __future__ import annotations

from functools import lru_cache

from tracker.notation.token_kinds import HEADS, T
from tracker.notation.vocabulary import leading_to

_OFTEN_MISTYPED = (
    "repeat", "around", "stitch", "stitches", "increase", "decrease", "each", "remaining", "times", "again", "middle",
    "between", "together", "across",
)  # fmt: skip


@lru_cache(maxsize=4_096)
def forgive(word: str) -> str:
    """The everyday word that a mistyped one must be; stitch names are never guessed."""
    # Shorter words are alike to too many others.
    if len(word) < 4:
        return ""
    near = [everyday for everyday in _OFTEN_MISTYPED if _is_slip(word, everyday)]
    return near[0] if len(near) == 1 else ""


@lru_cache(maxsize=4_096)
def forgive_phrase(word: str, after: str) -> str:
    """The phrase of two words, no stitch, that a mistyped word begins with this one behind it: "magc ring"."""
    # Shorter words are alike to too many others.
    if len(word) < 4:
        return ""
    firsts = (lead for lead in leading_to(after) if lead[0] == word[0])
    near = [lead for lead in firsts if _is_slip(word, lead, shortest=5, alike=_ALIKE_IN_PHRASE)]
    return f"{near[0]} {after}" if len(near) == 1 else ""


def forgive_small(before: T, word: str, after: T) -> str:
    """The little word that a mistyped one of two letters must be by what stands around it: "each if next 3 sts",
    "sc ib next st"; "" if it need not be any."""
    small_word = "of" if before is T.EACH else "in" if before in HEADS else ""
    if not small_word or len(word) != len(small_word) or after not in _BEHIND_SMALL:
        return ""
    return small_word if word == small_word[::-1] or word[0] == small_word[0] or word[1] == small_word[1] else ""


_BEHIND_SMALL = frozenset((T.NEXT, T.EACH, T.LAST, T.SAME))


_ALIKE = 0.83
"""One letter of six lost, "arrund", is a slip; two are another word."""


_ALIKE_IN_PHRASE = 0.8
"""One letter of five changed, "majic ring": the word behind it vouches for the phrase."""


def _is_slip(word: str, right_word: str, shortest: int = 6, alike: float = _ALIKE) -> bool:
    """Two neighbouring letters swapped, one lost, one doubled or one changed in a longer word."""
    if sorted(word) == sorted(right_word):
        return word[0] == right_word[0]
    # A slip in a long word leaves its first letter, as a rule; short words are told apart by one letter.
    if len(right_word) < shortest or word[0] != right_word[0]:
        return False
    if abs(len(word) - len(right_word)) > 1:
        return False
    from difflib import SequenceMatcher  # a line without a slip does not wait for it

    return SequenceMatcher(None, word, right_word).ratio() >= alike
