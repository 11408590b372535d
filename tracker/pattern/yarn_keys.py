"""The yarns that rounds name, by the keys that the pattern gives them."""

from __future__ import annotations

from tracker.diagnostics import Problem, warning
from tracker.lazy_dataclass import replace
from tracker.notation.ast import Choice, Colour, Group, Item, Line, every_colour
from tracker.pattern.model import Yarn


def yarn_key(word: str, yarns: tuple[Yarn, ...]) -> str:
    """The yarn that a word of the round means: its key, its name, words of both; else the word itself."""
    word = word.strip()
    for yarn in yarns:
        if word.lower() == yarn.key.lower() or word.lower() == yarn.name.lower():
            return yarn.key
    words = set(word.lower().split())
    inside = [yarn.key for yarn in yarns if words and words <= {yarn.key.lower(), *yarn.name.lower().split()}]
    return inside[0] if len(inside) == 1 else word


def with_yarn_keys(line: Line, yarns: tuple[Yarn, ...], problems: list[Problem]) -> Line:
    """The line with its colours named by the pattern's yarn keys; undeclared ones are told once."""
    if not any(every_colour(line.body)):
        return line
    keys = {yarn.key for yarn in yarns}

    def settle(items: tuple[Item, ...]) -> tuple[Item, ...]:
        settled: list[Item] = []
        for item in items:
            if isinstance(item, Colour):
                key = yarn_key(item.key, yarns)
                if yarns and key not in keys:
                    message = f"colour '{key}' is not among the yarns"
                    fix = f"add [yarn.{key}], or use one of: {', '.join(sorted(keys))}"
                    problems.append(warning("new-colour", message, item.span, fix))
                    keys.add(key)
                item = replace(item, key=key)
            elif isinstance(item, Group):
                item = replace(item, body=settle(item.body))
            elif isinstance(item, Choice):
                item = replace(item, options=tuple(replace(o, body=settle(o.body)) for o in item.options))
            settled.append(item)
        return tuple(settled)

    return replace(line, body=settle(line.body))
