"""What an act or a choice is, is told by an enum or a class of its own and not by the words it is called by."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

TRACKER = Path(__file__).parents[2] / "tracker"

ROOMS = (
    "notation",
    "rounds",
    "pattern",
    "phrasing",
    "session",
    "measure",
    "drawing",
    "document",
    "reports",
    "project",
)
"""The rooms that read acts. The screens compare keys of the keyboard, which are strings of their own."""

WORDS = ("name", "key", "remark", "sort")
"""Fields that hold what a maker is shown, or what tells one thing from another of its kind."""

WORDS_OF_OTHERS = ("html_page.py",)
"""Files that read a language in which names are strings: the tags of a saved page."""

TAKEN_APART = ("startswith", "endswith", "removeprefix", "removesuffix", "split", "partition", "rsplit")


def string_marks(source: str) -> Iterator[str]:
    """The comparisons of such a field with a literal, and the places where one is taken apart by a literal."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            if any(map(_is_word, sides)) and any(map(_holds_words, sides)):
                yield f"line {node.lineno}: {ast.unparse(node)}"
        elif isinstance(node, ast.Call) and _takes_apart(node.func) and any(map(_holds_words, node.args)):
            yield f"line {node.lineno}: {ast.unparse(node)}"


def _takes_apart(called: ast.expr) -> bool:
    return isinstance(called, ast.Attribute) and called.attr in TAKEN_APART and _is_word(called.value)


def _is_word(node: ast.expr) -> bool:
    return isinstance(node, ast.Attribute) and node.attr in WORDS


def _holds_words(node: ast.expr) -> bool:
    if isinstance(node, ast.Tuple | ast.List | ast.Set):
        return any(map(_holds_words, node.elts))
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value != ""


@pytest.mark.parametrize("room", ROOMS)
def test_no_string_is_a_mark(room: str) -> None:
    marks = {
        f"{path.relative_to(TRACKER)} {mark}"
        for path in sorted((TRACKER / room).rglob("*.py"))
        if path.name not in WORDS_OF_OTHERS
        for mark in string_marks(path.read_text(encoding="utf-8"))
    }
    assert not marks


@pytest.mark.parametrize(
    "source",
    ['act.name == "join"', 'x.key in ("a", "b")', 'act.remark.startswith("hook")', 'item.key.split(" ")[0]'],
)
def test_a_string_mark_is_found(source: str) -> None:
    assert list(string_marks(source))


@pytest.mark.parametrize("source", ["act.technique is Technique.JOIN", "piece.name == name", 'part.name == ""'])
def test_what_is_no_mark_is_none(source: str) -> None:
    assert not list(string_marks(source))
