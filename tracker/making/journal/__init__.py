"""The journal: every event of every project, kept in one SQLite file in the maker's data folder.

This is the only part of the room that touches the disk. An event is committed, and on the disk, before anybody hears
of it; nothing is ever deleted; what cannot be read is set aside and said so, never written over.
"""

from tracker.making.journal.folder import FILE, data_folder
from tracker.making.journal.listing import UnderWay, projects_under_way
from tracker.making.journal.rows import Happened
from tracker.making.journal.store import Journal
from tracker.making.journal.troubles import DamagedJournal, DiskRefuses, JournalTrouble, NewerJournal

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
