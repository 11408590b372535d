"""Stitches worked on another part: "10 sc around leg one", "3 sc through both arm and body".

Their bases are not those of the round before, so they are counted and not checked against it.
"""

from __future__ import annotations

from tracker.notation.cursor import Cursor
from tracker.notation.lexicon import T

PARTS = frozenset(
    "leg legs arm arms body head ear ears toe toes thumb finger wing wings sleeve strap handle foot feet motif "
    "square petal petals neck neckline tail both piece pieces part parts flap snout muzzle beak fin horn trunk "
    "shoulder armhole sole upper heel cuff half tentacle stem cap base lid bottom top "
    "arch antenna nose front back side sides".split()
)
_ENDS = (T.COMMA, T.SEMI, T.DOT, T.NEWLINE, T.CLOSE, T.OPEN, T.THEN, T.MARK, None)


def takes_part(cursor: Cursor) -> bool:
    """Take "around leg one", "on the other half of the second", "around it" if one stands here."""
    if not cursor.at(T.IN, T.AROUND, T.OVER):
        return False
    end = 1
    while cursor.peek(end) not in _ENDS and not (cursor.peek(end) is T.AND and cursor.peek(end + 1) is T.NUMBER):
        end += 1
    words = [cursor.token(index) for index in range(1, end)]
    inside = cursor.token().text in ("in", "into", "at", "for")
    named = any(word.text in PARTS or (word.kind is T.ORDINAL and not inside) for word in words)
    chain = cursor.at(T.AROUND, T.OVER) and [word.kind for word in words] == [T.CHAIN]
    over_side = cursor.at(T.OVER) and words[:1] and words[0].kind is T.SIDE
    elsewhere = not any(word.kind in _NOT_IN_A_PART for word in words)
    if (
        not words
        or not ((named and elsewhere) or chain or over_side)
        or words[0].kind in (T.EACH, T.NEXT, T.LAST, T.SAME)
    ):
        return False
    cursor.place += end
    return True


_NOT_IN_A_PART = (
    T.NOUN, T.STITCH, T.INC, T.DEC, T.SPACE, T.RING, T.HOOK, T.BUNCH, T.LOOP, T.TIMES, T.REPEAT, T.SKIP, T.POSTED, T.CHAIN,
)  # fmt: skip
