"""A text as a sentence that is safe to print."""

from __future__ import annotations


def sentence(text: str) -> str:
    """The text with a capital at its start, a stop at its end, and on one line."""
    line = " ".join(text.split())
    if not line:
        return ""
    return line[0].upper() + line[1:] + ("" if line[-1] in ".!?" else ".")


def clean(text: str) -> str:
    """The text without anything that could steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
