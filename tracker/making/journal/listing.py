"""Projects under way, for a list: read from the journal without opening any of them."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from tracker.lazy_dataclass import dataclass
from tracker.making.journal.opening import open_to_read


@dataclass(frozen=True, slots=True)
class UnderWay:
    """One project. `share` is how much of it is done, 0 to 1, and `next` what comes next, in words."""

    title: str
    path: Path
    share: float
    next: str
    finished: bool
    touched_at: float
    """Seconds since the epoch."""
    digest: str
    """Of the pattern text it is worked from."""


def projects_under_way(folder: Path) -> list[UnderWay]:
    """Every project of a data folder, the last touched first. Raises `JournalTrouble`."""
    journal = open_to_read(folder)
    if journal is None:
        return []
    with closing(journal):
        found = [
            UnderWay(
                known.title,
                Path(known.path),
                known.summary.share,
                known.summary.next,
                known.summary.finished,
                known.summary.touched_at,
                known.digest,
            )
            for known in journal.known()
        ]
    return sorted(found, key=lambda project: project.touched_at, reverse=True)
