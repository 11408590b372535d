"""The pattern written out, to make from or to teach from: its contents, and they as text, Markdown or a page."""
