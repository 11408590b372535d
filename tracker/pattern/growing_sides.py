"""Rounds that go on by what the last one had more than the one before it, in the same places: a granny square has one
more group on each side from round to round."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from itertools import count

from tracker.notation.token_stream import Token

MOST_WORDS = 250
"""Words of a round that is compared with the one before: a round of a square written side by side has about 200."""

_FEWEST_ALIKE = 6
"""Words that both rounds have: two short lines are alike by chance."""


def grown_texts(before: Sequence[Token], last: Sequence[Token], text: str) -> Iterator[str]:
    """The texts of the rounds behind the one of this `text` and the words `last`, where that is the one `before` with
    words put in; none where it differs in another way."""
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
    if any(tag != "insert" or stop == len(last) for tag, _, _, _, stop in changes) or alike < _FEWEST_ALIKE:
        return []
    return [(last[first].start, last[stop].start) for _, _, _, first, stop in changes]
