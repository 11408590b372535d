"""Size, yarn, time and cautions, from gauge and swatch.

Every figure is a range with the reason of its width. Sizes come from geometry over the counts of the rounds. A piece
can be written anew to another size.
"""

DOORS = (
    "figure",
    "next_round",
    "pace",
    "ranges",
    "resize",
    "resize_notes",
    "safety",
    "shapes",
    "size",
    "standing",
    "stitch_counts",
    "stitch_sizes",
    "yarn",
)
"""The modules of this folder that others may import; the rest is its own."""
