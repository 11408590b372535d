"""What is worked into besides the bases named first: "sc in each dc and ch-1 sp", "in each st (and each ch)"."""

from __future__ import annotations

from tracker.lazy_dataclass import replace
from tracker.notation.ast import Into, ToEnd
from tracker.notation.instructions import OF_CHAINS
from tracker.notation.parser.worked_into import CHAIN_SPACE, ONE_GROUP, Where, base
from tracker.notation.token_kinds import T
from tracker.notation.token_stream import Cursor, PhrasePattern

_ONE_CHAIN_SPACE = PhrasePattern("(?<! OF) NUMBER CHAIN (?= SPACE) ONE_SPACE")
""" "dc in next 2 ch sp" is one space of two chains"""

_AND_ANOTHER = PhrasePattern(
    "AND ([EACH IN SPACE CHAIN] | NUMBER CHAIN SPACE | [STITCH BUNCH] (?! IN | EACH | NEXT (?! SPACE)))"
)
""" "sc in each dc and ch-1 sp around" """

_SET_OFF = PhrasePattern(
    "( [COMMA OPEN] AND+ | [COMMA OPEN]? AND? (?= WORD) INCLUDED_WORD )"
    " (?= [IN EACH OF]* ((?= WORD) BOTH)? NUMBER? [CHAIN SPACE] (?! NUMBER))"
)
""" "sc in each st (and in both ch)", ", including the 2 ch" """

_INTO_THEM = PhrasePattern("[IN EACH OF]* ((?= WORD) BOTH)?")

_WHEN_THERE = PhrasePattern("[IN OF]* ORDINAL (TIMES | [OF SAME WORD]* ROUND) | IN [ROUND WORD] NUMBER")
""" "and each ch the first time", "on Rnd 5": later there are none"""


def is_one_space(cursor: Cursor) -> bool:
    """ "2ch-sp" and "next 2 ch sp" are one space of two chains, "3-dc group" one group; "2 ch-sps" are two spaces."""
    return (
        cursor.begins(_ONE_CHAIN_SPACE)
        or cursor.begins(ONE_GROUP)
        or (cursor.begins(CHAIN_SPACE) and cursor.token(1).glued)
    )


def with_bases_besides(cursor: Cursor, where: Where) -> Where:
    """BESIDES := [(, | "(") and | including] [in] [each] [of] [n] BASE [WHEN THERE] [")"], as in "each dc and ch-1 sp
    around": both are bases, the space by its name"""
    is_set_off = cursor.begins(_SET_OFF)
    if not is_set_off and not cursor.begins(_AND_ANOTHER):
        return where
    start = cursor.place
    in_brackets = is_set_off and cursor.at(T.OPEN)
    if not cursor.take_phrase(_SET_OFF):
        cursor.take()
    cursor.take_phrase(_INTO_THEM)
    number = cursor.number() if cursor.at(T.NUMBER) and not is_one_space(cursor) else 0
    other = base(cursor, ToEnd())
    cursor.take_phrase(_WHEN_THERE)
    if other is None or cursor.at(T.FROM) or (in_brackets and not cursor.accept(T.CLOSE)):
        cursor.place = start
        return where
    if other.into is where.into:
        return where  # "each st and each bobble": all of them are stitches
    besides = where if other.into is Into.STITCH else other
    onto = besides.onto if besides.into is not Into.CHAIN else f"{OF_CHAINS}{number}" if number else "ch"
    return replace(where, into=Into.STITCH, also_spaces=True, onto=onto)
