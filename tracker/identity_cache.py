"""Remembering what was computed of a part of a pattern, by which part it is and not by what it holds.

To compare two patterns stitch by stitch would cost more than what is remembered.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar, TypeVarTuple

_Part = TypeVar("_Part")
_Result = TypeVar("_Result")
_More = TypeVarTuple("_More")

REMEMBERED_PARTS = 4096
"""More rounds than any pattern of a maker has; when there are more, all are forgotten and the next ones kept."""


class ByIdentity(Generic[_Part]):
    """A part as a key that compares by identity. Holding it keeps the identity from being used again."""

    __slots__ = ("part",)

    def __init__(self, part: _Part) -> None:
        self.part = part

    def __hash__(self) -> int:
        return id(self.part)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ByIdentity) and other.part is self.part


def remembered(
    compute: Callable[[_Part, *_More], _Result],
) -> Callable[[_Part, *_More], _Result]:
    """The same function, computing once for each part that it is asked of, and for each of what is asked besides.

    A tap asks some ten times, so that a key is no object of ours: those are hashed and compared by code of ours.
    """
    kept: dict[tuple[object, ...], tuple[_Part, _Result]] = {}

    def ask(part: _Part, *more: *_More) -> _Result:
        key = (id(part), *more)
        entry = kept.get(key)
        if entry is None:
            entry = part, compute(part, *more)  # the part is held, so that its identity is not used again
            if len(kept) >= REMEMBERED_PARTS:
                kept.clear()
            kept[key] = entry
        return entry[1]

    return ask
