"""From tokens to the tree, one file for each part of a line.

Every function reads at a place in the tokens and leaves it behind what it took. Nothing here looks at a number of
stitches that is not written in the line. What cannot be read becomes a diagnostic with its columns.
"""

DOORS = (
    "definition",
    "heading",
    "items",
    "plain_line",
    "prose_behind",
    "reference",
    "remark",
    "spelt_numbers",
    "total_finder",
    "total_inside",
    "unknown_word",
)
"""The modules of this folder that others may import; the rest is its own."""
