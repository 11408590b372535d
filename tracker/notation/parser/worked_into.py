"""What stitches are worked into: "dc", "ch-3 sp", "corner", "shell", "ring", "between next 2 sts"."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass, replace
from tracker.notation.ast import Exactly, Into, Loop, Times, ToEnd
from tracker.notation.bunches import BUNCH_BY_ID
from tracker.notation.instructions import (
    ANY_SPACE,
    CORNER,
    CORNER_SPACE,
    FIRST,
    LAST,
    PETAL,
    SKIPPED,
    of_kind,
    within,
)
from tracker.notation.token_kinds import MADE, WORD_GROUPS, T
from tracker.notation.token_stream import Cursor, PhrasePattern, Token


@dataclass(frozen=True, slots=True)
class Where:
    """A place phrase. `bases` is over how many; `each` says that what is named goes into every single one.

    `every` is n for "every nth"; `from_hook` is n for "nth chain from the hook"; `same` is the place just worked
    into; `also_spaces` says that the spaces that `onto` names, or each of their chains ("ch"), count as bases
    besides. `has_number` says that the phrase gave a number of bases itself; `onto` is what it calls the base, where
    that can be checked.
    """

    bases: Times
    into: Into = Into.STITCH
    each: bool = False
    has_number: bool = False
    every: int = 0
    from_hook: int = 0
    same: bool = False
    first: bool = False
    also_spaces: bool = False
    onto: str = ""
    loop: Loop = Loop.BOTH
    just_made: bool = False
    """It is a stitch made in this round a moment ago."""
    onward: bool = False
    """It is where the work begins, and goes on one by one: "11 sc from the 2nd ch"."""
    ends: bool = False
    """Both ends of the round or row."""
    over: bool = False
    """It is said to go over them: "cl over next 3 sts" is one cluster, "cl in next 3 sts" are three."""


RING = Where(Exactly(0), Into.RING)
"""A ring takes any number of stitches."""


OVER_A_THING = PhrasePattern("[OVER AROUND] WORD* ((?= WORD) THINGS | RING) (?= STOPS | [OPEN AND WITH] | $)")
""" "working over hair elastic, 40 sc", "24 sc around plastic ring": a thing takes any number of them"""


BOTH_ENDS = Where(Exactly(2), ends=True)


_DESCRIBED = PhrasePattern("[WORD COLOURED SIDE] (?= BASES)")
""" "sc in red st", "sc in free ch" """

UNDER_CHAINS = PhrasePattern(
    "((?= IN) UNDER_WORD | OVER | IN (?= CHAIN OF)) [EACH NEXT SAME LAST ORDINAL]*"
    " (NUMBER CHAIN | CHAIN OF? NUMBER (?! HEADS) | CHAIN) (?! [SPACE NOUN NUMBER HOOK])"
)
""" "5 dc under the 3 ch", "9 sc over the chain", "7 sc in chain of 5": into the space that the chains span"""


def under_chains(words: list[Token]) -> Where:
    """The space of such words; of a chain alone it is not told how long that is."""
    kinds = {word.kind for word in words}
    number = next((word.number for word in words if word.kind is T.NUMBER), 0)
    bases: Times = ToEnd() if T.EACH in kinds else Exactly(1)
    same = T.SAME in kinds
    return Where(bases, Into.SPACE, onto=f"ch-{number}" if number else "", each=T.EACH in kinds, same=same)


CHAIN_SPACE = PhrasePattern("NUMBER CHAIN SPACE")
""" "dc in 2-ch sp" """

_SPACE_AS_MADE = PhrasePattern("OPEN [CHAIN NUMBER STITCH PLUS AND COMMA]+ CLOSE SPACE")
""" "sc in (ch 2, hdc) space": a space called by what the round before made it of"""

_GROUP = PhrasePattern("(NUMBER? STITCH)? (?= WORD) A_GROUP (OF NUMBER? STITCH)?")
""" "sc in next 3-dc group", "sc in each group of 3 dc", "in sp between pairs" """

ONE_GROUP = PhrasePattern("NUMBER STITCH (?= WORD) ONE_GROUP")
""" "sc in next 3-dc group" is one group of three; "next 3 dc groups" are three"""

_PETALS = frozenset(WORD_GROUPS["PETALS"].split("|"))

_PAIRS = frozenset(WORD_GROUPS["A_PAIR"].split("|"))

_CORNER_STITCH = PhrasePattern("CORNER [NOUN STITCH]")
""" "3 sc in corner st" """

_CHAIN_CORNER = PhrasePattern("(NUMBER CHAIN | CHAIN NUMBER?) CORNER SPACE?")
""" "(dc, ch 2, dc) in each 2-ch corner sp" """

_CORNER = PhrasePattern("CORNER [CHAIN NUMBER]* [SPACE NOUN]*")
""" "3 sc in corner", "3 sc in corner ch-2 sp" """

_LENGTH_OF_SPACE = PhrasePattern("NUMBER (CORNER SPACE? | SPACE)")
""" "dc in ch-2 sp" """

_LENGTH_OF_CHAIN = PhrasePattern("NUMBER (?! WORKED)")
""" "sl st to top of ch-3" """


_THE_STITCHES = PhrasePattern("(?<= IN) (?= NOUN) SEVERAL_STITCHES (DOT | SEMI | OPEN | EQUALS | $)")
""" "24 sc in sts", "24 sc in the stitches (24)": in those that are there, not in one of them"""


def skipped(cursor: Cursor, number: int) -> Where:
    """skipped [n] BASE: passed over before, so that it takes no base any more, unless that was rounds ago; "skipped
    sts" are as many as the line skipped last"""
    cursor.take()
    if cursor.at(T.NUMBER):
        number = cursor.number()
    elif number == 1 and cursor.begins(_SEVERAL):
        number = _last_skipped(cursor)
    base(cursor, Exactly(number))
    if cursor.begins(_ROUNDS_BELOW):
        return Where(Exactly(number), has_number=True)
    return Where(Exactly(number), same=True, each=True, onto=SKIPPED)


def _last_skipped(cursor: Cursor) -> int:
    """How many places the last skip before here passes over; 1 if it does not tell."""
    last = max((i for i in range(cursor.place) if cursor.tokens[i].kind is T.SKIP), default=cursor.place)
    return next((word.number for word in cursor.tokens[last : last + 3] if word.kind is T.NUMBER), 1)


_SEVERAL = PhrasePattern("(?= NOUN) SEVERAL_STITCHES")

_ROUNDS_BELOW = PhrasePattern("NUMBER ROUND PREVIOUS")
""" "dc in skipped st 2 rows below": over a place of its own"""


def base(cursor: Cursor, bases: Times) -> Where | None:
    """BASE := GROUP | CHAIN BASE | n ch sp | (ch n + STITCH) sp | corner [ch n] [sp] | sp [BETWEEN] | ring |
    STITCH BASE"""
    cursor.skip(T.MARKER, T.CENTRE, T.BEGINNING)
    if cursor.begins(_THE_STITCHES) and bases == Exactly(1):
        bases = ToEnd()
    if where := group(cursor, bases):
        return where
    cursor.take_phrase(_DESCRIBED)
    if cursor.take_phrase(_CHAIN_CORNER):
        return Where(bases, Into.SPACE, onto=CORNER_SPACE)
    if cursor.at(T.CHAIN):
        return _chain_base(cursor, bases)
    if words := cursor.take_phrase(CHAIN_SPACE):
        return Where(bases, Into.SPACE, onto=f"ch-{words[0].number}")
    if cursor.take_phrase(_SPACE_AS_MADE):
        return Where(bases, Into.SPACE)
    if cursor.take_phrase(_CORNER_STITCH):
        return Where(bases, onto=CORNER)
    if words := cursor.take_phrase(_CORNER):
        where = Where(bases, Into.SPACE, onto=CORNER if len(words) == 1 else CORNER_SPACE)
        # "3 sc in corners", where no number of them is told: in each
        is_each = words[0].text == "corners" and bases == Exactly(1)
        return replace(where, bases=ToEnd(), each=True) if is_each else where
    if cursor.accept(T.SPACE):
        if not cursor.at(T.BETWEEN):
            return Where(bases, Into.SPACE)
        return Where(bases, Into.BETWEEN, onto=between(cursor).onto)
    if cursor.accept(T.RING):
        return RING
    if cursor.at(T.NOUN, T.STITCH, T.CHAINLESS, T.BUNCH, T.INC, T.DEC, T.POSTED):
        return _stitch_base(cursor, bases)
    return None


def group(cursor: Cursor, bases: Times) -> Where | None:
    """GROUP := [n] [stitch] group [of n stitch]; None if none stands here"""
    words = cursor.take_phrase(_GROUP)
    if not words:
        return None
    cursor.skip(T.SPACE)
    return Where(bases, Into.SPACE, onto=group_name(words))


def group_name(words: list[Token]) -> str:
    """What stitches that stand together are called: "3-group" where their number is told, else "group"."""
    if words[-1].text in _PETALS:
        return PETAL
    pair = any(word.text in _PAIRS for word in words)
    number = next((word.number for word in words if word.kind is T.NUMBER), 2 if pair else 0)
    return f"{number}-group" if number else "group"


_AT_BASE = PhrasePattern("IN BASE | SAME? (?= WORD) TOUCHES")
""" "skip st at base of ch", "dc in the st that touches the ch-3" """


def at_the_foot(cursor: Cursor) -> bool:
    """at base of BASE, as of the turning chain: which stitch is meant; taken if it stands here"""
    if not cursor.take_phrase(_AT_BASE):
        return False
    base(cursor, Exactly(1))
    return True


_OF_CHAIN = PhrasePattern("(?<= ORDINAL) NOUN? OF (..)? CHAIN | OF (..)? CHAIN")
""" "sl st in 3rd of ch 3", "sl st in 3rd of beg ch", "sl st in 3rd st of ch-4" """

_AT_THE_END = PhrasePattern("IN END (?= STOPS | $)")
""" "dc in 3rd of the chain at end" """


def of_chain(cursor: Cursor) -> Where | None:
    """of [n] ch [n] [at end]: a chain of the starting chain; None if it does not stand here"""
    if not cursor.begins(_OF_CHAIN):
        return None
    cursor.skip(T.NOUN)
    cursor.take()
    cursor.skip(T.NUMBER, T.BEGINNING)
    base(cursor, Exactly(1))
    cursor.take_phrase(_AT_THE_END)
    # In a row it is the turning chain of the one below, which stands for a stitch; in a round its own first one.
    return Where(Exactly(1), Into.STITCH if cursor.is_worked_back else Into.CHAIN, first=True)


def _chain_base(cursor: Cursor, bases: Times) -> Where:
    """CHAIN BASE := ch [n] (sp | corner) | ch [n]"""
    cursor.take()
    if words := cursor.take_phrase(_LENGTH_OF_SPACE):
        return Where(bases, Into.SPACE, onto=f"ch-{words[0].number}")
    if cursor.accept(T.SPACE):
        return Where(bases, Into.SPACE)
    if words := cursor.take_phrase(_LENGTH_OF_CHAIN):
        cursor.skip(T.SPACE, T.NOUN)
        if words[0].glued and bases == ToEnd():
            return Where(bases, Into.SPACE, onto=f"ch-{words[0].number}")  # "8 sc around each ch-8"
        return Where(bases, Into.CHAIN if bases == ToEnd() else Into.SPACE, first=bases != ToEnd())
    cursor.skip(T.NOUN)
    return Where(bases, Into.CHAIN)


def _stitch_base(cursor: Cursor, bases: Times) -> Where:
    """STITCH BASE := shell [sp] | stitch sp | stitch [st]"""
    named = cursor.take()
    if named.kind is T.BUNCH and not _is_one_stitch(named.name, cursor):
        cursor.skip(T.SPACE)
        return Where(bases, Into.SPACE, onto=named.name)
    if cursor.accept(T.SPACE):
        return Where(bases, Into.SPACE)
    if cursor.at(T.NOUN) or (cursor.at(T.STITCH) and cursor.token().glued):
        cursor.take()
    return Where(bases, onto=of_kind(named.name) if named.kind in (T.STITCH, T.BUNCH) else "")


def _is_one_stitch(name: str, cursor: Cursor) -> bool:
    """A cluster is one stitch to work into, and so is a stitch that the pattern defines; a shell is not."""
    if name not in BUNCH_BY_ID:
        return name not in dict(cursor.context.bunches)
    return BUNCH_BY_ID[name].stitches == 1


def between(cursor: Cursor) -> Where:
    """BETWEEN := between [each] [next] (GROUP | [n] [next] BASE) [and BASE]"""
    cursor.take()
    each = bool(cursor.accept(T.EACH, T.ALL))
    cursor.skip(T.NEXT, T.SAME, T.LAST)
    where = group(cursor, Exactly(1))
    if where is None:
        cursor.accept(T.NUMBER)
        cursor.skip(T.NEXT)
        where = group(cursor, Exactly(1)) or base(cursor, Exactly(1))
    if where is None:
        cursor.accept(T.WORD)
    if cursor.accept(T.AND):
        cursor.skip(T.NEXT, T.NUMBER)
        base(cursor, Exactly(1))
    if where and where.into is Into.SPACE and where.onto.startswith("ch-"):
        return where
    onto = where.onto if where else ""
    return Where(ToEnd() if each else Exactly(1), Into.BETWEEN, each=each, onto=onto)


# Stitches worked on another part: "10 sc around leg one", "3 sc through both arm and body".

_PARTS = frozenset(WORD_GROUPS["PARTS"].split("|"))

_ENDS_PART = PhrasePattern("STOPS | [OPEN THEN MARK SKIP JOIN] | AND NUMBER | $")
""" "10 sc around leg one and 10 sc around leg two" """

_OF_PART = PhrasePattern(
    """
      OF [ORDINAL OTHER SAME NEXT EACH ALL LAST NUMBER PREVIOUS]* (?= WORD) PARTS+ NUMBER*
    | [AROUND IN] [ORDINAL OTHER LAST ALL NUMBER]+ (?= WORD) PARTS
    | [AROUND IN] (?= WORD) PARTS NUMBER
    """
)
""" "sc in 12 sts of first leg", "sc in each st around second leg", "around leg 2" """

_OF_A_CHAIN = ("foundation", "starting", "beginning", "beg", "base", "initial", "original")
"""What the chain along the other edge of a piece is called."""

_LEFT_BELOW = frozenset(WORD_GROUPS["PASSED_OVER"].split("|"))

_INSIDE = ("in", "into", "at", "for")

_NOT_IN_A_PART = MADE | {T.NOUN, T.SPACE, T.RING, T.HOOK, T.LOOP, T.TIMES, T.REPEAT}


def takes_part(cursor: Cursor) -> bool:
    """(in | around | over) PART: "around leg one", "on the other half of the second"; taken if it is one"""
    if not cursor.at(T.IN, T.AROUND, T.OVER):
        return False
    if cursor.depth and cursor.begins(UNDER_CHAINS):
        return False  # "*sc in sc, 9 sc over the chain; rep from *"
    end = cursor.place
    while not _ends_part(cursor, end):
        end += 1
    if not _is_part(cursor.token(), cursor.tokens[cursor.place + 1 : end]):
        return False
    cursor.place = end
    cursor.on_parts = True
    return True


def _ends_part(cursor: Cursor, index: int) -> bool:
    return cursor.begins(_ENDS_PART, index)


def _is_part(lead: Token, words: list[Token]) -> bool:
    """Whether the words name another part, or something else that is not the round below."""
    if not words or words[0].kind in (T.EACH, T.NEXT, T.LAST):
        return False
    kinds = [word.kind for word in words]
    if kinds[0] is T.END and T.NUMBER in kinds:
        return False  # "in the end of each of the 32 cuff rows" tells how many
    if kinds == [T.ROUND, T.END] or (kinds[:3] == [T.END, T.OF, T.ROUND] and words[0].text == "ends"):
        return True  # "in the row ends", "along the ends of the rows"
    if words[0].kind is T.SAME:
        return lead.kind is T.AROUND and [word.kind for word in words[1:]] == [T.WORD]
    if lead.kind is T.OVER and words[0].kind is T.SIDE:
        return True
    left = words[0].kind is T.LEFT or words[0].text in _LEFT_BELOW
    if left and lead.kind is not T.IN and [word.kind for word in words[1:]] == [T.NOUN]:
        return True  # "along the skipped sts"
    if kinds == [T.CHAIN] and (lead.kind is not T.IN or lead.text.startswith(("across", "on"))):
        return True
    if words[-1].kind is T.CHAIN and all(word.text in _OF_A_CHAIN for word in words[:-1]) and len(words) == 2:
        return True  # "across the foundation chain"
    inside = lead.text in _INSIDE
    named = any(word.text in _PARTS or (word.kind is T.ORDINAL and not inside) for word in words)
    return named and not any(word.kind in _NOT_IN_A_PART for word in words)


def begins_part(cursor: Cursor) -> bool:
    """Whether another part is named here: "around second leg"; "into first leg" is one stitch of it."""
    return cursor.begins(_OF_PART) and cursor.token().text not in _INSIDE


def of_part(cursor: Cursor) -> bool:
    """ "in 12 sts of first leg", "around second leg": taken if it is on another part."""
    return begins_part(cursor) and bool(cursor.take_phrase(_OF_PART))


_ON_FURTHER_PART = PhrasePattern(
    "[IN AROUND] (?= WORD) PARTS (?= STOPS | [AND WITH] | $) | [IN AROUND]? SIDE (?= STOPS | $)"
)
""" "15 sc along the row ends, sc in 6 sts across the toe, 15 sc along the other side": all along parts"""


def further_part(cursor: Cursor) -> bool:
    """on PART, in a line that went along another one before: taken if it stands here"""
    return cursor.on_parts and bool(cursor.take_phrase(_ON_FURTHER_PART))


_OF_GROUP = PhrasePattern(
    "OF [EACH NEXT SAME LAST ORDINAL]* ( BUNCH | NUMBER? STITCH? (?= WORD) A_GROUP (OF NUMBER? STITCH)? |"
    " (?= WORD) PETALS )"
)
""" "sc in centre dc of each shell", "dc in first dc of next group", "sc in centre dc of next 3-dc group" """


def of_bunch(cursor: Cursor, where: Where) -> Where:
    """ "in the centre dc of each shell": one place in every group of that name; "in each dc of next shell", "in next
    dc of 7-dc group": stitches of one."""
    in_stitches = where.into is Into.STITCH and (where.bases != Exactly(1) or cursor.peek(-2) is T.NEXT)
    is_last = cursor.peek(-2) is T.LAST
    words = cursor.take_phrase(_OF_GROUP)
    if not words:
        return where
    each = words[1].kind is T.EACH
    onto = words[-1].name if words[-1].kind is T.BUNCH else group_name(words)
    if in_stitches:
        in_one = where.bases == ToEnd() and not each
        return replace(where, onto=onto, bases=ToEnd(in_one=True) if in_one else where.bases)
    if where.into is Into.SPACE and where.onto.startswith("ch-"):
        onto = within(onto, where.onto)
    elif where.into is Into.STITCH and (where.first or is_last):
        onto = within(onto, FIRST if where.first else LAST)
    return replace(where, into=Into.SPACE, onto=onto, bases=ToEnd() if each else where.bases, each=each or where.each)


OF_PETAL = PhrasePattern("OF [EACH NEXT SAME LAST ORDINAL]* (?= WORD) PETALS")
""" "sc in centre dc of next petal" is one place of it, "sc in each dc of next petal" goes on along another part"""

OF_SPACE = PhrasePattern(
    """
      OF [NEXT SAME ORDINAL LAST EACH]* (CHAIN NUMBER | NUMBER CHAIN)? SPACE
    | OF [NEXT EACH]+ (CHAIN NUMBER | NUMBER CHAIN)
    """
)
""" "sc in 3rd ch of next ch-5 loop", "in 4th ch of next ch-7", "sl st in centre st of loop": in it, at one place"""


def of_space(cursor: Cursor, where: Where) -> Where:
    """ "3rd ch of next ch-5 loop", "centre st of loop": the loop itself, wherever on it; "each ch of next ch-5 loop"
    is every one of its chains."""
    along = where.into is Into.CHAIN and where.bases != Exactly(1)
    is_one = where.into in (Into.STITCH, Into.CHAIN) and where.bases == Exactly(1)
    if not (is_one or along) or where.from_hook or where.same:
        return where
    words = cursor.take_phrase(OF_SPACE)
    if not words:
        return where
    number = next((word.number for word in words if word.kind is T.NUMBER), 0)
    length = f"ch-{number}" if number else ""
    if not along:
        return replace(where, into=Into.SPACE, onto=length, first=False)
    bases = where.bases
    if bases == ToEnd() and T.EACH not in [word.kind for word in words]:
        bases = Exactly(number) if number else ToEnd(in_one=True)
    return replace(where, bases=bases, onto=length or ANY_SPACE, has_number=isinstance(bases, Exactly), each=True)


# Both ends of a round or row: "at each end", "in the first and last st", "at the beginning and end of the row".

_BOTH_ENDS = PhrasePattern("(BEGINNING AND | EACH | (?= WORD) BOTH) (END | (?= AROUND) ITS_END) [OF SAME ROUND]*")
""" "inc at both ends", "inc at beginning and end of row" """

_FIRST_AND_LAST = PhrasePattern("ORDINAL AND LAST")
""" "inc in first and last st" """


def takes_both_ends(cursor: Cursor) -> bool:
    """BOTH ENDS := (each | both) end [of row] | beginning and end [of row]; taken if it stands here"""
    if cursor.begins(_FIRST_AND_LAST) and cursor.token().number == 1:
        cursor.place += 3
        base(cursor, Exactly(1))
        return True
    return bool(cursor.take_phrase(_BOTH_ENDS))


# Two layers of fabric that lie on each other.

THROUGH_ALL = PhrasePattern(
    """
      WORK? IN BOTH_OR_ALL LAYERS (?! NUMBER (?! TIMES)) (TO JOIN)?
    | WORK? BOTH_OR_ALL LAYERS [TOG WITH]
    | (?= IN) THROUGH BOTH (?= STOPS | $)
    | (?= [WORD JOIN WORK]) TAKING BOTH_OR_ALL LAYERS TOG?
    """
)
""" "working through both layers, sc in each st", "sc through both layers across", "crochet both edges with 5 sc",
"sc through both", "5 sc taking the two sides" """


def takes_all_layers(cursor: Cursor) -> bool:
    """through both layers: taken if it stands here"""
    return bool(cursor.take_phrase(THROUGH_ALL))


LOOP_AT_END = PhrasePattern("[IN FROM]? LOOP ([DOT CLOSE] | $)")
""" "sc in each st, only in the back loop." """
