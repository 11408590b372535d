"""What stitches are worked into: "dc", "ch-3 sp", "corner", "shell", "ring", "between next 2 sts"."""

from __future__ import annotations

from tracker.notation.cursor import Cursor
from tracker.notation.glossary import BUNCH_BY_ID
from tracker.notation.lexicon import BASES, WORKED, T
from tracker.notation.tree import Exactly, Into, Loop, Rest, Times
from tracker.notation.values import dataclass


@dataclass(frozen=True, slots=True)
class Where:
    """A place phrase. `bases` is over how many; `each` says that what is named goes into every single one.

    `every` is n for "every nth"; `from_hook` is n for "nth chain from the hook"; `same` is the place just worked
    into; `also_spaces` says that the spaces that `onto` names, or each of their chains ("ch"), count as bases
    besides. `told` says that the phrase gave a number of bases itself; `onto` is what it calls the base, where that
    can be checked.
    """

    bases: Times
    into: Into = Into.STITCH
    each: bool = False
    told: bool = False
    every: int = 0
    from_hook: int = 0
    same: bool = False
    first: bool = False
    also_spaces: bool = False
    onto: str = ""
    loop: Loop = Loop.BOTH
    just_made: bool = False
    """It is a stitch made in this round a moment ago."""
    ends: bool = False
    """Both ends of the round or row."""


RING = Where(Exactly(0), Into.RING)
"""A ring takes any number of stitches."""


BOTH_ENDS = Where(Exactly(2), ends=True)


def base(cursor: Cursor, bases: Times) -> Where | None:
    """BASE := CHAIN BASE | n ch sp | corner [ch n] [sp] | sp [BETWEEN] | ring | STITCH BASE"""
    cursor.skip(T.MARKER, T.CENTRE, T.BEGINNING)
    if cursor.at(T.WORD, T.COLOURED, T.SIDE) and cursor.peek(1) in BASES:
        cursor.take()
    if cursor.at(T.CHAIN):
        return _chain_base(cursor, bases)
    if cursor.sees(T.NUMBER, T.CHAIN, T.SPACE):
        length = cursor.token().number
        cursor.place += 3
        return Where(bases, Into.SPACE, onto=f"ch-{length}")
    if cursor.sees(T.CORNER, T.NOUN) or cursor.sees(T.CORNER, T.STITCH):
        cursor.place += 2
        return Where(bases)
    if cursor.accept(T.CORNER):
        cursor.skip(T.CHAIN, T.NUMBER)
        cursor.skip(T.SPACE, T.NOUN)
        return Where(bases, Into.SPACE)
    if cursor.accept(T.SPACE):
        if not cursor.at(T.BETWEEN):
            return Where(bases, Into.SPACE)
        between(cursor)
        return Where(bases, Into.BETWEEN)
    if cursor.accept(T.RING):
        return RING
    if cursor.at(T.NOUN, T.STITCH, T.CHAINLESS, T.BUNCH, T.INC, T.DEC, T.POSTED):
        return _stitch_base(cursor, bases)
    return None


def _chain_base(cursor: Cursor, bases: Times) -> Where:
    """CHAIN BASE := ch [n] (sp | corner) | ch [n]"""
    cursor.take()
    if cursor.at(T.NUMBER) and cursor.peek(1) in (T.SPACE, T.CORNER):
        length = cursor.token().number
        cursor.place += 2
        return Where(bases, Into.SPACE, onto=f"ch-{length}")
    if cursor.accept(T.SPACE):
        return Where(bases, Into.SPACE)
    if cursor.at(T.NUMBER) and cursor.peek(1) not in WORKED:
        cursor.take()
        cursor.skip(T.SPACE, T.NOUN)
        return Where(bases, Into.CHAIN if bases == Rest() else Into.SPACE, first=bases != Rest())
    cursor.skip(T.NOUN)
    return Where(bases, Into.CHAIN)


def _stitch_base(cursor: Cursor, bases: Times) -> Where:
    """STITCH BASE := shell [sp] | stitch sp | stitch [st]"""
    named = cursor.take()
    if named.kind is T.BUNCH and not _is_one_stitch(named.name):
        cursor.skip(T.SPACE)
        return Where(bases, Into.SPACE, onto=named.name)
    if cursor.accept(T.SPACE):
        return Where(bases, Into.SPACE)
    if cursor.at(T.NOUN) or (cursor.at(T.STITCH) and cursor.token().glued):
        cursor.take()
    return Where(bases)


def _is_one_stitch(name: str) -> bool:
    """A cluster is one stitch to work into, and so is what the pattern defines; a shell is not."""
    return name not in BUNCH_BY_ID or BUNCH_BY_ID[name].stitches == 1


def between(cursor: Cursor) -> Where:
    """BETWEEN := between [each] [next] [n] [next] BASE [and BASE]"""
    cursor.take()
    each = bool(cursor.accept(T.EACH, T.ALL))
    cursor.skip(T.NEXT, T.SAME)
    cursor.accept(T.NUMBER)
    cursor.skip(T.NEXT)
    found = base(cursor, Exactly(1))
    if found is None:
        cursor.accept(T.WORD)
    if cursor.accept(T.AND):
        cursor.skip(T.NEXT, T.NUMBER)
        base(cursor, Exactly(1))
    if found and found.into is Into.SPACE:
        return found
    return Where(Rest() if each else Exactly(1), Into.BETWEEN, each=each)
