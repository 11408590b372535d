"""Numbers that measure and count nothing: "change to a 4 mm hook", "until it measures 12.5 cm"."""

from __future__ import annotations

from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Token

MEASURES = frozenset("cm mm inch inches g gr grams oz yd yds yards metres meters minutes hours mins".split())
"""What is measured and not counted in stitches: "until it measures 12 cm"."""


def without_measures(words: list[Token]) -> list[Token]:
    """The words without numbers that measure something: "change to a 4 mm hook", "2.5 mm"."""
    kept: list[Token] = []
    for word in words:
        while word.text in MEASURES and kept and (kept[-1].kind is T.NUMBER or is_decimal_point(kept, len(kept) - 1)):
            kept.pop()
        kept.append(word)
    return kept


def is_decimal_point(words: list[Token], index: int) -> bool:
    """Whether the sign stands right behind a number, with another number or a measure right behind itself."""
    if index < 1 or words[index].kind not in (T.DOT, T.COMMA) or words[index - 1].kind is not T.NUMBER:
        return False
    after = words[index + 1] if index + 1 < len(words) else None
    return words[index].start == words[index - 1].end and (after is None or after.start == words[index].end)
