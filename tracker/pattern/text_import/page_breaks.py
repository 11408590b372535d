"""What the setting of a page breaks in two: words at the end of a line, and rounds where a page number, the head of a
page or an advertisement is set into them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold
from tracker.notation.lexer import scan
from tracker.notation.line_ends import is_in_a_phrase
from tracker.notation.parser.heading import LONGEST_HEADING, heading
from tracker.notation.token_kinds import MADE
from tracker.notation.vocabulary import beginning_with

_BROKEN = compile_later(r"(?<![\w-])[A-Za-z]{1,12}-$")
_REMAINDER = compile_later(r"\s*(?P<letters>[A-Za-z]{2,12})[^\w\s-]*(?=\s+\S)")

_GOES_ON = compile_later(r"\s*(?:[a-z*]|[(\[]?\d)")
_MOST_LINES = 6
"""Lines that may be set into a round, blank ones too: a small advertisement or the foot and the head of two pages."""

_WORDS_BELOW = 3
"""Words that tell whether they go on with a phrase."""

_LINES_ABOVE = 3
"""Lines of a round that tell whether it breaks off."""


def with_whole_words(lines: Sequence[str]) -> list[str]:
    """The lines with both parts of a word of the trade on the one that its first part ends, "rep. from * a-" over
    "round (18 sc)": the second part alone would begin another round."""
    whole = list(lines)
    for index, below in enumerate(lines[1:], 1):
        above = whole[index - 1].rstrip()
        broken = _BROKEN.search(above) if above.endswith("-") else None
        remainder = _REMAINDER.match(below) if broken is not None else None
        if broken is None or remainder is None:
            continue
        if beginning_with(f"{broken[0][:-1]}{remainder['letters']}".lower(), "US").meanings:
            whole[index - 1] = f"{above[:-1]}{remainder[0].lstrip()}"
            whole[index] = below[remainder.end() :].lstrip()
    return whole


def lines_set_in(lines: Sequence[str]) -> frozenset[int]:
    """Which of the lines, from 0, are set into a round that breaks off above them and goes on below: blank ones, and
    what is between them and has nothing to do with stitches."""
    inside: set[int] = set()
    for at in range(1, len(lines)):
        if lines[at].strip() or at in inside or not lines[at - 1].strip():
            continue
        end = next((place for place in range(at, min(at + _MOST_LINES, len(lines))) if _goes_on(lines[place])), at)
        between = [line for line in lines[at:end] if line.strip()]
        if not between or lines[end - 1].strip() or any(map(_works, between)):
            continue
        above = "\n".join(line for line in lines[max(at - _LINES_ABOVE, 0) : at] if line.strip())
        if _is_broken(above, lines[end]):
            inside.update(range(at, end))
    return frozenset(inside)


def _is_broken(above: str, below: str) -> bool:
    """Whether a round that ends like this goes on like that."""
    after = scan(fold(below.strip()), "US")[:_WORDS_BELOW]
    return _works(above) and is_in_a_phrase(scan(fold(above), "US"), after)


def _goes_on(line: str) -> bool:
    """Whether a line begins in the middle of a sentence, and with no round of its own; behind a number, which may be
    that of the page, there are stitches."""
    if _GOES_ON.match(line) is None or heading(fold(line)).end:
        return False
    return line.lstrip()[0].isalpha() or _works(line)


def _works(text: str) -> bool:
    """Whether a text has to do with stitches or is a round."""
    return last_number(text, 0) > 0 or any(token.kind in MADE for token in scan(fold(text), "US"))


def last_number(text: str, above: int) -> int:
    """The number of the last round once this unit is read behind a round of number `above`."""
    folded = fold(text[:LONGEST_HEADING])
    head = heading(folded)
    is_worded = bool(head.numbers) and re.search("[a-z]", folded[slice(*head.span)]) is not None
    return head.numbers[-1] if is_worded else above
