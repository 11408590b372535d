"""Events to place: a reducer over what the maker does, and the view of where that leads.

States and events are values; one pure function takes the one through the other. The view is the one object that
screens, sentences and programs are given. What is kept on a disk is decided in `journal`.
"""

DOORS = (
    "audience",
    "colour_changes",
    "correcting",
    "counting",
    "due_notes",
    "events",
    "history",
    "mistakes",
    "view_words",
    "reducer",
    "refit",
    "replay",
    "serialization",
    "state",
    "steps",
    "typed_input",
    "view",
    "view_builder",
    "whereabouts",
    "worked_rounds",
)
"""The modules of this folder that others may import; the rest is its own."""
