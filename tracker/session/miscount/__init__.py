"""Where a differing count came from, and what can be done about it.

Causes are weighed by how often makers make them, by the tap times, and by what was confirmed before. Repairs are
worked out, read back and checked before they are offered. Nothing else in the session imports this room.
"""

DOORS = ("confirmed_causes", "diagnosis", "offers", "suspects")
"""The modules of this folder that others may import; the rest is its own."""
