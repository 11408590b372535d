"""What a yarn is called in a line: "B", "brick red", "colour 2", and whether a bracket holds nothing else."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, Token
from tracker.notation.yarn_names import YARN_NOUNS

LONGEST_KEY = 2
"""Letters of a yarn's key: "LG"."""


def key_of(words: Sequence[Token]) -> str:
    """The colour that these words name, without "colour" and "yarn" if anything else is left."""
    names = [word.text for word in words if word.kind in (T.COLOURED, T.WORD, T.MARKER)]
    return " ".join([name for name in names if name not in YARN_NOUNS] or names)


def is_colour(cursor: Cursor, inner: list[Token]) -> bool:
    """Whether what stands in a bracket is the name of a yarn; "RS" and "WS" are sides of the work."""
    kinds = {token.kind for token in inner}
    if not kinds or not kinds <= {T.COLOURED, T.WORD, T.WITH, T.MARKER, T.IN, T.CHANGE}:
        return False
    words = [token.text for token in inner if token.kind in (T.COLOURED, T.WORD)]
    if words in (["rs"], ["ws"]):
        return False
    return T.COLOURED in kinds or (
        len(words) == 1 and (len(words[0]) <= LONGEST_KEY or words[0] in cursor.context.colours)
    )
