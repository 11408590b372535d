"""A line that is being typed into: a question, the text so far, the place of the cursor."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass, replace
from tracker.tui.render.styled_text import Bit, Line, Look, clean, fit, line, split, width_of

# Characters of one line; the longest round met has some hundred words.
LONGEST = 4000

_ROOM = 8
"""Columns that the text has at the least; the question gives way to it."""


@dataclass(frozen=True, slots=True)
class TextEntry:
    """`cursor` is the number of characters before it."""

    question: str
    text: str = ""
    cursor: int = 0


def fresh_entry(question: str, text: str = "") -> TextEntry:
    """A fresh line, the cursor behind what is in it."""
    return TextEntry(question, text, len(text))


def inserted(entry: TextEntry, text: str) -> TextEntry:
    """With more text at the cursor; line breaks become spaces, and what is too long is left out."""
    fresh = clean(text)[: LONGEST - len(entry.text)]
    whole = entry.text[: entry.cursor] + fresh + entry.text[entry.cursor :]
    return replace(entry, text=whole, cursor=entry.cursor + len(fresh))


def edited(entry: TextEntry, key: str) -> TextEntry:
    """After a key that moves the cursor or takes something out; any other key changes nothing."""
    before, after = entry.text[: entry.cursor], entry.text[entry.cursor :]
    match key:
        case "backspace":
            return replace(entry, text=before[:-1] + after, cursor=max(0, entry.cursor - 1))
        case "delete":
            return replace(entry, text=before + after[1:])
        case "left":
            return replace(entry, cursor=max(0, entry.cursor - 1))
        case "right":
            return replace(entry, cursor=min(len(entry.text), entry.cursor + 1))
        case "ctrl+left":
            return replace(entry, cursor=_word_start(before))
        case "ctrl+right":
            return replace(entry, cursor=len(before) + _word_end(after))
        case "ctrl+w":
            start = _word_start(before)
            return replace(entry, text=before[:start] + after, cursor=start)
        case "home":
            return replace(entry, cursor=0)
        case "end":
            return replace(entry, cursor=len(entry.text))
        case "ctrl+u":
            return replace(entry, text=after, cursor=0)
    return entry


_BREAKS = " ,;:()[]*"
"""Signs between the words of a round: a word ends before them."""


def _word_start(before: str) -> int:
    """Where the word begins that stands before the cursor, or the one before that."""
    place = len(before.rstrip(_BREAKS))
    while place and before[place - 1] not in _BREAKS:
        place -= 1
    return place


def _word_end(after: str) -> int:
    """How far behind the cursor the word ends that stands there, or the next one."""
    place = len(after) - len(after.lstrip(_BREAKS))
    while place < len(after) and after[place] not in _BREAKS:
        place += 1
    return place


def typed(entry: TextEntry, key: str, character: str | None) -> TextEntry | str | None:
    """What a key makes of the line: the line as it is now, its text once enter takes it, None once it is put away.

    It is put away by escape, and by backspace where nothing is left in it.
    """
    if key == "enter":
        return entry.text.strip()
    if key in ("escape", "ctrl+c") or (key == "backspace" and not entry.text):
        return None
    if character is not None and character.isprintable():
        return inserted(entry, character)
    return edited(entry, key)


def paint_entry(entry: TextEntry, width: int) -> Line:
    """The question and as much of the text as fits, with the cursor in sight."""
    asking = max(width - max(_ROOM, min(width // 2, len(entry.text) + 2)), 0)
    words = entry.question.split(" ")
    while len(words) > 1 and width_of(line(f"{' '.join(words)} ")) > asking:
        del words[0]  # the last words say what it is about
    question = line(Bit(f"{' '.join(words)} ", Look.STRONG))
    question = question if width_of(question) <= asking else fit(question, asking)
    before, after = entry.text[: entry.cursor], entry.text[entry.cursor :] or " "
    typed = line(before, Bit(after[0], Look.NOW), after[1:])
    room = max(4, width - width_of(question))
    hidden = max(0, width_of(line(before)) + 2 - room)
    return fit((*question, *split(typed, hidden)[1]), width)
