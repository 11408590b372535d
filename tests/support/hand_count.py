"""What a line uses and leaves, counted the way one does it with a finger on the page: nothing of the reader is in it.

Single crochet worked into one stitch makes one, an increase two, a decrease takes two and makes one (the common
abbreviations of the trade; Craft Yarn Council, "Crochet Abbreviations", from memory). Only the forms that mends are
written in are known; any other word is an error.
"""

from __future__ import annotations

import re

PLAIN = {"sc", "hdc", "dc", "tr"}
NOTHING = {"join", "turn"}
_WORD = re.compile(r"[(),]|[A-Za-z0-9]+")


def used_and_left(line: str) -> tuple[int, int]:
    """Bases used and stitches left by a line such as "Rnd 4: (2 sc, inc) x 6 (24)"; heading and total count nothing.

    Raises ValueError at a word that is not known.
    """
    told = re.sub(r"^[A-Za-z]+ \d+(?:-\d+)?:", "", line)
    told = re.sub(r"\(\d+\)\s*$", "", told)
    words = _WORD.findall(told.replace("[", "(").replace("]", ")"))
    used, left = _list(words)
    if words:
        raise ValueError(f"left over in {line!r}: {words}")
    return used, left


def _list(words: list[str]) -> tuple[int, int]:
    used = left = 0
    while words and words[0] != ")":
        if words[0] == ",":
            words.pop(0)
            continue
        more_used, more_left = _item(words)
        used, left = used + more_used, left + more_left
    return used, left


def _item(words: list[str]) -> tuple[int, int]:
    first = words.pop(0)
    if first == "(":
        used, left = _list(words)
        words.pop(0)  # the bracket that closes
        times = _times(words)
        return used * times, left * times
    number = int(first) if first.isdigit() else 1
    name = words.pop(0) if first.isdigit() else first
    if name == "ch":
        words.pop(0)
        return 0, 0
    if name == "sk":
        return int(words.pop(0)), 0
    if name in NOTHING:
        return 0, 0
    takes, makes = _stitch(name)
    number *= _times(words)
    return takes * number, makes * number


def _times(words: list[str]) -> int:
    if words and words[0] == "x":
        words.pop(0)
        return int(words.pop(0))
    return 1


def _stitch(name: str) -> tuple[int, int]:
    if name in PLAIN:
        return 1, 1
    if name == "inc":
        return 1, 2
    if name == "dec" or re.fullmatch(r"(?:sc|hdc|dc|tr)2tog", name):
        return 2, 1
    raise ValueError(f"the word {name!r} is not known")
