"""Several of a noun, and a number of them, as messages and sentences say it."""

from __future__ import annotations


def plural(noun: str) -> str:
    """Several of it. The crochets stay as they are: "double crochets" is nobody's word, "trebles" is.

    >>> [plural(noun) for noun in ("round", "stitch", "entry", "single crochet")]
    ['rounds', 'stitches', 'entries', 'single crochet']
    """
    if noun.endswith("crochet"):
        return noun
    if noun.endswith("y") and noun[-2:-1] not in "aeiou":
        return f"{noun[:-1]}ies"
    return f"{noun}es" if noun.endswith("stitch") else f"{noun}s"


def number_of(count: int, noun: str) -> str:
    """ "1 stitch", "1,200 stitches"."""
    return f"{count:,} {noun if count == 1 else plural(noun)}"
