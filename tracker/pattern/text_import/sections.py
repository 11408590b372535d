"""The parts of a page that have a heading (materials, notes, making up), and lines that only lay it out."""

from __future__ import annotations

import re
from functools import lru_cache

from tracker.lazy_pattern import compile_later
from tracker.normalize import fold

_NOUNS = {
    word: section
    for section, words in {
        "materials": "material materials supply supplies tools tool shopping need needs needed require required "
        "requirements items yarn yarns hook hooks equipment notions used grab gather",
        "abbreviations": "abbreviations abbreviation abbr abbrev abbrevs abbrs glossary legend forms stitches stitch "
        "key symbol symbols shortcuts shorthand terms terminology vocabulary",
        "gauge": "gauge gauges tension",
        "notes": "notes note examples example execution tips tip instructions instruction directions direction "
        "method pattern special begin start started crochet make do work",
        "about": "level difficulty size sizes measurements measurement dimensions contents",
        "comments": "comments comment thoughts replies responses",
        "making up": "making assembly assembling finishing finish assemble together joining sewing",
    }.items()
    for word in words.split()
}
_WEAK = frozenset(
    "pattern crochet make do work begin start started stitch stitches needed required need special tools used".split()
)
"""Nouns that open a part only where no other one tells which, "Pattern notes", "Crochet abbreviations"."""

_FILLERS = frozenset(
    (
        "the a in this for of your my you we i us it will ll need have used list guide short skill finished approx "
        "before let's lets get to up putting put and or design what things stuff how read here are all pieces "
        "beginners know parts each needed project hat toy uk american british 's other meaning"
    ).split()
)
_ALWAYS_HEADS = frozenset("abbreviations abbreviation abbr abbrs legend materials supplies".split())
"""Nouns that open a part whatever word describes them: "Conditional abbreviations", "Necessary materials"."""

_LONGEST_HEADING = 8
"""Words of the heading of a part."""

_TOLD_BEHIND = frozenset(
    (
        "begin start started crochet make pattern together joining sewing comment comments thoughts replies "
        "responses finish"
    ).split()
)
"""Nouns that are no label of what stands behind a colon: "To begin: ch 4" begins a round."""

_MAKING_UP = compile_later(
    r"to make up|to finish(?: off)?|to assemble|put(?:ting)? (?:[a-z]+ ){0,3}together|joining the (?:pieces|parts)"
)

_HEAD = compile_later(
    r"^\W*(?:\d{1,2}\s*[.)]\s*|\d{1,4}\s+(?=comment|thought|repl|response))?"
    r"(?P<head>[a-z][a-z'/& -]*?[a-z'])\.?(?:\s*\([^()]{1,40}\))?"
    r"\s*(?:(?::|;\s*$|[\]})]|\s-\s|(?<=\.)\s*-+|\s{3,})\s*(?P<rest>[^\W_].*|[^\w\s].*\w.*)?|:\s*)?[^\w]*$"
)
_ITEM = compile_later(
    r"^\W*(?:(?:crochet|other|steel|main)\s+)?(?:yarns?|hooks?|hook size|notions|extras?|also|needles?|eyes|colou?rs|"
    r"tools)\b\s*(?:size)?\s*(?::|[\]})]|\s-\s|\s{3,})\s*(?P<rest>\S.*)$"
)
_PAGE = compile_later(
    r"^\W*(?:(?:www\.|https?:)\S+\s*)?(?:pages?\s*\d{1,3}(?:\s*(?:of|/)\s*\d{1,3})?|\d{1,3}\s*(?:of|/)\s*\d{1,3})\W*$"
    r"|^\s*(?:[-~|]+\s*)?\d{1,3}\s*(?:[-~|]+)?\s*$|^\s*(?:www\.|https?:)\S+\s*$"
    r"|^\W*(?:image|photo|picture)s?\s*\d*\W*(?:$|:\s.{0,60}$)"
    r"|^\W*(?:skip|jump) to [a-z ]{1,20}$|^.{0,40}\.(?:png|jpe?g|gif|webp)\W*$"
)
_ROUND_COLUMN = frozenset("rnd rnds round rounds row rows r".split())
_WORK_COLUMN = frozenset("instruction instructions work stitches sts pattern description directions count".split())
_COLUMN_NAMES = _ROUND_COLUMN | _WORK_COLUMN | frozenset("stitch st no nr total totals number of what to do".split())
"""What the columns of a table of rounds are called."""

_KEYED = compile_later(r"\W*(?:[Yy]arn|[Cc]olou?r)\s+[A-Z]\d?\b")
""" "Yarn A: moss" opens no part: it is one of the yarns."""
_LONGEST_PART = 400
"""Characters of a line that are looked at for the heading of a part."""


@lru_cache(maxsize=4_096)
def section_in(line: str) -> tuple[str, str] | None:
    """The section that the line opens, and what it says behind its heading; None if it opens none.

    A heading has nothing but nouns that name a part, and small words around them: "Crochet abbreviations used".
    """
    folded = fold(line[:_LONGEST_PART])
    match = _HEAD.match(folded)
    if match is None or _KEYED.match(line):
        return None
    if re.search(r"\bin (?:us|uk|american|british)\b", match["head"]):
        return None  # "Pattern in US terms" tells the terms
    words = re.findall(r"[a-z']+", match["head"].replace("'ll", " will"))
    nouns = [word for word in words if word in _NOUNS]
    if _MAKING_UP.fullmatch(match["head"]):
        return "making up", line[match.start("rest") :].strip() if match["rest"] else ""
    behind = line[match.start("rest") :].strip() if match["rest"] else ""
    if not nouns or len(words) > _LONGEST_HEADING:
        return None
    others = [word for word in words if word not in _NOUNS and word not in _FILLERS]
    if others and not (others == words[:1] and not behind and nouns == words[1:] and nouns[0] in _ALWAYS_HEADS):
        return None
    telling = next((word for word in nouns if word not in _WEAK), nouns[0])
    if behind and telling in _TOLD_BEHIND and not (telling == "pattern" and len(words) == 1):
        return None
    return ("notes" if "special" in nouns and "stitch" in telling else _NOUNS[telling]), behind


def is_numbered_section(line: str) -> bool:
    """Whether the line is the heading of a part and has a number, so that it looks like a round: "4. FINISHING"."""
    section = section_in(line)
    return section is not None and not section[1] and re.match(r"\W*\d", line) is not None


def is_label(line: str) -> bool:
    """Whether the line tells the gauge or the like behind a label, and rounds in it are no rounds to make."""
    section = section_in(line)
    return section is not None and bool(section[1]) and section[0] in ("gauge", "about", "materials", "abbreviations")


def is_item(line: str) -> bool:
    """Whether the line says what one of the materials is: "Yarn: cotton, 40 g", "{Hook} 3 mm"."""
    match = _ITEM.match(fold(line[:_LONGEST_PART]))
    return match is not None and bool(match["rest"])


def is_ruler(line: str) -> bool:
    """Whether the line has no letter and no figure in it: "-----", "* * *"."""
    return not any(character.isalnum() for character in line)


def is_page_number(line: str) -> bool:
    """Whether the line only lays out the page: "Page 1 of 3", "- 3 -", "Skip to content", the address of a site,
    a picture's name, or what the columns of its rounds are called, "Rnd | Instructions | Sts"."""
    words = set(re.findall(r"[^\W_]+", fold(line[:_LONGEST_PART])))
    if words <= _COLUMN_NAMES and not words.isdisjoint(_ROUND_COLUMN) and not words.isdisjoint(_WORK_COLUMN):
        return True
    return _PAGE.match(fold(line[:_LONGEST_PART])) is not None


def strip_bullet(line: str) -> str:
    """A step of making up without the bullet or the number of its list."""
    return line.lstrip("-*0123456789.) ")
