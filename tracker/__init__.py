"""A terminal companion for people who crochet by hand from a written pattern.

The rooms are named in DEVELOPERS.md. What lies beside them is common ground: where something stands in a text, how a
finding looks, how text from outside is cleaned, several of a noun, and a dataclass that costs a start little.
"""

DOORS = (
    "diagnostics",
    "identity_cache",
    "lazy_dataclass",
    "lazy_pattern",
    "normalize",
    "plural",
    "suggestion",
)
"""The modules of this folder that others may import; the rest is its own."""
