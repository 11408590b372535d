"""Small words that a screen and a spoken line share: shares, differences, spans of time, copies worth naming."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.pattern.model import Pattern
from tracker.plural import number_of
from tracker.session.events import AskChosen
from tracker.session.state import Copy, State
from tracker.session.view import Difference, View

if TYPE_CHECKING:
    from tracker.rounds.count_parts import CountPart

MOST_COPIES = 60
"""Copies of one piece that are named one by one; of more, those that are begun and the next one."""


def percent(share: float) -> str:
    """A share of 0 to 1; never 100% before all is done, and never 0% when something is."""
    whole = min(99, round(share * 100)) if share < 1 else 100
    return f"{max(1, whole) if share > 0 else 0}%"


def off_by(difference: Difference) -> str:
    """ "1 stitch too many"."""
    return _too_many(difference.by)


def _too_many(by: int) -> str:
    return f"{number_of(abs(by), 'stitch')} too {'many' if by > 0 else 'few'}"


def counted_words(before: View, counted: int) -> str:
    """Words for a count that opened no question; `before` is the view when it was told."""
    hand = before.in_hand
    if hand is None or hand.expected is None:
        return f"{counted:,} noted; the pattern does not say how many it should be"
    if counted != hand.expected:
        return f"{hand.round_label}: {counted:,}, {_too_many(counted - hand.expected)} as you know"
    if hand.is_being_made:
        return f"{hand.round_label}: {counted:,} so far, just where you are here"
    return f"{hand.round_label}: {counted:,}, as it should be"


def part_words(parts: Sequence[CountPart], counted: Sequence[int]) -> str:
    """ "repeat 1: 3, as it should be; repeat 2: 2, it should be 3" of the parts counted so far."""
    phrases = (
        f"{part.name}: {count:,}, {_beside_expected(count, part.expected)}"
        for part, count in zip(parts, counted, strict=False)
    )
    return "; ".join(phrases)


def _beside_expected(count: int, expected: int) -> str:
    return "as it should be" if count == expected else f"it should be {expected:,}"


def asked_words(chosen: AskChosen) -> str:
    """ "you will be asked for a count after every 3 rounds"."""
    if chosen.when == "never":
        return "you will not be asked for a count"
    after = {"each": "each round", "change": "each round that increases or decreases"}
    return f"you will be asked for a count after {after.get(chosen.when, f'every {chosen.every:,} rounds')}"


def spell(seconds: float) -> str:
    """ "under a minute", "12 minutes", "1 hour 5 minutes"."""
    minutes = int(seconds // 60)
    if minutes < 1:
        return "under a minute"
    hours, minutes = divmod(minutes, 60)
    parts = [number_of(hours, "hour")] if hours else []
    parts += [number_of(minutes, "minute")] if minutes else []
    return " ".join(parts)


def named_copies(pattern: Pattern, state: State) -> list[Copy]:
    """The copies worth naming, in the order of working: all of them, or of a great many the begun and the next."""
    copies: list[Copy] = []
    for index, piece in enumerate(pattern.pieces):
        if piece.make <= MOST_COPIES:
            copies += [Copy(index, number) for number in range(1, piece.make + 1)]
        else:
            copies += _begun_and_next(state, index, piece.make)
    return copies


def _begun_and_next(state: State, index: int, make: int) -> list[Copy]:
    begun = {copy for copy in (state.work.copy, *(p.copy for p in state.work.parked)) if copy.piece == index}
    fresh = next((number for number in range(1, make + 1) if Copy(index, number) not in begun), None)
    return sorted({*begun, *([Copy(index, fresh)] if fresh else [])})[-MOST_COPIES:]
