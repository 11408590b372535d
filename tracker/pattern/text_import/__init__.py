"""A pasted text to a pattern file that keeps every line.

Lines are sorted into pieces, rounds, materials and notes. Rounds that one piece borrows from another are written
out. What could not be placed is kept as a note and said.
"""

DOORS = ("draft_parts", "html_page", "draft_assembly", "page_sheet", "page_terms", "pdf_page", "saved_page")
"""The modules of this folder that others may import; the rest is its own."""
