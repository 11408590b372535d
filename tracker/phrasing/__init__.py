"""Stitches, numbers and terms in the maker's words.

The same thing is said in the same words on the screen, in plain sentences and on the sheet. US and UK terms are
chosen here. No file here knows where its words will be shown.
"""

DOORS = ("abbreviations", "explanations", "hooks", "numbers", "printable_text", "stitches", "terms")
"""The modules of this folder that others may import; the rest is its own."""
