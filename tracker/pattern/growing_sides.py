"""Rounds that go on by what the last one had more than the one before it, in the same places: a granny square has one
more group on each side from round to round."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from itertools import count

from tracker.notation.ast import SLIP_STITCH
from tracker.notation.token_kinds import MADE, T
from tracker.notation.token_stream import Token

MOST_WORDS = 250
"""Words of a round that is compared with the one before: a round of a square written side by side has about 200."""

_FEWEST_ALIKE = 6
"""Words that both rounds have: two short lines are alike by chance."""

_MADE_THERE = MADE | {T.CHAIN}
_TELLS_WORK = _MADE_THERE | {T.NUMBER, T.ORDINAL, T.TIMES, T.OFTEN, T.REPEAT, T.MARK, T.OPEN, T.CLOSE, T.EACH, T.SKIP}
"""What two rounds may not differ in besides: they may begin in other words, "join in any corner"."""


def _kinds(words: Sequence[Token]) -> set[T]:
    """What sorts of words these are; slip stitches that lead to where a round begins are of none."""
    return {word.kind for word in words if word.value != SLIP_STITCH}


def grown_texts(before: Sequence[Token], last: Sequence[Token], text: str) -> Iterator[str]:
    """The texts of the rounds behind the one of this `text` and the words `last`, where that is the one `before` with
    words put in, and where both lead there in other words; none where they differ in another way."""
    for times in count(1) if (places := _put_in(before, last)) else ():
        longer = text
        for start, end in reversed(places):
            words = text[start:end]
            longer = longer[:start] + words * times + longer[start:]
        yield longer


def _put_in(before: Sequence[Token], last: Sequence[Token]) -> list[tuple[int, int]]:
    """Where the words that are put in begin, and where the next word behind them does."""
    if not max(len(before), len(last)) <= MOST_WORDS:
        return []
    matcher = SequenceMatcher(None, [word.text for word in before], [word.text for word in last], autojunk=False)
    changes = [code for code in matcher.get_opcodes() if code[0] != "equal"]
    alike = sum(block.size for block in matcher.get_matching_blocks())
    put_in = [code for code in changes if code[0] == "insert" and _MADE_THERE & _kinds(last[code[3] : code[4]])]
    others = [before[first:stop] for _, first, stop, _, _ in changes]
    others += [last[code[3] : code[4]] for code in changes if code not in put_in]
    if any(_TELLS_WORK & _kinds(words) for words in others) or alike < _FEWEST_ALIKE:
        return []
    if any(stop == len(last) for _, _, _, _, stop in put_in):
        return []
    return [(last[first].start, last[stop].start) for _, _, _, first, stop in put_in]
