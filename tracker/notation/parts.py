"""Stitches worked on another part: "10 sc around leg one", "3 sc through both arm and body".

Their bases are not those of the round before, so they are counted and not checked against it.
"""

from __future__ import annotations

from tracker.notation.cursor import Cursor
from tracker.notation.extents import EDGES
from tracker.notation.lexicon import MADE, STOPS, T
from tracker.notation.scanner import Token

_PARTS = EDGES.union(
    (
        "leg legs arm arms body head ear ears toe toes thumb finger wing wings sleeve strap handle foot feet motif "
        "square petal petals neck neckline tail both piece pieces part parts flap snout muzzle beak fin horn trunk "
        "shoulder armhole sole upper heel cuff half tentacle stem cap base lid bottom top "
        "arch antenna nose front back side sides"
    ).split()
)
_ENDS = STOPS | {T.OPEN, T.THEN, T.MARK, T.SKIP}
_NOT_IN_A_PART = MADE | {T.NOUN, T.SPACE, T.RING, T.HOOK, T.LOOP, T.TIMES, T.REPEAT}


def takes_part(cursor: Cursor) -> bool:
    """(in | around | over) PART: "around leg one", "on the other half of the second"; taken if it is one"""
    if not cursor.at(T.IN, T.AROUND, T.OVER):
        return False
    end = cursor.place
    while not _ends_part(cursor, end):
        end += 1
    if not _is_part(cursor.token(), cursor.tokens[cursor.place + 1 : end]):
        return False
    cursor.place = end
    return True


def _ends_part(cursor: Cursor, index: int) -> bool:
    ahead = index - cursor.place
    kind = cursor.peek(ahead)
    return kind is None or kind in _ENDS or (kind is T.AND and cursor.peek(ahead + 1) is T.NUMBER)


def _is_part(lead: Token, words: list[Token]) -> bool:
    """Whether the words name another part, or something else that is not the round below."""
    if not words or words[0].kind in (T.EACH, T.NEXT, T.LAST):
        return False
    if [word.kind for word in words] == [T.ROUND, T.END]:
        return True  # "in the row ends"
    if words[0].kind is T.SAME:
        return lead.kind is T.AROUND and [word.kind for word in words[1:]] == [T.WORD]
    if lead.kind is T.OVER and words[0].kind is T.SIDE:
        return True
    if lead.kind is not T.IN and [word.kind for word in words] == [T.CHAIN]:
        return True
    inside = lead.text in ("in", "into", "at", "for")
    named = any(word.text in _PARTS or (word.kind is T.ORDINAL and not inside) for word in words)
    return named and not any(word.kind in _NOT_IN_A_PART for word in words)


def of_part(cursor: Cursor) -> bool:
    """ "in 12 sts of first leg": taken if it is on another part."""
    if not cursor.at(T.OF):
        return False
    ahead = 1
    while cursor.peek(ahead) in (T.ORDINAL, T.OTHER, T.SAME, T.NEXT, T.EACH):
        ahead += 1
    if cursor.peek(ahead) is not T.WORD or cursor.token(ahead).text not in _PARTS:
        return False
    cursor.place += ahead + 1
    cursor.skip(T.NUMBER)
    return True
