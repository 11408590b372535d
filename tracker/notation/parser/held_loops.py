"""A cluster told by its motions: "keeping last loop of each on hook, dc in next 5 sts, yo, draw through all"."""

from __future__ import annotations

from tracker.diagnostics import Span
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Exactly, Instruction, Item, Made, Some, Technique, acts
from tracker.notation.glossary import BY_ID
from tracker.notation.instructions import CLUSTER, last_act, together
from tracker.notation.parser.stitch_phrase import begins_phrase, skip_phrase, stitch_phrase
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, PhrasePattern

BEGINS_HELD = PhrasePattern("HELD_BACK")

_HOLDING_BACK = PhrasePattern(
    "HELD_BACK BACK_WORD? (IN A_HOOK)? LAST SPACE (OF EACH (OF THEM)? [STITCH NOUN]?)? (IN A_HOOK)?"
    " [COMMA NEWLINE]* WORK?"
)
_CLOSED = PhrasePattern(
    "[COMMA DOT SEMI AND THEN NEWLINE]* YARN_OVER* [COMMA AND THEN]* DRAWN_THROUGH+ ALL? OF? NUMBER? SPACE LEFT?"
    " (IN A_HOOK)? (OPEN [WORD NUMBER STITCH]* BUNCH [TOTAL WORD MADE_BEFORE]* CLOSE)?"
)


def held_loops(cursor: Cursor, items: list[Item], _until: int) -> bool:
    """HOLDING BACK PHRASE { , PHRASE } CLOSED, or HOLDING BACK CLOSED behind its phrase: so many stitches, closed as
    one"""
    first = cursor.place
    if not cursor.take_phrase(_HOLDING_BACK):
        return False
    phrases: list[Item] = []
    while begins_phrase(cursor) or (phrases and cursor.at(T.SKIP)):
        phrases += skip_phrase(cursor) if cursor.at(T.SKIP) else stitch_phrase(cursor)
        if cursor.begins(_CLOSED):
            break
        cursor.skip(T.COMMA, T.AND, T.THEN)
    kept = len(items) if phrases else len(items) - 1
    act = _closed(phrases or items[-1:], cursor.span(first)) if cursor.take_phrase(_CLOSED) else None
    if act is None:
        cursor.place = first
        return False
    items[kept:] = [Some(act)]
    return True


def _closed(phrases: list[Item], span: Span) -> Instruction | None:
    """The stitches closed as one, over all their places or in the one that they share; None if they are no such."""
    over = loops = 0
    for item in phrases:
        if not isinstance(item, Some) or not isinstance(item.times, Exactly) or item.act.takes > 1:
            return None
        over += item.act.takes * item.times.count
        loops += item.act.stitches * item.times.count
    first = last_act(phrases[0]) if phrases else None
    stitch = BY_ID.get(first.makes[0].kind) if first is not None and first.makes else None
    made = {each.kind for act in acts(tuple(phrases)) for each in act.makes}
    if first is None or stitch is None or loops < 2 or len(made) > 1:
        return None
    if stitch.turning_chain > 1 and (over < loops or loops >= CLUSTER):
        closed = replace(first, name="cluster", makes=(Made("cluster"),), technique=Technique.GROUP)
    else:
        head = together(stitch.us, loops)
        closed = replace(first, name=head.name, makes=head.makes, technique=head.technique)
    return replace(closed, takes=over, span=span)
