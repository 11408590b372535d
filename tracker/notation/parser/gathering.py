"""Stitches in a row that go into one place together although no bracket says so: "sc, 5 dc, sc in each loop"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, ChoiceKind, Exactly, Into, Item, Made, Option, Role, Some, Technique
from tracker.notation.instructions import NAMES_IN_ONE, likeliest
from tracker.notation.token_kinds import LEADS, PARTS_STITCHES, T
from tracker.notation.token_stream import Cursor


def gather_sides(cursor: Cursor, items: list[Item], begins: int) -> None:
    """ "3 dc, ch 2, 3 dc in next ch-2 sp": without a bracket too all of it goes into the space, where a chain stands
    between stitches alike and the first of them have no place of their own; so may "1 dc, ch 2, 1 dc in next dc"."""
    if not items[2:]:
        return
    bare, between, last = items[-3:]
    first = likeliest(bare)
    if not isinstance(first, Some) or not isinstance(between, Some) or not isinstance(last, Some):
        return
    into_space = last.act.into is Into.SPACE or (last.act.into is Into.SAME and last.act.same_space)
    number = first.times.count if isinstance(first.times, Exactly) else 0
    alike = [made.kind for made in last.act.makes] == [made.kind for made in first.act.makes]
    if not alike or not 0 < number <= last.act.stitches or between.act.role is not Role.CHAIN:
        return
    makes = (replace(first.act.makes[0], count=number), *between.act.makes, *last.act.makes)
    span = first.act.span.to(last.act.span)
    act = replace(last.act, name=NAMES_IN_ONE[Technique.IN_ONE], makes=makes, technique=Technique.IN_ONE, span=span)
    together = replace(last, act=act)
    alone = _is_placed_alone(cursor, begins)
    if into_space and (first is not bare or (alone and (last.act.into is Into.SAME or _ends_with(cursor, begins)))):
        items[-3:] = [together]
    elif alone and last.times == Exactly(1) and last.act.takes == 1 and not last.act.from_hook:
        why = "read the stitches on both sides of the chain as all in one place"
        apart = Option((bare, between, last))
        items[-3:] = [Choice(ChoiceKind.COUNT, (apart, Option((together,), why, rescue=True)), span)]


_MOST_BETWEEN = 8
"""Words of a chain between two stitches, with the signs around it."""


def _is_placed_alone(cursor: Cursor, begins: int) -> bool:
    """Whether the phrase that begins at this word has a place, and the stitch before its chain has none."""
    if not any(token.kind in LEADS for token in cursor.tokens[begins : cursor.place]):
        return False
    before = cursor.tokens[max(begins - _MOST_BETWEEN, 0) : begins]
    while before and before[-1].kind in (T.COMMA, T.AND, T.THEN, T.NUMBER, T.CHAIN, T.NEWLINE):
        before.pop()
    return bool(before) and before[-1].kind is T.STITCH


def _ends_with(cursor: Cursor, begins: int) -> bool:
    """Whether the stitches are the ending of a repeat, "... ending with dc, ch 2 and dc in last sp": what the repeats
    make in each space, said once more."""
    before = [word.kind for word in cursor.tokens[max(begins - _MOST_BETWEEN, 0) : begins]]
    return T.END in before and T.STITCH in before[before.index(T.END) :] and T.IN not in before


def gather_row(cursor: Cursor, items: list[Item], begins: int) -> None:
    """ "sc, hdc, 3 dc, hdc, sc in next loop": all of a row whose last stitch alone has a place may go into that
    space, and most likely does where it is the same from its end, as a scallop is (common practice, no source)."""
    last = items[-1]
    if not isinstance(last, Some) or last.act.into is not Into.SPACE or last.act.role is not Role.WORK:
        return
    before = _counted_before(items, _clauses_before(cursor, begins))
    if len(before) < _FEWEST_BEFORE or last.act.takes > 1:
        return
    makes = (*before, *last.act.makes)
    span = cursor.span(begins, cursor.place)
    act = replace(last.act, name=NAMES_IN_ONE[Technique.IN_ONE], makes=makes, technique=Technique.IN_ONE)
    kinds = [made.kind for made in makes]
    is_mirrored = kinds == kinds[::-1]
    together = Option((replace(last, act=act),), "read all of the row as in one space", rescue=not is_mirrored)
    apart = Option(tuple(items[-1 - len(before) :]), "read the last stitch alone as in the space")
    options = (together, apart) if is_mirrored else (apart, together)
    items[-1 - len(before) :] = [Choice(ChoiceKind.COUNT, options, span)]


_FEWEST_BEFORE = 2
"""Clauses without a place from which on they may be no row of the round below: "3 sc, sc in next sp" mostly is."""


def _clauses_before(cursor: Cursor, begins: int) -> int:
    """How many clauses right before this word say how many of a stitch, or how long a chain, and nothing else."""
    number, end = 0, begins
    while end and cursor.tokens[end - 1].kind in PARTS_STITCHES:
        start = end - 1
        while start and cursor.tokens[start - 1].kind in (T.NUMBER, T.STITCH, T.CHAIN):
            start -= 1
        kinds = {token.kind for token in cursor.tokens[start : end - 1]}
        is_parted = not start or cursor.tokens[start - 1].kind in _BEFORE_A_ROW
        # A clause has one word that is made and one number, or none.
        if not is_parted or end - 1 - start > 2 or kinds not in _ONE_CLAUSE:
            break
        number, end = number + 1, start
    return number


_BEFORE_A_ROW = PARTS_STITCHES | {T.MARK, T.OPEN, T.DOT, T.COLON, T.NEWLINE, T.WORK, T.THEN}
_ONE_CLAUSE = ({T.STITCH}, {T.STITCH, T.NUMBER}, {T.CHAIN, T.NUMBER})


def _counted_before(items: list[Item], most: int) -> tuple[Made, ...]:
    """What the items before the last one make, so many of them at the most; a chain that the row begins with leads up
    to it and is none of it."""
    makes: list[Made] = []
    for item in items[-1 - most : -1] if len(items) > most else []:
        likely = likeliest(item)
        if not isinstance(likely, Some) or not isinstance(likely.times, Exactly) or len(likely.act.makes) != 1:
            return ()
        made = likely.act.makes[0]
        if made.is_chain and not makes:
            continue
        makes.append(made if made.is_chain else replace(made, count=made.count * likely.times.count))
    return tuple(makes)
