"""Who a thing is for, where the pattern does not say and the maker does.

The answer is kept as a note like any other: undo takes it back, and a later one stands instead.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from tracker.pattern.model import Pattern
from tracker.session.events import Note
from tracker.session.state import Work

QUESTION = "is this for a child under 3, an older child, or neither?"


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: the `key` that gives it, how it is `offered`, and what a pattern would say (`intended_for`)."""

    key: str
    offered: str
    intended_for: str

    @property
    def note(self) -> Note:
        """The note that keeps it."""
        return Note(f"this is for {self.intended_for}")


ANSWERS = (
    Answer("1", "child under 3", "a child under 3"),
    Answer("2", "older child", "an older child"),
    Answer("3", "neither", "a grown-up"),
)


def answer_in(typed: str) -> Answer | None:
    """The answer that was typed, by its key or by the words that offer it."""
    wanted = typed.strip().casefold()
    return next((answer for answer in ANSWERS if wanted in (answer.key, answer.offered, answer.intended_for)), None)


def is_answer(text: str) -> bool:
    """Whether a note only keeps an answer, and so is about the whole work and not about the place of the note."""
    return any(text == answer.note.text for answer in ANSWERS)


def answered(pattern: Pattern, work: Work) -> Pattern:
    """The pattern with what the maker answered last; as it is if nothing was answered."""
    by_text = {answer.note.text: answer for answer in ANSWERS}
    said = next((by_text[note.text] for note in reversed(work.notes) if note.text in by_text), None)
    return replace(pattern, intended_for=said.intended_for) if said else pattern
