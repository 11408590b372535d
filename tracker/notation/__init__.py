"""The trade's shorthand to a typed tree: lexer, parser, lowering.

Knows words, columns and the glossary of stitches. Does no arithmetic over rounds, and never raises on what a maker
typed. What a line means where it depends on the stitches that are there is left to `rounds` as a choice.
"""

DOORS = (
    "ast",
    "both_terms",
    "bunches",
    "by_eye",
    "context",
    "glossary",
    "instructions",
    "lexer",
    "line_ends",
    "own_words",
    "reader",
    "token_kinds",
    "token_stream",
    "vocabulary",
    "yarn_names",
    "yarn_plan",
    "yarn_sentence",
)
"""The modules of this folder that others may import; the rest is its own."""
