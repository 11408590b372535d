"""Dataclasses whose methods are written when they are first used, and not when the class is.

A start defines more than a hundred of them and uses a part. The standard library writes up to eight methods for each
one as it is defined, by running text; that took half of what this program adds to the start of its screen. Here a
class costs a twentieth: what needs no text to be run is shared, and the text of `__init__` is run when more than a
few instances are made. To make a value, or one like another, costs half. The standard library's module is not loaded,
as it takes longer than the sums of a pattern.

Everything else is as there, and `fields`, `replace` and `asdict` of the standard library go on working; a class that
asks for more than the arguments here takes the standard library's own. Of a frozen one with slots none is derived.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter, ge, gt, le, lt
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dataclasses import Field, dataclass, field, replace

    __all__ = ["dataclass", "field", "replace"]
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

    def field(
        *,
        default: object = None,
        default_factory: Callable[[], object] | None = None,
        repr: bool = True,
        compare: bool = True,
    ) -> Any:
        """That of the standard library, of which it takes four arguments, with the same meaning; a default or what
        makes one has to be given."""
        return _Field(default, default_factory, repr, compare)

    def replace(value: Any, /, **changes: object) -> Any:
        """A value like this one of a class made here, but for these changes."""
        return value.__replace__(**changes)


class _Field:
    """What `field` was given for one of the values of a class."""

    __slots__ = ("compare", "default", "default_factory", "repr")

    def __init__(
        self, default: object, default_factory: Callable[[], object] | None, repr: bool, compare: bool
    ) -> None:
        self.default, self.default_factory, self.repr, self.compare = default, default_factory, repr, compare

    def new(self) -> object:
        """What an instance has that is not told another."""
        return self.default if self.default_factory is None else self.default_factory()


def _made(cls: type, frozen: bool, slots: bool, eq: bool, order: bool) -> type:
    names = tuple(cls.__annotations__)
    defaults = {name: cls.__dict__[name] for name in names if name in cls.__dict__}
    own = {name: value for name, value in cls.__dict__.items() if name not in ("__dict__", "__weakref__")}
    for name, value in defaults.items():
        if isinstance(value, _Field):
            del own[name]
            if value.default_factory is None:
                own[name] = value.default
    own |= {"__init__": _first(names, defaults, frozen, slots), "__match_args__": names}
    own |= {"__replace__": _replaced(names), "__dataclass_fields__": _Fields(cls.__annotations__, defaults)}
    if slots:
        own = {name: value for name, value in own.items() if name not in names} | {"__slots__": names}
    if frozen:
        own["__setattr__"] = own["__delattr__"] = _refuse
    if order:
        own |= {name: _ordered(_values(names), compare) for name, compare in _ORDERS.items()}
    return type(cls)(cls.__name__, cls.__bases__, _compared(own, names, defaults, frozen, eq))


def _compared(
    own: dict[str, Any], names: tuple[str, ...], defaults: dict[str, Any], frozen: bool, eq: bool
) -> dict[str, Any]:
    """With what tells and compares values, where the class does not have its own."""
    shown_names = tuple(name for name in names if getattr(defaults.get(name), "repr", True))
    own.setdefault("__repr__", _repr(shown_names))
    if eq:
        values = _values(tuple(name for name in names if getattr(defaults.get(name), "compare", True)))
        own.setdefault("__eq__", _equal(values))
        if "__hash__" not in own or own["__hash__"] is None:
            own["__hash__"] = _hash(values) if frozen else None
    return own


def _values(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    """What gives the values of an instance; with one name, or none, `attrgetter` would give no tuple."""
    return attrgetter(*names) if len(names) > 1 else lambda self: tuple([getattr(self, name) for name in names])


def _replaced(names: tuple[str, ...]) -> Callable[..., Any]:
    values, places = _values(names), {name: place for place, name in enumerate(names)}

    def replaced(self: Any, /, **changes: object) -> Any:
        new_values = [*values(self)]
        for name, value in changes.items():
            new_values[places[name]] = value
        return type(self)(*new_values)

    return replaced


def _repr(names: tuple[str, ...]) -> Callable[[Any], str]:
    def tell(self: Any) -> str:
        values = ", ".join([f"{name}={getattr(self, name)!r}" for name in names])
        return f"{type(self).__qualname__}({values})"

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
    import dataclasses

    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


MANY_NAMES = 6
"""Values of an instance from which on it is quicker to have it be of another class while they are put into it: that
takes as long as to put four into slots that refuse to be set."""

FEW = 32
"""Values of a class that are made without running text for it: to run it takes as long as to make so many."""


def _first(names: tuple[str, ...], defaults: dict[str, Any], frozen: bool, slots: bool) -> Callable[..., None]:
    """An `__init__` for the first few values, which then, or where the arguments do not fit, puts the real one in its
    own place."""
    plain = {name: default for name, default in defaults.items() if not isinstance(default, _Field)}
    fields = {name: default for name, default in defaults.items() if isinstance(default, _Field)}
    all_names, left, put = set(names), FEW, object.__setattr__

    def init(self: Any, *args: Any, **named: Any) -> None:
        nonlocal left
        left -= 1
        if left >= 0 and len(args) == len(names) and not named:
            for name, value in zip(names, args, strict=True):
                put(self, name, value)
            if hasattr(self, "__post_init__"):
                self.__post_init__()
            return
        passed = dict(zip(names, args, strict=False), **named)
        values = plain | {name: field.new() for name, field in fields.items() if name not in passed} | passed
        if left < 0 or len(passed) < len(args) + len(named) or values.keys() != all_names:
            type(self).__init__ = _init(type(self), names, defaults, frozen, slots)
            self.__init__(*args, **named)
            return
        for name, value in values.items():
            put(self, name, value)
        if hasattr(self, "__post_init__"):
            self.__post_init__()

    return init


_CLASS = object.__dict__["__class__"]


def _init(
    cls: type, names: tuple[str, ...], defaults: dict[str, Any], frozen: bool, slots: bool
) -> Callable[..., None]:
    scope: dict[str, Any] = {"_set": object.__setattr__, "_NEW": object()}
    takes, does = ["self"], []
    is_open = frozen and slots and len(names) >= MANY_NAMES and cls.__bases__ == (object,)
    if is_open:
        scope |= {"_become": _CLASS.__set__, "_Open": type(cls.__name__, (), {"__slots__": names}), "_Frozen": cls}
        does.append("_become(self, _Open)")
    for name in names:
        default, value = defaults.get(name), name
        if isinstance(default, _Field):
            if default.default_factory is not None:
                scope[f"_new_{name}"] = default.default_factory
                value = f"_new_{name}() if {name} is _NEW else {name}"
            default = default.default if default.default_factory is None else scope["_NEW"]
        if name in defaults:
            scope[f"_usual_{name}"] = default
        takes.append(f"{name}=_usual_{name}" if name in defaults else name)
        if is_open:
            does.append(f"self.{name} = {value}")
        elif frozen and slots:  # what sets a slot takes half as long as what sets any attribute
            scope[f"_set_{name}"] = getattr(cls, name).__set__
            does.append(f"_set_{name}(self, {value})")
        else:
            does.append(f"_set(self, {name!r}, {value})" if frozen else f"self.{name} = {value}")
    if is_open:
        does.append("self.__class__ = _Frozen")
    if hasattr(cls, "__post_init__"):
        does.append("self.__post_init__()")
    exec(f"def __init__({', '.join(takes)}):\n " + "\n ".join(does or ["pass"]), scope)
    scope["__init__"].__qualname__ = f"{cls.__qualname__}.__init__"
    new_init: Callable[..., None] = scope["__init__"]
    return new_init


class _Fields:
    """The fields as the standard library tells them, found out when they are first asked for."""

    def __init__(self, annotations: dict[str, Any], defaults: dict[str, Any]) -> None:
        self._annotations = annotations
        self._defaults = defaults

    def __get__(self, instance: object, cls: type) -> dict[str, Field[Any]]:
        import dataclasses

        defaults = {name: self._standard(value) for name, value in self._defaults.items()}
        plain = type(cls.__name__, (), {"__doc__": "fields", "__annotations__": self._annotations, **defaults})
        dataclasses.dataclass(init=False, repr=False, eq=False)(plain)
        by_name = {each.name: each for each in dataclasses.fields(plain)}
        type.__setattr__(cls, "__dataclass_fields__", by_name)
        return by_name

    def _standard(self, value: object) -> object:
        import dataclasses

        if not isinstance(value, _Field):
            return value
        if value.default_factory is None:
            return dataclasses.field(default=value.default, repr=value.repr, compare=value.compare)
        return dataclasses.field(default_factory=value.default_factory, repr=value.repr, compare=value.compare)
