"""A pattern file to pieces and rounds, with what the checks say of each.

Only the modules of the pattern file and of its kept reading touch a disk. Findings are values with a code, a
message and a place.
Two leaves stand on it: the search for misprints, and the import of plain text.
"""

DOORS = (
    "checker",
    "colour_names",
    "first_ring",
    "group_definitions",
    "growing",
    "kept_reading",
    "live_reading",
    "loader",
    "mending",
    "model",
    "pattern_file",
    "round_below",
    "round_splitter",
    "round_yarns",
    "toml_writer",
)
"""The modules of this folder that others may import; the rest is its own."""
