"""A text as a sentence that is safe to print."""

from __future__ import annotations


def sentence(text: str) -> str:
    """The text with a capital at its start, a stop at its end, and on one line."""
    told = " ".join(text.split())
    if not told:
        return ""
    return told[0].upper() + told[1:] + ("" if told[-1] in ".!?" else ".")


def clean(text: str) -> str:
    """The text without anything that could steer a terminal."""
    return "".join(c if c.isprintable() else " " for c in text)
