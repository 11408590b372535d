"""Which side of the work faces the maker, as far as the pattern tells it.

Rows go to and fro, and where a round ends with a turn the next one goes the other way. Which of the two sides is the
right one is known only if the pattern says it of some row ("Row 2 (WS)"); from there it alternates.
"""

from __future__ import annotations

import re

from tracker.pattern.model import Piece, Round, Start
from tracker.pattern.round_splitter import heading_of
from tracker.rounds.plan import Role

OTHER = "the other side"

_NAMES = {
    "rs": "the right side",
    "right side": "the right side",
    "ws": "the wrong side",
    "wrong side": "the wrong side",
}
_OPPOSITE = {"the right side": "the wrong side", "the wrong side": "the right side"}
_SAID = re.compile(
    r"[(\[]\s*(rs|ws|right side|wrong side)\b|\b(rs|ws|right side|wrong side)\s+facing\b", re.IGNORECASE
)
_CUTS = ("fasten off", "finish off", "cut", "break")
_STAYS = ("do not turn", "don't turn", "no turn", "without turning", "do not turn work", "don't turn work")


def turned_to(piece: Piece, index: int) -> str:
    """What faces the maker in this round of the piece after the turn before it; "" if there was none.

    "the right side" and "the wrong side" where the pattern tells which, else "the other side".
    """
    if not 0 < index < len(piece.rounds) or not _turns_after(piece, index - 1):
        return ""
    return _side(piece, index) or OTHER


def _side(piece: Piece, index: int) -> str:
    """The side in this round, from the nearest one that says it; "" if none does, or what is between is unclear."""
    for distance in range(len(piece.rounds)):
        for other in (index - distance, index + distance):
            said = _said(piece.rounds[other]) if 0 <= other < len(piece.rounds) else ""
            if said:
                return _carried(piece, said, min(index, other), max(index, other))
    return ""


def _carried(piece: Piece, said: str, first: int, last: int) -> str:
    turns = 0
    for index in range(first, last):
        if _is_unclear(piece.rounds[index]):
            return ""
        turns += _turns_after(piece, index)
    return _OPPOSITE[said] if turns % 2 else said


def _said(item: Round) -> str:
    """The side that a round names; one that is written for several rounds, or like another, names the first one's."""
    if heading_of(item.text).first != item.number:
        return ""
    found = _SAID.search(item.text)
    return _NAMES[(found[1] or found[2]).lower()] if found else ""


def _turns_after(piece: Piece, index: int) -> bool:
    """Whether the work is turned at the end of this round; rows are, unless they say otherwise."""
    names = _steps(piece.rounds[index])
    if any(name.startswith("turn") for name in names):
        return True
    return piece.start is Start.ROWS and not _is_unclear(piece.rounds[index]) and not set(names) & set(_STAYS)


def _is_unclear(item: Round) -> bool:
    """Whether it may be turned more than once, or the yarn is cut, after which it may begin at either end."""
    names = _steps(item)
    cut = any(name in ("fo", "f/o") or name.startswith(_CUTS) for name in names)
    return item.plan is None or cut or sum(name.startswith("turn") for name in names) > 1


def _steps(item: Round) -> list[str]:
    return [act.name for act in item.plan.acts() if act.role is Role.STEP] if item.plan else []
