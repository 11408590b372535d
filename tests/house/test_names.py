"""Names that say what a value is: in the rooms of the table no name is a word that fits every value alike."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "tracker"

SAYS_NOTHING = {
    *("asked", "found", "given", "gone", "got", "heard", "held", "here", "known", "meant", "met", "rest"),
    *("said", "seen", "there", "thing", "things", "told", "wanted", "what", "which"),
}
"""That somebody has a value, or where it lies, but not which value: a count, a match, a sentence (our own choice)."""

ROOMS = {
    "ground": "*.py",
    "notation": "notation/**/*.py",
    "rounds": "rounds/*.py",
    "pattern": "pattern/*.py",
    "misprints": "pattern/misprints/*.py",
    "text import": "pattern/text_import/*.py",
    "phrasing": "phrasing/**/*.py",
    "session": "session/**/*.py",
    "journal": "journal/**/*.py",
    "project": "project/**/*.py",
    "measure": "measure/**/*.py",
    "drawing": "drawing/**/*.py",
    "document": "document/**/*.py",
    "reports": "reports/**/*.py",
    "cli": "cli/**/*.py",
    "tui": "tui/**/*.py",
}
"""What has been gone through, as files of the package."""


def names_in(text: str) -> Iterator[tuple[str, int]]:
    """Every name that a source gives to something, with its line."""
    for node in ast.walk(ast.parse(text)):
        match node:
            case ast.Name(id=name, ctx=ast.Store()) | ast.Attribute(attr=name, ctx=ast.Store()):
                yield name, node.lineno
            case ast.arg(arg=name) | ast.FunctionDef(name=name) | ast.AsyncFunctionDef(name=name):
                yield name, node.lineno
            case ast.ClassDef(name=name) | ast.MatchAs(name=str(name)) | ast.MatchStar(name=str(name)):
                yield name, node.lineno
            case ast.ExceptHandler(name=str(name)):
                yield name, node.lineno


def says_nothing(name: str) -> bool:
    return name.strip("_").lower() in SAYS_NOTHING


@pytest.mark.parametrize("files", ROOMS.values(), ids=ROOMS)
def test_a_name_says_what_a_value_is(files: str) -> None:
    sources = sorted(PACKAGE.glob(files))
    assert sources
    poor = [
        f"{path.relative_to(PACKAGE)}:{line} {name}"
        for path in sources
        for name, line in names_in(path.read_text("utf-8"))
        if says_nothing(name)
    ]
    assert poor == []


@pytest.mark.parametrize(
    "text",
    [
        "found = 1",
        "for seen in (): pass",
        "a, *rest = b",
        "[told for told in b]",
        "if (found := b): pass",
        "def f(known): pass",
        "lambda given: 1",
        "def _said(): pass",
        "class Seen: pass",
        "class C:\n    asked: int",
        "self._found = {}",
        "_SAID = 1",
        "match b:\n    case [*rest]: pass",
        "match b:\n    case 1 as thing: pass",
        "try: pass\nexcept E as told: pass",
    ],
)
def test_it_is_seen_wherever_a_name_is_given(text: str) -> None:
    assert any(says_nothing(name) for name, _ in names_in(text))


def test_a_word_within_a_longer_name_is_no_matter() -> None:
    """The rule above can pass: what stands beside the word says which value it is."""
    assert not any(says_nothing(name) for name, _ in names_in("def places_found(known_words): last_seen = 1"))
