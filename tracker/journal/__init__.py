"""The journal: every event of every project, kept in one SQLite file in the maker's data folder.

This is the room that touches the disk and the clock. An event is committed, and on the disk, before anybody hears of
it. Nothing is ever deleted; what cannot be read is set aside and said so, never written over.
"""

from __future__ import annotations

from tracker.journal.errors import DamagedJournal, DiskRefuses, JournalTrouble, NewerJournal
from tracker.journal.opener import UnderWay, projects_under_way
from tracker.journal.paths import FILE, data_folder
from tracker.journal.records import Happened
from tracker.journal.writer import Journal

__all__ = [
    "FILE",
    "DamagedJournal",
    "DiskRefuses",
    "Happened",
    "Journal",
    "JournalTrouble",
    "NewerJournal",
    "UnderWay",
    "data_folder",
    "projects_under_way",
]

DOORS = ("errors", "opener", "paths", "pattern_files", "reader", "records", "retrying_writer", "transfer", "writer")
"""The modules of this folder that others may import; the rest is its own."""
