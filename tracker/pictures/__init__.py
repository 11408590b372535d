"""Chart of a round and outline of a piece, as text and as SVG."""
