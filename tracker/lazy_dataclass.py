"""Dataclasses whose methods are written when they are first used, and not when the class is.

A start defines more than a hundred of them and uses a part. The standard library writes up to eight methods for each
one as it is defined, by running text; that took half of what this program adds to the start of its screen. Here a
class costs a twentieth: what needs no text to be run is shared, and the text of `__init__` is run for the first
instance. Everything else is as in the standard library, whose `field`, `fields`, `replace` and `asdict` go on
working; a class that asks for more than the arguments here takes the standard library's own.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from inspect import get_annotations
from operator import attrgetter, ge, gt, le, lt
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import dataclass

    __all__ = ["dataclass"]
else:

    def dataclass(
        cls: type | None = None,
        /,
        *,
        frozen: bool = False,
        slots: bool = False,
        eq: bool = True,
        order: bool = False,
    ) -> Any:
        """The decorator of the standard library, of which it takes four arguments, with the same meaning."""

        def decorate(decorated: type) -> type:
            return _made(decorated, frozen, slots, eq, order)

        return decorate if cls is None else decorate(cls)


def _made(cls: type, frozen: bool, slots: bool, eq: bool, order: bool) -> type:
    names = tuple(get_annotations(cls))
    given = {name: cls.__dict__[name] for name in names if name in cls.__dict__}
    own = {name: value for name, value in cls.__dict__.items() if name not in ("__dict__", "__weakref__")}
    for name, value in given.items():
        if isinstance(value, dataclasses.Field):
            del own[name]
            if value.default is not dataclasses.MISSING:
                own[name] = value.default
    own |= {"__init__": _first(names, given, frozen), "__match_args__": names}
    own["__dataclass_fields__"] = _Fields(get_annotations(cls), given)
    if slots:
        own = {name: value for name, value in own.items() if name not in names} | {"__slots__": names}
    if frozen:
        own["__setattr__"] = own["__delattr__"] = _refuse
    if order:
        own |= {name: _ordered(_values(names), compare) for name, compare in _ORDERS.items()}
    return type(cls)(cls.__name__, cls.__bases__, _compared(own, names, given, frozen, eq))


def _compared(
    own: dict[str, Any], names: tuple[str, ...], given: dict[str, Any], frozen: bool, eq: bool
) -> dict[str, Any]:
    """With what tells and compares values, where the class does not have its own."""
    told = tuple(name for name in names if getattr(given.get(name), "repr", True))
    own.setdefault("__repr__", _repr(told))
    if eq:
        values = _values(tuple(name for name in names if getattr(given.get(name), "compare", True)))
        own.setdefault("__eq__", _equal(values))
        if "__hash__" not in own or own["__hash__"] is None:
            own["__hash__"] = _hash(values) if frozen else None
    return own


def _values(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    """What gives the values of an instance; with one name, or none, `attrgetter` would give no tuple."""
    return attrgetter(*names) if len(names) > 1 else lambda self: tuple([getattr(self, name) for name in names])


def _repr(names: tuple[str, ...]) -> Callable[[Any], str]:
    def tell(self: Any) -> str:
        told = ", ".join([f"{name}={getattr(self, name)!r}" for name in names])
        return f"{type(self).__qualname__}({told})"

    return tell


def _equal(values: Callable[[Any], tuple[Any, ...]]) -> Callable[[Any, object], bool]:
    def equal(self: Any, other: object) -> bool:
        return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

    return equal


_ORDERS = {"__lt__": lt, "__le__": le, "__gt__": gt, "__ge__": ge}


def _ordered(
    values: Callable[[Any], tuple[Any, ...]], compare: Callable[[Any, Any], bool]
) -> Callable[[Any, object], bool]:
    def ordered(self: Any, other: object) -> bool:
        return compare(values(self), values(other)) if other.__class__ is self.__class__ else NotImplemented

    return ordered


def _hash(values: Callable[[Any], tuple[Any, ...]]) -> Callable[[Any], int]:
    return lambda self: hash(values(self))


def _refuse(self: object, name: str, *value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _first(names: tuple[str, ...], given: dict[str, Any], frozen: bool) -> Callable[..., None]:
    """An `__init__` that puts the real one in its own place."""

    def init(self: Any, *args: Any, **named: Any) -> None:
        type(self).__init__ = _init(type(self), names, given, frozen)
        self.__init__(*args, **named)

    return init


def _init(cls: type, names: tuple[str, ...], given: dict[str, Any], frozen: bool) -> Callable[..., None]:
    known: dict[str, Any] = {"_set": object.__setattr__, "_NEW": object()}
    takes, does = ["self"], []
    for name in names:
        default = given.get(name, dataclasses.MISSING)
        value = name
        if isinstance(default, dataclasses.Field):
            if default.default_factory is not dataclasses.MISSING:
                known[f"_new_{name}"] = default.default_factory
                value = f"_new_{name}() if {name} is _NEW else {name}"
                default = known["_NEW"]
            else:
                default = default.default
        if default is not dataclasses.MISSING:
            known[f"_usual_{name}"] = default
        takes.append(name if default is dataclasses.MISSING else f"{name}=_usual_{name}")
        does.append(f"_set(self, {name!r}, {value})" if frozen else f"self.{name} = {value}")
    if hasattr(cls, "__post_init__"):
        does.append("self.__post_init__()")
    exec(f"def __init__({', '.join(takes)}):\n " + "\n ".join(does or ["pass"]), known)
    known["__init__"].__qualname__ = f"{cls.__qualname__}.__init__"
    made: Callable[..., None] = known["__init__"]
    return made


_without_methods = dataclasses.dataclass(init=False, repr=False, eq=False)


class _Fields:
    """The fields as the standard library tells them, found out when they are first asked for."""

    def __init__(self, annotations: dict[str, Any], given: dict[str, Any]) -> None:
        self._class = {"__doc__": "fields", "__annotations__": annotations, **given}

    def __get__(self, instance: object, cls: type) -> dict[str, dataclasses.Field[Any]]:
        plain = type(cls.__name__, (), dict(self._class))
        found = {each.name: each for each in dataclasses.fields(_without_methods(plain))}
        type.__setattr__(cls, "__dataclass_fields__", found)
        return found
