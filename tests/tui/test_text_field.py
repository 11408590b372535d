"""A line that is typed into: nothing typed is lost, and nothing steers a terminal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.tui.render.styled_text import Look, text_of, width_of
from tracker.tui.render.text_field import LONGEST, edited, fresh_entry, inserted, paint_entry

KEYS = ("left", "right", "home", "end", "backspace", "delete", "ctrl+u", "up", "f5")


def typed(text: str, *keys: str) -> str:
    entry = fresh_entry("note:", text)
    for key in keys:
        entry = edited(entry, key) if key in KEYS else inserted(entry, key)
    return entry.text[: entry.cursor] + "|" + entry.text[entry.cursor :]


@pytest.mark.parametrize(
    ("text", "keys", "expected"),
    [
        ("", ("2", "4"), "24|"),
        ("24", ("backspace",), "2|"),
        ("24", ("left", "backspace", "3"), "3|4"),
        ("24", ("home", "delete"), "|4"),
        ("24", ("home", "left", "end", "right"), "24|"),
        ("two words", ("ctrl+u",), "|"),
        ("24", ("up", "f5"), "24|"),
        ("a", ("b\nc\td\x1b[31m",), "ab c d[31m|"),
    ],
)
def test_editing(text: str, keys: tuple[str, ...], expected: str) -> None:
    assert typed(text, *keys) == expected


@given(st.text(max_size=80), st.lists(st.sampled_from(KEYS) | st.characters(), max_size=30))
def test_the_cursor_stays_in_the_text(text: str, keys: list[str]) -> None:
    entry = fresh_entry("q", "")
    entry = inserted(entry, text)
    for key in keys:
        entry = edited(entry, key) if key in KEYS else inserted(entry, key)
        assert 0 <= entry.cursor <= len(entry.text)
    assert entry.text.isprintable()


@given(st.text(max_size=200), st.integers(0, 250), st.integers(12, 90))
def test_the_cursor_is_always_in_sight(text: str, back: int, width: int) -> None:
    entry = inserted(fresh_entry("note:"), text)
    for _ in range(back):
        entry = edited(entry, "left")
    painted = paint_entry(entry, width)
    assert width_of(painted) == width
    assert any(bit.look is Look.NOW for bit in painted)


def test_the_question_comes_first() -> None:
    assert text_of(paint_entry(fresh_entry("note:", "[b]x[/b]"), 40)).rstrip() == "note: [b]x[/b]"


def test_a_line_never_grows_beyond_what_a_note_may_have() -> None:
    assert len(inserted(fresh_entry("note:"), "x" * (2 * LONGEST)).text) == LONGEST


def test_the_cursor_goes_by_words_and_a_word_is_taken_out() -> None:
    entry = fresh_entry("", "(2 sc, inc) x 6")
    back = [entry := edited(entry, "ctrl+left") for _ in range(6)]
    assert [each.cursor for each in back] == [14, 12, 7, 3, 1, 0]
    on = [entry := edited(entry, "ctrl+right") for _ in range(6)]
    assert [each.cursor for each in on] == [2, 5, 10, 13, 15, 15]
    assert edited(back[1], "ctrl+w").text == "(2 sc, x 6"
    assert edited(entry, "ctrl+w").text == "(2 sc, inc) x "
