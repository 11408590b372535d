"""A pattern file or a pasted text to pieces and rounds; the arithmetic and the checks."""
