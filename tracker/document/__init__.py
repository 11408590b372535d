"""The pattern written out, to make from or to teach from.

One model of the contents is built and then rendered as text, Markdown or a page for print. Rounds are written so that
they read back the same. As made, it tells what the maker really did.
"""

DOORS = ("as_made", "builder", "html", "markdown", "model", "text")
"""The modules of this folder that others may import; the rest is its own."""
