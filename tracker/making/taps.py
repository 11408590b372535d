"""Taps in a round, as they were made."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tap:
    """One keypress: `at` in seconds from any fixed moment, and the moves of the round done before and after."""

    at: float
    before: int
    after: int
