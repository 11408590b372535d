"""The maker's calendar: which day a time falls on, where they are."""

from __future__ import annotations

from datetime import datetime


def day_of(at: float) -> str:
    """The local date of a time in seconds since the epoch, as YYYY-MM-DD."""
    return datetime.fromtimestamp(at).date().isoformat()


def day_begins(at: float) -> float:
    """When the local day of this time began."""
    return datetime.fromtimestamp(at).replace(hour=0, minute=0, second=0, microsecond=0).timestamp()
