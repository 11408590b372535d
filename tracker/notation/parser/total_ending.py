"""What a total ends with that counts nothing: its round, "18 sc in this round", a chain, "5 sc + the chain"."""

from __future__ import annotations

from tracker.notation.token_kinds import T
from tracker.notation.token_stream import PhrasePattern, Token

_ENDING = PhrasePattern(
    "( SAME ROUND | IN (END | (?= WORD) A_HOOK)? SAME? [ROUND PREVIOUS] | IN END SAME? ROUND NUMBER"
    " | IN (?= AROUND) ITS_END NUMBER?"
    " | (?= WORD) AFTER_WORD SAME? [ROUND PREVIOUS] NUMBER? | [PLUS AND] BEGINNING* CHAIN"
    " | (?= WORD) IF FILLER* COUNTS"
    " | (?= [WORD OFTEN]) WHEN_WORD (?= [FILLER WORD TOTAL AROUND]) ((?! STOPS | [NUMBER MADE EACH]) ..)+"
    " | WITH SPACE [WORD BETWEEN] [EACH ALL NOUN STITCH]* ) [TOTAL DOT]* $"
)
""" "18 sc in this round", "4 sc at end of last row", "4 dc after row 5", "5 sc + the chain", "36 dc if you
are counting", "5 petals when you are back at the start", "8 tr with a gap after each" """

_NO_CHAINS = PhrasePattern(
    "[COMMA DASH SEMI AND]* ((?= WORD) NO_WORD | OMIT) CHAIN SPACE? [BETWEEN SAME STITCH NOUN WORD IN]* [DOT]* $"
)
""" "36 dc - no chains between!", "24 dc, without ch sps": of spaces it has none"""


def start_of_denied_chains(words: list[Token]) -> int:
    """Where a total ends with the words that there are no chains; the end of the words if it does not."""
    if all(word.kind is not T.CHAIN for word in words[-_LONGEST_DENIAL:]):
        return len(words)
    return _NO_CHAINS.first_in(words, 1)


_LONGEST_DENIAL = 8
"""Words of "chains between the groups in this rnd!". """

_LAST_KINDS = frozenset((
    T.ROUND, T.PREVIOUS, T.AROUND, T.NUMBER, T.TOTAL, T.DOT, T.CHAIN, T.COUNTS, T.WORK, T.WORD, T.EACH, T.NOUN,
    T.STITCH, T.MARKER, T.END, T.BEGINNING,
))  # fmt: skip


def end_of_count(words: list[Token]) -> int:
    """Where such an ending begins behind the count; the end of the words if there is none."""
    end = start_of_denied_chains(words)
    if end < len(words):
        return end
    if not end or words[-1].kind not in _LAST_KINDS:
        return end
    return _ENDING.first_in(words, 1)
