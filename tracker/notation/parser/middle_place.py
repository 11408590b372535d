"""Places in the middle: of stitches that stand together, of a corner, of each side."""

from __future__ import annotations

from tracker.notation.ast import Exactly, Into, ToEnd
from tracker.notation.instructions import CORNER, EACH_SIDE
from tracker.notation.parser.worked_into import Where, group_name
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, PhrasePattern

_MIDDLE_OF_SEVERAL = PhrasePattern("CENTRE [NUMBER BASES]? OF [NEXT LAST ORDINAL]* NUMBER STITCH (?! [WORD BUNCH])")
""" "dc on the centre one of the 3 dc", "sc in centre of next 5 dc" """


_MIDDLE_OF_CORNER = PhrasePattern(
    "CENTRE [NOUN STITCH]* [OF IN] [EACH NEXT SAME LAST ORDINAL ALL OF]* NUMBER? CORNER"
)
""" "5 dc in the middle dc of each corner" """
_MIDDLE_OF_SIDE = PhrasePattern("CENTRE [NOUN STITCH]* OF [EACH ALL] (?= WORD) SIDES")
_MIDDLE_STITCH = PhrasePattern("CENTRE [NOUN STITCH] (?! [OF IN])")


def middle_of_several(cursor: Cursor) -> Where | None:
    """centre ([one] of n STITCH | STITCH [of corner]): the middle of those that stand together; None if it does not
    stand here. Where a line goes "to centre st of next corner" any centre stitch behind that is at a corner."""
    if cursor.take_phrase(_MIDDLE_OF_SIDE):
        return Where(Exactly(1), onto=EACH_SIDE)
    of_corner = cursor.first_of(_MIDDLE_OF_CORNER, 0, cursor.place) < cursor.place
    if of_corner and cursor.take_phrase(_MIDDLE_STITCH):
        return Where(Exactly(1), onto=CORNER)
    if words := cursor.take_phrase(_MIDDLE_OF_CORNER):
        kinds = {word.kind for word in words}
        number = next((word.number for word in words if word.kind is T.NUMBER), 1)
        each = number > 1 or not kinds.isdisjoint((T.EACH, T.ALL))
        bases = ToEnd() if each and number == 1 else Exactly(number)
        return Where(bases, each=each, same=T.SAME in kinds, onto=CORNER)
    words = cursor.take_phrase(_MIDDLE_OF_SEVERAL)
    return Where(Exactly(1), Into.SPACE, onto=group_name(words[-2:])) if words else None
