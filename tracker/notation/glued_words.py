"""Words that stand together without a blank: two that were typed as one, a sign of multiplication and its stitch."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from tracker.notation.token_kinds import WORKED, T
from tracker.notation.vocabulary import beginning_with, meaning


class Atom(NamedTuple):
    """A run of letters or digits, or a sign, as it stands in the text."""

    text: str
    start: int
    end: int
    glued: bool
    typed: str = ""
    """The word that this is the first part of, where two were typed as one."""


def parted(atoms: list[Atom], terms: str, colours: frozenset[str]) -> list[Atom]:
    """The atoms with two words that were typed as one ("dcin next st") taken apart, `typed` tells of the first; and
    with a sign of multiplication apart from its stitch ("incx6"), or left out before it ("2xsc")."""
    parted: list[Atom] = []
    for place, atom in enumerate(atoms):
        text, start, end, glued, _ = atom
        first = 0 if len(text) < 2 * _SHORTEST or text in colours else _end_of_first(text, terms)
        if first:
            parted.append(Atom(text[:first], start, start + first, glued, text))
            parted.append(Atom(text[first:], start + first, end, glued=False))
        elif text[-1] == "x" and _hides_sign(atoms, place, terms):
            parted += Atom(text[:-1], start, end - 1, glued), Atom("x", end - 1, end, glued=True)
        elif text[0] == "x" and glued and atoms[place - 1].text.isdecimal() and _is_worked(text, text[1:], terms):
            parted.append(Atom(text[1:], start + 1, end, glued=True))
        else:
            parted.append(atom)
    return parted


def _hides_sign(atoms: list[Atom], place: int, terms: str) -> bool:
    """Whether the last letter of a word is the sign of multiplication: "incx6"."""
    text, after = atoms[place].text, atoms[place + 1] if place + 1 < len(atoms) else None
    # "3x" and "x" are signs of their own; a stitch has two letters at least.
    if len(text) < 3 or after is None or not after.glued or not after.text[0].isdecimal():
        return False
    return _is_worked(text, text[:-1], terms)


def _is_worked(text: str, part: str, terms: str) -> bool:
    """Whether a part of a word is worked, and the word means nothing."""
    named = None if meaning((text,), terms) else meaning((part,), terms)
    return named is not None and named[0] in WORKED


_RUN_TOGETHER: dict[T, frozenset[T]] = {
    T.STITCH: frozenset((T.IN, T.EACH, T.NEXT, T.AROUND, T.WITH)),
    T.NOUN: frozenset((T.IN, T.AROUND)),
    T.IN: frozenset((T.EACH, T.NEXT, T.SAME)),
    T.NEXT: frozenset((T.STITCH, T.NOUN)),
    T.EACH: frozenset((T.STITCH, T.NOUN, T.NEXT)),
    T.SAME: frozenset((T.STITCH, T.NOUN)),
}
"""What two words may be that were typed as one: a stitch and where it goes, or the words of a place."""

_SHORTEST = 2
"""Letters of either part: one letter alone is the end of many a word."""

_IN_OTHER_WORDS = frozenset(("at", "on", "ea"))
"""Parts of everyday words: "stat", "east"."""


@lru_cache(maxsize=4_096)
def _end_of_first(word: str, terms: str) -> int:
    """Where the first of two words ends that were typed as one; 0 where that is not so."""
    if beginning_with(word, terms).meanings or word.endswith("'s"):
        return 0
    ends = []
    for end in range(_SHORTEST, len(word) - _SHORTEST + 1):
        first = meaning((word[:end],), terms)
        second = meaning((word[end:],), terms) if first is not None and first[0] in _RUN_TOGETHER else None
        if first is None or second is None or {word[:end], word[end:]} & _IN_OTHER_WORDS:
            continue
        if second[0] in _RUN_TOGETHER[first[0]]:
            ends.append(end)
    return ends[0] if len(ends) == 1 else 0
