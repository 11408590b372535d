"""Lines that were broken for the page and not for the sense: "3 sc in" over "the last ch"."""

from __future__ import annotations

from tracker.notation.token_kinds import WORKED, T
from tracker.notation.token_stream import Token, opening_of

_WANTS_MORE = frozenset((
    T.IN, T.OVER, T.OF, T.EACH, T.ALL, T.OTHER, T.NEXT, T.SAME, T.LAST, T.ORDINAL, T.BEGINNING, T.FROM, T.REPEAT,
    T.TO, T.UNTIL, T.WITH, T.AND, T.THEN, T.COMMA, T.OPEN, T.PLUS, T.BETWEEN, T.WORK, T.SKIP, T.CHAIN, T.JOIN,
    T.CHANGE, T.AS, T.COUNTS, T.NOT, T.REMAINING, T.MARK,
))  # fmt: skip
"""What no instruction ends with, or what loses nothing when it is read on."""

_HANGS_ON = frozenset((
    T.NOUN, T.SPACE, T.HOOK, T.OF, T.AROUND, T.TIMES, T.OFTEN, T.MORE, T.CLOSE, T.TOG, T.COMMA, T.DOT, T.SEMI,
))  # fmt: skip
"""What no instruction begins with."""

_LEADS_TO_PLACE = (T.IN, T.TO, T.NEXT, T.EACH)
_TOTAL_FOLLOWS = frozenset((T.DASH, T.EQUALS, T.COLON, T.CLOSE, T.DOT))


def unwrapped(tokens: list[Token]) -> list[Token]:
    """The words without the line ends that stand in the middle of a phrase."""
    return [
        token
        for index, token in enumerate(tokens)
        if token.kind is not T.NEWLINE or not is_in_a_phrase(tokens[:index], tokens[index + 1 : index + 4])
    ]


def is_in_a_phrase(before: list[Token], after: list[Token]) -> bool:
    """Whether a line's end between these words stands in the middle of a phrase; of those after it three tell."""
    if not before or not after:
        return False
    last, kinds = before[-1].kind, [token.kind for token in after]
    if last is T.NUMBER:
        sizes = kinds[:3] in ([T.OPEN, T.NUMBER, T.COMMA], [T.OPEN, T.NUMBER, T.SLASH])
        total = len(before) > 1 and before[-2].kind in _TOTAL_FOLLOWS
        if total and before[-2].kind is T.COLON:  # "magic ring: 6" over "sc": nothing is made yet
            total = any(token.kind in WORKED for token in before)
        # "2 dc in each dc. 24" over "dc.", and nothing behind it
        ends = total and before[-2].kind in (T.DOT, T.DASH) and (len(kinds) == 1 or kinds[1:] == [T.DOT])
        return sizes or kinds[0] in _HANGS_ON or ((not total or ends) and kinds[0] in WORKED)
    if last is T.CLOSE and len(after) == 1 and _are_sizes(before):
        return kinds[0] in (T.STITCH, T.NOUN)
    if kinds[0] is T.OPEN and last is T.MARK:
        return False
    if last is T.TIMES and kinds[0] is T.NUMBER:  # "(sc, inc) x" over "6. (12)"
        return len(before) == 1 or before[-2].kind is not T.NUMBER
    if last is T.CLOSE and kinds[0] is T.IN:  # "(2 dc, ch 2, 2 dc)" over "in corner"
        return _are_several(before)
    if kinds[0] is T.TOTAL and kinds[1:2] == [T.CLOSE]:
        return True  # "(18 sc" over "in total)"
    if last is T.END and kinds[0] is T.WITH:
        return True  # "rep across, ending" over "with sc in last st"
    if last is T.AROUND and kinds[0] is T.SIDE:
        return True  # "work along" over "other side of ch"
    if last in (T.SPACE, T.NOUN) and kinds[0] is T.BETWEEN:
        return True  # "dc in next space" over "between dc"
    if last is T.CORNER and {T.CHAIN, T.NUMBER, T.SPACE} == set(kinds):
        return True  # "in each corner" over "2-ch sp"
    return last in _WANTS_MORE or kinds[0] in _HANGS_ON or (kinds[0] in _LEADS_TO_PLACE and last in WORKED)


def _are_several(tokens: list[Token]) -> bool:
    """Whether the words end in a bracket with several things to be made, "(2 dc, ch 2, 2 dc)", ", (2 dc, 3 hdc)";
    "join. (9 sc, 9 ch-2 sps)" is a total."""
    start = opening_of(tokens, len(tokens) - 1) or 0
    inside = {token.kind for token in tokens[start:]}
    leads = start and tokens[start - 1].kind in (T.COMMA, T.MARK, T.AND, T.THEN)
    return T.COMMA in inside and (leads or (T.CHAIN in inside and T.SPACE not in inside))


def _are_sizes(tokens: list[Token]) -> bool:
    """Whether the words end in the counts of other sizes, "24 (27, 30)"."""
    start = len(tokens) - 1
    while start > 0 and tokens[start].kind is not T.OPEN:
        start -= 1
    inside = {token.kind for token in tokens[start + 1 : -1]}
    return start > 0 and tokens[start - 1].kind is T.NUMBER and T.NUMBER in inside <= {T.NUMBER, T.COMMA, T.SLASH}
