"""A regular expression that is compiled when it is used is what `re.compile` gives (the source of what is expected
here)."""

from __future__ import annotations

import re
from importlib import import_module
from pkgutil import walk_packages

import pytest

import tracker
from tracker.lazy_pattern import compile_later

TEXT = "Rnd 3: 6 SC, inc (7)"


@pytest.mark.parametrize(("text", "flags"), [(r"(?P<number>\d+) sc", re.I), (r"\d+", 0), (r"^$", 0)])
def test_it_answers_as_the_standard_library_does(text: str, flags: int) -> None:
    ours, standard = compile_later(text, flags), re.compile(text, flags)
    for _ in range(2):
        assert (ours.search(TEXT) is None) == (standard.search(TEXT) is None)
        assert ours.findall(TEXT) == standard.findall(TEXT)
        assert ours.sub("-", TEXT) == standard.sub("-", TEXT)
        assert (ours.pattern, ours.flags, ours.groupindex) == (standard.pattern, standard.flags, standard.groupindex)


def test_all_that_the_program_has_can_be_compiled() -> None:
    """Else a slip in one would be found by the maker whose line is the first to need it."""
    names = [each.name for each in walk_packages(tracker.__path__, "tracker.") if each.name != "tracker.__main__"]
    patterns = [value for name in names for value in vars(import_module(name)).values() if is_later(value)]
    assert len(patterns) > 50  # they are found at all
    assert all(each.pattern for each in patterns)


def is_later(value: object) -> bool:
    return type(value).__module__ == "tracker.lazy_pattern"
