"""Chart of a round and outline of a piece, as styled text and as SVG.

A chart is laid out once and then drawn in either way. Symbols follow the published ones; the legend says what each
means. Nothing here asks how far the maker is.
"""

DOORS = (
    "assembly",
    "chart",
    "chart_model",
    "chart_svg",
    "chart_text",
    "fabric_profile",
    "outline",
    "outline_svg",
    "outline_text",
    "solid",
    "styled_text",
    "yarn_letters",
)
"""The modules of this folder that others may import; the rest is its own."""
