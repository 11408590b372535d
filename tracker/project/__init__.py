"""A pattern being made: its rounds, the state of the work, and the journal that keeps it.

Opening one resumes where it was left. When the pattern file changed meanwhile, the difference is told and the place
carried over. Both front ends work through the one class of this room.
"""

DOORS = ("history_import", "project", "work_time")
"""The modules of this folder that others may import; the rest is its own."""
