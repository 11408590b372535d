"""Values to lines of styled text, without a widget in sight.

Everything that is painted is made here and can be tested as text. Blocks are stacked into what the terminal has room
for. Colour is never the only sign of anything.
"""

DOORS = (
    "drawn",
    "instructions",
    "list_view",
    "now",
    "progress",
    "progress_ring",
    "round_shape",
    "scene",
    "status_lines",
    "strip",
    "styled_text",
    "text_field",
    "yarn_colours",
)
"""The modules of this folder that others may import; the rest is its own."""
