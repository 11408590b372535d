"""A number of stitches in brackets before the end of a round: "2 dec (6). Fold it, 3 sc through both layers"."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.diagnostics import Problem, warning
from tracker.notation.ast import Colour, Exactly, Item, Role, Some, Stated
from tracker.notation.lexer import scan
from tracker.notation.parser.prose_behind import SAYS_HOW
from tracker.notation.parser.total_value import is_total, stated
from tracker.notation.parser.worked_into import THROUGH_ALL
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, PhrasePattern, TotalInside, shape_of

_ONLY_COUNTS = frozenset((T.NUMBER, T.NOUN, T.TOTAL, T.EQUALS))
"""The kinds of words in a bracket that says nothing but how many there are."""


_STATES = PhrasePattern("OPEN NUMBER [NOUN STITCH]? CLOSE [DOT COMMA SEMI DASH]*")


def start_of_closing(text: str, terms: str) -> int:
    """Where in the folded text the stitches begin that close a piece through both of its halves, behind the total of
    its last round: "... (6). Fold it, 3 sc through both layers"; 0 if there are none."""
    words = scan(text, terms)
    through = THROUGH_ALL.first_in(words, 1)
    line = shape_of(words)
    ends = (at + length for at in range(through - 1, 0, -1) if (length := _STATES.length(line, at)))
    behind = next(ends, through)
    kinds = {word.kind for word in words[behind:through]}
    return words[behind].start if through < len(words) and T.STITCH in kinds and T.ROUND not in kinds else 0


def made_so_far(items: Sequence[Item]) -> int | None:
    """How many stitches these make; None if the words alone do not tell."""
    made = 0
    for item in items:
        if isinstance(item, Colour):
            continue
        if not isinstance(item, Some) or not isinstance(item.times, Exactly):
            return None
        made += item.act.stitches * item.times.count
    return made


def note_total_inside(cursor: Cursor, items: list[Item], close: int) -> None:
    """Keep in mind what the bracket says that begins here and closes at word `close`, if that is a total."""
    inner = cursor.tokens[cursor.place : close]
    if items and _ONLY_COUNTS.issuperset(word.kind for word in inner) and is_total(inner):
        noted = TotalInside(tuple(inner), close + 1, len(items), made_so_far(items), cursor.depth > 0)
        cursor.totals_inside.append(noted)


def settle_totals_inside(
    cursor: Cursor, items: tuple[Item, ...], totals: tuple[Stated, ...]
) -> tuple[tuple[Stated, ...], list[Problem]]:
    """The totals that the round states, and what is told of those before its end. Behind which nothing is worked is
    its total; of any other no more can be said than what the counts before it make.

    Raises:
        NotUnderstood: what stands behind it goes through both halves of what there is by then.
    """
    problems: list[Problem] = []
    passed = 0
    for one in cursor.totals_inside:
        total = stated(list(one.words), cursor.lines, cursor.context.size)
        behind = range(one.behind, len(cursor.tokens))
        is_last = not one.is_in_group and one.items <= len(items) and _makes_nothing(items[one.items :])
        if is_last or SAYS_HOW.isdisjoint(cursor.tokens[place].kind for place in behind):
            agrees, totals = not totals or totals[-1].stitches == total.stitches, totals or (total,)
        elif not one.is_in_group and any(cursor.begins(THROUGH_ALL, place) for place in behind):
            message = f"what stands behind '{total.stitches}' in brackets is worked in those stitches"
            raise cursor.fail("next-row", message, total.span, "write it as a round of its own")
        else:
            agrees = one.made is not None and total.stitches in (one.made, one.made - passed)
            passed = one.made or passed
        if not agrees:
            problems.append(warning("total-inside", _MESSAGE.format(total.stitches), total.span, _HELP))
    return totals, problems


_MESSAGE = "'({})' stands before the end of the round, and was not checked"
_HELP = "write what stands behind it as a round of its own"


def _makes_nothing(items: Sequence[Item]) -> bool:
    return all(isinstance(item, Colour) or (isinstance(item, Some) and item.act.role is Role.STEP) for item in items)
