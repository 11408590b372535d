"""Totals without brackets at the end of a line: "= 18", "- 18 sts", "join. 26 dc", "72 sc and 8 picots"."""

from __future__ import annotations

from tracker.notation.lexicon import MADE, PAUSES, STOPS, T
from tracker.notation.scanner import Token
from tracker.notation.stated import is_of_a_round, is_total, open_brackets

_LONGEST_PLAIN = 13
"""Words of the longest total without brackets."""

INSTRUCTS = MADE | {T.NOUN, T.REPEAT, T.AS, T.EVEN}
_ENDS_A_ROUND = frozenset(
    (T.AROUND, T.EACH, T.JOIN, T.TIMES, T.MARK, T.CLOSE, T.TURN, T.REPEAT, T.OFTEN, T.LAST, T.EVEN)
)  # fmt: skip


def opening_of(body: list[Token], close: int) -> int | None:
    """Where the bracket opens that closes at word `close`; None if none closes there."""
    if close < 0 or body[close].kind is not T.CLOSE:
        return None
    depth = 0
    for index in range(close, -1, -1):
        if body[index].kind is T.CLOSE:
            depth += 1
        elif body[index].kind is T.OPEN:
            depth -= 1
            if depth == 0:
                return index if body[index].value == body[close].value else None
    return None


def has_letters(body: list[Token]) -> bool:
    """Whether letter notation may stand here: "3X, V"."""
    return any(word.text in ("x", "v", "a", "w") for word in body)


def plain_total(body: list[Token]) -> int | None:
    """Where a total without brackets begins at the end of these words; None if there is none."""
    for start in range(len(body) - 1, max(0, len(body) - 1 - _LONGEST_PLAIN), -1):
        if body[start].kind is not T.NUMBER or body[start - 1].kind is T.CHAIN or not is_total(body[start:]):
            continue
        before = body[:start]
        if open_brackets(before) > 0 > open_brackets(body[start:]):
            continue  # the bracket holds more than the total
        instructs = any(word.kind in INSTRUCTS for word in before) or has_letters(before)
        if instructs and leads_to(before, body[start:]) and not is_of_a_round(body, start):
            return _with_what_else_is_counted(body, start)
    return None


def _with_what_else_is_counted(body: list[Token], start: int) -> int:
    """ "6 petals, 24 sts", "72 sc and 8 picots": the total from its first number on, where that begins a sentence."""
    if body[start - 1].kind not in (T.COMMA, T.AND, T.COLON):
        return start
    for first in range(start - 2, max(0, start - _LONGEST_PLAIN), -1):
        if body[first].kind in PAUSES and body[first].kind is not T.COMMA:
            counts = body[first + 1].kind is T.NUMBER and is_total(body[first + 1 :])
            return first + 1 if counts and _counts_what_is_no_stitch(body[first + 1 : start]) else start
    return start


def _counts_what_is_no_stitch(words: list[Token]) -> bool:
    return any(word.kind in (T.WORD, T.BUNCH, T.SPACE) for word in words) or T.STITCH in {w.kind for w in words[1:2]}


def leads_to(before: list[Token], total: list[Token]) -> bool:
    """Whether the words before a total without brackets lead to it; most of all the last one of them."""
    lead = before[-1].kind
    kinds = [word.kind for word in total]
    number = total[0].number
    if before[-1].text == "in all" and len(before) > 1 and before[-2].kind in MADE:
        return False  # "increase in all 6 sts" tells where
    if before[-1].text == "|" and len(total) == 1:
        return True  # the last column of a table
    if lead in (T.EQUALS, T.TOTAL) or T.TOTAL in kinds[1:]:
        return True
    if lead is T.COLON and len(before) > 1 and before[-2].kind in (T.TOTAL, T.COUNTS):
        return True
    if len(total) == 1 and number > 3 and (lead in PAUSES or lead is T.COLON):
        return True
    if lead is T.COLON and _names(total) and (_closes_round(before) or (number > 5 and _goes_all_round(before))):
        return True
    if lead is T.COMMA and number > 5 and _names(total) and _closes_round(before):
        return True
    if lead is T.DASH:
        return _behind_dash(before, total)
    if lead in (T.DOT, T.NEWLINE, T.SEMI):
        return _behind_stop(before, total)
    if lead in (T.AROUND, T.TURN, T.JOIN, T.EVENLY):
        return T.CHAIN not in kinds or T.SPACE in kinds
    if lead is T.NUMBER:
        return _behind_number(before, kinds)
    if lead is T.CLOSE and len(total) == 1:
        return number > 12
    if lead in (T.COMMA, T.AND, T.CLOSE, T.TIMES, T.MARK, T.NOUN, T.OFTEN):
        plain = [kind for kind in kinds if kind not in (T.LEFT, T.REMAINING)] == [T.NUMBER, T.NOUN]
        return plain and number > 5 and _ends_a_round(before)
    return False


def _goes_all_round(before: list[Token]) -> bool:
    """ "... evenly spaced around:", "[...] 7 times:" """
    last = before[-2].kind if len(before) > 1 else None
    return last in (T.AROUND, T.EVENLY) or (last is T.TIMES and T.CLOSE in {word.kind for word in before})


def _names(total: list[Token]) -> bool:
    return any(word.kind in (T.NOUN, T.STITCH, T.BUNCH, T.SPACE, T.POSTED) for word in total)


def _names_in_plural(total: list[Token]) -> bool:
    """ "6 petals": nothing that is known, but a number of something."""
    return any(word.kind is T.WORD for word in total) and total[-1].text.endswith("s")


def _ends_a_round(before: list[Token]) -> bool:
    return any(word.kind in _ENDS_A_ROUND for word in before)


def _behind_dash(before: list[Token], total: list[Token]) -> bool:
    """ "- 18 sts", or another total behind the only dash."""
    if any(word.kind is T.NOUN for word in total):
        return True
    only_dash = sum(word.kind is T.DASH for word in before) == 1
    return only_dash and (len(total) == 1 or _names(total) or _names_in_plural(total))


def _behind_stop(before: list[Token], total: list[Token]) -> bool:
    """ "around. 18 sts", "join. 26 dc"."""
    kinds = {word.kind for word in total}
    ends = _ends_a_round(before)
    if T.NOUN in kinds and (ends or any(word.kind is T.NUMBER for word in before)):
        return True
    if not ends and all(word.value != "sl st" for word in before):
        return False
    sizes = kinds <= {T.NUMBER, T.TOTAL, T.OPEN, T.CLOSE, T.COMMA, T.SLASH}
    return sizes or _names(total) or _names_in_plural(total)


def _behind_number(before: list[Token], kinds: list[T]) -> bool:
    """ "x 6 36", "x 6 36 sts": behind the number of times."""
    if len(kinds) == 1:
        return len(before) > 2 and before[-2].kind is T.TIMES
    return T.NOUN in kinds and any(word.kind in (T.TIMES, T.MARK) for word in before)


def _closes_round(before: list[Token]) -> bool:
    """Whether the clause before the comma closes the round: "..., ss to 1st htr, 48 htr", not "2 sl sts, 10 sc"."""
    opening = opening_of(before, len(before) - 2)
    said = before[:-1] if opening is None else before[:opening]
    clause: list[Token] = []
    for word in reversed(said):
        if word.kind in STOPS:
            break
        clause.insert(0, word)
    if any(word.kind is T.JOIN or word.text in _FASTENS_OFF for word in clause):
        return True
    slips = any(word.value == "sl st" for word in clause)
    made = any(word.kind in MADE and word.value != "sl st" for word in before)
    return made and slips and clause[0].kind is not T.NUMBER and all(word.kind is not T.NEXT for word in clause)


_FASTENS_OFF = ("fasten off", "finish off", "fo", "cast off", "bind off")
