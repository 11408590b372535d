"""Names of pieces in a pasted text: "HEAD", "Ears (make 2):", "LEAF: With LG, ch 8; ..."."""

from __future__ import annotations

import re

from tracker.notation.cursor import Context
from tracker.notation.line import read_line
from tracker.pattern.entries import begins

_MAKE = re.compile(r"\bmake\s*(\d+|two|three|four|five|six|seven|eight)\b|\bx\s*(\d+)\b|\((\d+)\s*x\)", re.I)
_WORDS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_LONGEST_NAME = 60
_MOST_WORDS = 6
MOST_MADE = 10_000

_EMPTY = re.compile(r"\(\s*\)")
_NUMBERED = re.compile(r"^\s*(?P<number>\d{1,2})\s*[.):]\s*(?P<name>[A-Z].*)$")
_PLAIN = re.compile(r"^[A-Z][A-Za-z ]{1,30}(?:\(make \w+\))?:?$")
_NAMED_ROUND = re.compile(
    r"^(?P<name>[A-Z][A-Za-z' -]{1,30}?)\s*(?P<make>\(?\bmake \w+\)?)?\s*(?::|\s[-–])\s*(?P<rest>\S.*)$"
)


def piece_name(line: str, context: Context) -> str:
    """The name in a short line without stitches that may be the name of a piece; "" if it is none."""
    if (len(line) > _LONGEST_NAME or line.endswith((".", ",", ";", "!"))) and not _PLAIN.match(line):
        return ""
    bare = _EMPTY.sub("", _MAKE.sub("", line)).strip(" :*#=-–")
    words = bare.split()
    if not 1 <= len(words) <= _MOST_WORDS or any(character.isdigit() for character in bare):
        return ""
    read = read_line(bare, context)
    is_round = read.is_readable and bool(read.body) and not _MAKE.search(line)
    return "" if is_round else bare


def numbered_name(line: str, context: Context) -> tuple[int, str]:
    """The number and the words of "2. MUZZLE (cream)", which looks like a round; (0, "") if it is none."""
    match = _NUMBERED.match(line)
    if match is None:
        return 0, ""
    shouted = re.sub(r"\(.*?\)|\bx\s*\d+", "", match["name"])
    named = shouted.strip().isupper() and piece_name(shouted, context)
    return (int(match["number"]), match["name"]) if named else (0, "")


def stands_out(line: str) -> bool:
    """Whether a name is set so that it is told from the short lines of a list: "HEAD", "Ears (make 2)", "Head:"."""
    return bool(_PLAIN.match(line)) and (line.isupper() or bool(_MAKE.search(line)) or line.endswith(":"))


def is_plain_name(line: str) -> bool:
    """Whether the line is nothing but words, the first with a capital letter."""
    return bool(_PLAIN.match(line))


def named_round(line: str, context: Context) -> tuple[str, int, str] | None:
    """ "LEAF (make 2): With LG, ch 8; sc in 2nd ch ...": name, how often it is made, and how it begins."""
    match = _NAMED_ROUND.match(line)
    if match is None or not begins(match["rest"], context):
        return None
    return match["name"], times_made(line[: match.start("rest")]), match["rest"]


def times_made(line: str) -> int:
    """n of "make n"; 1 if it is not said."""
    make = _MAKE.search(line)
    count = next((group for group in make.groups() if group), "1") if make else "1"
    return min(_WORDS.get(count.lower(), int(count) if count.isdigit() else 1), MOST_MADE) or 1
