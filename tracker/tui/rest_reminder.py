"""A word to rest the hands, after as long at work as the maker set; it goes away by itself."""

from __future__ import annotations

from tracker.lazy_dataclass import dataclass

TIME_TO_REST = "time to rest your hands"

SHOWN = 60.0
"""Seconds for which the word stands."""


@dataclass
class RestReminder:
    """`after` is seconds at work between two rests, 0 for never. A pause in the work is a rest."""

    after: float
    _since: float | None = None
    """Seconds at work today when the last rest ended."""

    def word(self, worked: float, is_paused: bool) -> str:
        """What to say when so many seconds of today were worked, or ""."""
        if not self.after:
            return ""
        if self._since is None or is_paused or worked < self._since:  # a new day begins at 0
            self._since = worked
        at_it = worked - self._since
        if at_it >= self.after + SHOWN:
            self._since = worked
        return TIME_TO_REST if self.after <= at_it < self.after + SHOWN else ""
