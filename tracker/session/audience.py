"""Who a thing is for, where the pattern does not say and the maker does. Undo takes an answer back."""

from __future__ import annotations

from enum import Enum

from tracker.lazy_dataclass import dataclass, replace
from tracker.pattern.model import Pattern
from tracker.session.events import AudienceChosen
from tracker.session.state import Work

QUESTION = "is this for a child under 3, an older child, or neither?"


class Audience(Enum):
    """Who it can be for. The values stand in journals and are never changed."""

    UNDER_THREE = "under 3"
    OLDER_CHILD = "older child"
    GROWN_UP = "grown-up"


@dataclass(frozen=True, slots=True)
class AudienceAnswer:
    """One answer: the `key` that gives it, how it is `offered`, and what a pattern would say (`intended_for`)."""

    audience: Audience
    key: str
    offered: str
    intended_for: str

    @property
    def event(self) -> AudienceChosen:
        """What the maker does by giving it."""
        return AudienceChosen(self.audience.value)


ANSWERS = (
    AudienceAnswer(Audience.UNDER_THREE, "1", "child under 3", "a child under 3"),
    AudienceAnswer(Audience.OLDER_CHILD, "2", "older child", "an older child"),
    AudienceAnswer(Audience.GROWN_UP, "3", "neither", "a grown-up"),
)


def answer_in(typed: str) -> AudienceAnswer | None:
    """The answer that was typed, by its key or by the words that offer it."""
    words = typed.strip().casefold()
    return next((answer for answer in ANSWERS if words in (answer.key, answer.offered, answer.intended_for)), None)


def answered(pattern: Pattern, work: Work) -> Pattern:
    """The pattern with what the maker answered last; as it is if nothing was answered."""
    chosen = next((answer for answer in ANSWERS if answer.audience.value == work.audience), None)
    return replace(pattern, intended_for=chosen.intended_for, intended_by_maker=True) if chosen else pattern
