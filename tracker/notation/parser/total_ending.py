"""What a total ends with that counts nothing: its round, "18 sc in this round", a chain, "5 sc + the chain"."""

from __future__ import annotations

from tracker.notation.token_kinds import T
from tracker.notation.token_stream import PhrasePattern, Token

_ENDING = PhrasePattern(
    "( SAME ROUND | IN (END | (?= WORD) A_HOOK)? SAME? [ROUND PREVIOUS] | IN END SAME? ROUND NUMBER"
    " | IN (?= AROUND) ITS_END NUMBER?"
    " | (?= WORD) AFTER_WORD SAME? [ROUND PREVIOUS] NUMBER? | [PLUS AND] BEGINNING* CHAIN ) [TOTAL DOT]* $"
)
""" "18 sc in this round", "4 sc at end of last row", "4 dc after row 5", "5 sc + the chain" """

_LAST_KINDS = frozenset((T.ROUND, T.PREVIOUS, T.AROUND, T.NUMBER, T.TOTAL, T.DOT, T.CHAIN))


def end_of_count(words: list[Token]) -> int:
    """Where such an ending begins behind the count; the end of the words if there is none."""
    end = len(words)
    if not end or words[-1].kind not in _LAST_KINDS:
        return end
    return _ENDING.first_in(words, 1)
