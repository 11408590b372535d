"""Small changes to a written round, such as a printer's slip would undo: another digit, a lost increase, a swap.

Each edit keeps the rest of the line as it was typed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from tracker.notation.fold import fold
from tracker.notation.headings import heading
from tracker.notation.lexicon import NUMBERS, T
from tracker.notation.line import Line
from tracker.notation.scanner import Token, scan
from tracker.notation.tree import Stated


class Slip(Enum):
    """What sort of slip an edit undoes, with how likely it is against the others (smaller is likelier).

    The order follows the survey of published mistakes: totals, then multipliers, then counts (common practice,
    no source); a change that moves words about is less likely than one of a digit.
    """

    TOTAL = 1.0
    MULTIPLIER = 1.2
    COUNT = 1.3
    SWAP = 1.5
    LOST = 1.6
    KIND = 1.9


@dataclass(frozen=True, slots=True)
class Edit:
    """The line with one change. `was` and `now` are the changed words; `cost` grows with the size of the change."""

    slip: Slip
    text: str
    was: str
    now: str
    cost: float


_SPELT = {number: word for word, number in NUMBERS.items() if number <= 20}


def total_edit(line: Line, stated: Stated, leaves: int) -> Edit | None:
    """The line with its stated number of stitches set to `leaves`."""
    if stated.stitches is None or stated.stitches == leaves or stated.sizes or (stated.kinds and len(stated.kinds) > 1):
        return None
    old = str(stated.stitches)
    rows = line.text.split("\n")
    row = rows[stated.span.line]
    at = row.find(old, stated.span.start)
    if at < 0:
        return None
    rows[stated.span.line] = row[:at] + str(leaves) + row[at + len(old) :]
    return Edit(Slip.TOTAL, "\n".join(rows), old, str(leaves), Slip.TOTAL.value + _distance(stated.stitches, leaves))


def instruction_edits(line: Line, terms: str, increase: str = "inc") -> Iterator[Edit]:
    """Every small change of the instruction: numbers, kinds, and an increase or decrease put back in.

    `increase` is how the piece writes an increase.
    """
    folded = fold(line.text)
    start = line.heading.end
    tokens = scan(" " * start + folded[start:], terms)
    tokens = [t for t in tokens if not _in_total(line, t)]
    yield from _number_edits(line.text, tokens)
    yield from _kind_edits(line.text, tokens)
    yield from _insertions(line.text, tokens, increase)


def _in_total(line: Line, token: Token) -> bool:
    starts = [0]
    for row in line.text.split("\n"):
        starts.append(starts[-1] + len(row) + 1)
    for stated in line.stated:
        begin = starts[stated.span.line] + stated.span.start
        if begin <= token.start < starts[stated.span.line] + stated.span.end:
            return True
    return False


def _number_edits(text: str, tokens: list[Token]) -> Iterator[Edit]:
    for index, token in enumerate(tokens):
        if token.kind is not T.NUMBER or _is_fixed(tokens, index):
            continue
        slip = Slip.MULTIPLIER if _multiplies(tokens, index) else Slip.COUNT
        for number in _like(token.number):
            now = _SPELT.get(number, str(number)) if token.text.isalpha() else str(number)
            edited = text[: token.start] + now + text[token.end :]
            yield Edit(slip, edited, token.text, now, slip.value + _distance(token.number, number))


def _is_fixed(tokens: list[Token], index: int) -> bool:
    """Numbers that count nothing: "ch-3 sp", "sc2tog", "Rnd 12"."""
    before = tokens[index - 1].kind if index else None
    after = tokens[index + 1].kind if index + 1 < len(tokens) else None
    return before in (T.CHAIN, T.ROUND) or after in (T.TOG, T.CHAIN)


def _multiplies(tokens: list[Token], index: int) -> bool:
    around = (tokens[index - 1].kind if index else None, tokens[index + 1].kind if index + 1 < len(tokens) else None)
    return T.TIMES in around or around[0] in (T.MARK, T.REPEAT) or around[1] is T.MORE


def _like(number: int) -> list[int]:
    """Numbers that a slip could have turned into this one: near ones, another digit, a lost or doubled one."""
    found: dict[int, None] = dict.fromkeys(n for d in (1, 2, 3) for n in (number - d, number + d) if n > 0)
    digits = str(number)
    for place in range(len(digits)):
        for digit in "0123456789":
            found[int(digits[:place] + digit + digits[place + 1 :])] = None
    for place in range(len(digits) + 1):
        for digit in "123456789":
            found[int(digits[:place] + digit + digits[place:])] = None
    if len(digits) > 1:
        found.update(dict.fromkeys(int(digits[:p] + digits[p + 1 :]) for p in range(len(digits))))
        found[int(digits[::-1])] = None
    return [n for n in found if n > 0 and n != number]


def _distance(was: int, now: int) -> float:
    """How far a slip of the keyboard or eye is: one off, one digit changed, then the rest."""
    if abs(was - now) == 1:
        return 0.0
    one, other = str(was), str(now)
    if len(one) == len(other) and sum(a != b for a, b in zip(one, other, strict=True)) == 1:
        return 0.03
    if sorted(one) == sorted(other):
        return 0.04
    return 0.1 if abs(was - now) <= 3 else 0.2


def _kind_edits(text: str, tokens: list[Token]) -> Iterator[Edit]:
    """An increase printed as a decrease, or the other way round."""
    for token in tokens:
        if token.kind in (T.INC, T.DEC) and token.text in ("inc", "dec"):
            now = "dec" if token.text == "inc" else "inc"
            yield Edit(Slip.KIND, text[: token.start] + now + text[token.end :], token.text, now, Slip.KIND.value)


def _insertions(text: str, tokens: list[Token], increase: str) -> Iterator[Edit]:
    """An increase or a decrease that was lost: put back at the end of each group, and after each item."""
    words = [increase, "dec"]
    for index, token in enumerate(tokens):
        closes = token.kind is T.CLOSE or (token.kind is T.MARK and index > 0)
        at_item = token.kind in (T.COMMA, T.SEMI)
        last = index + 1 == len(tokens)
        if not (closes or at_item or last):
            continue
        place = token.end if last and not closes else token.start
        before = text[:place].rstrip()
        if before.endswith(("(", "[", "{", "*", ",")):
            continue
        for rank, word in enumerate(words):
            edited = f"{before}, {word}{text[len(before):]}"
            cost = Slip.LOST.value + 0.05 * rank + (0.0 if closes else 0.1)
            yield Edit(Slip.LOST, edited, "", word, cost)


def swapped(one: str, other: str) -> tuple[str, str]:
    """Two lines with all that stands behind their headings exchanged."""
    first, second = heading(fold(one)).end, heading(fold(other)).end
    return one[:first] + other[second:], other[:second] + one[first:]
