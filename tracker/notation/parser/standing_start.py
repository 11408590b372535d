"""Where a round begins, said before what goes round: "Start with a standing dc in any st. 2 dc in each st around",
"Start in any ch-1 sp. (3 dc, ch 1) in each ch-1 sp around"."""

from __future__ import annotations

from tracker.diagnostics import NOWHERE
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, ChoiceKind, Exactly, Into, Item, Option, Some
from tracker.notation.instructions import is_lead, joining, stitch
from tracker.notation.parser.place import place
from tracker.notation.token_kinds import PAUSES, T
from tracker.notation.token_stream import Cursor, PhrasePattern

STARTS = PhrasePattern("WORK+ (FILLER? BEGINNING STITCH)? IN (?= NEXT) ANY (?! NUMBER BASES)")

_GOES_ROUND = PhrasePattern("PAUSES+ (NUMBER? [STITCH BUNCH INC] | OPEN (..)+ CLOSE) IN EACH (?! [REMAINING OTHER])")
""" ". 2 dc in each st around": the first of these stands where the round was begun"""

_HAS_PLACES = PhrasePattern("PAUSES+ (OPEN (..)+ CLOSE [IN AROUND TIMES NUMBER] | MARK) | [DOT SEMI NEWLINE]")
""" ", (3 dc, ch 1) in each ch-1 sp": what follows says itself where it goes"""

_GOES_ON_THERE = PhrasePattern("PAUSES+ ((?! STOPS | IN) ..)* IN? SAME")
""" ", dc in same st, 2 dc in each remaining st" """


def standing_start(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """STANDING START := start [with [a] standing STITCH] in any PLACE, before what has places of its own

    A stitch that the yarn is joined with is the first of what goes round, or stands before that: the places that
    are there tell, or the total.
    """
    if not all(map(is_lead, items)) or not cursor.begins(STARTS):
        return False
    first = cursor.place
    cursor.skip(T.WORK)
    cursor.skip(T.FILLER, T.BEGINNING)
    named = cursor.accept(T.STITCH)
    where = place(cursor)
    if where.into not in (Into.STITCH, Into.SPACE) or where.bases != Exactly(1) or not cursor.at(*PAUSES):
        cursor.place = first
        return False
    span = cursor.span(first)
    begun = Some(replace(joining(span), into=where.into, onto=where.onto))
    if named is None:
        if not cursor.begins(_HAS_PLACES):
            cursor.place = first
            return False
        items.append(begun)
        return True
    act = stitch(named.name).act(cursor.loop, span)
    standing = Some(replace(act, into=where.into, onto=where.onto))
    if cursor.begins(_GOES_ON_THERE):
        items.append(standing)
        return True
    one_of_them = Option((begun,), f"read the standing {named.text} as one of those that go round")
    before_them = Option((standing,), f"read the standing {named.text} as one more than those that go round")
    options = (one_of_them, before_them) if cursor.begins(_GOES_ROUND) else (before_them, one_of_them)
    items.append(Choice(ChoiceKind.OPENING, options, NOWHERE))
    return True
