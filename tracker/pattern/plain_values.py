"""A pattern as plain values that JSON can hold, and back.

Every value inside it is a row: its sort and its fields, each of them plain or the number of an earlier row. What
stands in two places is one row, so that it is one object again afterwards. Reading runs nothing but the making of
values: the sorts that there may be are the dataclasses, enumerations and named tuples of the rooms that read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from enum import Enum
from importlib import import_module
from typing import Any

from tracker.pattern.model import Pattern

_SORT = re.compile(r"(?P<module>tracker\.(?:diagnostics|(?:notation|rounds|pattern)\.[a-z_]+))\.(?P<name>[A-Z]\w*)")
"""The name of a sort: its class, and which module of ours has it."""

_TUPLE, _SET = "tuple", "frozenset"
_PLAIN = (type(None), bool, int, float, str)

Rows = dict[str, list[Any]]
"""`sorts` has the name of each sort, `rows` one list for each value: the place of its sort, and its fields."""


def as_rows(pattern: Pattern) -> Rows:
    """The rows of a pattern; the last one is the pattern itself. Raises `TypeError` for a value of no known sort."""
    writer = _Writer()
    writer.put(pattern)
    return {"sorts": list(writer.sorts), "rows": writer.rows}


class _Writer:
    def __init__(self) -> None:
        self.sorts: dict[str, int] = {}
        self.rows: list[list[Any]] = []
        self._places: dict[int, int] = {}

    def put(self, value: Any) -> Any:
        """A plain value itself, else the number of its row in a list."""
        if type(value) in _PLAIN:
            return value
        if id(value) not in self._places:
            sort, fields = _taken_apart(value)
            row = [self.sorts.setdefault(sort, len(self.sorts)), *map(self.put, fields)]
            self._places[id(value)] = len(self.rows)
            self.rows.append(row)
        return [self._places[id(value)]]


def _taken_apart(value: Any) -> tuple[str, Iterable[Any]]:
    kind = type(value)
    if kind is tuple:
        return _TUPLE, value
    if kind is frozenset:
        return _SET, sorted(value)
    name = f"{kind.__module__}.{kind.__qualname__}"
    _maker(name)  # what could not be read back is not written
    if isinstance(value, Enum):
        return name, (value.name,)
    return name, value if isinstance(value, tuple) else [getattr(value, field) for field in kind.__dataclass_fields__]


def from_rows(rows: Rows) -> Pattern:
    """The pattern that these rows were made of.

    Raises `ValueError`, `TypeError`, `LookupError` or `AttributeError` for what `as_rows` did not make.
    """
    makers = [_maker(sort) for sort in rows["sorts"]]
    values: list[Any] = []
    for sort, *fields in rows["rows"]:
        values.append(makers[sort](*[values[field[0]] if type(field) is list else field for field in fields]))
    pattern = values[-1]
    if not isinstance(pattern, Pattern):
        raise TypeError("no pattern")
    return pattern


def _maker(sort: str) -> Callable[..., Any]:
    """What makes a value of this sort of its fields. Raises `TypeError` for no sort of ours."""
    if sort in (_TUPLE, _SET):
        return (lambda *fields: fields) if sort == _TUPLE else (lambda *fields: frozenset(fields))
    match = _SORT.fullmatch(sort)
    try:
        kind = getattr(import_module(match["module"]), match["name"], None) if match else None
    except ImportError:
        kind = None
    if match is None or not isinstance(kind, type) or kind.__module__ != match["module"]:
        raise TypeError(f"no sort of value: {sort}")
    if issubclass(kind, Enum):
        return lambda name: kind[name]
    if "__dataclass_fields__" in vars(kind) or (issubclass(kind, tuple) and hasattr(kind, "_fields")):
        return kind
    raise TypeError(f"no sort of value: {sort}")
