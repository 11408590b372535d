"""Remembering what was computed of a part of a pattern.

Patterns never change, but comparing two of their parts by value walks all of both; so what is remembered is found by
which object it is.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Generic, TypeVar

from tracker.lazy_dataclass import dataclass

_Part = TypeVar("_Part")
_Found = TypeVar("_Found")

REMEMBERED_PARTS = 4096
"""More rounds than any pattern of a maker has."""


@dataclass(slots=True, eq=False)
class _Same(Generic[_Part]):
    """A part as a key that compares by identity. Holding it keeps the identity from being used again."""

    part: _Part

    def __hash__(self) -> int:
        return id(self.part)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.part is self.part


def remembered(compute: Callable[[_Part], _Found]) -> Callable[[_Part], _Found]:
    """The same function, computing once for each part that it is asked of."""
    by_key = lru_cache(maxsize=REMEMBERED_PARTS)(lambda key: compute(key.part))

    def ask(part: _Part) -> _Found:
        return by_key(_Same(part))

    return ask
